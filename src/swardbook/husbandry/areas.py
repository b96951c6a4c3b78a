"""Areas from what a tape gives: two or three sides, a circle, offsets from a base line."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import pi, sqrt

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


def _length(metres: float) -> float:
    return require("length", metres, 1e-3, LONGEST_M, "m")
