"""Change between two visits to the same places; the unit is the place."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import comb, log, sqrt

from swardbook.evidence.estimates import Interval, normal_quantile, t_quantile
from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError

_CLOSE_ENOUGH = 1.001


@dataclass(frozen=True, slots=True)
class PairedChange:
    """Mean change of paired places: later less earlier.

    Parameters
    ----------
    mean : float
        Mean change; a log ratio where it is one. [unit of the figures]
    standard_error : float
        Its standard error. [unit of the figures]
    n : int
        Pairs.
    fell, rose, unchanged : int
        How many places went which way.
    """

    mean: float
    standard_error: float
    n: int
    fell: int
    rose: int
    unchanged: int

    @property
    def spread_of_changes(self) -> float:
        """Standard deviation of one place's change, in the unit of the figures."""
        return self.standard_error * sqrt(self.n)

    def interval(self, level: float) -> Interval:
        """Give the range of the mean change by Student's t, in the unit of the figures."""
        half = t_quantile(level, self.n - 1) * self.standard_error
        return Interval(self.mean - half, self.mean + half)


def paired_change(before: Sequence[float], after: Sequence[float]) -> PairedChange:
    """Work out the mean change of paired places.

    Parameters
    ----------
    before, after : sequence of float
        The figure of each place at both visits, in the same order. [any one unit]

    Returns
    -------
    PairedChange
        Later less earlier.

    Raises
    ------
    NotEnoughDataError
        If there are fewer than two pairs.
    OutOfRangeError
        If the two visits differ in number of places.
    """
    changes = [b - a for a, b in _pairs(before, after)]
    mean = sum(changes) / len(changes)
    return _change(mean, changes, before, after)


def paired_log_ratio(before: Sequence[float], after: Sequence[float]) -> PairedChange:
    """Work out the log ratio of two totals counted at the same places.

    The ratio is that of the totals, and its error comes from how the places depart from it, so
    that what a place has in common at both visits cancels, and places with none are kept.

    Parameters
    ----------
    before, after : sequence of float
        Count of each place at both visits, in the same order. [plants, or plants m⁻²]

    Returns
    -------
    PairedChange
        Natural logarithm of later over earlier. [log ratio]

    Raises
    ------
    NotEnoughDataError
        If there are fewer than two pairs, or a visit found none at all.

    Notes
    -----
    The linearised variance of a ratio: Cochran, W. G., 1977, Sampling Techniques, 3rd edition,
    equation 6.9.
    """
    pairs = _pairs(before, after)
    mean_before = sum(before) / len(pairs)
    mean_after = sum(after) / len(pairs)
    if mean_before == 0 or mean_after == 0:
        raise NotEnoughDataError(
            "a ratio of two counts", "a plant at each visit", "a visit that found none"
        )
    ratio = log(mean_after / mean_before)
    departures = [b / mean_after - a / mean_before for a, b in pairs]
    return _change(ratio, departures, before, after)


def places_needed(spread: float, half_width: float, level: float = 0.95) -> int:
    """Give the places needed for a mean, or a mean change, to a wanted half-width.

    Parameters
    ----------
    spread : float
        Standard deviation from place to place. [any one unit]
    half_width : float
        Half the length of the range wanted; within one part in a thousand will do. [same unit]
    level : float
        Level of the range. [-]

    Returns
    -------
    int
        Places, at least 2.

    Raises
    ------
    OutOfRangeError
        If the half-width is not above 0, or the spread below 0.
    """
    if not half_width > 0:
        raise OutOfRangeError("half-width wanted", float(half_width), "above 0", "")
    if spread < 0:
        raise OutOfRangeError("spread", float(spread), "0 or more", "")
    n = max(2, int((normal_quantile(level) * spread / half_width) ** 2) - 1)
    while t_quantile(level, n - 1) * spread / sqrt(n) > half_width * _CLOSE_ENOUGH:
        n += 1
    return n


def places_to_show(
    spread: float, difference: float, level: float = 0.95, power: float = 0.8
) -> int:
    """Give the places that would usually show a mean change of a given size.

    Parameters
    ----------
    spread : float
        Standard deviation of one place's change. [any one unit]
    difference : float
        The true mean change, not 0. [same unit]
    level : float
        Level of the range that has to exclude no change. [-]
    power : float
        How often it should. [-]

    Returns
    -------
    int
        Places, at least 2.

    Raises
    ------
    OutOfRangeError
        If the difference is 0.

    Notes
    -----
    ``n = ((t of the level + t of the power) × SD / difference)²``, with n - 1 degrees of freedom.
    """
    if difference == 0:
        raise OutOfRangeError("difference", 0.0, "not 0", "")
    n = 2
    while True:
        quantiles = t_quantile(level, n - 1) + t_quantile(2 * power - 1, n - 1)
        if (quantiles * spread / abs(difference)) ** 2 <= n:
            return n
        n += 1


def sign_test(fell: int, rose: int) -> float:
    """Give the two-sided chance of so uneven a split if places went either way alike.

    Parameters
    ----------
    fell, rose : int
        Places that went down and up; unchanged ones are left out.

    Returns
    -------
    float
        Chance. [-]
    """
    n = fell + rose
    if n == 0:
        return 1.0
    tail = sum(comb(n, k) for k in range(min(fell, rose) + 1))
    return min(1.0, float(tail / 2.0 ** (n - 1)))


def _pairs(before: Sequence[float], after: Sequence[float]) -> list[tuple[float, float]]:
    if len(before) != len(after):
        raise OutOfRangeError("places at the second visit", len(after), str(len(before)), "")
    if len(before) < 2:
        raise NotEnoughDataError("a paired change", "at least 2 pairs", str(len(before)))
    return list(zip(before, after, strict=True))


def _change(
    mean: float, departures: Sequence[float], before: Sequence[float], after: Sequence[float]
) -> PairedChange:
    n = len(departures)
    middle = sum(departures) / n
    variance = sum((each - middle) ** 2 for each in departures) / (n - 1)
    signs = [b - a for a, b in zip(before, after, strict=True)]
    return PairedChange(
        mean,
        sqrt(variance / n),
        n,
        fell=sum(sign < 0 for sign in signs),
        rose=sum(sign > 0 for sign in signs),
        unchanged=sum(sign == 0 for sign in signs),
    )
