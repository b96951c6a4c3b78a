"""A place from two tapes, from a side, or from a phone; what lies in a zone, and what is near."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import acos, atan2, cos, degrees, dist, hypot, pi, radians, sin, sqrt

from swardbook.foundation.errors import BadInputError
from swardbook.foundation.quantities import require
from swardbook.handbook.parameters import value
from swardbook.husbandry.areas import LONGEST_M, Point, outline
from swardbook.husbandry.positions import Position, metres_per_degree
from swardbook.husbandry.where import Outline, Ring

_ROUND = 48
"""Corners that a circle or ellipse is drawn with; its area is kept."""


@dataclass(frozen=True, slots=True)
class Taped:
    """What two tapes say.

    Parameters
    ----------
    left, right : tuple of float
        The two places they meet, on either side of the line from the first fixed point to the
        second; alike where the tapes only just meet. [m]
    within_m : float
        Radius that holds about two in three, by the angle at which they cross. [m]
    """

    left: Point
    right: Point
    within_m: float


def from_tapes(one: Point, one_m: float, other: Point, other_m: float) -> Taped:
    """Find where two tapes meet.

    With d between the two fixed points, the foot of the place on their line lies
    ``(a² - b² + d²) / 2d`` from the first, and the place ``√(a² - foot²)`` off it.

    Parameters
    ----------
    one, other : tuple of float
        The fixed points, east and north. [m]
    one_m, other_m : float
        Length of the tape from each. [m]

    Returns
    -------
    Taped
        Both places: two tapes alone do not say on which side.

    Raises
    ------
    BadInputError
        If the tapes do not meet, by more than a tape's error.
    """
    a, b = (require("tape", each, 0, LONGEST_M, "m") for each in (one_m, other_m))
    apart = dist(one, other)
    if apart < 1e-6:
        raise BadInputError("the two tapes", "one fixed point", "two fixed points, apart")
    error = value("plan.tape_reads") / 1000
    gap = max(apart - a - b, abs(a - b) - apart)
    if gap > 3 * error:
        raise BadInputError(
            "the two tapes", f"{a:.2f} m and {b:.2f} m from points {apart:.2f} m apart",
            "two tapes that meet", f"They miss by {gap:.2f} m. Measure the shorter one again?",
        )  # fmt: skip
    foot = (a * a - b * b + apart * apart) / (2 * apart)
    off = sqrt(max(a * a - foot * foot, 0.0))
    along = ((other[0] - one[0]) / apart, (other[1] - one[1]) / apart)
    on = (one[0] + foot * along[0], one[1] + foot * along[1])
    left = (on[0] - off * along[1], on[1] + off * along[0])
    right = (on[0] + off * along[1], on[1] - off * along[0])
    return Taped(left, right, _within(a, b, apart, error))


def _within(a: float, b: float, apart: float, error: float) -> float:
    """Two tapes that cross at an angle γ miss by error·√2/sin γ; flat crossings by the root."""
    if a * b == 0:
        return error
    turn = acos(min(max((a * a + b * b - apart * apart) / (2 * a * b), -1.0), 1.0))
    flat = sqrt(2 * error * max(min(a, b), error))
    return min(error * sqrt(2) / max(sin(turn), 1e-9), max(flat, error * sqrt(2)))


def from_side(start: Point, end: Point, along_m: float, off_m: float) -> Point:
    """Find a place by how far it is along a side, and how far off it to the left.

    Parameters
    ----------
    start, end : tuple of float
        The side, from where the tape begins. [m]
    along_m, off_m : float
        Along it, and off it; to the right below 0. [m]

    Returns
    -------
    tuple of float
        East and north. [m]
    """
    long = dist(start, end)
    if long < 1e-6:
        raise BadInputError("the side", "no length", "two corners that are apart")
    x, y = (end[0] - start[0]) / long, (end[1] - start[1]) / long
    return start[0] + along_m * x - off_m * y, start[1] + along_m * y + off_m * x


def from_phone(origin: Position, here: Position, north_deg: float = 0.0) -> Point:
    """Lay a phone's position on the plane that touches the globe at the site's own corner.

    Parameters
    ----------
    origin, here : Position
        The site's own corner, and the place.
    north_deg : float
        Where north lies, clockwise from the top of the plan. [°]

    Returns
    -------
    tuple of float
        Along the plan and up it. [m]
    """
    require("latitude", here.latitude, -85, 85, "°", "Latitude and longitude swapped?")
    require("longitude", here.longitude, -180, 180, "°")
    east_m, north_m = metres_per_degree(origin.latitude)
    east = ((here.longitude - origin.longitude + 180) % 360 - 180) * east_m
    north = (here.latitude - origin.latitude) * north_m
    found = _turned((east, north), -north_deg)
    if hypot(*found) > LONGEST_M:
        raise BadInputError(
            "the phone's position", f"{hypot(*found) / 1000:.0f} km away", "a place on the site",
            "Is the site's own corner right, and east positive?",
        )  # fmt: skip
    return found


def to_globe(origin: Position, place: Point, north_deg: float = 0.0) -> Position:
    """Give the position on the globe of a place on the plan; see `from_phone`.

    Parameters
    ----------
    origin : Position
        The site's own corner.
    place : tuple of float
        Along the plan and up it. [m]
    north_deg : float
        Where north lies, clockwise from the top of the plan. [°]
    """
    east_m, north_m = metres_per_degree(origin.latitude)
    east, north = _turned(place, north_deg)
    return Position(origin.latitude + north / north_m, origin.longitude + east / east_m)


def _turned(place: Point, turn_deg: float) -> Point:
    """Turn a place about the corner, anticlockwise."""
    turn = radians(turn_deg)
    x, y = place
    return x * cos(turn) - y * sin(turn), x * sin(turn) + y * cos(turn)


def bearing(start: Point, end: Point, north_deg: float = 0.0) -> float:
    """Give the direction from one place to another, clockwise from north.

    Parameters
    ----------
    start, end : tuple of float
        From where, and where to. [m]
    north_deg : float
        Where north lies, clockwise from the top of the plan. [°]

    Returns
    -------
    float
        From 0 to below 360. [°]
    """
    found = (degrees(atan2(end[0] - start[0], end[1] - start[1])) - north_deg) % 360
    return 0.0 if found >= 360 else found  # a remainder of a tiny minus rounds up to 360


def compass_word(bearing_deg: float) -> str:
    """Say a bearing as one of eight winds.

    Parameters
    ----------
    bearing_deg : float
        Clockwise from north. [°]
    """
    winds = ("north", "north-east", "east", "south-east", "south", "south-west", "west",
             "north-west")  # fmt: skip
    return winds[round(bearing_deg / 45) % 8]


def is_inside(place: Point, rings: Sequence[Ring]) -> bool:
    """Tell whether a place lies within an outline and in none of its holes (even-odd rule).

    Parameters
    ----------
    place : tuple of float
        East and north. [m]
    rings : sequence of tuple
        The edge and each hole. [m]
    """
    x, y = place
    inside = False
    for ring in rings:
        for (x1, y1), (x2, y2) in zip(ring, (*ring[1:], ring[0]), strict=True):
            if (y1 > y) != (y2 > y) and x < x1 + (y - y1) * (x2 - x1) / (y2 - y1):
                inside = not inside
    return inside


def nearest(place: Point, named: Iterable[tuple[str, Point]]) -> tuple[str, float] | None:
    """Give the nearest of several named places, and how far it is; None of none.

    Parameters
    ----------
    place : tuple of float
        East and north. [m]
    named : iterable of tuple
        Names and places. [m]

    Returns
    -------
    tuple of str and float, or None
        Its name and distance; the first of two equally near. [m]
    """
    found = [(dist(place, point), n, name) for n, (name, point) in enumerate(named)]
    if not found:
        return None
    far, _, name = min(found)
    return name, far


def drawn(corners: Sequence[Point], holes: Sequence[Ring] = (), like: Outline | None = None
          ) -> Outline:  # fmt: skip
    """Make an outline of corners told from the site's own corner.

    Parameters
    ----------
    corners : sequence of tuple
        In order round the edge. [m]
    holes : sequence of tuple
        What is cut out. [m]
    like : Outline or None
        The outline before: its frame is kept, so that what lies in it stays where it was.

    Raises
    ------
    BadInputError
        If the edge crosses itself or encloses nothing.
    """
    outline(corners)
    east = min(x for x, _ in corners) if like is None else like.east_m
    north = min(y for _, y in corners) if like is None else like.north_m
    edge, *cut_out = (
        tuple((_tidy(x - east), _tidy(y - north)) for x, y in ring) for ring in (corners, *holes)
    )
    return Outline(edge, _tidy(east), _tidy(north), tuple(cut_out))


def _tidy(metres: float) -> float:
    return round(metres, 3) + 0.0


def oval(long_m: float, short_m: float) -> Ring:
    """Give corners of an ellipse of two widths; they enclose its area.

    Parameters
    ----------
    long_m, short_m : float
        Widths through the middle, along and across. [m]
    """
    step = 2 * pi / _ROUND
    swell = sqrt(step / sin(step))
    return tuple(
        (long_m / 2 * (1 + swell * cos(n * step)), short_m / 2 * (1 + swell * sin(n * step)))
        for n in range(_ROUND)
    )


def triangle_corners(base_m: float, right_m: float, left_m: float) -> Ring:
    """Give corners of a triangle of three sides, the first one along the bottom.

    Parameters
    ----------
    base_m, right_m, left_m : float
        Sides, in order round it. [m]
    """
    tip = from_tapes((0.0, 0.0), left_m, (base_m, 0.0), right_m).left
    return (0.0, 0.0), (base_m, 0.0), tip


def box_of(rings: Iterable[Ring]) -> tuple[float, float, float, float]:
    """Give the west, south, east and north ends of some outlines [m]."""
    points = [point for ring in rings for point in ring]
    return (
        min(x for x, _ in points), min(y for _, y in points),
        max(x for x, _ in points), max(y for _, y in points),
    )  # fmt: skip


def oblong_sides(corners: Ring) -> tuple[float, float] | None:
    """Give the long and short side of four square corners; None of another shape.

    Parameters
    ----------
    corners : tuple of tuple
        In order. [m]

    Returns
    -------
    tuple of float or None
        The long side first, each the mean of two. [m]
    """
    if len(corners) != 4:
        return None
    a, b, c, d = (dist(p, q) for p, q in zip(corners, (*corners[1:], corners[0]), strict=True))
    one, other = (a + c) / 2, (b + d) / 2
    slack = value("plan.square_slack")
    diagonals = dist(corners[0], corners[2]), dist(corners[1], corners[3])
    alike = (abs(a - c) <= slack * one, abs(b - d) <= slack * other,
             abs(diagonals[0] - diagonals[1]) <= slack * max(diagonals))  # fmt: skip
    return (max(one, other), min(one, other)) if all(alike) else None
