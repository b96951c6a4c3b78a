"""The days ahead for a plan: by the forecast as far as it goes, by past years after it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from swardbook.foundation.dates import say
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.handbook.parameters import value
from swardbook.planning.situation import Situation
from swardbook.weather.derive import derive
from swardbook.weather.series import DailyWeather, Values

YEARS_LEAST = 3
_PARTS = (0.1, 0.5, 0.9)


@dataclass(frozen=True, slots=True)
class DayAhead:
    """One day ahead.

    Parameters
    ----------
    day : date
        The day.
    is_forecast : bool
        Whether a forecast tells of it.
    air_low, air, air_high : float
        Mean air temperature, and the range of its mean over such a spell from year to year; one
        figure where it is forecast. [°C]
    et0_low, et0, et0_high : float
        Reference evapotranspiration, and the range of single days. [mm d⁻¹]
    rain_mm : float
        Rain that is forecast; 0 without a forecast, as if it stayed dry. [mm]
    """

    day: date
    is_forecast: bool
    air_low: float
    air: float
    air_high: float
    et0_low: float
    et0: float
    et0_high: float
    rain_mm: float


@dataclass(frozen=True, slots=True)
class DaysAhead:
    """The days after today.

    Parameters
    ----------
    days : tuple of DayAhead
        From tomorrow on.
    forecast_to : date or None
        The last day that a forecast tells of; None without one.
    source : str
        What the days rest on, in words.
    """

    days: tuple[DayAhead, ...]
    forecast_to: date | None
    source: str


def days_ahead(sit: Situation, number: int, forecast: DailyWeather | None = None) -> DaysAhead:
    """Look at the days ahead of a zone.

    Parameters
    ----------
    sit : Situation
        The zone on its day.
    number : int
        How many days after today.
    forecast : DailyWeather or None
        Days from tomorrow on, as far as they are forecast.

    Raises
    ------
    NotEnoughDataError
        If there is no weather up to today.
    """
    told = [] if forecast is None else _forecast_days(sit, forecast)[:number]
    air, et0, usual = _usual(sit, number)
    days = told + [
        DayAhead(sit.today + timedelta(days=n), False, *air, *et0, 0.0)
        for n in range(len(told) + 1, number + 1)
    ]
    until = told[-1].day if told else None
    if until is None:
        return DaysAhead(tuple(days), None, usual)
    source = f"the forecast to {say(until)}"
    return DaysAhead(
        tuple(days), until, source if len(told) == number else f"{source}, then {usual}"
    )


def _forecast_days(sit: Situation, forecast: DailyWeather) -> list[DayAhead]:
    if not len(forecast) or forecast.first != sit.today + timedelta(days=1):
        return []
    derived = derive(forecast, sit.site.latitude, sit.site.elevation_m)
    rows = zip(forecast.tmean, derived.et0, forecast.rain, strict=True)
    return [
        DayAhead(
            sit.today + timedelta(days=n), True, *(3 * (float(air),)), *(3 * (float(et0),)),
            float(rain),
        )
        for n, (air, et0, rain) in enumerate(rows, 1)
    ]  # fmt: skip


def _usual(sit: Situation, ahead: int) -> (
    tuple[tuple[float, float, float], tuple[float, float, float], str]
):  # fmt: skip
    """Give air [°C] and ET0 [mm d⁻¹] of such days, low, middle and high, and what they rest on."""
    if sit.weather is None or not sit.lately.et0:
        raise NotEnoughDataError("how much water is wanted", "daily weather up to today", "none")
    weather = sit.weather
    derived = derive(weather, sit.site.latitude, sit.site.elevation_m)
    of_year = (weather.days - weather.days.astype("datetime64[Y]")).astype(np.int64)
    middle = (sit.today + timedelta(days=ahead // 2)).timetuple().tm_yday - 1
    apart = np.abs(of_year - middle)
    near = np.minimum(apart, 366 - apart) <= value("water_usual_days") + ahead / 2
    past = near & (weather.days < np.datetime64(sit.today - timedelta(days=60)))
    years = len(np.unique(weather.days[past].astype("datetime64[Y]")))
    if years >= YEARS_LEAST:
        told = f"the same days of {years} past years"
        of = weather.days[past].astype("datetime64[Y]")
        means = np.array([weather.tmean[past][of == year].mean() for year in np.unique(of)])
        return _parts(means), _parts(derived.et0[past]), told
    week = sorted(sit.lately.et0)
    air = sorted(float(each) for each in weather.tmean[-len(week) :])
    return _ends(air), _ends(week), "the last week, as past years are wanting"


def _parts(series: Values) -> tuple[float, float, float]:
    low, half, high = (float(each) for each in np.quantile(series, _PARTS))
    return low, half, high


def _ends(week: list[float]) -> tuple[float, float, float]:
    return week[0], sum(week) / len(week), week[-1]
