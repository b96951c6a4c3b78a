"""Intervals for a share counted in independent trials, and for the difference of two shares."""

from __future__ import annotations

from math import sqrt

from swardbook.evidence.estimates import Interval, normal_quantile
from swardbook.foundation.errors import OutOfRangeError


def wilson(hits: float, n: float, level: float = 0.95) -> Interval:
    """Give the score interval of a share.

    Parameters
    ----------
    hits : float
        Trials that succeeded; need not be whole where the sample is an effective one. [-]
    n : float
        Trials, above 0. [-]
    level : float
        Share of such intervals that hold the truth. [-]

    Returns
    -------
    Interval
        From 0 to 1, as fractions. [-]

    Raises
    ------
    OutOfRangeError
        If there are no trials, or more hits than trials.

    Notes
    -----
    Wilson, E. B., 1927, Journal of the American Statistical Association 22, 209-212.
    """
    _check_counts(hits, n)
    z2 = normal_quantile(level) ** 2
    share = hits / n
    middle = (share + z2 / (2 * n)) / (1 + z2 / n)
    half = sqrt(z2 * (share * (1 - share) / n + z2 / (4 * n * n))) / (1 + z2 / n)
    low = 0.0 if hits == 0 else max(0.0, middle - half)
    high = 1.0 if hits == n else min(1.0, middle + half)
    return Interval(low, high)


def clopper_pearson(hits: float, n: float, level: float = 0.95) -> Interval:
    """Give the exact interval of a share, from the tails of the binomial distribution.

    Parameters
    ----------
    hits : float
        Trials that succeeded. [-]
    n : float
        Trials, above 0. [-]
    level : float
        Least share of such intervals that hold the truth. [-]

    Returns
    -------
    Interval
        From 0 to 1, as fractions. [-]

    Raises
    ------
    OutOfRangeError
        If there are no trials, or more hits than trials.

    Notes
    -----
    Clopper, C. J. and Pearson, E. S., 1934, Biometrika 26, 404-413.
    """
    from scipy.special import betaincinv

    _check_counts(hits, n)
    normal_quantile(level)
    tail = (1 - level) / 2
    low = 0.0 if hits == 0 else float(betaincinv(hits, n - hits + 1, tail))
    high = 1.0 if hits == n else float(betaincinv(hits + 1, n - hits, 1 - tail))
    return Interval(low, high)


def jeffreys(hits: float, n: float, level: float = 0.95) -> Interval:
    """Give the interval of a share that a flat view of it beforehand leads to.

    Parameters
    ----------
    hits : float
        Trials that succeeded. [-]
    n : float
        Trials, above 0. [-]
    level : float
        Share of such intervals that hold the truth, on average over shares. [-]

    Returns
    -------
    Interval
        From 0 to 1, as fractions, its ends the tails of a beta distribution. [-]

    Raises
    ------
    OutOfRangeError
        If there are no trials, or more hits than trials.

    Notes
    -----
    Jeffreys, H., 1946, Proceedings of the Royal Society of London A 186, 453-461.
    """
    from scipy.special import betaincinv

    _check_counts(hits, n)
    normal_quantile(level)
    low, high = (
        float(betaincinv(hits + 0.5, n - hits + 0.5, tail))
        for tail in ((1 - level) / 2, (1 + level) / 2)
    )
    return Interval(low, high)


def agresti_coull(hits: float, n: float, level: float = 0.95) -> Interval:
    """Give the plain interval of a share to which about two hits and two misses are added.

    Parameters
    ----------
    hits : float
        Trials that succeeded. [-]
    n : float
        Trials, above 0. [-]
    level : float
        Share of such intervals that hold the truth. [-]

    Returns
    -------
    Interval
        From 0 to 1, as fractions. [-]

    Raises
    ------
    OutOfRangeError
        If there are no trials, or more hits than trials.

    Notes
    -----
    Agresti, A. and Coull, B. A., 1998, American Statistician 52, 119-126.
    """
    _check_counts(hits, n)
    z2 = normal_quantile(level) ** 2
    return wald(hits + z2 / 2, n + z2, level)


def wald(hits: float, n: float, level: float = 0.95) -> Interval:
    """Give the plain interval of a share that old tables print; it is too narrow near 0 and 1.

    For comparison with tables: nothing here is told by it.

    Parameters
    ----------
    hits : float
        Trials that succeeded. [-]
    n : float
        Trials, above 0. [-]
    level : float
        Share of such intervals that ought to hold the truth. [-]

    Returns
    -------
    Interval
        From 0 to 1, as fractions. [-]

    Raises
    ------
    OutOfRangeError
        If there are no trials, or more hits than trials.

    Notes
    -----
    Too narrow: Brown, L. D., Cai, T. T. and DasGupta, A., 2001, Statistical Science 16, 101-133.
    """
    _check_counts(hits, n)
    share = hits / n
    half = normal_quantile(level) * sqrt(share * (1 - share) / n)
    return Interval(max(0.0, share - half), min(1.0, share + half))


def newcombe(hits1: float, n1: float, hits2: float, n2: float, level: float = 0.95) -> Interval:
    """Give the interval of the first share less the second, of two separate samples.

    Parameters
    ----------
    hits1, hits2 : float
        Trials that succeeded in each sample. [-]
    n1, n2 : float
        Trials in each sample, above 0. [-]
    level : float
        Share of such intervals that hold the truth. [-]

    Returns
    -------
    Interval
        From -1 to 1, as fractions. [-]

    Raises
    ------
    OutOfRangeError
        If a sample has no trials, or more hits than trials.

    Notes
    -----
    Method 10 of Newcombe, R. G., 1998, Statistics in Medicine 17, 873-890.
    """
    one, two = wilson(hits1, n1, level), wilson(hits2, n2, level)
    share1, share2 = hits1 / n1, hits2 / n2
    difference = share1 - share2
    below = sqrt((share1 - one.low) ** 2 + (two.high - share2) ** 2)
    above = sqrt((one.high - share1) ** 2 + (share2 - two.low) ** 2)
    return Interval(difference - below, difference + above)


def _check_counts(hits: float, n: float) -> None:
    if not n > 0:
        raise OutOfRangeError("number of trials", float(n), "above 0", "")
    if not 0 <= hits <= n:
        raise OutOfRangeError("hits", float(hits), f"from 0 to {n:g}", "")
