"""The studentised range: how far the largest of several means stands from the smallest."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from math import lgamma, log

import numpy as np
from numpy.polynomial.chebyshev import chebval

from swardbook.foundation.errors import OutOfRangeError
from swardbook.trials.plots import Array

_DEGREE = 140
_NODES = 96
_LARGEST = 1e6
"""Above so many degrees of freedom the error counts as known."""


@dataclass(frozen=True, slots=True)
class StudentisedRange:
    """The distribution for one number of means and one number of degrees of freedom.

    Worked out once by quadrature and kept as a polynomial in ``q / (q + 4)``, good to 1e-9: a
    table of pairs then costs microseconds.

    Parameters
    ----------
    means : int
        How many means.
    df : float
        Degrees of freedom of the error. [-]
    """

    means: int
    df: float
    coefficients: Array

    def chance(self, q: Array) -> Array:
        """Give the chance of a range of at least q, if all means were one [-]."""
        at = np.asarray(q, dtype=np.float64)
        x = np.where(np.isinf(at), 1.0, at / (np.where(np.isinf(at), 0.0, at) + _MIDDLE))
        return np.asarray(np.clip(1 - chebval(2 * x - 1, self.coefficients), 0.0, 1.0))

    def quantile(self, chance: float) -> float:
        """Give the range that is passed with a chance [-]."""
        return _quantile(self.means, self.df, chance)


_MIDDLE = 4.0


@lru_cache(maxsize=256)
def studentised_range(means: int, df: float) -> StudentisedRange:
    """Work out, or find again, the studentised range.

    Parameters
    ----------
    means : int
        How many means, at least 2.
    df : float
        Degrees of freedom of the error, at least 1. [-]

    Raises
    ------
    OutOfRangeError
        If there are fewer than two means, or there is no degree of freedom.

    Notes
    -----
    The chance of a range below q is the mean over s, the estimated over the true spread, of
    ``k ∫ φ(z) [Φ(z) - Φ(z - q s)]^(k-1) dz``: Tukey, J. W., 1953, The problem of multiple
    comparisons; Copenhaver, M. D. and Holland, B., 1988, Journal of Statistical Computation and
    Simulation 30, 1-15.
    """
    if means < 2:
        raise OutOfRangeError("means", means, "at least 2", "")
    if not df >= 1:
        raise OutOfRangeError("degrees of freedom", df, "at least 1", "")
    angle = np.pi * (np.arange(_DEGREE + 1) + 0.5) / (_DEGREE + 1)
    x = (np.cos(angle) + 1) / 2
    below = _below(_MIDDLE * x / (1 - x), means, df)
    waves = np.cos(np.arange(_DEGREE + 1)[:, None] * angle)
    coefficients = 2 / (_DEGREE + 1) * (waves * below).sum(axis=1)
    coefficients[0] /= 2
    return StudentisedRange(means, df, coefficients)


@lru_cache(maxsize=1024)
def _quantile(means: int, df: float, chance: float) -> float:
    from scipy.optimize import brentq

    if not 0 < chance < 1:
        raise OutOfRangeError("chance", chance, "between 0 and 1", "-")
    own = studentised_range(means, df)

    def beyond(q: float) -> float:
        return float(own.chance(np.asarray(q))) - chance

    return float(brentq(beyond, 1e-6, 1e4, xtol=1e-12))


def _below(q: Array, means: int, df: float) -> Array:
    from scipy.special import ndtr

    s, weight = spread_nodes(df)
    z, own = _legendre(-8.5, 8.5)
    density = own * np.exp(-(z**2) / 2) / np.sqrt(2 * np.pi)
    weights = means * weight[:, None] * density
    whole = ndtr(z)
    # Powers that underflow take a hundred times as long, and add nothing.
    least = 10.0 ** (-290 / (means - 1))
    found = np.empty(len(q))
    for place, each in enumerate(q):
        gap = np.maximum(whole - ndtr(z - each * s[:, None]), least)
        found[place] = float((weights * gap ** (means - 1)).sum())
    return found


def spread_nodes(df: float) -> tuple[Array, Array]:
    """Give nodes and weights of the estimated over the true standard deviation [-]."""
    if df > _LARGEST:
        return np.ones(1), np.ones(1)
    from scipy.special import chdtri

    low, high = np.sqrt(chdtri(df, np.array([1 - 1e-13, 1e-13])) / df)
    s, weight = _legendre(float(low), float(high))
    log_density = (
        log(2) + df / 2 * log(df / 2) - lgamma(df / 2) + (df - 1) * np.log(s) - df * s**2 / 2
    )
    return s, weight * np.exp(log_density)


def _legendre(low: float, high: float) -> tuple[Array, Array]:
    x, weight = _rule()
    return (high - low) / 2 * x + (high + low) / 2, (high - low) / 2 * weight


@lru_cache(maxsize=1)
def _rule() -> tuple[Array, Array]:
    rule: Callable[[int], tuple[Array, Array]] = np.polynomial.legendre.leggauss
    return rule(_NODES)
