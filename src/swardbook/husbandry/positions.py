"""Areas from positions on the globe: corners on a map, or a walk round with a phone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, dist, exp, radians, sin, sqrt

from swardbook.foundation.errors import BadInputError
from swardbook.foundation.quantities import require
from swardbook.handbook.parameters import value
from swardbook.husbandry.areas import Point, find_crossing, outline

EQUATOR_M = 6_378_137.0
FLATTENING = 1 / 298.257223563
"""Semi-major axis [m] and flattening of the WGS 84 ellipsoid."""
_SQUARED = FLATTENING * (2 - FLATTENING)
_MOST_PLACES = 240
_NORMAL_95 = 1.96
_RADIUS_TO_AXIS = 1.51
"""Radius that holds 68 % of a round normal scatter, over its standard deviation on one axis."""
_CORNERS = 4
_LOOP_SHARE = 0.15
"""A loop with more of a walk's points than this is part of its shape."""


@dataclass(frozen=True, slots=True)
class Position:
    """One position.

    Parameters
    ----------
    latitude, longitude : float
        South and west negative. [°]
    accuracy_m : float or None
        Radius that holds about two in three such positions; None where it was not told. [m]
    """

    latitude: float
    longitude: float
    accuracy_m: float | None = None


@dataclass(frozen=True, slots=True)
class AreaFound:
    """An area with how far it may be out.

    Parameters
    ----------
    area_m2, edge_m : float
        The area [m²] and the length of its outline. [m]
    error_m2 : float
        Half the length of a 95 % range from what the positions miss by. [m²]
    cut_m2 : float
        What four square corners may lose between points of a walk; 0 for drawn corners. [m²]
    positions : int
        Positions used.
    accuracy_m, spacing_m : float
        Middle accuracy, and middle distance from point to point. [m]
    """

    area_m2: float
    edge_m: float
    error_m2: float
    cut_m2: float
    positions: int
    accuracy_m: float
    spacing_m: float

    @property
    def share(self) -> float:
        """Half the 95 % range over the area [-]."""
        return (self.error_m2 + self.cut_m2) / self.area_m2


def local_metres(places: Sequence[Position]) -> list[Point]:
    """Lay positions on a level plane that touches the ellipsoid in their middle.

    One degree of latitude is π/180 times the radius of curvature in the meridian,
    ``a(1 - e²) / (1 - e² sin² φ)^1.5``; one of longitude π/180 times the radius in the prime
    vertical, ``a / √(1 - e² sin² φ)``, times ``cos φ``. Over a kilometre this is right to about
    one part in ten thousand.

    Parameters
    ----------
    places : sequence of Position
        The positions.

    Returns
    -------
    list of tuple
        Metres east and north of the middle. [m]
    """
    for each in places:
        require("latitude", each.latitude, -85, 85, "°", "Latitude and longitude swapped?")
        require("longitude", each.longitude, -180, 180, "°")
    middle = sum(each.latitude for each in places) / len(places)
    first = places[0].longitude
    east = [(each.longitude - first + 180) % 360 - 180 for each in places]
    mean_east = sum(east) / len(east)
    east_m, north_m = metres_per_degree(middle)
    return [
        ((x - mean_east) * east_m, (each.latitude - middle) * north_m)
        for x, each in zip(east, places, strict=True)
    ]


def metres_per_degree(latitude: float) -> tuple[float, float]:
    """Give how long a degree is on the ellipsoid, east and north; see `local_metres`.

    Parameters
    ----------
    latitude : float
        Where. [°]

    Returns
    -------
    tuple of float
        Of a degree of longitude and of one of latitude. [m]
    """
    bent = 1 - _SQUARED * sin(radians(latitude)) ** 2
    north_m = radians(1) * EQUATOR_M * (1 - _SQUARED) / bent**1.5
    return radians(1) * EQUATOR_M / sqrt(bent) * cos(radians(latitude)), north_m


def area_of_corners(places: Sequence[Position], accuracy_m: float | None = None) -> AreaFound:
    """Give the area within corners picked on a map, with how far it may be out.

    Parameters
    ----------
    places : sequence of Position
        Corners in order; the last may be the first again.
    accuracy_m : float, optional
        Radius that holds about two in three of them; the handbook's for a map if not told. [m]

    Returns
    -------
    AreaFound
        The corners' errors count as independent of each other.
    """
    ring = _opened(places)
    radius = _accuracy(ring, accuracy_m, value("map_accuracy_m"))
    return _area(local_metres(ring), radius, alike_m=0.0, walked=False)


def area_of_walk(places: Sequence[Position], accuracy_m: float | None = None) -> AreaFound:
    """Give the area within a walk round an edge, with how far it may be out.

    Positions near each other in a walk miss in the same direction, so many points do not make an
    area better. Most of a phone's error is shared by the whole walk: it shifts the outline and
    cancels. The share that changes on the way does not; it is taken as alike by
    ``exp(-distance / alike)`` along the walk. Both are the handbook's (judged).

    Parameters
    ----------
    places : sequence of Position
        Positions in the order of the walk; it need not come quite back to its start.
    accuracy_m : float, optional
        Radius that holds about two in three positions; else what the file says of them, else the
        handbook's for a phone. [m]

    Returns
    -------
    AreaFound
        The area and its parts of error.

    Raises
    ------
    BadInputError
        If there are fewer than four positions, the walk crosses itself or stays far from closed.
    """
    ring = _opened(places)
    if len(ring) < _CORNERS:
        raise BadInputError(
            "the walk", f"{len(ring)} positions", "at least four, in order round the edge",
            "Walk slower, or set the phone to record more often.",
        )  # fmt: skip
    radius = _accuracy(ring, accuracy_m, value("track_accuracy_m"))
    points = _without_loops(_without_overlap(local_metres(_thinned(ring))))
    gap, walked = dist(points[0], points[-1]), sum(map(dist, points, points[1:]))
    if gap > walked / 3:
        raise BadInputError(
            "the walk", f"ends {gap:.0f} m from where it began", "a walk all the way round the edge"
        )
    return _area(points, radius, alike_m=value("track_alike_m"), walked=True)


def _area(points: Sequence[Point], radius: float, *, alike_m: float, walked: bool) -> AreaFound:
    steps = [dist(a, b) for a, b in zip(points, [*points[1:], points[0]], strict=True)]
    area, edge = outline(points)
    sigma = radius / _RADIUS_TO_AXIS * (value("track_changing_share") if walked else 1.0)
    spread = sigma * sqrt(max(_gain(points, steps, alike_m), 0.0))
    step = sorted(steps)[len(steps) // 2]
    cut = _CORNERS * step**2 / 8 if walked else 0.0
    return AreaFound(area, edge, _NORMAL_95 * spread, cut, len(points), radius, step)


def _gain(points: Sequence[Point], steps: Sequence[float], alike_m: float) -> float:
    """Variance of the area for a unit error on each axis: gradient, correlations, gradient."""
    n = len(points)
    pulls = [
        ((points[(i + 1) % n][1] - points[i - 1][1]) / 2,
         (points[i - 1][0] - points[(i + 1) % n][0]) / 2)
        for i in range(n)
    ]  # fmt: skip
    if alike_m == 0:
        return sum(x * x + y * y for x, y in pulls)
    along = [0.0]
    for step in steps[:-1]:
        along.append(along[-1] + step)
    total = 0.0
    for i, (x, y) in enumerate(pulls):
        total += x * x + y * y
        for j in range(i):
            share = exp((along[j] - along[i]) / alike_m)
            total += 2 * share * (x * pulls[j][0] + y * pulls[j][1])
    return total


def _opened(places: Sequence[Position]) -> list[Position]:
    """Leave out repeats of a position one after the other, and the first one at the end."""
    ring: list[Position] = []
    for each in places:
        here = (each.latitude, each.longitude)
        if not ring or here != (ring[-1].latitude, ring[-1].longitude):
            ring.append(each)
    while len(ring) > 1 and _same_place(ring[0], ring[-1]):
        ring.pop()
    if len(ring) < 3:
        raise BadInputError("the outline", f"{len(ring)} positions", "at least three, in order")
    return ring


def _thinned(ring: Sequence[Position]) -> list[Position]:
    every = -(-len(ring) // _MOST_PLACES)
    return list(ring[::every])


def _without_overlap(points: Sequence[Point]) -> list[Point]:
    """Leave out what was walked again past the start: the end is the place nearest to it."""
    late = range(len(points) - len(points) // 4, len(points))
    last = min(late, key=lambda n: dist(points[n], points[0]), default=len(points) - 1)
    return list(points[: last + 1])


def _without_loops(points: list[Point]) -> list[Point]:
    """Leave out small loops of standing about; a large one is refused by `outline`."""
    while len(points) > _CORNERS and (crossed := find_crossing(points)):
        first, second = crossed
        inside = second - first
        if inside <= len(points) * _LOOP_SHARE:
            points = points[:first] + points[second:]
        elif len(points) - inside <= len(points) * _LOOP_SHARE:
            points = points[first:second]
        else:
            break
    return points


def _same_place(one: Position, other: Position) -> bool:
    return (one.latitude, one.longitude) == (other.latitude, other.longitude)


def _accuracy(ring: Sequence[Position], told: float | None, otherwise: float) -> float:
    if told is not None:
        return require("accuracy", told, 0.005, 500, "m")
    known = sorted(each.accuracy_m for each in ring if each.accuracy_m is not None)
    return known[len(known) // 2] if known else otherwise
