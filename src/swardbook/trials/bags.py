"""Seed of a trial: grams for each plot, and what to weigh out of each lot."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from swardbook.foundation.quantities import require
from swardbook.seed.lot import LotPart
from swardbook.trials.layout import Laid, LaidPlot

_FINE_BELOW = 20.0
"""Bags lighter than this are weighed to a tenth of a gram. [g]"""


@dataclass(frozen=True, slots=True)
class Entry:
    """One thing that is compared.

    Parameters
    ----------
    name : str
        Its name in the trial.
    lot : str
        Code of the lot; empty for the control, or where none is known.
    rate_g_m2 : float
        Rate; 0 for the control. [g m⁻²]
    parts : tuple of LotPart
        The label; empty where none is known.
    rate_is_usual : bool
        Whether the rate was taken from what is customary.
    """

    name: str
    lot: str = ""
    rate_g_m2: float = 0.0
    parts: tuple[LotPart, ...] = ()
    rate_is_usual: bool = False

    @property
    def is_control(self) -> bool:
        """Whether nothing is sown."""
        return self.rate_g_m2 == 0


@dataclass(frozen=True, slots=True)
class Bag:
    """The seed of one plot.

    Parameters
    ----------
    plot : LaidPlot
        Where it goes.
    entry : Entry
        What is in it.
    grams : float
        Its weight. [g]
    """

    plot: LaidPlot
    entry: Entry
    grams: float

    @property
    def half_grams(self) -> float:
        """Weight for the first of two directions at right angles [g]."""
        return round(self.grams / 2, 1)


@dataclass(frozen=True, slots=True)
class Weighed:
    """What to weigh out of one lot.

    Parameters
    ----------
    entry : Entry
        What it is.
    plots : int
        Plots it goes on.
    each_g, total_g, spare_g : float
        One plot's weight, all of them, and what to keep of the same lot for gaps. [g]
    """

    entry: Entry
    plots: int
    each_g: float
    total_g: float
    spare_g: float


def grams(rate_g_m2: float, area_m2: float) -> float:
    """Give a bag's weight: to the gram, or to a tenth below 20 g.

    Parameters
    ----------
    rate_g_m2 : float
        Rate. [g m⁻²]
    area_m2 : float
        Area. [m²]

    Returns
    -------
    float
        The weight. [g]
    """
    whole = require("rate", rate_g_m2, 0, 1000, "g/m2", "35 g/m2 is a usual rate.") * area_m2
    return round(whole, 1 if whole < _FINE_BELOW else 0)


def bags(laid: Laid, entries: Mapping[str, Entry]) -> tuple[Bag, ...]:
    """Weigh out the seed of every plot, in the order in which they are sown.

    Parameters
    ----------
    laid : Laid
        The trial on the ground.
    entries : mapping of str to Entry
        What is compared, by name.
    """
    return tuple(
        Bag(plot, entries[plot.slot.entry],
            grams(entries[plot.slot.entry].rate_g_m2, laid.size.area_m2))
        for plot in laid.plots
    )  # fmt: skip


def weighed(every: Sequence[Bag], spare: float) -> tuple[Weighed, ...]:
    """Give what to weigh out of each lot, in the order of the plots.

    Parameters
    ----------
    every : sequence of Bag
        The bags.
    spare : float
        Share kept of the same lot for gaps. [-]
    """
    found = []
    for entry in dict.fromkeys(bag.entry for bag in every):
        own = [bag.grams for bag in every if bag.entry == entry]
        total = round(sum(own), 1)
        found.append(Weighed(entry, len(own), own[0], total, float(round(total * spare))))
    return tuple(found)
