"""Warmth and rain up to today, from daily extremes alone; missing days are said, not filled."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from swardbook.planning.situation import Situation
from swardbook.weather.series import DailyWeather, Values
from swardbook.weather.thermal import GrowingWeeks, growing_weeks


@dataclass(frozen=True, slots=True)
class Warmth:
    """Warmth added up over days, and how many of them had no weather.

    Parameters
    ----------
    degree_days : float
        Sum of mean air temperature above the base. [°C d]
    days : int
        Days asked for.
    missing : int
        Days among them without weather.
    """

    degree_days: float
    days: int
    missing: int


def air_today(sit: Situation) -> tuple[float, float] | None:
    """Give today's minimum and maximum air temperature [°C], if the book has them."""
    seen = _tail(sit, 1)
    return None if seen is None else (float(seen.tmin[-1]), float(seen.tmax[-1]))


def mean_air(sit: Situation, days: float) -> float | None:
    """Mean air temperature of the last days up to today.

    Returns
    -------
    float or None
        The mean; None where any of the days is missing. [°C]
    """
    seen = _tail(sit, days)
    return None if seen is None else float(seen.tmean.mean())


def rain(sit: Situation, days: float) -> float | None:
    """Rain of the last days up to today.

    Returns
    -------
    float or None
        The sum; None where any of the days is missing. [mm]
    """
    seen = _tail(sit, days)
    return None if seen is None else float(seen.rain.sum())


def rain_since(sit: Situation, day: date) -> float | None:
    """Rain after a day up to today.

    Returns
    -------
    float or None
        The sum; None where weather is missing. [mm]
    """
    return 0.0 if day >= sit.today else rain(sit, sit.age(day))


def warmth_since(sit: Situation, day: date, base: float = 0.0) -> Warmth:
    """Add up mean air above a base for the days after `day` up to today.

    Parameters
    ----------
    sit : Situation
        The zone on its day.
    day : date
        The last day that does not count.
    base : float
        Base temperature. [°C]
    """
    days = max(sit.age(day), 0)
    if sit.weather is None or days == 0:
        return Warmth(0.0, days, days)
    seen = sit.weather.between(day + timedelta(days=1), sit.today)
    total = float(np.maximum(seen.tmean - base, 0.0).sum())
    return Warmth(total, days, days - len(seen))


def growing_weeks_since(sit: Situation, day: date) -> GrowingWeeks:
    """Count growing weeks after a day up to today; weeks without all their weather are told.

    Parameters
    ----------
    sit : Situation
        The zone on its day.
    day : date
        The day that weeks are counted from, such as that of a sowing.
    """
    days = np.full(max(sit.age(day), 0), np.nan)
    if sit.weather is not None and len(days):
        seen = sit.weather.between(day + timedelta(days=1), sit.today)
        if len(seen):
            start = (seen.first - day).days - 1
            days[start : start + len(seen)] = seen.tmean
    return growing_weeks(days)


def dry_days(sit: Situation, wet_from: float = 1.0) -> int:
    """Count the days in a row up to today with less rain than `wet_from` [mm]."""
    if sit.weather is None or sit.weather.last != sit.today:
        return 0
    wet = np.flatnonzero(sit.weather.rain >= wet_from)
    return len(sit.weather) if not len(wet) else len(sit.weather) - 1 - int(wet[-1])


def means_by_day(weather: DailyWeather, days: int) -> Values:
    """Running mean of air temperature over the days up to each day [°C]; short at the start."""
    total = np.concatenate(([0.0], np.cumsum(weather.tmean)))
    ends = np.arange(1, len(weather) + 1)
    starts = np.maximum(ends - days, 0)
    means: Values = (total[ends] - total[starts]) / (ends - starts)
    return means


def _tail(sit: Situation, days: float) -> DailyWeather | None:
    whole = int(days)
    if sit.weather is None or sit.weather.last != sit.today or len(sit.weather) < whole:
        return None
    return sit.weather.between(sit.today - timedelta(days=whole - 1), sit.today)
