"""Passes of a machine over an oblong: how many, how long, where they run, and the time they take.

Directions are against the long side: 0° runs along it, 90° across, and a line is the same one
whichever way it is walked.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, cos, radians, sin, sqrt

from swardbook.foundation.errors import OutOfRangeError
from swardbook.foundation.quantities import require

Point = tuple[float, float]
_SLACK = 1e-9


@dataclass(frozen=True, slots=True)
class Pass:
    """The middle line of one pass, in the direction it is walked.

    Parameters
    ----------
    start, end : tuple of float
        Places along the long side and along the short one, from a corner. [m]
    """

    start: Point
    end: Point

    @property
    def length_m(self) -> float:
        """Its length [m]."""
        return sqrt((self.end[0] - self.start[0]) ** 2 + (self.end[1] - self.start[1]) ** 2)


@dataclass(frozen=True, slots=True)
class Mown:
    """An area with a machine over it.

    Parameters
    ----------
    passes : tuple of Pass
        The passes in the order they are walked; empty where the shape is not known.
    number : int
        How many passes there are.
    laps : int
        Laps round the edge first.
    distance_m : float
        Walked with the machine at work. [m]
    turns : int
        Turns, at the ends of passes and at the corners of laps.
    """

    passes: tuple[Pass, ...]
    number: int
    laps: int
    distance_m: float
    turns: int


def passes_needed(across_m: float, width_m: float, overlap_m: float) -> int:
    """Give how many passes cover a width.

    Parameters
    ----------
    across_m : float
        Width to cover. [m]
    width_m, overlap_m : float
        Width that the machine works, and how much of it lies over the pass before. [m]

    Returns
    -------
    int
        Passes: n of them cover ``n w - (n - 1) o``.

    Raises
    ------
    OutOfRangeError
        If the overlap is no smaller than the width.
    """
    _check_width(width_m, overlap_m)
    require("width to cover", across_m, 0, 10_000, "m")
    if across_m <= 0:
        return 0
    return max(ceil((across_m - overlap_m) / (width_m - overlap_m) - _SLACK), 1)


def over_oblong(
    sides_m: Point, width_m: float, overlap_m: float, line_deg: float = 0.0, laps: int = 0,
    shift_m: float = 0.0,
) -> Mown:  # fmt: skip
    """Lay passes over an oblong, to and fro on one line.

    Parameters
    ----------
    sides_m : tuple of float
        Long and short side. [m]
    width_m, overlap_m : float
        Width that the machine works, and how much of it lies over the pass before. [m]
    line_deg : float
        Direction against the long side. [°]
    laps : int
        Laps round the edge first; the passes fill what is left inside.
    shift_m : float
        How far the first pass begins outside, so that wheels do not run where they ran. [m]

    Returns
    -------
    Mown
        Passes, distance and turns. The last pass is moved in until it ends at the edge.

    Raises
    ------
    OutOfRangeError
        If a side, a width or the number of laps makes no sense.
    """
    _check_width(width_m, overlap_m)
    long, short = (require("side", each, 0.2, 2000, "m") for each in sides_m)
    require("laps", laps, 0, 10, "-")
    require("shift", shift_m, 0, width_m, "m")
    step = width_m - overlap_m
    edge = min(laps * step, short / 2, long / 2)
    walked = sum(2 * (long + short - 4 * (n * step + width_m / 2)) for n in range(laps))
    inside = (long - 2 * edge, short - 2 * edge)
    passes = () if min(inside) <= _SLACK else _lines(inside, edge, width_m, step, line_deg, shift_m)
    turns = max(len(passes) - 1, 0) + 4 * laps
    distance = max(walked, 0.0) + sum(each.length_m for each in passes)
    return Mown(passes, len(passes), laps, distance, turns)


def over_area(area_m2: float, width_m: float, overlap_m: float) -> Mown:
    """Take an area whose shape is not known for a square.

    Parameters
    ----------
    area_m2 : float
        Area. [m²]
    width_m, overlap_m : float
        Width that the machine works, and how much of it lies over the pass before. [m]
    """
    side = sqrt(require("area", area_m2, 0.01, 1e7, "m2"))
    number = passes_needed(side, width_m, overlap_m)
    return Mown((), number, 0, number * side, number - 1)


def hours_for(mown: Mown, speed_m_s: float, turn_s: float) -> float:
    """Give the time for an area, without emptying the box.

    Parameters
    ----------
    mown : Mown
        The passes.
    speed_m_s : float
        Speed over the ground. [m s⁻¹]
    turn_s : float
        Time of one turn. [s]

    Returns
    -------
    float
        Time. [h]
    """
    speed = require("speed", speed_m_s, 0.05, 6, "m/s", "A walking pace is about 1.2 m/s.")
    turning = mown.turns * require("time of a turn", turn_s, 0, 120, "s")
    return (mown.distance_m / speed + turning) / 3600


def between_lines(one_deg: float, other_deg: float) -> float:
    """Give the angle at which two lines cross.

    Parameters
    ----------
    one_deg, other_deg : float
        Directions against the long side. [°]

    Returns
    -------
    float
        From 0, the same line, to 90. [°]
    """
    apart = abs(one_deg - other_deg) % 180
    return min(apart, 180 - apart)


def _check_width(width_m: float, overlap_m: float) -> None:
    require("width of the machine", width_m, 0.05, 12, "m", "51 cm is 0.51 m.")
    if not 0 <= overlap_m < width_m:
        raise OutOfRangeError(
            "overlap", float(overlap_m), f"0 or more, and below the width of {width_m:g}", "m"
        )


def _lines(
    inside: Point, edge: float, width: float, step: float, line_deg: float, shift: float
) -> tuple[Pass, ...]:
    """Lay the passes in a frame along the line, and turn them back."""
    turn = radians(line_deg)
    along, across = (cos(turn), sin(turn)), (-sin(turn), cos(turn))
    corners = [(0.0, 0.0), (inside[0], 0.0), inside, (0.0, inside[1])]
    turned = [(_dot(each, along), _dot(each, across)) for each in corners]
    low, high = min(v for _, v in turned), max(v for _, v in turned)
    number = passes_needed(high - low + shift, width, width - step)
    found: list[Pass] = []
    for n in range(number):
        first = low - shift + n * step
        if n == number - 1 and n > 0:
            first = max(min(first, high - width), low - shift)
        reach = _reach(turned, first, first + width)
        if reach is None:
            continue
        middle = first + width / 2
        ends = [(u * along[0] + middle * across[0] + edge, u * along[1] + middle * across[1] + edge)
                for u in reach]  # fmt: skip
        found.append(Pass(*ends) if len(found) % 2 == 0 else Pass(ends[1], ends[0]))
    return tuple(found)


def _reach(corners: list[Point], low: float, high: float) -> Point | None:
    """How far a strip has to be walked: the span of what lies in it of an oblong."""
    seen = [u for u, v in corners if low - _SLACK <= v <= high + _SLACK]
    for (u, v), (u2, v2) in zip(corners, [*corners[1:], corners[0]], strict=True):
        crossed = [each for each in (low, high) if min(v, v2) < each < max(v, v2)]
        seen += [u + (u2 - u) * (each - v) / (v2 - v) for each in crossed]
    return (min(seen), max(seen)) if seen and max(seen) - min(seen) > _SLACK else None


def _dot(one: Point, other: Point) -> float:
    return one[0] * other[0] + one[1] * other[1]
