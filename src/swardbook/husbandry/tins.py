"""Tins on the lawn: how evenly water falls, how fast, and whether the ground can take it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor

from swardbook.foundation.errors import NotEnoughDataError
from swardbook.foundation.quantities import require
from swardbook.handbook.parameters import value


@dataclass(frozen=True, slots=True)
class Evenness:
    """How evenly water falls.

    Parameters
    ----------
    tins : int
        How many tins.
    lowest : int
        How many of them make the lowest quarter: a quarter of them, rounded.
    mean, lowest_mean : float
        Mean of all tins and of the lowest quarter, in the unit of the tins. [mm or mL]
    share : float
        Lowest quarter over mean. [-]
    christiansen : float
        Christiansen's coefficient: 1 less the mean deviation over the mean. [-]
    """

    tins: int
    lowest: int
    mean: float
    lowest_mean: float
    share: float
    christiansen: float


def evenness(caught: Sequence[float]) -> Evenness:
    """Tell how evenly water falls from what tins set out in a grid caught.

    Parameters
    ----------
    caught : sequence of float
        What each tin caught, all in one unit. [mm or mL]

    Returns
    -------
    Evenness
        Mean, lowest quarter and the two usual figures.

    Raises
    ------
    NotEnoughDataError
        If there are fewer tins than tell anything, or nothing was caught.
    OutOfRangeError
        If a catch is below nothing.
    """
    read = sorted(require("catch", each, 0, 1e6, "mm or mL") for each in caught)
    least = int(value("tins_least"))
    if len(read) < least:
        raise NotEnoughDataError(
            "how evenly water falls",
            f"at least {least} tins in a grid (12 tell more)", f"{len(read)}",
        )  # fmt: skip
    mean = sum(read) / len(read)
    if mean == 0:
        raise NotEnoughDataError("how evenly water falls", "water in some tins", "none")
    lowest = read[: floor(len(read) / 4 + 0.5)]
    low = sum(lowest) / len(lowest)
    away = sum(abs(each - mean) for each in read)
    return Evenness(len(read), len(lowest), mean, low, low / mean, 1 - away / (len(read) * mean))


def rate_mm_h(depth_mm: float, minutes: float) -> float:
    """Give how fast water fell into tins, or sank into a ring, from its depth and time.

    Parameters
    ----------
    depth_mm : float
        Depth. [mm]
    minutes : float
        Time. [min]

    Returns
    -------
    float
        The rate. [mm h⁻¹]
    """
    depth = require("depth", depth_mm, 0, 1000, "mm")
    return depth * 60 / require("minutes", minutes, 0.1, 10_000, "min")


def longest_run(falls_mm_h: float, sinks_mm_h: float) -> float | None:
    """Give how long to water in one go before it puddles or runs off.

    Parameters
    ----------
    falls_mm_h, sinks_mm_h : float
        How fast water falls, and sinks in where it sinks slowest. [mm h⁻¹]

    Returns
    -------
    float or None
        Minutes until what the surface holds is full; None where the ground keeps up. [min]
    """
    if falls_mm_h <= sinks_mm_h:
        return None
    return 60 * value("surface_holds_mm") / (falls_mm_h - sinks_mm_h)
