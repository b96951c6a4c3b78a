"""Normals: what the months of a place are like over years."""

from __future__ import annotations

import calendar
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from swardbook.weather.readings import Readings


@dataclass(frozen=True, slots=True)
class YearMonth:
    """One month of one year; not a number where it is not known.

    Parameters
    ----------
    year, month : int
        Which.
    tmin, tmax : float
        Mean of the days' lowest and highest temperature. [°C]
    rain : float
        Sum. [mm]
    """

    year: int
    month: int
    tmin: float
    tmax: float
    rain: float


@dataclass(frozen=True, slots=True)
class Normal:
    """One month over years; None where no year tells.

    Parameters
    ----------
    month : int
        1 to 12.
    years : int
        Years that tell of temperature.
    tmin, tmax : float or None
        Mean over those years. [°C]
    rain_years : int
        Years that tell of rain.
    rain : float or None
        Mean over those years. [mm]
    """

    month: int
    years: int
    tmin: float | None
    tmax: float | None
    rain_years: int
    rain: float | None


def normals_of(months: Sequence[YearMonth]) -> tuple[Normal, ...]:
    """Take the mean of each month over the years.

    Parameters
    ----------
    months : sequence of YearMonth
        Months of years.

    Returns
    -------
    tuple of Normal
        January to December.
    """
    found = []
    for number in range(1, 13):
        here = [each for each in months if each.month == number]
        air = [each for each in here if math.isfinite(each.tmin) and math.isfinite(each.tmax)]
        wet = [each.rain for each in here if math.isfinite(each.rain)]
        found.append(
            Normal(
                number, len(air), _mean([each.tmin for each in air]),
                _mean([each.tmax for each in air]), len(wet), _mean(wet),
            )
        )  # fmt: skip
    return tuple(found)


def whole_months(readings: Readings) -> tuple[YearMonth, ...]:
    """Make months of days; what lacks a day is not told.

    Parameters
    ----------
    readings : Readings
        Day by day.
    """
    months = readings.days.astype("datetime64[M]")
    found = []
    for each in np.unique(months).tolist():
        at = months == np.datetime64(each, "M")
        days = calendar.monthrange(each.year, each.month)[1]
        if each.month == 2 and int(at.sum()) == 28:  # a typical year has no leap day
            days = 28
        is_whole = int(at.sum()) == days
        tmin, tmax, rain = (
            float(values[at].mean()) if is_whole else math.nan
            for values in (readings.tmin, readings.tmax, readings.rain)
        )
        found.append(YearMonth(each.year, each.month, tmin, tmax, rain * days))
    return tuple(found)


def _mean(values: Sequence[float]) -> float | None:
    return math.fsum(values) / len(values) if values else None
