"""A year's nitrogen month by month: by growth potential, and weighted for spring."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from swardbook.foundation.errors import NotEnoughDataError
from swardbook.foundation.quantities import require
from swardbook.handbook.parameters import value
from swardbook.weather.thermal import growth_potential

MONTHS = 12
DORMANT = (11, 12, 1, 2)
"""Season months without feed: late autumn and winter."""


def split_by_growth(mean_air: Sequence[float], year_g_m2: float) -> tuple[float, ...]:
    """Share a year's nitrogen out by growth potential of each month's mean air temperature.

    Warmth alone puts the most in July and under-feeds a British spring: it is shown beside another
    split and beside measured growth, never alone.

    Parameters
    ----------
    mean_air : sequence of float
        Mean air temperature of each month. [°C]
    year_g_m2 : float
        Nitrogen of the year. [g m⁻²]

    Returns
    -------
    tuple of float
        Nitrogen of each month; they add up to the year. [g m⁻²]

    Raises
    ------
    NotEnoughDataError
        If no month is warm enough for growth.
    """
    year = require("nitrogen of the year", year_g_m2, 0, 60, "g/m2")
    grows = growth_potential(np.asarray(mean_air, dtype=np.float64))
    total = float(grows.sum())
    if total <= 0:
        raise NotEnoughDataError("a split by growth", "a month in which grass grows", "none")
    return tuple(float(year * each / total) for each in grows)


def bottom_up(mean_air: Sequence[float], month_most_g_m2: float) -> float:
    """Give the nitrogen of a year from what a month of full growth takes.

    Parameters
    ----------
    mean_air : sequence of float
        Mean air temperature of each month. [°C]
    month_most_g_m2 : float
        Nitrogen that a month of the best growth takes. [g m⁻²]

    Returns
    -------
    float
        Nitrogen of the year. [g m⁻²]
    """
    most = require("nitrogen of a month", month_most_g_m2, 0, 10, "g/m2")
    return float(most * growth_potential(np.asarray(mean_air, dtype=np.float64)).sum())


def split_for_spring(season_months: Sequence[int], year_g_m2: float) -> tuple[float, ...]:
    """Share a year's nitrogen out with most of it in spring, little in autumn, none in winter.

    What the autumn's limit holds back goes to the other months.

    Parameters
    ----------
    season_months : sequence of int
        The months as the north numbers them: 6 is the month of midsummer.
    year_g_m2 : float
        Nitrogen of the year. [g m⁻²]

    Returns
    -------
    tuple of float
        Nitrogen of each month. [g m⁻²]
    """
    year = require("nitrogen of the year", year_g_m2, 0, 60, "g/m2")
    shares = [0.0 if n in DORMANT else value(f"feed_spring_share_{n}") for n in season_months]
    whole = sum(shares)
    if whole == 0:
        return tuple(0.0 for _ in shares)
    wanted = [year * share / whole for share in shares]
    held = [min(each, _limit(n)) for n, each in zip(season_months, wanted, strict=True)]
    free = sum(
        each for n, each in zip(season_months, held, strict=True) if _limit(n) == float("inf")
    )
    left_over = year - sum(held)
    if free == 0:
        return tuple(held)
    return tuple(
        each * (1 + left_over / free) if _limit(n) == float("inf") else each
        for n, each in zip(season_months, held, strict=True)
    )


def _limit(season_month: int) -> float:
    """Most nitrogen of a month: low in autumn [g m⁻²]."""
    autumn = int(value("feed_month_autumn_from"))
    return value("feed_low_nitrogen") if autumn <= season_month < DORMANT[0] else float("inf")
