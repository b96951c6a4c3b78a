"""Differences of two figures that each have an interval of their own."""

from __future__ import annotations

from math import sqrt

from swardbook.evidence.counts import Density
from swardbook.evidence.estimates import Interval


def difference_of_densities(first: Density, second: Density, level: float = 0.95) -> Interval:
    """Give the interval of the first density less the second, counted in different frames.

    Parameters
    ----------
    first, second : Density
        Counted in separate frames.
    level : float
        Share of such intervals that hold the truth. [-]

    Returns
    -------
    Interval
        Of the difference. [plants m⁻²]

    Notes
    -----
    The ends of the two intervals are squared and added, as in method 10 of Newcombe for two shares:
    Zou, G. Y. and Donner, A., 2008, Statistics in Medicine 27, 1693-1702.
    """
    one, two = first.interval(level), second.interval(level)
    difference = first.per_m2 - second.per_m2
    below = sqrt((first.per_m2 - one.low) ** 2 + (two.high - second.per_m2) ** 2)
    above = sqrt((one.high - first.per_m2) ** 2 + (second.per_m2 - two.low) ** 2)
    return Interval(difference - below, difference + above)
