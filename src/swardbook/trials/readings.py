"""What was read on each plot on one day, and which plots count."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum

import numpy as np

from swardbook.husbandry.ground import Plot
from swardbook.observations.counts import Method
from swardbook.observations.occasions import Occasion, methods_used, place_figures
from swardbook.trials.plots import Array, Factor


class Taken(StrEnum):
    """Which plots count, and under what name."""

    AS_PLANNED = "as planned"
    """Plots sown with something else are left out, and those left out with a reason."""
    AS_SOWN = "as sown"
    """Plots sown with something else count as what they are."""
    EVERY = "with plots left out"
    """As sown, and plots left out with a reason count where they were read."""


@dataclass(frozen=True, slots=True)
class TrialDay:
    """One trait on one day, one figure a plot.

    Parameters
    ----------
    day : date
        The day.
    label : str
        What the count is called, if anything.
    figures : mapping of str to float
        Plot to its figure; plots not read are absent, never 0. [`unit`]
    unit : str
        ``%``, ``plants/m2``, or that of a trait.
    areas : mapping of str to float
        Area looked at on each plot, where plants were counted. [m²]
    counters : mapping of int to str
        Who read each block.
    two_counters : tuple of int
        Blocks in which two people's figures stand.
    points : mapping of str to float
        Points looked at on each plot, where cover was counted by points.
    """

    day: date
    label: str
    figures: Mapping[str, float]
    unit: str
    areas: Mapping[str, float]
    counters: Mapping[int, str]
    two_counters: tuple[int, ...] = ()
    points: Mapping[str, float] = field(default_factory=dict)

    @property
    def are_plants(self) -> bool:
        """Whether plants were counted, so that differences are ratios."""
        return bool(self.areas)


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A plot that does not count, and why."""

    plot: str
    why: str


@dataclass(frozen=True, slots=True)
class Chosen:
    """The plots that count on a day, as rows of a table.

    Parameters
    ----------
    plots : tuple of Plot
        In order.
    entry, block : Factor
        What they count as, and where they lie.
    values : array
        Their figures. [unit of the day]
    left_out : tuple of LeftOut
        Plots that do not count, with the reason.
    not_read : tuple of str
        Plots that would count and were not read.
    """

    plots: tuple[Plot, ...]
    entry: Factor
    block: Factor
    values: Array
    left_out: tuple[LeftOut, ...]
    not_read: tuple[str, ...]


def day_of_counts(plots: Sequence[Plot], occasion: Occasion, kind: str) -> TrialDay | None:
    """Bring the frames of each plot together, each block by the one who read most of it.

    Two counters read apart: while each block is one person's, what a counter adds is added to all
    its mixtures alike.

    Parameters
    ----------
    plots : sequence of Plot
        The plots of the trial.
    occasion : Occasion
        The count.
    kind : str
        Species key, or ``bare``, ``sown`` ...

    Returns
    -------
    TrialDay or None
        None where the kind was not counted on the trial.
    """
    own = occasion.only(plot.name for plot in plots)
    ways = methods_used(own.places, kind)
    if not ways:
        return None
    figures: dict[str, float] = {}
    looked: dict[str, float] = {}
    counters: dict[int, str] = {}
    both: list[int] = []
    by_counter = {
        name: place_figures(own.places, kind, ways[0], name) for name in own.counters or ("",)
    }
    for block, inside in _by_block(plots).items():
        often = Counter({n: sum(p in read for p in inside) for n, read in by_counter.items()})
        order = sorted(often, key=lambda name: (-often[name], name))
        used = set()
        for plot in inside:
            reader = next((name for name in order if plot in by_counter[name]), None)
            if reader is not None:
                read = by_counter[reader][plot]
                figures[plot] = read.value
                used.add(reader)
                looked[plot] = read.looked
        if used:
            counters[block] = order[0]
        if len(used) > 1:
            both.append(block)
    plants, points = ways[0] is Method.PLANTS, ways[0] is Method.POINTS
    return TrialDay(
        occasion.day, occasion.label, figures, "plants/m2" if plants else "%",
        looked if plants else {}, counters, tuple(both), looked if points else {},
    )  # fmt: skip


def day_of_readings(
    plots: Sequence[Plot],
    read: Iterable[tuple[str, float, str]],
    day: date,
    label: str,
    unit: str,
) -> TrialDay:
    """Bring several readings of each plot together to their mean.

    Parameters
    ----------
    plots : sequence of Plot
        The plots of the trial.
    read : iterable of (str, float, str)
        Plot, reading and who read it. [`unit`]
    day : date
        The day.
    label, unit : str
        What it is called, and its unit.
    """
    names = {plot.name.casefold(): plot for plot in plots}
    found: dict[str, list[float]] = defaultdict(list)
    who: dict[int, list[str]] = defaultdict(list)
    for name, figure, counter in read:
        plot = names.get(name.casefold())
        if plot is not None:
            found[plot.name].append(figure)
            who[plot.block].append(counter)
    return TrialDay(
        day, label, {name: float(np.mean(own)) for name, own in found.items()}, unit, {},
        {block: Counter(own).most_common(1)[0][0] for block, own in who.items()},
        tuple(block for block, own in who.items() if len(set(own)) > 1),
    )  # fmt: skip


def choose_plots(plots: Sequence[Plot], read: TrialDay, how: Taken) -> Chosen:
    """Choose the plots that count.

    Parameters
    ----------
    plots : sequence of Plot
        The plots of the trial.
    read : TrialDay
        What was read.
    how : Taken
        Which plots count.
    """
    kept: list[Plot] = []
    out: list[LeftOut] = []
    missing: list[str] = []
    for plot in sorted(plots, key=lambda each: (each.block, each.number)):
        why = _why_not(plot, read.day, how)
        if why:
            out.append(LeftOut(plot.name, why))
        elif plot.name in read.figures:
            kept.append(plot)
        else:
            missing.append(plot.name)
    names = [plot.planned if how is Taken.AS_PLANNED else plot.mixture for plot in kept]
    return Chosen(
        tuple(kept), Factor.of("mixture", names), Factor.of("block", [p.block for p in kept]),
        np.array([read.figures[plot.name] for plot in kept], dtype=np.float64),
        tuple(out), tuple(missing),
    )  # fmt: skip


def _why_not(plot: Plot, day: date, how: Taken) -> str:
    if how is not Taken.EVERY and plot.left_out_from is not None and plot.left_out_from <= day:
        return plot.why_left_out or "left out"
    if how is Taken.AS_PLANNED and plot.sown and plot.sown != plot.planned:
        return f"sown with {plot.sown}, planned {plot.planned}"
    return ""


def _by_block(plots: Sequence[Plot]) -> dict[int, list[str]]:
    found: dict[int, list[str]] = defaultdict(list)
    for plot in plots:
        found[plot.block].append(plot.name)
    return dict(sorted(found.items()))
