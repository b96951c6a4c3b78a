"""Single plots and tubs: described, with the error of measuring, never ranked."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import sqrt
from statistics import fmean, stdev

from swardbook.evidence import Interval, normal_quantile
from swardbook.foundation.errors import OutOfRangeError
from swardbook.foundation.provenance import Sourced
from swardbook.handbook.parameters import parameter


@dataclass(frozen=True, slots=True)
class Described:
    """One plot or tub as measured.

    Parameters
    ----------
    name : str
        What stands in it.
    value : float
        Mean of what was measured. [unit of the figures]
    measuring_error : float or None
        Standard error of measuring it again, from its frames or photographs; it says nothing of
        how the next plot would differ. [unit of the figures]
    looks : int
        Frames or photographs.
    """

    name: str
    value: float
    measuring_error: float | None
    looks: int


@dataclass(frozen=True, slots=True)
class Unreplicated:
    """Plots without repeats.

    Parameters
    ----------
    plots : tuple of Described
        By name, not by size: there is no ranking.
    borrowed : Sourced
        Spread from plot to plot as a share of the mean, from trials elsewhere. [-]
    """

    plots: tuple[Described, ...]
    borrowed: Sourced

    def borrowed_interval(self, one: str, two: str, level: float = 0.95) -> Interval:
        """Give the range of first less second if plots differ here as they did elsewhere.

        In the unit of the figures.
        """
        known = {each.name: each.value for each in self.plots}
        middle = (known[one] + known[two]) / 2
        half = normal_quantile(level) * sqrt(2) * self.borrowed.value * abs(middle)
        gap = known[one] - known[two]
        return Interval(gap - half, gap + half)


def describe(looks: Mapping[str, Sequence[float]], borrowed: float | None = None) -> Unreplicated:
    """Describe single plots or tubs from the frames or photographs of each.

    Parameters
    ----------
    looks : mapping of str to sequence of float
        What each frame or photograph of a plot gave. [any one unit]
    borrowed : float, optional
        Spread from plot to plot over the mean, from a trial of one's own; else the handbook's. [-]

    Raises
    ------
    OutOfRangeError
        If the borrowed spread is not above 0.
    """
    row = parameter("trial.borrowed_spread")
    if borrowed is not None:
        if not borrowed > 0:
            raise OutOfRangeError("borrowed spread", borrowed, "above 0", "-")
        row = replace(row, value=borrowed, low=borrowed, high=borrowed, note="As given.")
    found = [
        Described(
            name, fmean(own), stdev(own) / sqrt(len(own)) if len(own) > 1 else None, len(own)
        )
        for name, own in sorted(looks.items()) if len(own)
    ]  # fmt: skip
    return Unreplicated(tuple(found), row)
