"""A count against what the draws expected to be found, before it weighed them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from swardbook.evidence.estimates import Interval
from swardbook.model.chance import Array
from swardbook.model.learning import weighted_quantiles
from swardbook.model.observing import Seeing, Standing, read_plants, read_shares
from swardbook.observations.counts import Method, PlaceCount


@dataclass(frozen=True, slots=True)
class Expected:
    """A count against what was expected of it.

    Parameters
    ----------
    day : date
        The day of the count.
    found : float
        Mean over the places. [`unit`]
    middle : float
        What the draws expected to be found, the middle. [`unit`]
    at80 : Interval
        The range of four in five, luck of the places included. [`unit`]
    unit : str
        ``%`` or ``plants/m2``.
    places : int
        How many placements.
    kind : str
        Key of the species, or ``bare``.
    """

    day: date
    found: float
    middle: float
    at80: Interval
    unit: str
    places: int
    kind: str

    @property
    def was_inside(self) -> bool:
        """Whether the count lay in the range."""
        return not self.at80.excludes(self.found)


def expected_count(
    day: date, places: Sequence[PlaceCount], kinds: Sequence[str], standing: Standing,
    seeing: Seeing, weights: Array, luck: Array,
) -> Expected | None:  # fmt: skip
    """Say what the draws expected the mean of a count to be.

    Parameters
    ----------
    day : date
        The day of the count.
    places : sequence of PlaceCount
        What was counted; those of the commonest method are taken.
    kinds : sequence of str
        Kinds of the model in its order, up to the one that is asked for.
    standing : Standing
        What each draw has standing.
    seeing : Seeing
        How well it is seen.
    weights : array
        Weight of each draw before the count. [-]
    luck : array
        Standard normal numbers for the luck of the places. [-]

    Returns
    -------
    Expected or None
        None where the kind was counted neither by points nor by plants.
    """
    kind = kinds[-1]
    kept = [place for place in places if kind in place.found]
    points = [place for place in kept if place.method is Method.POINTS]
    plants = [place for place in kept if place.method is Method.PLANTS]
    if not points and not plants:
        return None
    by_plants = len(plants) > len(points)
    chosen = plants if by_plants else points
    means, spreads = zip(
        *(_of_place(place, kinds, standing, seeing) for place in chosen), strict=True
    )
    mean = np.mean(means, axis=0)
    error = np.sqrt(np.sum(spreads, axis=0)) / len(chosen)
    times = 1.0 if by_plants else 100.0
    low, middle, high = weighted_quantiles(
        times * np.maximum(mean + luck * error, 0.0), weights, (0.1, 0.5, 0.9)
    )
    found = times * float(np.mean([place.found[kind] / place.looked for place in chosen]))
    unit = "plants/m2" if by_plants else "%"
    at80 = Interval(float(low), float(high))
    return Expected(day, found, float(middle), at80, unit, len(chosen), kind)


def _of_place(
    place: PlaceCount, kinds: Sequence[str], standing: Standing, seeing: Seeing
) -> tuple[Array, Array]:
    """Mean and variance of what one placement shows, per point or per square metre."""
    if place.method is Method.PLANTS:
        mean = read_plants(kinds[-1], place.looked, place.counter, standing, seeing)
        variance = mean + mean**2 / seeing.k_of(place.looked)
        return mean / place.looked, variance / place.looked**2
    asked = [kind for kind in kinds if kind in place.found]
    shares = read_shares(asked, place.counter, standing, seeing)
    share = shares[kinds[-1]]
    effect = 1 + (place.looked - 1) * seeing.point_clumping
    return share, share * (1 - share) * effect / place.looked
