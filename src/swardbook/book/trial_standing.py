"""How a mixture stands in the book's own trials: never more than the verdict allows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from swardbook.book.side_by_side import WEED, SideAsked, asked_of
from swardbook.book.trial_days import trial_trait
from swardbook.book.trial_likeness import conditions, trial_zones, unlike
from swardbook.evidence import Verdict
from swardbook.foundation.dates import say
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.handbook.parameters import value
from swardbook.husbandry.ground import Ground, Zone
from swardbook.husbandry.happenings import Sow
from swardbook.trials.design import UNSOWN
from swardbook.trials.means import Means
from swardbook.trials.pair_verdicts import PairSaid
from swardbook.trials.said import DAYS_A_MONTH, Asked, pairs_of


@dataclass(frozen=True, slots=True)
class TrialStanding:
    """One mixture in one trial, at its last count of annual meadow-grass.

    Parameters
    ----------
    mixture, lot, zone : str
        The mixture with the lot that was sown, and the zone of the trial.
    day : date
        The day of the count.
    months : float or None
        From the sowing. [months]
    under : str
        Height, light and soil of the trial, in words.
    mean : float
        Adjusted mean. [`unit`]
    interval : tuple of float
        Its 95 % range. [`unit`]
    unit : str
        Unit of the figures.
    plots, blocks : int
        Plots of it, and blocks of the trial.
    level : tuple of str
        Mixtures that no needed gap parts from the best found; empty where it is not among them.
    behind : tuple of str
        Mixtures that are clearly ahead of it.
    only_just : tuple of str
        Mixtures that are ahead by so little more than is needed that it could have been luck.
    unlike : tuple of str
        In what the trial is not like the ground that is asked about.
    is_described : bool
        Whether its mixtures may only be described, not ranked.
    """

    mixture: str
    lot: str
    zone: str
    day: date
    months: float | None
    under: str
    mean: float
    interval: tuple[float, float]
    unit: str
    plots: int
    blocks: int
    level: tuple[str, ...]
    behind: tuple[str, ...]
    only_just: tuple[str, ...]
    unlike: tuple[str, ...]
    is_described: bool

    def for_lot(self, lot: str) -> TrialStanding:
        """Give it for a lot; another lot of the same name counts as another seed."""
        if not self.lot or lot.casefold() == self.lot.casefold():
            return self
        told = f"lot {self.lot} there, {lot} here, another seed until you say otherwise"
        return replace(self, unlike=(*self.unlike, told))

    @property
    def is_so_far(self) -> bool:
        """Whether it is too early for an end state."""
        return self.months is not None and self.months < value("trial.end_state_months")

    @property
    def counts(self) -> bool:
        """Whether it may move the mixture down a list: like for like, late enough and clear."""
        return bool(self.behind) and not self.unlike and not self.is_so_far

    @property
    def verdict(self) -> str:
        """What may be said of it, in words."""
        if self.is_described:
            return "described, not ranked"
        if self.behind:
            return f"clear: behind {_list(self.behind)}"
        if self.only_just:
            return (
                f"only just clear: behind {_list(self.only_just)}, which could easily have fallen"
                " the other way"
            )
        if len(self.level) == 1:
            return "stands clear of every other sown mixture"
        if self.level:
            others = [name for name in self.level if name != self.mixture]
            return (
                f"too close to call: no needed gap parts it, {_list(others)} from the lowest found"
            )
        return "too close to call"

    @property
    def words(self) -> str:
        """Tell it in a sentence or two, with the trial, its day and its conditions."""
        low, high = self.interval
        months = "" if self.months is None else f", {self.months:.0f} months from sowing"
        so_far = "so far, " if self.is_so_far else ""
        told = (
            f"Trial in {self.zone}, {say(self.day)}{months}, {self.under}: annual meadow-grass"
            f" {self.mean:.0f} {self.unit} ({low:.0f} to {high:.0f}) on {self.plots} plots in"
            f" {self.blocks} blocks; {so_far}{self.verdict}."
        )
        if self.unlike:
            told += f" Not like for like, so it moves nothing: {'; '.join(self.unlike)}."
        return told


def trial_standings(
    ground: Ground, wanted: Zone, height_mm: float, sun_hours: float | None
) -> dict[str, tuple[TrialStanding, ...]]:
    """Give how every mixture stands in the trials of a ground, by its name in small letters.

    Parameters
    ----------
    ground : Ground
        The ground with its diary.
    wanted : Zone
        The zone a mixture is wanted for.
    height_mm : float
        Height of cut there. [mm]
    sun_hours : float or None
        Hours of sun there; None if not known. [h]
    """
    found: dict[str, tuple[TrialStanding, ...]] = {}
    for trial in trial_zones(ground):
        apart = () if trial.name == wanted.name else unlike(trial, height_mm, sun_hours)
        for each in _standings(ground, trial, apart):
            name = each.mixture.casefold()
            found[name] = (*found.get(name, ()), each)
    return found


def _standings(ground: Ground, trial: Zone, apart: tuple[str, ...]) -> list[TrialStanding]:
    try:
        trait = trial_trait(ground, trial.name, WEED)
        asked = asked_of(ground, trial.name, trait, SideAsked(trial.name))
        read = trait.day()
        means, pairs = pairs_of(trait.plots, read, asked)
    except NotEnoughDataError:
        return []
    if read.unit != "%":
        return []
    months = None if asked.sown_on is None else (read.day - asked.sown_on).days / DAYS_A_MONTH
    blocks = len({plot.block for plot in trait.plots})
    lots = {
        ground.lot(entry.what.lot).mixture: entry.what.lot
        for entry in ground.entries(trial.name, Sow.kind)
        if isinstance(entry.what, Sow) and entry.what.lot and entry.zone == trial.name
    }
    level = level_with_best(means, pairs, asked)
    made = []
    for at, name in enumerate(means.names):
        if name == UNSOWN:
            continue
        low, high = means.own_interval(at)
        ahead = [each for each in pairs if each.second == name and each.first != UNSOWN]
        clear = [each for each in ahead if each.verdict is Verdict.CLEAR]
        made.append(
            TrialStanding(
                name, lots.get(name, ""), trial.name, read.day, months, conditions(trial),
                float(means.values[at]),
                (max(low, 0.0), min(high, 100.0)), read.unit, int(means.plots[at]), blocks,
                level if name in level else (),
                tuple(sorted(each.first for each in clear if not each.is_only_just)),
                tuple(sorted(each.first for each in clear if each.is_only_just)),
                apart, not pairs,
            )
        )  # fmt: skip
    return made


def level_with_best(means: Means, pairs: Sequence[PairSaid], asked: Asked) -> tuple[str, ...]:
    """Give the mixtures that no needed gap parts from the best found; in the order of names."""
    free = [means.names[at] for at in means.ordered(asked.lower_first)]
    free = [name for name in free if name not in asked.controls]
    if not pairs or not free:
        return ()
    apart = {
        each.names() for each in pairs if each.verdict in (Verdict.CLEAR, Verdict.CLEAR_BUT_SMALL)
    }
    return tuple(sorted(name for name in free if frozenset((free[0], name)) not in apart))


def _list(names: Sequence[str]) -> str:
    held = list(names)
    return held[0] if len(held) == 1 else f"{', '.join(held[:-1])} and {held[-1]}"
