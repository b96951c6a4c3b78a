"""Mixtures of a trial side by side: what may be said of them, and what stands beside it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import combinations
from math import log

import numpy as np

from swardbook.book.mixtures_beside import MixtureBeside, mixtures_beside
from swardbook.book.opening import Book
from swardbook.book.side_liking import Liking, likings_of
from swardbook.book.trial_care import SET_OUT, sown_on, uneven_care
from swardbook.book.trial_days import TrialTrait, trial_trait
from swardbook.book.trial_kept import trial_zone
from swardbook.book.worked_out import last_answer
from swardbook.foundation.errors import BadInputError, NotEnoughDataError
from swardbook.handbook.parameters import value
from swardbook.husbandry.ground import Ground
from swardbook.observations.counts import Method
from swardbook.observations.overlap import Overlap, counters_overlap
from swardbook.trials.crossing import Crossing, crossings
from swardbook.trials.design import UNSOWN, Kind, read_kind
from swardbook.trials.means import Difference, Means
from swardbook.trials.pair_verdicts import PairSaid
from swardbook.trials.pairs import planned_pairs
from swardbook.trials.plots import Array
from swardbook.trials.readings import Chosen, Taken, TrialDay, choose_plots
from swardbook.trials.repeated import InTime, split_plot_in_time, time_weighted
from swardbook.trials.said import Asked, DaySaid, pairs_of, say_day
from swardbook.trials.spatial import SpatialFit, spatial_fit
from swardbook.trials.unreplicated import Unreplicated, describe

WEED = "annual meadow-grass"


@dataclass(frozen=True, slots=True)
class SideAsked:
    """What is asked of a trial.

    Parameters
    ----------
    zone : str
        The zone; none where only one has a trial.
    trait : str
        What is compared: a trait, or a kind of plant.
    day : date or None
        The day of the count; None takes the last one.
    how : Taken
        Which plots count.
    lower_first : bool or None
        Whether less is better; None as the trait says.
    smallest : float or None
        Smallest difference worth acting on, a ratio for plants; None the customary. [unit]
    pairs : tuple of (str, str)
        Pairs that were named before anything was looked at.
    for_zone : str
        Zone that a mixture is wanted for; none takes the largest that is no trial.
    over_time : bool
        Whether the mean over all days is compared, not one day.
    """

    zone: str = ""
    trait: str = WEED
    day: date | None = None
    how: Taken = Taken.AS_PLANNED
    lower_first: bool | None = None
    smallest: float | None = None
    pairs: tuple[tuple[str, str], ...] = ()
    for_zone: str = ""
    over_time: bool = False


@dataclass(frozen=True, slots=True)
class Changed:
    """A pair whose verdict changes with the plots that count."""

    how: Taken
    one: PairSaid
    other: PairSaid


@dataclass(frozen=True, slots=True)
class SideBySide:
    """Mixtures side by side.

    Parameters
    ----------
    zone : str
        The zone.
    trait : TrialTrait
        What was compared, with all its days.
    asked : Asked
        How.
    said : DaySaid or None
        What may be said; None where nothing is repeated.
    described : Unreplicated or None
        The plots as measured, where nothing is repeated.
    paths : tuple of (date, Means)
        Means of each day.
    crossings : tuple of Crossing
        Mixtures that changed places.
    counters : tuple of (date, Overlap)
        Two counters on the same plots.
    variants : mapping of Taken to Means
        Means with other plots counting, where these are other plots.
    changed : tuple of Changed
        Pairs whose verdict then changes.
    planned : tuple of Difference
        Pairs that were named beforehand.
    neighbours : SpatialFit or None
        The same with neighbouring plots taken into account, where there are enough plots.
    in_time : InTime or None
        The split plot in time, where the mean over time is compared.
    beside : mapping of str to MixtureBeside
        Height, cost and what cannot be undone, of each mixture.
    for_zone : str
        The zone those are judged for.
    likings : tuple of Liking
        What visitors chose: opinion, which moves nothing here.
    read_on : date or None
        Day of the count that is compared or described.
    """

    zone: str
    trait: TrialTrait
    asked: Asked
    said: DaySaid | None
    described: Unreplicated | None
    paths: tuple[tuple[date, Means], ...]
    crossings: tuple[Crossing, ...]
    counters: tuple[tuple[date, Overlap], ...]
    variants: Mapping[Taken, Means]
    changed: tuple[Changed, ...]
    planned: tuple[Difference, ...]
    neighbours: SpatialFit | None
    in_time: InTime | None
    beside: Mapping[str, MixtureBeside]
    for_zone: str
    likings: tuple[Liking, ...] = ()
    read_on: date | None = None


def side_by_side(book: Book, asked: SideAsked) -> SideBySide:
    """Set the mixtures of a trial side by side.

    Parameters
    ----------
    book : Book
        The opened book.
    asked : SideAsked
        What is asked.

    Raises
    ------
    NotEnoughDataError
        If there are no plots, or the trait was never read on them.
    UnknownNameError
        If a zone, trait or mixture is unknown.
    BadInputError
        If the trait was not read on the day asked for.
    """
    ground = book.ground()
    zone = trial_zone(book, asked.zone)
    trait = trial_trait(ground, zone, asked.trait)
    how = asked_of(ground, zone, trait, asked)
    read = _over_time(trait) if asked.over_time else trait.day(asked.day)
    said, described = _said(trait, read, how)
    paths = _paths(trait, how)
    variants, changed = _variants(trait, read, how, said)
    beside, target = mixtures_beside(ground, zone, asked.for_zone, book.today)
    return SideBySide(
        zone, trait, how, said, described, paths,
        crossings(paths, how.lower_first) if len(paths) > 1 else (),
        _counters(trait), variants, changed,
        () if said is None else tuple(planned_pairs(said.means, list(asked.pairs))),
        None if said is None else _neighbours(ground, zone, said),
        _in_time(trait, said) if asked.over_time and said is not None else None,
        beside, target, likings_of(book, zone), read.day,
    )  # fmt: skip


def asked_of(ground: Ground, zone: str, trait: TrialTrait, asked: SideAsked) -> Asked:
    """Say how mixtures are compared: what was asked, else what the book knows of the trial."""
    smallest = trait.trait.smallest.value if asked.smallest is None else asked.smallest
    is_log = trait.days[-1].are_plants
    if is_log and trait.trait.key == "cover" and asked.smallest is None:
        smallest = value("compare_count_ratio")
    if not smallest > (1 if is_log else 0):
        raise BadInputError("--smallest", smallest, "a ratio above 1" if is_log else "above 0")
    kept = last_answer(ground, SET_OUT, zone)
    named = {} if kept is None else kept.answer.named
    lower = trait.lower_first if asked.lower_first is None else asked.lower_first
    return Asked(
        log(smallest) if is_log else smallest, lower, (UNSOWN,), sown_on(ground, zone),
        read_kind(named["design"]) if "design" in named else Kind.BLOCKS,
        named.get("order", "shuffled") == "shuffled",
        uneven_care(ground, zone, [plot.name for plot in trait.plots]), asked.how,
    )  # fmt: skip


def _said(
    trait: TrialTrait, read: TrialDay, how: Asked
) -> tuple[DaySaid | None, Unreplicated | None]:
    try:
        return say_day(trait.plots, read, how), None
    except NotEnoughDataError:
        mixtures = {plot.name: plot.mixture for plot in trait.plots}
        return None, describe(_looks(trait, read, mixtures))


def _looks(
    trait: TrialTrait, read: TrialDay, mixtures: Mapping[str, str]
) -> dict[str, list[float]]:
    """Give the frames of each plot, under its mixture's name where that stands once."""
    looks: dict[str, list[float]] = {}
    often = list(mixtures.values())
    for occasion in trait.frames:
        if occasion.day == read.day:
            for each in occasion.only(mixtures).places:
                if trait.kind in each.found:
                    share = each.found[trait.kind] / each.looked
                    figure = share if each.method is Method.PLANTS else 100 * share
                    looks.setdefault(each.place, []).append(figure)
    if not looks:
        looks = {plot: [figure] for plot, figure in read.figures.items()}
    return {
        mixtures[plot] if often.count(mixtures[plot]) == 1 else f"{mixtures[plot]} {plot}": own
        for plot, own in looks.items()
    }


def _paths(trait: TrialTrait, how: Asked) -> tuple[tuple[date, Means], ...]:
    found = []
    for read in trait.days:
        try:
            found.append((read.day, pairs_of(trait.plots, read, how)[0]))
        except NotEnoughDataError:
            continue
    return tuple(found)


def _variants(
    trait: TrialTrait, read: TrialDay, how: Asked, said: DaySaid | None
) -> tuple[dict[Taken, Means], tuple[Changed, ...]]:
    """Do it again with other plots counting, where that makes a difference to what counts."""
    if said is None:
        return {}, ()
    variants: dict[Taken, Means] = {}
    changed: list[Changed] = []
    seen = [_counted(said.chosen)]
    for other in Taken:
        if other is how.how:
            continue
        again = replace(how, how=other)
        counted = _counted(choose_plots(trait.plots, read, other))
        if counted in seen:
            continue
        seen.append(counted)
        means, pairs = pairs_of(trait.plots, read, again)
        variants[other] = means
        by_names = {each.names(): each for each in pairs}
        changed += [
            Changed(other, each, by_names[each.names()]) for each in said.pairs
            if each.names() in by_names and by_names[each.names()].verdict is not each.verdict
        ]  # fmt: skip
    return variants, tuple(changed)


def _counted(chosen: Chosen) -> dict[str, str]:
    codes = zip(chosen.plots, chosen.entry.codes, strict=True)
    return {plot.name: chosen.entry.levels[code] for plot, code in codes}


def _counters(trait: TrialTrait) -> tuple[tuple[date, Overlap], ...]:
    found = []
    names = [plot.name for plot in trait.plots]
    for occasion in trait.frames:
        own = occasion.only(names)
        for first, second in combinations(own.counters, 2):
            try:
                told = counters_overlap(own.places, trait.kind, Method.POINTS, first, second)
            except NotEnoughDataError:
                continue
            found.append((occasion.day, told))
    return tuple(found)


def _neighbours(ground: Ground, zone: str, said: DaySaid) -> SpatialFit | None:
    plots = said.chosen.plots
    if said.read.are_plants or said.split is not None or not all(p.row and p.column for p in plots):
        return None
    kept = last_answer(ground, SET_OUT, zone)
    sides = {} if kept is None else kept.answer.found
    width, length = sides.get("plot_width_m", 1.0), sides.get("plot_length_m", 1.0)
    x = np.array([plot.column * width for plot in plots])
    y = np.array([plot.row * length for plot in plots])
    try:
        return spatial_fit(said.chosen.values, said.chosen.entry, x, y, "exponential")
    except NotEnoughDataError:
        return None


def _over_time(trait: TrialTrait) -> TrialDay:
    """Bring all days together to one figure a plot."""
    names = [plot.name for plot in trait.plots]
    figures = _table(trait, names)
    made = time_weighted(figures, [read.day for read in trait.days])
    known = {
        name: float(mean)
        for name, mean in zip(names, made.means, strict=True)
        if not np.isnan(mean)
    }
    last = trait.days[-1]
    points = {}
    if all(read.points for read in trait.days):
        points = {n: sum(read.points.get(n, 0.0) for read in trait.days) for n in known}
    return TrialDay(last.day, "mean over time", known, last.unit, {}, last.counters, points=points)


def _in_time(trait: TrialTrait, said: DaySaid) -> InTime | None:
    figures = _table(trait, [plot.name for plot in said.chosen.plots])
    keep = np.asarray(~np.isnan(figures).any(axis=1))
    try:
        return split_plot_in_time(
            figures[keep], said.chosen.entry.only(keep), said.chosen.block.only(keep)
        )
    except NotEnoughDataError:
        return None


def _table(trait: TrialTrait, names: Sequence[str]) -> Array:
    return np.array(
        [[read.figures.get(name, float("nan")) for read in trait.days] for name in names],
        dtype=np.float64,
    )
