"""How far apart readings of the ground must lie before they are no more alike than any others."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError


@dataclass(frozen=True, slots=True)
class Lag:
    """Pairs of readings that lie about so far apart.

    Parameters
    ----------
    distance : float
        Mean distance of the pairs. [unit of the places]
    pairs : int
        How many there are.
    semivariance : float
        Half the mean square of their differences. [square of the readings' unit]
    """

    distance: float
    pairs: int
    semivariance: float


def semivariogram(
    x: Sequence[float], y: Sequence[float], values: Sequence[float], edges: Sequence[float]
) -> tuple[Lag, ...]:
    """Give half the mean squared difference of readings by how far apart they lie.

    Parameters
    ----------
    x, y : sequence of float
        Where each reading was taken. [any one unit]
    values : sequence of float
        The readings. [any one unit]
    edges : sequence of float
        Ends of the classes of distance, rising; each holds its upper end. [unit of the places]

    Returns
    -------
    tuple of Lag
        Class by class; those without pairs are left out.

    Raises
    ------
    NotEnoughDataError
        If there are fewer than two readings.
    OutOfRangeError
        If places and readings are not as many, or the edges do not rise.

    Notes
    -----
    Matheron, G., 1963, Economic Geology 58, 1246-1266.
    """
    places = np.column_stack([np.asarray(x, dtype=float), np.asarray(y, dtype=float)])
    seen, ends = np.asarray(values, dtype=float), np.asarray(edges, dtype=float)
    if len(places) != len(seen):
        raise OutOfRangeError("readings", len(seen), f"{len(places)}, as the places", "")
    if len(ends) < 2 or not (np.diff(ends) > 0).all():
        raise OutOfRangeError("ends of classes", len(ends), "2 or more that rise", "")
    if len(seen) < 2:
        raise NotEnoughDataError("how far readings are alike", "two readings", f"{len(seen)}")
    one, other = np.triu_indices(len(seen), 1)
    far = np.hypot(*(places[one] - places[other]).T)
    half = 0.5 * (seen[one] - seen[other]) ** 2
    at = np.searchsorted(ends, far, side="left")
    return tuple(
        Lag(float(far[within].mean()), int(within.sum()), float(half[within].mean()))
        for place in range(1, len(ends))
        if (within := at == place).any()
    )
