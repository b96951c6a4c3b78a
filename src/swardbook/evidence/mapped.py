"""Plants mapped one by one in an oblong: whether they stand apart, by chance, or in clumps."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Mapped:
    """Plants mapped in an oblong whose first corner is at 0, 0.

    Parameters
    ----------
    x, y : sequence of float
        Where they stand. [any one unit]
    width, length : float
        Sides of the oblong, along x and along y. [same unit]
    """

    x: Sequence[float]
    y: Sequence[float]
    width: float
    length: float

    def __post_init__(self) -> None:
        if len(self.x) != len(self.y):
            raise OutOfRangeError("places", len(self.y), f"{len(self.x)} along each side", "")
        if len(self.x) < 2:
            raise NotEnoughDataError("how plants stand", "two of them", f"{len(self.x)}")
        for name, ends, side in (("x", self.x, self.width), ("y", self.y, self.length)):
            if min(ends) < 0 or max(ends) > side:
                raise OutOfRangeError(name, max(ends), f"from 0 to {side:g}", "")

    @property
    def density(self) -> float:
        """Plants over the ground [unit⁻²]."""
        return len(self.x) / (self.width * self.length)

    @property
    def _places(self) -> Array:
        return np.column_stack([np.asarray(self.x, float), np.asarray(self.y, float)])

    @property
    def _apart(self) -> Array:
        return np.asarray(np.hypot(*(self._places[:, None] - self._places).transpose(2, 0, 1)))


def standing_apart(plants: Mapped, at_edges: bool = True) -> float:
    """Give the mean distance to the nearest other plant over that expected by chance.

    Parameters
    ----------
    plants : Mapped
        The plants.
    at_edges : bool
        Whether plants at the edge are allowed for, whose nearest may stand outside.

    Returns
    -------
    float
        Below 1 in clumps, about 1 by chance, above 1 where they keep apart. [-]

    Notes
    -----
    Clark, P. J. and Evans, F. C., 1954, Ecology 35, 445-453; edges by Donnelly, K. P., 1978, in
    Hodder, I., Simulation Studies in Archaeology, 91-95.
    """
    apart = plants._apart
    np.fill_diagonal(apart, np.inf)
    expected = 0.5 / np.sqrt(plants.density)
    if at_edges:
        n, round_it = len(apart), 2 * (plants.width + plants.length)
        expected += (0.0514 + 0.0412 / np.sqrt(n)) * round_it / n
    return float(apart.min(axis=1).mean() / expected)


def others_within(plants: Mapped, reaches: Sequence[float]) -> Array:
    """Give the ground that holds as many others as are found within a distance of a plant.

    Parameters
    ----------
    plants : Mapped
        The plants.
    reaches : sequence of float
        Distances. [unit of the places]

    Returns
    -------
    array
        Ripley's K of each: by chance, the area of the circle. [unit²]

    Notes
    -----
    Ripley, B. D., 1976, Journal of Applied Probability 13, 255-266; edges by translation: Ohser, J.
    and Stoyan, D., 1981, Biometrical Journal 23, 523-533.
    """
    places = plants._places
    across, along = (np.abs(places[:, None, at] - places[:, at]) for at in (0, 1))
    area, n = plants.width * plants.length, len(places)
    weights = area**2 / (n * (n - 1) * (plants.width - across) * (plants.length - along))
    np.fill_diagonal(weights, 0.0)
    return np.array([float(weights[plants._apart <= reach].sum()) for reach in reaches])


def density_at_plants(plants: Mapped, breadth: float, at_edges: bool = True) -> Array:
    """Give the density round each plant, itself counted, smoothed by a bell.

    Parameters
    ----------
    plants : Mapped
        The plants.
    breadth : float
        Standard deviation of the bell. [unit of the places]
    at_edges : bool
        Whether what the bell loses beyond the edge is made good.

    Returns
    -------
    array
        One a plant. [unit⁻²]

    Raises
    ------
    OutOfRangeError
        If the breadth is not above 0.

    Notes
    -----
    Diggle, P., 1985, Applied Statistics 34, 138-147.
    """
    from scipy.special import ndtr

    if not breadth > 0:
        raise OutOfRangeError("breadth", breadth, "above 0", "")
    bell = np.exp(-(plants._apart**2) / (2 * breadth**2)) / (2 * np.pi * breadth**2)
    found = bell.sum(axis=1)
    if at_edges:
        for place, side in zip(plants._places.T, (plants.width, plants.length), strict=True):
            found = found / (ndtr((side - place) / breadth) - ndtr(-place / breadth))
    return np.asarray(found)
