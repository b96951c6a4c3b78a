"""When seeds come up that are looked at now and then, and how many never do."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, log

import numpy as np
from numpy.typing import NDArray

from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class ComingUp:
    """Seeds over time: ``share / (1 + (middle / t)^steepness)`` of them are up at time t.

    Parameters
    ----------
    share : float
        Share of the seeds that come up at all. [-]
    middle : float
        Time at which half of these are up. [unit of the times]
    steepness : float
        How closely together they come. [-]
    errors : tuple of float
        Standard errors of share, middle and steepness. [-, unit of the times, -]
    log_likelihood : float
        Of the counts, without the ways to arrange them. [-]
    seeds : int
        Seeds that were set.
    """

    share: float
    middle: float
    steepness: float
    errors: tuple[float, float, float]
    log_likelihood: float
    seeds: int

    def time_of(self, part: float) -> float:
        """Give the time at which a part of those that come up at all are up.

        In the unit of the times.
        """
        if not 0 < part < 1:
            raise OutOfRangeError("part", part, "above 0 and below 1", "")
        return float(self.middle * (part / (1 - part)) ** (1 / self.steepness))


def fit_coming_up(looks: Sequence[float], came: Sequence[int], seeds: int) -> ComingUp:
    """Fit when seeds come up, from how many were new at each look.

    Parameters
    ----------
    looks : sequence of float
        Times of the looks since the seeds were set, rising. [any one unit]
    came : sequence of int
        Seeds that came up since the look before.
    seeds : int
        Seeds that were set.

    Raises
    ------
    NotEnoughDataError
        If they did not come up at two looks at least.
    OutOfRangeError
        If looks do not rise, or more came up than were set.

    Notes
    -----
    A seed is known to have come up between two looks, no more; to fit the running totals as if they
    were readings apart makes errors far too small. Ritz, C., Pipper, C. B. and Streibig, J. C.,
    2013, European Journal of Agronomy 45, 1-6.
    """
    ends, new = np.asarray(looks, dtype=float), np.asarray(came, dtype=float)
    if not (len(ends) == len(new) and (ends > 0).all() and (np.diff(ends) > 0).all()):
        raise OutOfRangeError("looks", len(ends), "rising times, one a count", "")
    if new.sum() > seeds or (new < 0).any():
        raise OutOfRangeError("seeds that came up", float(new.sum()), f"0 to {seeds}", "")
    if (new > 0).sum() < 2:
        raise NotEnoughDataError(
            "when seeds come up", "two looks with new ones", f"{int((new > 0).sum())}"
        )
    guess = _searched(ends, new, seeds)
    share, middle, steepness = _unpacked(guess)
    # By the chain rule from the scales on which it was searched.
    by_scale = np.diag([share * (1 - share), middle, steepness])
    spread = by_scale @ np.linalg.inv(_curvature(ends, new, seeds, guess)) @ by_scale
    one, two, three = np.sqrt(np.diag(spread)).tolist()
    return ComingUp(share, middle, steepness, (one, two, three), -_against(guess, ends, new, seeds),
                    seeds)  # fmt: skip


def _unpacked(guess: Array) -> tuple[float, float, float]:
    return 1 / (1 + exp(-float(guess[0]))), exp(float(guess[1])), exp(float(guess[2]))


def _against(guess: Array, ends: Array, new: Array, seeds: int) -> float:
    """Minus the log-likelihood."""
    share, middle, steepness = _unpacked(guess)
    up = share / (1 + np.exp(-steepness * (np.log(ends) - log(middle))))
    between = np.maximum(np.diff(up, prepend=0.0), 1e-300)
    never = max(1 - float(up[-1]), 1e-300)
    return -float((new * np.log(between)).sum()) - (seeds - float(new.sum())) * log(never)


def _searched(ends: Array, new: Array, seeds: int) -> Array:
    from scipy.optimize import minimize

    total = float(new.sum())
    share = min(max(total / seeds, 0.5 / seeds), 1 - 0.5 / seeds)
    middle = float(ends[np.searchsorted(new.cumsum(), total / 2)])
    best: tuple[float, Array] | None = None
    for steepness in (2.0, 8.0, 30.0):
        guess = np.array([log(share / (1 - share)), log(middle), log(steepness)])
        for _ in range(3):
            found = minimize(
                _against, guess, args=(ends, new, seeds), method="Nelder-Mead",
                options={"xatol": 1e-10, "fatol": 1e-12, "maxiter": 4000},
            )  # fmt: skip
            guess = np.asarray(found.x)
        if best is None or float(found.fun) < best[0]:
            best = (float(found.fun), guess)
    assert best is not None
    return best[1]


def _curvature(ends: Array, new: Array, seeds: int, at: Array) -> Array:
    """Second derivatives of minus the log-likelihood, by differences of fourth order."""
    step = 2e-3

    def slope(guess: Array, way: int) -> float:
        def off(times: int) -> float:
            moved = guess.copy()
            moved[way] += times * step
            return _against(moved, ends, new, seeds)

        return (8 * (off(1) - off(-1)) - (off(2) - off(-2))) / (12 * step)

    found = np.empty((3, 3))
    for one in range(3):

        def moved(times: int, one: int = one) -> Array:
            guess = at.copy()
            guess[one] += times * step
            return guess

        for two in range(3):
            found[one, two] = (
                8 * (slope(moved(1), two) - slope(moved(-1), two))
                - (slope(moved(2), two) - slope(moved(-2), two))
            ) / (12 * step)
    return (found + found.T) / 2
