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
    rounded_down, exact_quarter : float
        Lowest quarter over mean by the two other customs: a quarter of the tins rounded down, and
        with a part of the next tin; as `share` where the tins are a multiple of four. [-]
    """

    tins: int
    lowest: int
    mean: float
    lowest_mean: float
    share: float
    christiansen: float
    rounded_down: float
    exact_quarter: float

    @property
    def is_whole(self) -> bool:
        """Whether a quarter of the tins is a whole number, so that every custom says the same."""
        return self.tins % 4 == 0


def evenness(caught: Sequence[float]) -> Evenness:
    """Tell how evenly water falls from what tins set out in a grid caught.

    Parameters
    ----------
    caught : sequence of float
        What each tin caught, all in one unit. [mm or mL]

    Returns
    -------
    Evenness
        Mean, lowest quarter and the two usual figures; the other customs beside them.

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
    whole, part = divmod(len(read), 4)
    fewest = sum(read[:whole])
    exact = (fewest + part / 4 * read[whole]) / (len(read) / 4)
    return Evenness(
        len(read), len(lowest), mean, low, low / mean, 1 - away / (len(read) * mean),
        fewest / whole / mean, exact / mean,
    )  # fmt: skip


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


def scheduling_multiplier(lowest_quarter: float) -> float:
    """Give how much longer to water than an even sprinkler would: ``1 / (0.4 + 0.6 DU)``.

    The Irrigation Association's multiplier; to divide by the evenness outright over-waters most of
    the lawn for the sake of its driest corner.

    Parameters
    ----------
    lowest_quarter : float
        Evenness: mean of the lowest quarter of the tins over the mean. [-]

    Returns
    -------
    float
        1 to 2.5. [-]
    """
    return 1 / (0.4 + 0.6 * require("evenness", lowest_quarter, 0, 1, "-"))


@dataclass(frozen=True, slots=True)
class Run:
    """How long to run a sprinkler for a depth.

    Parameters
    ----------
    plain_min : float
        By the mean of the tins. [min]
    run_min : float
        With the allowance for unevenness. [min]
    multiplier : float
        That allowance. [-]
    turns : int or None
        In how many turns; None where nobody measured how fast water sinks in.
    turn_min : float or None
        Minutes of one turn. [min]
    soak_min : float or None
        Minutes between turns until what lies on the surface has sunk in. [min]
    """

    plain_min: float
    run_min: float
    multiplier: float
    turns: int | None
    turn_min: float | None
    soak_min: float | None


def run_for(
    depth_mm: float, falls_mm_h: float, lowest_quarter: float | None, sinks_mm_h: float | None
) -> Run:
    """Work out the run for a depth, in turns that the ground can take.

    Parameters
    ----------
    depth_mm : float
        Depth wanted. [mm]
    falls_mm_h : float
        How fast water falls, mean of the tins. [mm h⁻¹]
    lowest_quarter : float or None
        Evenness; None makes no allowance. [-]
    sinks_mm_h : float or None
        How fast it sinks in where it sinks slowest; None where nobody measured. [mm h⁻¹]
    """
    depth = require("depth", depth_mm, 0, 200, "mm")
    plain = depth * 60 / require("rate of fall", falls_mm_h, 0.1, 500, "mm/h")
    more = 1.0 if lowest_quarter is None else scheduling_multiplier(lowest_quarter)
    run = plain * more
    if sinks_mm_h is None:
        return Run(plain, run, more, None, None, None)
    longest = longest_run(falls_mm_h, require("infiltration", sinks_mm_h, 0.01, 1e4, "mm/h"))
    turns = 1 if longest is None else max(int(-(-run // longest)), 1)
    soak = None if turns == 1 else 60 * value("surface_holds_mm") / sinks_mm_h
    return Run(plain, run, more, turns, run / turns, soak)
