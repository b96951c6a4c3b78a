"""Differences and ratios of two figures that each have an interval of their own."""

from __future__ import annotations

from math import inf, sqrt

from swardbook.evidence.counts import Density
from swardbook.evidence.estimates import Interval
from swardbook.foundation.errors import OutOfRangeError


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


def ratio_interval(first: float, one: Interval, second: float, two: Interval) -> Interval:
    """Give the interval of the first figure over the second, found apart from one another.

    Parameters
    ----------
    first, second : float
        The figures; the second above 0. [any unit]
    one, two : Interval
        Their intervals, of the same level. [the same units]

    Returns
    -------
    Interval
        Of the ratio. [-]

    Raises
    ------
    OutOfRangeError
        If the second figure is not above 0.

    Notes
    -----
    The ends are joined as variances recovered from the two intervals: Newcombe, R. G., 2016,
    Statistical Methods in Medical Research 25, 1774-1778. Where the second interval reaches twice
    its figure, or 0, that has no answer, and the far ends are taken, which is wider.
    """
    if not second > 0:
        raise OutOfRangeError("the figure below the line", second, "above 0", "-")
    product = first * second
    low = one.low / two.high if one.low > 0 else min(one.low, 0.0) / max(two.low, 1e-300)
    high = inf if two.low <= 0 else one.high / two.low
    below, above = two.high * (2 * second - two.high), two.low * (2 * second - two.low)
    if below > 0:
        inside = product**2 - one.low * two.high * (2 * first - one.low) * (2 * second - two.high)
        low = (product - sqrt(max(inside, 0.0))) / below
    if above > 0:
        inside = product**2 - one.high * two.low * (2 * first - one.high) * (2 * second - two.low)
        high = (product + sqrt(max(inside, 0.0))) / above
    return Interval(low, high)
