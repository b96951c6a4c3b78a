"""What a trial is set out to show: the trait with its unit, its spread, and where that is from."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import exp, log

from swardbook.book.count_sheet import read_kind
from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.handbook.parameters import value
from swardbook.handbook.species import in_words
from swardbook.handbook.traits import Trait, all_traits, find_trait
from swardbook.husbandry.ground import Ground, Plot
from swardbook.husbandry.happenings import PlotReadings
from swardbook.observations.counts import Method
from swardbook.review.records import occasions_of
from swardbook.trials.plots import plot_figures
from swardbook.trials.shares import ShareSpread
from swardbook.trials.spread import OwnSpread, pooled, spread_of_plots


@dataclass(frozen=True, slots=True)
class Measure:
    """A trait as it is planned for.

    Parameters
    ----------
    trait : Trait
        The trait.
    kind : str
        Kind of plant whose cover or number is meant; empty for other traits.
    sd : float
        Spread from plot to plot within a block that is taken. [unit, or log ratio]
    sd_from : str
        Where that is from, with its grade.
    gap : float
        Gap that is to be found. [unit, or log ratio]
    low : float or None
        Supposed cover where it is lower; None where no level is supposed. [-]
    spread : ShareSpread or None
        How shares spread at each level, where one is supposed.
    """

    trait: Trait
    kind: str
    sd: float
    sd_from: str
    gap: float
    low: float | None = None
    spread: ShareSpread | None = None

    @property
    def name(self) -> str:
        """What is read, in words."""
        if self.trait.key == "cover":
            return {"bare": "bare ground"}.get(self.kind, f"cover of {in_words(self.kind)}")
        return f"{self.trait.english} of {in_words(self.kind)}" if self.kind else self.trait.english

    def words(self, gap: float) -> str:
        """Tell a gap in the unit of the trait."""
        if self.trait.is_log:
            return f"{exp(gap):.1f} times"
        figure = f"{gap:.0f}" if gap >= 9.95 else f"{gap:.1f}".removesuffix(".0")
        if gap < 0.1:
            figure = f"{gap:.3f}"
        step = "step" if figure == "1" else "steps"
        rating = f"{step} of the 1-9 rating"
        unit = {"1-9": rating, "-": ""}.get(self.trait.unit, self.trait.unit)
        return f"{figure} {unit}".strip()


def measure_of(
    ground: Ground, trait: str, gap: float | None = None, sd: float | None = None,
    level: float | None = None,
) -> Measure:  # fmt: skip
    """Take the trait that is asked for, with a spread: the user's, their own trials', or usual.

    Parameters
    ----------
    ground : Ground
        The ground with its trials gone by.
    trait : str
        A trait, or a kind of plant whose cover is meant.
    gap : float or None
        Gap to be found, a ratio above 1 for plants; None takes the smallest worth acting on.
        [unit]
    sd : float or None
        Spread from plot to plot; None takes that of own trials, or the usual. [unit]
    level : float or None
        Supposed ground cover where it is lower. [%]

    Raises
    ------
    BadInputError
        If a ratio is not above 1, gap or spread is not above 0, or a level cannot be.
    UnknownNameError
        If there is no such trait or kind.
    """
    found, kind = read_trait(trait)
    wanted = found.smallest.value if gap is None else gap
    if not wanted > (1 if found.is_log else 0):
        raise BadInputError("--gap", wanted, "a ratio above 1" if found.is_log else "above 0")
    size = log(wanted) if found.is_log else wanted
    measure, known_at = _spread_of(ground, found, kind, sd, size)
    return measure if level is None else _at_level(measure, level, known_at)


def _spread_of(
    ground: Ground, found: Trait, kind: str, sd: float | None, size: float
) -> tuple[Measure, float | None]:
    """Take a spread, with the level at which it is known, if any."""
    if sd is not None:
        if not sd > 0:
            raise BadInputError("--sd", sd, "above 0")
        return Measure(found, kind, sd, "as you gave it", size), None
    own = own_spread(ground, found, kind)
    if own is not None:
        trials = "your own trial" if own.trials == 1 else f"{own.trials} of your own trials"
        told = f"measured: {trials}, {own.df} degrees of freedom"
        return Measure(found, kind, own.sd, told, size), own.mean
    usual = found.sd
    told = f"{usual.grade.value}: usual, {usual.low:g} to {usual.high:g}"
    return Measure(found, kind, usual.value, told, size), value("trial.sd.cover_level")


def _at_level(measure: Measure, level: float, known_at: float | None) -> Measure:
    """Suppose a level of cover; a spread that was given holds at it."""
    if measure.trait.key != "cover":
        raise BadInputError("--level", level, "none: only cover of the ground has a level")
    if not 0 < level < 100 - measure.gap:
        raise BadInputError("--level", level, f"above 0 and below {100 - measure.gap:g} %")
    alike = value("count.point_clumping") * (value("trial.frame_points") - 1)
    counting = (1 + alike) / value("trial.points")
    at = (level if known_at is None else known_at) / 100
    spread = ShareSpread.of(measure.sd / 100, at, counting)
    told = (
        f"{measure.sd_from}, {measure.sd:.1f} at {100 * at:.0f} %"
        if at != level / 100
        else (measure.sd_from)
    )
    return replace(measure, sd=100 * spread.sd(level / 100), sd_from=told, low=level / 100,
                   spread=spread)  # fmt: skip


def read_trait(name: str) -> tuple[Trait, str]:
    """Read a trait, or a kind of plant whose cover is meant.

    Raises
    ------
    UnknownNameError
        If it is neither.
    """
    word = name.strip().casefold()
    for ending, key in ((" cover", "cover"), (" plants", "plants")):
        if word.endswith(ending) and word.removesuffix(ending):
            try:
                return all_traits()[key], read_kind(word.removesuffix(ending))
            except UnknownNameError:
                break
    try:
        found = find_trait(name)
        return found, ("annual meadow-grass" if found.key in {"cover", "plants"} else "")
    except UnknownNameError as slip:
        try:
            return all_traits()["cover"], read_kind(name)
        except UnknownNameError:
            raise slip from None


def own_spread(ground: Ground, trait: Trait, kind: str) -> OwnSpread | None:
    """Give the spread of the last count of each trial in the book, brought together.

    Parameters
    ----------
    ground : Ground
        The ground.
    trait : Trait
        What was read.
    kind : str
        Kind of plant, for cover.

    Returns
    -------
    OwnSpread or None
        None where fewer degrees of freedom are left than the handbook asks for.
    """
    found = []
    for zone in ground.zones:
        plots = {plot.name: plot for plot in ground.plots if plot.zone == zone.name}
        if len({plot.block for plot in plots.values()}) < 2:
            continue
        one = _last(ground, zone.name, plots, trait, kind)
        if one is not None:
            found.append(one)
    whole = pooled(found)
    return whole if whole is not None and whole.df >= value("trial.df_least") else None


def _last(
    ground: Ground, zone: str, plots: dict[str, Plot], trait: Trait, kind: str
) -> OwnSpread | None:
    read = _cover(ground, zone, kind) if trait.key == "cover" else _readings(ground, zone, trait)
    figures = {name: each for name, each in plot_figures(read).items() if name in plots}
    own = [plots[name] for name in figures]
    if len({plot.mixture for plot in own}) < 2:
        return None
    entries = [f"{plot.mixture} {plot.treatment}" for plot in own]
    return spread_of_plots(list(figures.values()), entries, [plot.block for plot in own])


def _cover(ground: Ground, zone: str, kind: str) -> dict[str, list[float]]:
    plots = {plot.name: plot for plot in ground.plots if plot.zone == zone}
    for occasion in reversed(occasions_of(ground, zone)):
        found: dict[str, list[float]] = {}
        for place in occasion.only(plots).places:
            out = plots[place.place].left_out_from if place.place in plots else None
            if place.method is Method.PLANTS or kind not in place.found:
                continue
            if out is None or out > occasion.day:
                found.setdefault(place.place, []).append(100 * place.found[kind] / place.looked)
        if len(found) > len(plots) / 2:
            return found
    return {}


def _readings(ground: Ground, zone: str, trait: Trait) -> dict[str, list[float]]:
    for entry in reversed(ground.entries(zone, PlotReadings.kind)):
        what = entry.what
        if isinstance(what, PlotReadings) and what.trait == trait.key:
            found: dict[str, list[float]] = {}
            for each in what.readings:
                if each.value is not None:
                    found.setdefault(each.plot, []).append(each.value)
            return found
    return {}
