"""What was read on a trial's plots, day by day, out of the diary."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from swardbook.book.trial_traits import read_trait
from swardbook.foundation.errors import BadInputError, NotEnoughDataError
from swardbook.handbook.species import in_words
from swardbook.handbook.traits import Trait, find_trait
from swardbook.husbandry.ground import Ground, Plot
from swardbook.husbandry.happenings import PlotReadings
from swardbook.observations.occasions import Occasion
from swardbook.review.records import occasions_of
from swardbook.trials.readings import TrialDay, day_of_counts, day_of_readings

HIGHER = frozenset({"sown", "wanted"})
"""Kinds of which more is better; of weeds, bare ground and moss less is."""


@dataclass(frozen=True, slots=True)
class TrialTrait:
    """One trait of a trial with all its days.

    Parameters
    ----------
    trait : Trait
        The trait of the handbook.
    kind : str
        Kind counted, for cover and plants; empty for others.
    plots : tuple of Plot
        The trial's plots.
    days : tuple of TrialDay
        The days it was read, in order.
    frames : tuple of Occasion
        The counts behind them; empty for other traits.
    """

    trait: Trait
    kind: str
    plots: tuple[Plot, ...]
    days: tuple[TrialDay, ...]
    frames: tuple[Occasion, ...]

    @property
    def words(self) -> str:
        """Name it as it is shown."""
        return in_words(self.kind) if self.kind else self.trait.english

    @property
    def lower_first(self) -> bool:
        """Whether less is better, as far as the trait says."""
        if self.kind:
            return self.kind not in HIGHER
        return self.trait.better == "low"

    def day(self, wanted: date | None = None) -> TrialDay:
        """Find a day; if none is wanted the last one on which half the plots or more were read.

        Raises
        ------
        BadInputError
            If it was not read on that day; offers the days there are.
        """
        if wanted is None:
            enough = [each for each in self.days if 2 * len(each.figures) >= len(self.plots)]
            return (enough or self.days)[-1]
        for each in self.days:
            if each.day == wanted:
                return each
        days = ", ".join(each.day.isoformat() for each in self.days)
        raise BadInputError("--day", wanted.isoformat(), days)


def trial_trait(ground: Ground, zone: str, trait: str) -> TrialTrait:
    """Bring together what was read of one trait on the plots of a zone.

    Parameters
    ----------
    ground : Ground
        The ground.
    zone : str
        The zone, as the book names it.
    trait : str
        A trait, or a kind of plant.

    Raises
    ------
    NotEnoughDataError
        If the zone has no plots, or it was never read there.
    UnknownNameError
        If there is no such trait.
    """
    plots = tuple(plot for plot in ground.plots if plot.zone == zone)
    if not plots:
        raise NotEnoughDataError(
            f"mixtures side by side in {zone}", "plots (swardbook set-out --keep)", "none"
        )
    found, kind = read_trait(trait)
    frames: tuple[Occasion, ...] = ()
    if kind:
        frames = occasions_of(ground, zone)
        made = [day_of_counts(plots, each, kind) for each in frames]
        days = [each for each in made if each is not None and each.figures]
    else:
        days = _readings(ground, zone, plots, found)
    if not days:
        raise _nothing_read(ground, zone, found, kind)
    return TrialTrait(found, kind, plots, tuple(sorted(days, key=lambda d: d.day)), frames)


def _nothing_read(ground: Ground, zone: str, found: Trait, kind: str) -> NotEnoughDataError:
    """Say how it is read, and what was read instead."""
    how = (
        f"`swardbook count add --place PLOT --points 25 --found '{in_words(kind)}=6'`"
        if kind else f"`swardbook plots read PLOT=NUMBER --trait '{found.english}'`"
    )  # fmt: skip
    entries = ground.entries(zone, PlotReadings.kind)
    names = {each.what.trait for each in entries if isinstance(each.what, PlotReadings)}
    read = " and ".join(f"--trait '{find_trait(name).english}'" for name in sorted(names))
    return NotEnoughDataError(
        f"{kind or found.english} side by side in {zone}",
        f"a day on which plots were read, with {how}",
        f"none{f', but {read} was read' if read else ''}",
    )


def _readings(ground: Ground, zone: str, plots: Sequence[Plot], trait: Trait) -> list[TrialDay]:
    by_day: dict[date, list[tuple[str, float, str]]] = {}
    labels: dict[date, str] = {}
    for entry in ground.entries(zone, PlotReadings.kind):
        what = entry.what
        if isinstance(what, PlotReadings) and what.trait == trait.key and entry.when.is_dated:
            own = by_day.setdefault(entry.day, [])
            own += [(r.plot, r.value, r.counter) for r in what.readings if r.value is not None]
            labels.setdefault(entry.day, what.occasion)
    return [
        day_of_readings(plots, read, day, labels[day], trait.unit)
        for day, read in by_day.items() if read
    ]  # fmt: skip
