"""How soon grass reaches a height, and warmth a sum, in the days ahead of a zone."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf

import numpy as np

from swardbook.handbook.parameters import value
from swardbook.model.processes import cover
from swardbook.planning.days_ahead import DayAhead
from swardbook.planning.leaf_growth import LeafGrowth

_LEAST_WARMTH = 0.05
"""Warmth of the last week below which its growth says nothing of warmer days [-]."""


def days_to_height(
    due_mm: float, height_mm: float, growth: LeafGrowth, rate: float, air: Sequence[float]
) -> float:
    """Give the days until grass stands at a height.

    Water, nitrogen and light are held as they were in the last week; warmth is that of each day.

    Parameters
    ----------
    due_mm, height_mm : float
        The height waited for, and the height today. [mm]
    growth : LeafGrowth
        Growth of the last week.
    rate : float
        Its rate, or an end of the range of it. [mm d⁻¹]
    air : sequence of float
        Mean air temperature of the days ahead, from tomorrow on. [°C]

    Returns
    -------
    float
        Days, 0 if it is due, without end if it is not reached in these days. [d]
    """
    left = due_mm - height_mm
    if left <= 0:
        return 0.0
    full = rate / growth.warmth if growth.warmth >= _LEAST_WARMTH else _full_rate(growth, rate)
    warmth = cover.temperature_response(
        np.asarray(air, dtype=np.float64), np.float64(value("model.zone.growth_base")),
        np.float64(value("model.zone.growth_full")),
    )  # fmt: skip
    return _reached(left, [full * float(each) for each in warmth])


def days_to_warmth(left: float, days: Sequence[DayAhead]) -> float:
    """Give the days until so much warmth has come.

    Parameters
    ----------
    left : float
        Warmth still wanted above 0 °C. [°C d]
    days : sequence of DayAhead
        The days ahead, from tomorrow on.

    Returns
    -------
    float
        Days, without end if it does not come in these days. [d]
    """
    return 0.0 if left <= 0 else _reached(left, [max(each.air, 0.0) for each in days])


def _full_rate(growth: LeafGrowth, rate: float) -> float:
    """Growth of a warm day where the last week was too cold to tell it by [mm d⁻¹]."""
    share = rate / growth.rate if growth.rate > 0 else 1.0
    held = growth.water * growth.nitrogen * growth.light * growth.measured.ratio
    return value("model.zone.height_growth") * held * share


def _reached(left: float, daily: Sequence[float]) -> float:
    for n, each in enumerate(daily):
        if each >= left:
            return n + left / each
        left -= each
    return inf
