"""Forward from today: each programme on the same draws and under the same weather."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from swardbook.foundation.dates import season_day_from
from swardbook.handbook.parameters import value
from swardbook.husbandry.ground import Zone
from swardbook.model.chance import Array, Chance
from swardbook.model.drivers import drivers_from, stack_drivers
from swardbook.model.inputs import Drivers
from swardbook.model.kernel_text import LANES
from swardbook.model.parameter_sets import Parameters
from swardbook.model.past import Known
from swardbook.model.programmes import Planned, Programme, planned
from swardbook.model.rhythm import Calendar
from swardbook.model.state import SwardState
from swardbook.model.story import YoungSward
from swardbook.model.unknowns import YEARLY, growth_year
from swardbook.model.weather_ahead import WeatherAhead
from swardbook.weather.series import DailyWeather
from swardbook.weather.thermal import growth_potential

Courses = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Horizon:
    """A day ahead that is looked at."""

    key: str
    day: date


@dataclass(frozen=True, slots=True)
class Ahead:
    """What all programmes share: the draws today, the courses of weather, the years' effects.

    Parameters
    ----------
    zone : Zone
        The zone.
    latitude : float
        Latitude, south negative. [°]
    today : date
        The last known day.
    state : SwardState
        The draws tonight; all count the same.
    usual : Parameters
        Their constants in a usual year.
    effects : mapping of int to array
        Each growth year's effects, a row each of `YEARLY`. [-]
    drivers : Drivers
        One value a course and day, from tomorrow.
    growth : array
        Growth potential of each course and day, averaged over a week. [-]
    course_of_draw : array of int
        Which course each draw meets.
    verticut_from : array of int
        Of each course, the day from tomorrow on which seedlings are old enough for a verticut.
    of_year : dict
        The constants of each growth year that was asked for.
    """

    zone: Zone
    latitude: float
    today: date
    state: SwardState
    usual: Parameters
    effects: Mapping[int, Array]
    drivers: Drivers
    growth: Array
    course_of_draw: Courses
    verticut_from: Courses
    of_year: dict[int, Parameters] = field(default_factory=dict, repr=False, compare=False)


def horizons(today: date, latitude: float) -> tuple[Horizon, Horizon, Horizon]:
    """Give the three days looked at: next spring, next October, and October after three years."""
    spring = _next(today + timedelta(days=30), "look_ahead.spring_day", latitude)
    least = timedelta(days=value("look_ahead.autumn_ahead_least"))
    autumn = _next(today + least, "look_ahead.autumn_day", latitude)
    years = round(value("look_ahead.years"))
    far = autumn
    for _ in range(years - 1):
        far = _next(far + timedelta(days=300), "look_ahead.autumn_day", latitude)
    return Horizon("spring", spring), Horizon("autumn", autumn), Horizon("far", far)


def set_out(
    known: Known, state: SwardState, scores: Array, weather: WeatherAhead, zone: Zone,
    site: tuple[float, float], today: date, chance: Chance, young: YoungSward | None = None,
) -> Ahead:  # fmt: skip
    """Make ready what all programmes share.

    Parameters
    ----------
    known : Known
        How the draws came to today.
    state : SwardState
        The draws tonight; all count the same.
    scores : array
        Their scores. [-]
    weather : WeatherAhead
        The courses of weather.
    zone : Zone
        The zone.
    site : tuple of float
        Latitude [°] and height above the sea. [m]
    today : date
        The last known day.
    chance : Chance
        The source, keyed by book and zone.
    young : YoungSward or None
        What the youngest sowing still has to grow through before a verticut.
    """
    latitude, elevation = site
    first, last = weather.courses[0].first, weather.courses[0].last
    courses = [drivers_from(each, latitude, elevation, first, last) for each in weather.courses]
    draws = scores.shape[1]
    years = range(growth_year(first, latitude), growth_year(last, latitude) + 1)
    effects = {year: _effects_of(known, scores, year, draws, chance) for year in years}
    return Ahead(
        zone=zone,
        latitude=latitude,
        today=today,
        state=state,
        usual=known.unknowns.parameters(scores),
        effects=effects,
        drivers=stack_drivers(courses),
        growth=np.stack([weekly_growth(each) for each in weather.courses]),
        course_of_draw=_courses(draws, len(courses)),
        verticut_from=np.array([_days_till(young, each.tmean) for each in courses]),
    )


def weekly_growth(weather: DailyWeather) -> Array:
    """Growth potential averaged over the week up to each day [-]."""
    daily = np.asarray(growth_potential(weather.tmean))
    sums = np.cumsum(np.concatenate([np.full(6, daily[0]), daily]))
    return np.asarray((sums[6:] - np.concatenate([[0.0], sums[:-7]])) / 7)


def calendar_of(ahead: Ahead) -> Calendar:
    """Lay out the days ahead as every programme meets them."""
    return Calendar.of(_days(ahead), ahead.growth, ahead.latitude)


def work(
    ahead: Ahead, plan: Programme, species: str, calendar: Calendar | None = None
) -> tuple[tuple[Planned, ...], ...]:
    """Put a programme on the days of each course.

    Parameters
    ----------
    ahead : Ahead
        What all programmes share.
    plan : Programme
        The programme.
    species : str
        Species key of the weed grass that is pulled.
    calendar : Calendar, optional
        From `calendar_of`; programmes that share one share their rhythms.
    """
    days = _days(ahead)
    laid = calendar or Calendar.of(days, ahead.growth, ahead.latitude)
    found = []
    for course, fit in enumerate(ahead.verticut_from):
        jobs = planned(plan, ahead.zone, days, laid, course, species)
        first = ahead.today + timedelta(days=1 + int(fit))
        found.append(tuple(job for job in jobs if job.day >= first or job.what.kind != "verticut"))
    return tuple(found)


def _days(ahead: Ahead) -> list[date]:
    return [ahead.today + timedelta(days=n + 1) for n in range(ahead.growth.shape[1])]


def _effects_of(known: Known, scores: Array, year: int, draws: int, chance: Chance) -> Array:
    """Give a growth year's effects: those learned of the current one, fresh ones for the rest."""
    if year in known.unknowns.years:
        return known.unknowns.rows_of_year(scores, year)
    return np.stack([chance.normals(f"{effect} of {year}", draws) for effect in YEARLY])


def _days_till(young: YoungSward | None, tmean: Array) -> int:
    """Count the days before the first on which seedlings are old enough for a verticut."""
    return 0 if young is None else max(young.days_still(tmean) - 1, 0)


def _courses(draws: int, courses: int) -> Courses:
    blocks = np.arange(draws, dtype=np.int64) // LANES
    return np.asarray(blocks % courses, dtype=np.int64)


def _next(after: date, key: str, latitude: float) -> date:
    return season_day_from(after, round(value(key)), latitude)
