"""What reaches a square metre on one day: the weather, and what a person does."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from swardbook.model.numbers import Numbers

Single = NDArray[np.float32]


class Drivers(NamedTuple):
    """The weather and the season of one day; as arrays, one value a day."""

    tmean: Numbers
    """Air temperature, mean of the day's extremes. [°C]"""
    rain: Numbers
    """Precipitation. [mm d⁻¹]"""
    et0: Numbers
    """Reference evapotranspiration. [mm d⁻¹]"""
    light: Numbers
    """Global radiation, measured or from the temperature range. [MJ m⁻² d⁻¹]"""
    season_day: Numbers
    """Day of the year as the north numbers it. [d]"""
    readiness: Numbers
    """Seasonal readiness of seed: 1 in early November, 0 at midsummer. [-]"""
    autumn: Numbers
    """Season of the autumn flush of heads: 1 at its middle. [-]"""
    winter: Numbers
    """1 from October to March, in the north's count. [-]"""


class Operations(NamedTuple):
    """What is done on one day, per square metre of the zone; as arrays, one value a day."""

    cut: Numbers
    """1 if the zone is cut, else 0. [-]"""
    cut_height: Numbers
    """Height of cut. [mm]"""
    boxed: Numbers
    """Share of the clippings boxed. [-]"""
    verticut_tips: Numbers
    """Verticut passes with the tips above the soil. [-]"""
    verticut_blade: Numbers
    """Verticut passes 1 to 2 mm below the height of cut. [-]"""
    verticut_soil: Numbers
    """Verticut passes that touch the soil. [-]"""
    scarify: Numbers
    """Scarifying passes. [-]"""
    tine: Numbers
    """Hollow tinings. [-]"""
    brush: Numbers
    """Brushings or rakings that lift heads. [-]"""
    collected: Numbers
    """Share of what lies loose that is raked or boxed off. [-]"""
    strip: Numbers
    """Share of the zone stripped of turf. [-]"""
    pull_hours: Numbers
    """Work given to pulling and digging; it stops when the zone is done. [h m⁻²]"""
    refill: Numbers
    """Share of the open gap refilled with clean soil and the same lot. [-]"""
    sow_method: Numbers
    """0 seedbed, 1 slit, 2 broadcast on scarified ground, 3 broadcast on a sward. [-]"""
    sow_a: Numbers
    """Viable seed sown of the first component. [m⁻²]"""
    sow_b: Numbers
    """Viable seed sown of the second. [m⁻²]"""
    sow_c: Numbers
    """Viable seed sown of the third. [m⁻²]"""
    sow_d: Numbers
    """Viable seed sown of the fourth. [m⁻²]"""
    feed: Numbers
    """Nitrogen fed. [g m⁻²]"""
    water: Numbers
    """Water given. [mm]"""
    hours: Numbers
    """Other work. [h m⁻²]"""
    money: Numbers
    """Cost, in the currency of the site. [m⁻²]"""


def by_days(series: Drivers | Operations) -> Single:
    """Lay each course out as the kernel reads it, one day after another.

    Parameters
    ----------
    series : Drivers or Operations
        One value a day in each field, or (courses, days).

    Returns
    -------
    array
        Every field of every day: (courses, days, fields). [units of the fields]
    """
    shape = np.atleast_2d(np.asarray(series[0])).shape
    laid = np.empty((*shape, len(series)), np.float32)
    for field, each in enumerate(series):
        laid[..., field] = each
    return laid
