"""Weather ahead: whole years of the site's own past, laid one after the other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from datetime import date, timedelta
from typing import Any

import numpy as np
from numpy.typing import NDArray

from swardbook.foundation.errors import NotEnoughDataError
from swardbook.model.chance import Chance
from swardbook.weather.series import DailyWeather
from swardbook.weather.stretches import missing_days, missing_spells, say_spells


@dataclass(frozen=True, slots=True)
class WeatherAhead:
    """Several courses the weather may take after today.

    Parameters
    ----------
    courses : tuple of DailyWeather
        Each from tomorrow to the last day; dated ahead.
    past_years : tuple of int
        The years they are made of, by the year in which each begins.
    """

    courses: tuple[DailyWeather, ...]
    past_years: tuple[int, ...]


def weather_ahead(
    weather: DailyWeather, today: date, last: date, number: int, chance: Chance
) -> WeatherAhead:
    """Lay past years of a site after today; nothing after today is read.

    A course is made of years that each begin on tomorrow's day of the calendar. Every past year
    comes first in a course about as often as any other.

    Parameters
    ----------
    weather : DailyWeather
        The site's weather; days after `today` are left out, and years with a missing day.
    today, last : date
        The last known day, and the last day wanted.
    number : int
        How many courses.
    chance : Chance
        Where the order of the years comes from.

    Raises
    ------
    NotEnoughDataError
        If there is no whole past year.
    """
    known = weather.until(today)
    start = today + timedelta(days=1)
    years = _whole_years(known, start, today)
    if not years:
        raise NotEnoughDataError(
            "the weather ahead",
            "at least one whole year of weather before today",
            _said_days(known),
        )
    days = np.arange(np.datetime64(start, "D"), np.datetime64(last, "D") + 1)
    spans = -(-len(days) // 366) + 1
    orders = [_shuffled(years, chance, span) for span in range(spans)]
    courses = tuple(
        _course(known, days, start, [order[course % len(years)] for order in orders])
        for course in range(number)
    )
    return WeatherAhead(courses, tuple(years))


def laid_over(ahead: WeatherAhead, told: Sequence[DailyWeather]) -> WeatherAhead:
    """Lay what is told of the days after today over the first days of the courses.

    Parameters
    ----------
    ahead : WeatherAhead
        Courses made of past years.
    told : sequence of DailyWeather
        The forecast, or its courses: each of them comes about as often as any other; days from
        tomorrow on. Without any, nothing changes.
    """
    if not told:
        return ahead
    laid = (_laid_over(course, told[n % len(told)]) for n, course in enumerate(ahead.courses))
    return replace(ahead, courses=tuple(laid))


def _laid_over(course: DailyWeather, forecast: DailyWeather) -> DailyWeather:
    last = min(forecast.last, course.last)
    if last < course.first or forecast.first > course.first:
        return course
    part = forecast.between(course.first, last)
    changed: dict[str, Any] = {}
    for entry in fields(course):
        series = getattr(course, entry.name)
        if entry.name in {"tmin", "tmax", "rain"}:
            series = series.copy()
            series[: len(part)] = getattr(part, entry.name)
        changed[entry.name] = series
    return replace(course, **changed)


def _whole_years(known: DailyWeather, start: date, today: date) -> list[int]:
    if not len(known):
        return []
    lacking = missing_days(known)
    return [
        year
        for year in range(known.first.year, today.year + 1)
        if _on(start, year) >= known.first and _on(start, year + 1) <= start
        if not lacking[known.index(_on(start, year)) : known.index(_on(start, year + 1))].any()
    ]


def _said_days(known: DailyWeather) -> str:
    if not len(known):
        return "0 days"
    missing = say_spells(missing_spells(known))
    told = f"{len(known) - int(missing_days(known).sum())} days"
    return f"{told}; missing: {missing}" if missing else told


def _shuffled(years: list[int], chance: Chance, span: int) -> list[int]:
    if span == 0:
        return years
    places = np.argsort(chance.uniforms(f"span {span}", len(years)), kind="stable")
    return [years[place] for place in places]


def _on(day: date, year: int) -> date:
    """Give the same day of another year; 29 February becomes the 28th."""
    if (day.month, day.day) == (2, 29):
        return date(year, 2, 28)
    return day.replace(year=year)


def _course(
    known: DailyWeather, days: NDArray[np.datetime64], start: date, years: list[int]
) -> DailyWeather:
    taken = np.empty(len(days), dtype=np.int64)
    for at, each in enumerate(days.astype(object)):
        span = each.year - start.year - (_on(start, each.year) > each)
        source = _on(each, each.year - start.year - span + years[span])
        taken[at] = known.index(source)
    changed: dict[str, Any] = {
        entry.name: None if (series := getattr(known, entry.name)) is None else series[taken]
        for entry in fields(known)
    }
    return replace(known, **(changed | {"days": days}))
