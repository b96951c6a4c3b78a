"""The weather of a run, one value a day, and past years laid on the days ahead."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

import numpy as np

from swardbook.foundation.dates import is_southern, say
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.handbook.parameters import value
from swardbook.model.chance import Array
from swardbook.model.inputs import Drivers
from swardbook.weather.derive import derive
from swardbook.weather.series import DailyWeather
from swardbook.weather.stretches import missing_spells, say_spells

_YEAR = 365.25


def drivers_from(
    weather: DailyWeather, latitude: float, elevation_m: float, first: date, last: date
) -> Drivers:
    """Work out the drivers of a run from one place's weather.

    Parameters
    ----------
    weather : DailyWeather
        Weather without gaps that covers the days.
    latitude : float
        Latitude, south negative. [°]
    elevation_m : float
        Height above the sea. [m]
    first, last : date
        The days of the run, both included.

    Returns
    -------
    Drivers
        One value a day in each field.

    Raises
    ------
    NotEnoughDataError
        If the weather does not cover the days, or has gaps in them; says which are missing.
    """
    if not len(weather) or weather.first > first or weather.last < last:
        there = _there(weather, first, last)
        raise NotEnoughDataError("the model's weather", _span(first, last), there)
    if spells := missing_spells(weather.between(first, last)):
        there = f"missing are {say_spells(spells)}"
        raise NotEnoughDataError("the model's weather", _span(first, last), there)
    derived = derive(weather, latitude, elevation_m)
    part = slice(weather.index(first), weather.index(last) + 1)
    season = season_days(first, part.stop - part.start, latitude)
    return Drivers(
        tmean=weather.tmean[part],
        rain=np.asarray(weather.rain[part], dtype=np.float64),
        et0=derived.et0[part],
        light=derived.radiation[part],
        season_day=season,
        readiness=seasonal_readiness(season),
        autumn=autumn_season(season),
        winter=winter_season(season),
    )


def season_days(first: date, days: int, latitude: float) -> Array:
    """Day of the year, as the north numbers it, for each day of a run.

    Parameters
    ----------
    first : date
        First day.
    days : int
        How many.
    latitude : float
        Latitude; the south is moved by half a year. [°]

    Returns
    -------
    array
        1 to 366. [d]
    """
    calendar = np.datetime64(first, "D") + np.arange(days)
    if is_southern(latitude):
        calendar = calendar + np.timedelta64(182, "D")
    since = calendar - calendar.astype("datetime64[Y]").astype("datetime64[D]")
    return np.asarray(since.astype(np.float64) + 1)


def seasonal_readiness(season_day: Array) -> Array:
    """Seasonal readiness of seed: 1 in early November, 0 at midsummer, a half wave each way.

    The two halves of the year are not alike: it takes 138 days up and the rest of the year down.

    Returns
    -------
    array
        Readiness. [-]
    """
    best, least = value("model.zone.readiness_best_day"), value("model.zone.readiness_least_day")
    rising = best - least
    since = np.mod(season_day - least, _YEAR)
    up = 0.5 - 0.5 * np.cos(np.pi * since / rising)
    down = 0.5 + 0.5 * np.cos(np.pi * (since - rising) / (_YEAR - rising))
    return np.where(since <= rising, up, down)


def autumn_season(season_day: Array) -> Array:
    """Season of the autumn flush of heads: 1 at its middle [-]."""
    middle = value("model.zone.autumn_flush_day")
    width = value("model.zone.autumn_flush_width")
    return np.exp(-(((season_day - middle) / width) ** 2))


def winter_season(season_day: Array) -> Array:
    """Tell whether annual meadow-grass presses as in winter: 1 yes, 0 no [-]."""
    first, last = value("model.fixed.winter_from"), value("model.fixed.winter_to")
    return np.where((season_day >= first) | (season_day < last), 1.0, 0.0)


def stack_drivers(several: Sequence[Drivers]) -> Drivers:
    """Lay several runs' drivers on one another: arrays of (years, days).

    All must be of the same length; past years laid on the same days ahead are
    (see `swardbook.model.weather_ahead`).
    """
    return Drivers(*(np.stack(series) for series in zip(*several, strict=True)))


def _there(weather: DailyWeather, first: date, last: date) -> str:
    """Say what weather there is, and which of the wanted days are missing."""
    if not len(weather):
        return f"none; missing are {_span(first, last)}"
    day = timedelta(days=1)
    spans = [(first, min(last, weather.first - day)), (max(first, weather.last + day), last)]
    missing = " and ".join(_span(*span) for span in spans if span[0] <= span[1])
    return f"{_span(weather.first, weather.last)}; missing are {missing}"


def _span(first: date, last: date) -> str:
    return say(first) if first == last else f"{say(first)} to {say(last)}"
