"""Areas from what a tape gives: sides, a circle, offsets from a base line, corners."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import dist, pi, sqrt

from swardbook.foundation.errors import BadInputError
from swardbook.foundation.quantities import require

LONGEST_M = 10_000.0


def oblong(one: float, other: float) -> float:
    """Give the area between two pairs of equal sides.

    Parameters
    ----------
    one, other : float
        Sides. [m]

    Returns
    -------
    float
        The area. [m²]
    """
    return _length(one) * _length(other)


def triangle(first: float, second: float, third: float) -> float:
    """Give the area between three sides (Heron's formula).

    Parameters
    ----------
    first, second, third : float
        Sides. [m]

    Returns
    -------
    float
        The area. [m²]

    Raises
    ------
    BadInputError
        If one side is as long as the other two together.
    """
    short, middle, long = sorted(map(_length, (first, second, third)))
    if long >= short + middle:
        raise BadInputError(
            "the three sides", f"{first:g}, {second:g} and {third:g} m",
            "three sides that meet: the longest shorter than the other two together",
            "Measure the longest again?",
        )  # fmt: skip
    half = (short + middle + long) / 2
    return sqrt(half * (half - short) * (half - middle) * (half - long))


def circle(across: float) -> float:
    """Give the area of a circle.

    Parameters
    ----------
    across : float
        Width through the middle. [m]

    Returns
    -------
    float
        The area. [m²]
    """
    return pi / 4 * _length(across) ** 2


def between_offsets(offsets: Sequence[float], every: float) -> float:
    """Give the area between a straight base line and an edge (trapezium rule).

    Parameters
    ----------
    offsets : sequence of float
        Distances from the base line to the edge, in order; 0 where they meet. [m]
    every : float
        How far apart they were measured. [m]

    Returns
    -------
    float
        The area. [m²]

    Raises
    ------
    BadInputError
        If there are fewer than two offsets.
    """
    if len(offsets) < 2:
        raise BadInputError("the offsets", f"{len(offsets)}", "at least two, in order")
    step = _length(every)
    read = [require("offset", each, 0, LONGEST_M, "m") for each in offsets]
    area = sum((one + other) / 2 * step for one, other in pairwise(read))
    return require("area", area, 1e-9, LONGEST_M**2, "m2", "Every offset was 0.")


def outline(corners: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """Give the area within straight edges from corner to corner, and their length.

    Parameters
    ----------
    corners : sequence of (float, float)
        Corners in order round the outline, east and north of any point; not closed again. [m]

    Returns
    -------
    tuple of float
        The area [m²] (shoelace formula) and the length of the outline. [m]

    Raises
    ------
    BadInputError
        If there are fewer than three corners, if edges cross, or if they enclose nothing.
    """
    if len(corners) < 3:
        raise BadInputError("the outline", f"{len(corners)} corners", "at least three, in order")
    read = [(_place("east", x), _place("north", y)) for x, y in corners]
    edges = list(zip(read, [*read[1:], read[0]], strict=True))
    if crossed := find_crossing(read):
        raise BadInputError(
            "the outline", f"edges {crossed[0]} and {crossed[1]} cross",
            "corners in order round the edge, none twice", "Two corners swapped?",
        )  # fmt: skip
    twice = sum(a[0] * b[1] - b[0] * a[1] for a, b in edges)
    area = require("area", abs(twice) / 2, 1e-9, LONGEST_M**2, "m2", "The corners lie in a line.")
    return area, sum(dist(a, b) for a, b in edges)


def ellipse(long: float, short: float) -> float:
    """Give the area of an ellipse, such as an island bed.

    Parameters
    ----------
    long, short : float
        Widths through the middle. [m]

    Returns
    -------
    float
        The area. [m²]
    """
    return pi / 4 * _length(long) * _length(short)


Point = tuple[float, float]


def find_crossing(corners: Sequence[Point]) -> tuple[int, int] | None:
    """Find the first two edges of an outline that cross or touch, by number from 1.

    Neighbours share a corner only.

    Parameters
    ----------
    corners : sequence of (float, float)
        Corners in order, not closed again. [m]
    """
    edges = list(zip(corners, [*corners[1:], corners[0]], strict=True))
    last = len(edges) - 1
    for one, (a, b) in enumerate(edges):
        for other in range(one + 2, len(edges)):
            if (one, other) != (0, last) and _cross(a, b, *edges[other]):
                return one + 1, other + 1
    return None


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    if any(
        max(a[axis], b[axis]) < min(c[axis], d[axis])
        or max(c[axis], d[axis]) < min(a[axis], b[axis])
        for axis in (0, 1)
    ):
        return False

    def side(p: Point, q: Point, r: Point) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) <= 0 and side(c, d, a) * side(c, d, b) <= 0


def _place(side: str, metres: float) -> float:
    return require(side, metres, -LONGEST_M, LONGEST_M, "m")


def _length(metres: float) -> float:
    return require("length", metres, 1e-3, LONGEST_M, "m")
