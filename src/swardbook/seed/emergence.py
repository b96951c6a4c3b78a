"""Warmth and germination: thermal time of seed in soil."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import fsum

from swardbook.foundation.errors import NotEnoughDataError
from swardbook.foundation.quantities import require
from swardbook.handbook.species import Species


def days_to_half(species: Species, soil_c: float) -> float | None:
    """Work out the days until half the seed has germinated, in constant warmth and moist.

    A laboratory figure: in the field it takes two to three times the warmth.

    Parameters
    ----------
    species : Species
        What is sown.
    soil_c : float
        Temperature. [°C]

    Returns
    -------
    float or None
        Days; None at or below the base temperature. [d]

    Raises
    ------
    NotEnoughDataError
        If no thermal time was published for the species.
    """
    if species.base_c is None or species.half_germination_cd is None:
        raise NotEnoughDataError(
            f"days to half germination of {species.key}", "a published thermal time", "none read"
        )
    warmth = require("soil temperature", soil_c, -20, 40, "°C") - species.base_c.value
    return species.half_germination_cd.value / warmth if warmth > 0 else None


def first_day_at(soil_c: Sequence[float], wanted_c: float) -> float | None:
    """Find when soil first reaches a temperature, between days if need be.

    Parameters
    ----------
    soil_c : sequence of float
        Soil temperature at the start of each day, from sowing. [°C]
    wanted_c : float
        Temperature. [°C]

    Returns
    -------
    float or None
        Days from the first value; None if it is never reached. [d]
    """
    if soil_c and soil_c[0] >= wanted_c:
        return 0.0
    for day, (before, after) in enumerate(pairwise(soil_c)):
        if before < wanted_c <= after:
            return day + (wanted_c - before) / (after - before)
    return None


def warmth_until(soil_c: Sequence[float], days: float, base_c: float = 0.0) -> float:
    """Add up the thermal time from sowing until some days later.

    Parameters
    ----------
    soil_c : sequence of float
        Soil temperature at the start of each day, straight lines between. [°C]
    days : float
        Until when. [d]
    base_c : float
        Base temperature. [°C]

    Returns
    -------
    float
        Thermal time. [°C d]

    Raises
    ------
    OutOfRangeError
        If the record is shorter than that.
    """
    require("days", days, 0, max(0, len(soil_c) - 1), "d", "The record ends there.")
    whole = int(days)
    warmth = [max(0.0, each - base_c) for each in soil_c]
    total = fsum((a + b) / 2 for a, b in pairwise(warmth[: whole + 1]))
    part = days - whole
    if part > 0:
        end = warmth[whole] + part * (warmth[whole + 1] - warmth[whole])
        total += part * (warmth[whole] + end) / 2
    return total
