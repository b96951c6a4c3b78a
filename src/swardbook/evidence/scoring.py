"""How well a forecast did, once the truth is known: scores that reward an honest range.

A score here is a distance: 0 is perfect, more is worse, in the unit of what was foretold. Each is
proper, so that nobody does better, on average, by saying other than what they think.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import erf, exp, pi, sqrt

import numpy as np
from numpy.typing import ArrayLike, NDArray

from swardbook.evidence.estimates import Interval
from swardbook.foundation.errors import OutOfRangeError

Array = NDArray[np.float64]


def crps_from_sample(sample: ArrayLike, observed: float) -> float:
    """Score equally weighted draws: the continuous ranked probability score.

    Parameters
    ----------
    sample : array
        The draws, at least one. [unit of `observed`]
    observed : float
        What was found. [any unit]

    Returns
    -------
    float
        Mean distance to what was found less half the mean distance between draws.
        [unit of `observed`]

    Raises
    ------
    OutOfRangeError
        If there is no draw.

    Notes
    -----
    Equation 21 of Gneiting, T. and Raftery, A. E., 2007, Journal of the American Statistical
    Association 102, 359-378, with the sample as the forecast's distribution.
    """
    draws = np.sort(np.asarray(sample, dtype=np.float64))
    n = len(draws)
    if not n:
        raise OutOfRangeError("number of draws", 0, "at least 1", "")
    ranks = 2 * np.arange(1, n + 1) - n - 1
    half_apart = float(ranks @ draws) / n**2
    return float(np.mean(np.abs(draws - observed))) - half_apart


def crps_of_normal(
    mean: float, deviation: float, observed: float, least: float | None = None
) -> float:
    """Score a normal distribution, or one whose tail below a least value is heaped on it.

    Parameters
    ----------
    mean : float
        Its mean. [unit of `observed`]
    deviation : float
        Its standard deviation, above 0. [unit of `observed`]
    observed : float
        What was found. [any unit]
    least : float, optional
        Nothing can be found below it, such as 0 for a cover. [unit of `observed`]

    Returns
    -------
    float
        The continuous ranked probability score. [unit of `observed`]

    Raises
    ------
    OutOfRangeError
        If the deviation is not above 0, or less than the least was found.

    Notes
    -----
    The closed form for a normal distribution stands in Gneiting, T. and Raftery, A. E., 2007,
    Journal of the American Statistical Association 102, 359-378. What is taken off for the heap
    is the integral of the squared distribution function below `least`, by parts.
    """
    if not deviation > 0:
        raise OutOfRangeError("standard deviation", deviation, "above 0", "")
    z = (observed - mean) / deviation
    score = z * (2 * _below(z) - 1) + 2 * _bell(z) - 1 / sqrt(pi)
    if least is not None:
        if observed < least:
            raise OutOfRangeError("what was found", observed, f"at least {least:g}", "")
        c = (least - mean) / deviation
        score -= c * _below(c) ** 2 + 2 * _bell(c) * _below(c) - _below(sqrt(2) * c) / sqrt(pi)
    return deviation * score


def crps_of_quantiles(
    levels: Sequence[float], quantiles: Sequence[float], observed: float
) -> float:
    """Score a distribution given by quantiles, straight between them.

    Parameters
    ----------
    levels : sequence of float
        Shares below each quantile, rising from 0 to 1. [-]
    quantiles : sequence of float
        The quantiles, never falling. [unit of `observed`]
    observed : float
        What was found. [any unit]

    Returns
    -------
    float
        The continuous ranked probability score, exact for that distribution.
        [unit of `observed`]

    Raises
    ------
    OutOfRangeError
        If levels do not rise from 0 to 1, or a quantile falls.

    Notes
    -----
    Twice the quantile score integrated over all levels: Laio, F. and Tamea, S., 2007, Hydrology
    and Earth System Sciences 11, 1267-1277.
    """
    share, found = _checked(levels, quantiles)
    apart = found - observed
    low, high = apart[:-1], apart[1:]
    width = np.diff(share)
    above = _area_above(low, high, width)
    leaning = width * (share[:-1] * (low + high) / 2 + width * (low / 6 + high / 3))
    return float(2 * np.sum(above - leaning))


def interval_score(interval: Interval, observed: float, level: float = 0.8) -> float:
    """Score a range: its width, and a fine for what was found outside.

    Parameters
    ----------
    interval : Interval
        The range. [unit of `observed`]
    observed : float
        What was found. [any unit]
    level : float
        Share of such ranges that should hold what is found. [-]

    Returns
    -------
    float
        Width plus 2 / (1 - level) for each unit outside. [unit of `observed`]

    Raises
    ------
    OutOfRangeError
        If the level is not between 0 and 1.

    Notes
    -----
    Equation 43 of Gneiting, T. and Raftery, A. E., 2007, Journal of the American Statistical
    Association 102, 359-378.
    """
    if not 0 < level < 1:
        raise OutOfRangeError("level", float(level), "between 0 and 1", "-", "80 % is 0.8.")
    outside = max(interval.low - observed, observed - interval.high, 0.0)
    return interval.high - interval.low + 2 / (1 - level) * outside


def place_in_sample(sample: ArrayLike, observed: float) -> float:
    """Give the share of draws below what was found, counting half of those equal to it.

    Over many honest forecasts these shares lie evenly between 0 and 1.

    Parameters
    ----------
    sample : array
        The draws, at least one. [unit of `observed`]
    observed : float
        What was found. [any unit]

    Returns
    -------
    float
        From 0 to 1. [-]

    Notes
    -----
    The middle of the randomised probability integral transform: Czado, C., Gneiting, T. and
    Held, L., 2009, Biometrics 65, 1254-1261.
    """
    draws = np.asarray(sample, dtype=np.float64)
    if not len(draws):
        raise OutOfRangeError("number of draws", 0, "at least 1", "")
    return float(np.mean(draws < observed) + np.mean(draws == observed) / 2)


def place_in_quantiles(
    levels: Sequence[float], quantiles: Sequence[float], observed: float
) -> float:
    """Give the share of a distribution below what was found; see `place_in_sample`.

    Parameters
    ----------
    levels : sequence of float
        Shares below each quantile, rising from 0 to 1. [-]
    quantiles : sequence of float
        The quantiles, never falling; straight between them. [unit of `observed`]
    observed : float
        What was found. [any unit]

    Returns
    -------
    float
        From 0 to 1; the middle of a heap that what was found lies on. [-]

    Raises
    ------
    OutOfRangeError
        If levels do not rise from 0 to 1, or a quantile falls.
    """
    share, found = _checked(levels, quantiles)
    left = int(np.searchsorted(found, observed, side="left"))
    right = int(np.searchsorted(found, observed, side="right"))
    if left < right:
        return float(share[left] + share[right - 1]) / 2
    return float(np.interp(observed, found, share))


def _checked(levels: Sequence[float], quantiles: Sequence[float]) -> tuple[Array, Array]:
    share, found = (np.asarray(each, dtype=np.float64) for each in (levels, quantiles))
    rises = len(share) > 1 and share[0] == 0 and share[-1] == 1 and np.all(np.diff(share) > 0)
    if not rises:
        raise OutOfRangeError("levels", list(levels), "rising from 0 to 1", "-")
    if len(found) != len(share) or not np.all(np.diff(found) >= 0):
        raise OutOfRangeError("quantiles", list(quantiles), "one a level, never falling", "")
    return share, found


def _area_above(low: Array, high: Array, width: Array) -> Array:
    """Area of each straight piece that lies above 0."""
    rise = np.where(high > low, high - low, 1.0)
    crossing = width * high**2 / (2 * rise)
    whole = width * (low + high) / 2
    return np.where(low >= 0, whole, np.where(high > 0, crossing, 0.0))


def _below(z: float) -> float:
    return (1 + erf(z / sqrt(2))) / 2


def _bell(z: float) -> float:
    return exp(-z * z / 2) / sqrt(2 * pi)
