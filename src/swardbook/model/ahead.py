"""Forward from today: each programme on the same draws and under the same weather."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from functools import cache

import numpy as np
from numpy.typing import NDArray

from swardbook.foundation.dates import season_day
from swardbook.handbook.parameters import value
from swardbook.husbandry.ground import Zone
from swardbook.husbandry.happenings import Cut, Feed, Pull, Refill, Verticut, Water
from swardbook.model.chance import Array, Chance
from swardbook.model.day_heads import grown_up, standing
from swardbook.model.drivers import drivers_from, stack_drivers
from swardbook.model.growing import Grow
from swardbook.model.inputs import Drivers, Operations
from swardbook.model.kernel_text import LANES
from swardbook.model.members import Members
from swardbook.model.operations import no_operations, stack_operations
from swardbook.model.parameter_sets import Parameters
from swardbook.model.past import Known
from swardbook.model.programmes import Planned, Programme, planned
from swardbook.model.rhythm import Calendar
from swardbook.model.state import SwardState
from swardbook.model.unknowns import YEARLY, growth_year, with_year
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
class Look:
    """What each draw has on a horizon, one value a draw.

    Parameters
    ----------
    cover, plants, heads : array
        Annual meadow-grass. [-], [plants m⁻²], [heads m⁻²]
    returned : array
        Its viable seed that reached the ground since today. [m⁻²]
    fog, sown, bare : array
        Yorkshire fog, sown grass and bare ground. [-]
    pull_hours : array
        Pulling since today. [h m⁻²]
    nitrogen_off : array
        Nitrogen taken off with clippings since today. [g m⁻²]
    """

    cover: Array
    plants: Array
    heads: Array
    returned: Array
    fog: Array
    sown: Array
    bare: Array
    pull_hours: Array
    nitrogen_off: Array


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
    site: tuple[float, float], today: date, chance: Chance, growing_days: float = 0.0,
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
    growing_days : float
        Growing days still to come before a verticut; 0 where the sward is old enough. [d]
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
        verticut_from=np.array([_grown_by(each.tmean, growing_days) for each in courses]),
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


def operations_of(zone: Zone, jobs: Sequence[Planned], first: date, days: int) -> Operations:
    """Turn planned jobs into the operations of a run, a square metre of the zone."""
    to = no_operations(days)
    for job in jobs:
        at = (job.day - first).days
        match job.what:
            case Cut(height_of_cut_mm=height, boxed=boxed):
                to.cut[at] = 1.0
                to.cut_height[at] = height or zone.height_of_cut_mm
                to.boxed[at] = float(bool(boxed))
            case Verticut(depth_mm=depth, boxed=boxed):
                touches = (depth or 0.0) >= zone.height_of_cut_mm
                row = to.verticut_soil if touches else to.verticut_blade
                row[at] += 1.0
                to.collected[at] = float(bool(boxed))
            case Feed():
                to.feed[at] += job.what.nitrogen_g_m2 or 0.0
            case Pull():
                to.pull_hours[at] += (job.hours or 0.0) / zone.area_m2
            case Refill():
                to.refill[at] = value("programme.refill_share")
            case Water(depth_mm=depth):
                to.water[at] += depth or 0.0
            case _:
                pass
    return to


def tonight_laid(ahead: Ahead) -> Members:
    """Lay out the draws of tonight, with the effects of the year that tomorrow is in."""
    return Members.of(ahead.state, _numbers(ahead, ahead.today + timedelta(days=1)))


def _numbers(ahead: Ahead, day: date) -> Parameters:
    """Give the constants of the growth year that a day is in."""
    year = growth_year(day, ahead.latitude)
    if year not in ahead.of_year:
        ahead.of_year[year] = with_year(ahead.usual, ahead.effects[year])
    return ahead.of_year[year]


def carry_all(
    ahead: Ahead, works: Sequence[Operations], marks: Sequence[Horizon], grow: Grow,
    tonight: Members | None = None,
) -> list[dict[str, Look]]:  # fmt: skip
    """Run the draws forward under each programme at once, and look at them on each horizon.

    Parameters
    ----------
    ahead : Ahead
        What all programmes share.
    works : sequence of Operations
        Each programme's work, of (courses, days).
    marks : sequence of Horizon
        The days to look at, in order.
    grow : Grow
        Runs the model over some days.
    tonight : Members, optional
        From `tonight_laid`, where it is run forward again and again.

    Returns
    -------
    list of dict
        For each programme, what is seen on each horizon.
    """
    first = ahead.today + timedelta(days=1)
    draws, courses = len(ahead.course_of_draw), len(ahead.growth)
    together = Operations(*(np.concatenate(series) for series in zip(*works, strict=True)))
    course = ahead.course_of_draw[::LANES]
    weather_of = np.tile(course, len(works))
    work_of = np.concatenate([course + courses * number for number in range(len(works))])
    numbers = _numbers(ahead, first)
    crowd = (tonight or tonight_laid(ahead)).copies(len(works))
    seen: list[dict[str, Look]] = [{} for _ in works]
    for low, high in _stretches(first, tuple(mark.day for mark in marks), ahead.latitude):
        part = slice((low - first).days, (high - first).days)
        drivers = Drivers(*(series[:, part] for series in ahead.drivers))
        jobs = Operations(*(series[:, part] for series in together))
        before, numbers = numbers, _numbers(ahead, low)
        crowd.change(before, numbers)
        grow.onward(crowd, drivers, jobs, weather_of_block=weather_of, operations_of_block=work_of)
        for mark in marks:
            if mark.day + timedelta(days=1) == high:
                parts = crowd.parted(len(works), draws)
                for looks, each in zip(seen, parts, strict=True):
                    looks[mark.key] = _look(each.state(), ahead.state)
    return seen


def run_programme(
    ahead: Ahead, plan: Programme, species: str, marks: Sequence[Horizon], grow: Grow
) -> tuple[dict[str, Look], tuple[tuple[Planned, ...], ...]]:
    """Run one programme; gives what is seen on each horizon, and the jobs of each course."""
    ((looks, jobs),) = run_programmes(ahead, [plan], species, marks, grow)
    return looks, jobs


def run_programmes(
    ahead: Ahead, plans: Sequence[Programme], species: str, marks: Sequence[Horizon], grow: Grow
) -> list[tuple[dict[str, Look], tuple[tuple[Planned, ...], ...]]]:
    """Run several programmes at once; gives what `run_programme` does of each."""
    first, days, calendar = (
        ahead.today + timedelta(days=1),
        ahead.growth.shape[1],
        calendar_of(ahead),
    )
    jobs = [work(ahead, plan, species, calendar) for plan in plans]
    works = [
        stack_operations([operations_of(ahead.zone, each, first, days) for each in courses])
        for courses in jobs
    ]
    return list(zip(carry_all(ahead, works, marks, grow), jobs, strict=True))


def _look(state: SwardState, before: SwardState) -> Look:
    weed, old = state.weeds[0], before.weeds[0]
    return Look(
        cover=weed.cover,
        plants=grown_up(weed),
        heads=standing(weed),
        returned=weed.returned - old.returned,
        fog=state.weeds[1].cover,
        sown=sum(part.cover for part in state.sown),
        bare=state.zone.gap,
        pull_hours=state.zone.hours - before.zone.hours,
        nitrogen_off=state.zone.nitrogen_exported - before.zone.nitrogen_exported,
    )


def _effects_of(known: Known, scores: Array, year: int, draws: int, chance: Chance) -> Array:
    """Give a growth year's effects: those learned of the current one, fresh ones for the rest."""
    if year in known.unknowns.years:
        return known.unknowns.rows_of_year(scores, year)
    return np.stack([chance.normals(f"{effect} of {year}", draws) for effect in YEARLY])


def _grown_by(tmean: Array, wanted: float) -> int:
    """Count the days until so many growing days have passed; all of them if they never do."""
    warm = np.cumsum(tmean >= value("growing_week_mean_air"))
    return 0 if wanted <= 0 else int(np.searchsorted(warm, wanted)) + 1


def _courses(draws: int, courses: int) -> Courses:
    blocks = np.arange(draws, dtype=np.int64) // LANES
    return np.asarray(blocks % courses, dtype=np.int64)


def _next(after: date, key: str, latitude: float) -> date:
    wanted = round(value(key))
    day = after
    while season_day(day, latitude) != wanted:
        day += timedelta(days=1)
    return day


@cache
def _stretches(first: date, marks: tuple[date, ...], latitude: float) -> list[tuple[date, date]]:
    """Cut the days ahead at each mark and each growth year."""
    found = []
    for mark in marks:
        end = mark + timedelta(days=1)
        while first < end:
            year, last = growth_year(first, latitude), first
            while last < end and growth_year(last, latitude) == year:
                last += timedelta(days=1)
            found.append((first, last))
            first = last
    return found
