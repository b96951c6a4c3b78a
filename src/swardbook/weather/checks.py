"""Checks of daily weather; each returns findings, none writes to a log."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date

import numpy as np
from numpy.typing import NDArray

from swardbook.foundation.dates import is_southern, season_day
from swardbook.foundation.quantities import celsius_from_fahrenheit
from swardbook.handbook.parameters import value
from swardbook.weather.readings import Finding, Readings, runs
from swardbook.weather.series import DailyWeather, Flag, Values
from swardbook.weather.sun import day_of_year, extraterrestrial_radiation

SEASONS = ("winter", "spring", "summer", "autumn")
_MAY_TO_SEPTEMBER, _NOVEMBER_TO_MARCH = (121, 273), (305, 90)
_FILLED = int(Flag.FILLED_TEMPERATURE | Flag.FROM_OTHER_YEARS | Flag.FROM_DAYS_AROUND)


def set_aside_impossible(readings: Readings) -> tuple[Readings, tuple[Finding, ...]]:
    """Make values that cannot be weather missing, and swap a minimum above its maximum.

    Parameters
    ----------
    readings : Readings
        Weather as read.

    Returns
    -------
    tuple of Readings and tuple of Finding
        The rest, and what was done to which day.
    """
    findings: list[Finding] = []
    kept = {}
    low, high = value("weather.impossible_below"), value("weather.impossible_above")
    limits = {
        "tmin": (low, high, "minimum", "°C"),
        "tmax": (low, high, "maximum", "°C"),
        "rain": (0.0, value("weather.impossible_rain"), "rain", "mm"),
        "radiation": (0.0, value("weather.questioned_radiation"), "radiation", "MJ/m²"),
        "humidity": (1.0, value("weather.impossible_humidity"), "humidity", "%"),
        "wind": (0.0, value("weather.impossible_wind"), "wind", "m/s"),
    }
    for name, (least, most, words, unit) in limits.items():
        series = getattr(readings, name)
        if series is None:
            continue
        off = (series < least) | (series > most)
        kept[name] = np.where(off, np.nan, series)
        findings.extend(
            Finding(
                f"{words} {series[place]:g} {unit}",
                f"That cannot be weather; kept as missing. {_slip(series[place], name)}",
                day=readings.day(place),
                line=readings.line(place),
            )
            for place in np.flatnonzero(off).tolist()
        )
    left, swapped = _swap_extremes(replace(readings, **kept))
    return left, (*findings, *swapped)


def check_weather(weather: DailyWeather, latitude: float | None = None) -> tuple[Finding, ...]:
    """Question what is possible but unlikely.

    Parameters
    ----------
    weather : DailyWeather
        The weather, gaps filled.
    latitude : float, optional
        Latitude, south negative; with it season and radiation are checked too. [°]

    Returns
    -------
    tuple of Finding
        In order of days; whole-file findings first.
    """
    if len(weather) == 0:
        return ()
    whole = [
        *_whole_file(weather),
        *(_by_latitude(weather, latitude) if latitude is not None else ()),
    ]
    single = [*_extremes(weather), *_heavy_rain(weather), *_steps(weather), *_alike(weather)]
    return (*whole, *sorted(single, key=lambda finding: finding.day or date.min))


def flag_odd(weather: DailyWeather, findings: tuple[Finding, ...]) -> DailyWeather:
    """Mark the days that findings are about."""
    flags = weather.flags.copy()
    for finding in findings:
        if finding.day is not None and finding.flag:
            first = max(weather.index(finding.day), 0)
            end = max(weather.index(finding.last or finding.day) + 1, 0)
            flags[first:end] |= int(finding.flag)
    return replace(weather, flags=flags)


def looks_like_fahrenheit(tmax: Values) -> bool:
    """Tell whether maxima taken for °C are more likely °F, by their median."""
    known = tmax[~np.isnan(tmax)]
    limit = value("weather.questioned_median_maximum")
    return len(known) > 0 and float(np.median(known)) > limit


def question_soil_reading(celsius: float, day: date, latitude: float) -> Finding | None:
    """Question a soil temperature that does not belong to the season.

    Parameters
    ----------
    celsius : float
        Soil temperature as typed. [°C]
    day : date
        The day it was read.
    latitude : float
        Latitude, south negative. [°]

    Returns
    -------
    Finding or None
        The question, with what the number would be if it were °F.
    """
    first, last = value("weather.warm_half_from"), value("weather.warm_half_to")
    half = "warm" if first <= season_day(day, latitude) <= last else "cool"
    limits = {
        "warm": "weather.questioned_soil_warm_half",
        "cool": "weather.questioned_soil_cool_half",
    }
    if celsius <= value(limits[half]):
        return None
    would_be = celsius_from_fahrenheit(celsius)
    told = f"{celsius:g} °F is {would_be:.1f} °C; {celsius:g} °C is summer sand. Which?"
    return Finding(
        f"soil at {celsius:g} °C in the {half} half of the year",
        told.replace("-", "−"),
        day=day,
        flag=Flag.ODD,
    )


def question_season(season: str, month: int, latitude: float) -> Finding | None:
    """Question a season named for a month of the other hemisphere.

    Parameters
    ----------
    season : str
        ``winter``, ``spring``, ``summer`` or ``autumn``.
    month : int
        Month, 1 to 12, it was used for.
    latitude : float
        Latitude, south negative. [°]

    Returns
    -------
    Finding or None
        The question; none where the word fits.
    """
    here = SEASONS[(month % 12 // 3 + (2 if is_southern(latitude) else 0)) % 4]
    if season.casefold() == here:
        return None
    name = f"{date(2000, month, 1):%B}"
    return Finding(f"{season} for {name}", f"At your place {name} is {here}. Use {here}?")


def _slip(read: float, name: str) -> str:
    if read in {-99, -99.9, -999, -999.9, -9999}:
        return "Such a number usually stands for a missing value."
    if name in {"tmin", "tmax"} and read > 0:
        return f"In °F it would be {celsius_from_fahrenheit(read):.1f} °C."
    if name == "radiation":
        return "Is it in W/m²? Say so in the heading, such as radiation_w."
    return "A slipped sign or point?"


def _swap_extremes(readings: Readings) -> tuple[Readings, list[Finding]]:
    off = readings.tmin > readings.tmax
    findings = [
        Finding(
            f"minimum {readings.tmin[n]:g} above maximum {readings.tmax[n]:g} °C",
            "The two were swapped: columns mixed up, or a reading booked to the wrong day?",
            day=readings.day(n),
            line=readings.line(n),
            flag=Flag.SWAPPED,
        )
        for n in np.flatnonzero(off).tolist()
    ]
    swapped = replace(
        readings,
        tmin=np.where(off, readings.tmax, readings.tmin),
        tmax=np.where(off, readings.tmin, readings.tmax),
        flags=readings.flags | np.where(off, int(Flag.SWAPPED), 0),
    )
    return swapped, findings


def _odd(weather: DailyWeather, place: int, read: str, likely: str, end: int = 0) -> Finding:
    days = weather.days.astype(object)
    return Finding(read, likely, days[place], days[end - 1] if end else None, flag=Flag.ODD)


def _whole_file(weather: DailyWeather) -> Iterator[Finding]:
    if looks_like_fahrenheit(weather.tmax):
        middle = float(np.nanmedian(weather.tmax))
        yield Finding(
            f"half of the maxima are above {middle:.0f} °C",
            f"Is the series in °F? Then that is {celsius_from_fahrenheit(middle):.0f} °C.",
        )
    whole_years = len(weather) / 365.25
    yearly = float(weather.rain.sum()) / whole_years
    if whole_years > 0.5 and yearly < value("weather.questioned_dry_year"):
        inches = f"A desert, or inches? In inches it would be {yearly * 25.4:.0f} mm."
        none = "Was it measured? 0 stands for none, an empty cell for not measured."
        yield Finding(f"rain of {yearly:.0f} mm a year", inches if yearly > 0 else none)


def _by_latitude(weather: DailyWeather, latitude: float) -> Iterator[Finding]:
    day = day_of_year(weather.days)
    summer = (day >= _MAY_TO_SEPTEMBER[0]) & (day <= _MAY_TO_SEPTEMBER[1])
    winter = (day <= _NOVEMBER_TO_MARCH[1]) | (day >= _NOVEMBER_TO_MARCH[0])
    enough = min(summer.sum(), winter.sum()) > value("weather.season_days_least")
    if enough and abs(latitude) > value("weather.season_latitude_least"):
        warmer = float(weather.tmean[summer].mean() - weather.tmean[winter].mean())
        if warmer * (1 if latitude > 0 else -1) < -value("weather.season_difference_least"):
            warm, cold = ("May to September", "November to March")[:: 1 if warmer > 0 else -1]
            yield Finding(
                f"warm from {warm} and cold from {cold}, at latitude {latitude:g}°",
                "Is the sign of the latitude right? South is negative.",
            )
    if weather.radiation is not None:
        above = weather.radiation > extraterrestrial_radiation(day, latitude)
        for place in np.flatnonzero(above).tolist():
            yield _odd(
                weather, place, f"radiation {weather.radiation[place]:g} MJ/m²",
                "More than reaches the top of the air there that day. Another unit or place?",
            )  # fmt: skip


def _extremes(weather: DailyWeather) -> Iterator[Finding]:
    low, high = value("weather.questioned_below"), value("weather.questioned_above")
    for place in np.flatnonzero(weather.tmin < low).tolist():
        yield _odd(
            weather, place, f"minimum {weather.tmin[place]:g} °C", "A slipped sign or point?"
        )
    for place in np.flatnonzero(weather.tmax > high).tolist():
        read = float(weather.tmax[place])
        would_be = celsius_from_fahrenheit(read)
        yield _odd(
            weather, place, f"maximum {read:g} °C",
            f"Record heat, or °F? {read:g} °F is {would_be:.1f} °C.",
        )  # fmt: skip


def _heavy_rain(weather: DailyWeather) -> Iterator[Finding]:
    for place in np.flatnonzero(weather.rain > value("weather.questioned_rain")).tolist():
        read = float(weather.rain[place])
        yield _odd(
            weather, place, f"rain {read:g} mm", f"A record-breaking day, or {read / 10:.1f}?"
        )


def _steps(weather: DailyWeather) -> Iterator[Finding]:
    mean = weather.tmean
    step = np.diff(mean)
    for place in np.flatnonzero(np.abs(step) > value("weather.questioned_step")).tolist():
        if not weather.flags[place + 1] & _FILLED:
            yield _odd(
                weather, place + 1,
                f"mean {mean[place + 1]:.1f} °C after {mean[place]:.1f} °C the day before",
                "A front, or a slip in one of the two days?",
            )  # fmt: skip


def _alike(weather: DailyWeather) -> Iterator[Finding]:
    least = int(value("weather.questioned_run"))
    measured = (weather.flags & _FILLED) == 0
    same_air = (np.diff(weather.tmin) == 0) & (np.diff(weather.tmax) == 0)
    same_rain = (np.diff(weather.rain) == 0) & (weather.rain[1:] > 0)
    for same, words in ((same_air & measured[1:], "the same minimum and maximum"),
                        (same_rain, "the same rain")):  # fmt: skip
        for first, end in _long_runs(same, least):
            yield _odd(
                weather, first, f"{words} on {end - first} days in a row",
                "A stuck instrument, or a cell copied down?", end,
            )  # fmt: skip


def _long_runs(same: NDArray[np.bool_], least: int) -> list[tuple[int, int]]:
    return [(first, end + 1) for first, end in runs(same) if end - first + 1 >= least]
