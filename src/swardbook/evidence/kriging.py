"""What lies between readings of the ground, from those around it, with how sure that is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Fading:
    """How likeness of readings fades with distance: exponentially, from a sill to nothing.

    Parameters
    ----------
    nugget : float
        Variance that neighbours do not have in common. [square of the readings' unit]
    sill : float
        Variance that they have in common. [square of the readings' unit]
    reach : float
        Distance over which likeness fades to 37 %. [unit of the places]
    """

    nugget: float
    sill: float
    reach: float

    def __post_init__(self) -> None:
        for name, each in (("nugget", self.nugget), ("sill", self.sill)):
            if each < 0:
                raise OutOfRangeError(name, each, "0 or more", "")
        if not self.reach > 0:
            raise OutOfRangeError("reach", self.reach, "above 0", "")

    def in_common(self, far: Array) -> Array:
        """Give the covariance of two readings so far apart [square of the readings' unit]."""
        return np.asarray(self.sill * np.exp(-far / self.reach))


@dataclass(frozen=True, slots=True)
class Between:
    """A reading that was not taken.

    Parameters
    ----------
    value : float
        What it would most likely be. [unit of the readings]
    variance : float
        Of what it might be: show its root beside the map. [square of the readings' unit]
    """

    value: float
    variance: float


def between(
    x: Sequence[float], y: Sequence[float], values: Sequence[float],
    at: Sequence[tuple[float, float]], fading: Fading,
) -> tuple[Between, ...]:  # fmt: skip
    """Say what further readings would be, the mean of the ground unknown (ordinary kriging).

    Parameters
    ----------
    x, y : sequence of float
        Where readings were taken, each place once. [any one unit]
    values : sequence of float
        The readings; counts by their square roots. [any one unit]
    at : sequence of (float, float)
        Where it is asked for. [unit of the places]
    fading : Fading
        How likeness fades, as the semivariogram shows it.

    Raises
    ------
    NotEnoughDataError
        If there are fewer than two readings.
    OutOfRangeError
        If places and readings are not as many.

    Notes
    -----
    Matheron, G., 1963, Economic Geology 58, 1246-1266. All readings are used at once, so it is for
    hundreds, not thousands.
    """
    places = np.column_stack([np.asarray(x, dtype=float), np.asarray(y, dtype=float)])
    seen, wanted = np.asarray(values, dtype=float), np.asarray(at, dtype=float).reshape(-1, 2)
    if len(places) != len(seen):
        raise OutOfRangeError("readings", len(seen), f"{len(places)}, as the places", "")
    if len(seen) < 2:
        raise NotEnoughDataError("a map", "two readings", f"{len(seen)}")
    n, whole = len(seen), fading.nugget + fading.sill
    system = np.ones((n + 1, n + 1))
    system[:n, :n] = fading.in_common(_apart(places, places))
    system[np.arange(n), np.arange(n)] = whole
    system[n, n] = 0.0
    near = np.ones((n + 1, len(wanted)))
    near[:n] = fading.in_common(_apart(places, wanted))
    weights = np.linalg.solve(system, near)
    told = weights[:n].T @ seen
    spread = whole - np.einsum("ij,ij->j", weights, near)
    return tuple(Between(float(v), float(s)) for v, s in zip(told, spread, strict=True))


def _apart(one: Array, other: Array) -> Array:
    return np.asarray(np.hypot(*(one[:, None] - other).transpose(2, 0, 1)))
