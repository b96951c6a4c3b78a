"""The best programme for the hours there are: tried out by the model, on the same draws.

Each coordinate of a programme is moved in turn while that leaves less weed grass within the
hours. Every programme tried is kept in one pool, and the best within some hours is the best of
the pool within them: so more hours never give a worse best.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cache
from importlib.resources import files
from math import ceil
from typing import Any

import numpy as np

from swardbook.foundation.tables import read_toml_table
from swardbook.handbook.parameters import parameter, value
from swardbook.model.ahead import Ahead, Horizon, calendar_of, horizons
from swardbook.model.carrying import carry_all, tonight_laid
from swardbook.model.chance import Array
from swardbook.model.growing import Grow
from swardbook.model.inputs import Drivers
from swardbook.model.kernel_text import LANES
from swardbook.model.laying import Laid, lay
from swardbook.model.never import Place, breaches_in
from swardbook.model.programmes import PASSES, Box, Programme, hours_of
from swardbook.model.prospects import Contrast, Range, contrast

Judge = Callable[[Sequence[Programme]], Sequence["Tried"]]
"""Tries programmes out, all in one go."""
COORDINATES = (
    "cut_days", "box", "verticut_days", "pull_hours_week", "refills", "nitrogen_g_m2_year",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Tried:
    """A programme that was tried out.

    Parameters
    ----------
    plan : Programme
        The programme.
    hours_week : float
        Hours a week in season that it takes, the mean of all draws. [h]
    weed : array
        What it leaves by next October, one value a draw. [plants m⁻², or -]
    cover, bare : array
        Annual meadow-grass and bare ground by then, one value a draw. [-]
    worth : tuple
        The mean of what it leaves, then its hours: the less the better.
    """

    plan: Programme
    hours_week: float
    weed: Array
    cover: Array
    bare: Array
    worth: tuple[float, float, str] = field(init=False)

    def __post_init__(self) -> None:
        mean = float(np.mean(self.weed))
        object.__setattr__(self, "worth", (mean, self.hours_week, repr(self.plan)))

    @property
    def mean(self) -> float:
        """The mean of what it leaves [plants m⁻², or -]."""
        return self.worth[0]

    def left(self, *, by_plants: bool) -> Range:
        """The range of what it leaves [plants m⁻², or %]."""
        return Range.of(self.weed if by_plants else 100 * self.weed)


@dataclass(frozen=True, slots=True)
class Point:
    """The best programme within some hours, and what one more step of hours changed.

    Parameters
    ----------
    hours : float
        The hours a week it had to keep to. [h]
    best : Tried
        The programme that leaves least of those tried.
    left, cover_percent, bare_percent : Range
        What it leaves [plants m⁻², or %], as cover [%], and bare ground. [%]
    inside : float
        Share of the draws inside the zone's tolerance. [-]
    against_fewer : Contrast or None
        Against the point before, with fewer hours; None for the first.
    """

    hours: float
    best: Tried
    left: Range
    cover_percent: Range
    bare_percent: Range
    inside: float
    against_fewer: Contrast | None


@dataclass(frozen=True, slots=True)
class Curve:
    """Hours against what is left.

    Parameters
    ----------
    points : tuple of Point
        One for each number of hours that suffices for some programme, the fewest first.
    tried : int
        How many programmes were tried out.
    enough_hours : float or None
        Fewest hours of the curve at which the range of cover lies inside the zone's tolerance;
        None where none does. [h]
    least_hours : float
        Hours a week that the cheapest programme tried takes. [h]
    """

    points: tuple[Point, ...]
    tried: int
    enough_hours: float | None
    least_hours: float

    def at(self, hours: float) -> Point | None:
        """Find the best within some hours; None where they suffice for nothing.

        Parameters
        ----------
        hours : float
            Hours a week. [h]
        """
        within = [each for each in self.points if each.hours <= hours]
        return within[-1] if within else None


@cache
def choices() -> Mapping[str, Any]:
    """Read what is tried, by coordinate, and the hours of the curve."""
    found: Mapping[str, Any] = read_toml_table(files("swardbook.handbook") / "data" / "search.toml")
    return found


def judge_of(
    ahead: Ahead, grow: Grow, *, by_plants: bool, weeks: float, until: date | None = None
) -> Judge:
    """Give the function that tries programmes out up to a day.

    Parameters
    ----------
    ahead : Ahead
        The draws today and the courses of weather.
    grow : Grow
        Runs the model over some days.
    by_plants : bool
        Whether weed grass is told in plants; else in cover.
    weeks : float
        Weeks over which a year's hours are spread. [weeks]
    until : date, optional
        The last day; next October if not given.
    """
    october = horizons(ahead.today, ahead.latitude)[1]
    mark = october if until is None else Horizon("until", until)
    days = (mark.day - ahead.today).days
    short, years = _shortened(ahead, days), days / 365.25
    calendar, crowd = calendar_of(short), tonight_laid(short)

    each_takes = {
        kind: hours_of(ahead.zone, dict.fromkeys(PASSES, 0.0) | {kind: 1.0}, years).middle
        for kind in PASSES
    }

    def machine_hours(work: Laid) -> Array:
        of_course = sum(each_takes[kind] * passes for kind, passes in work.passes.items())
        return np.asarray(of_course)[short.course_of_draw]

    def tried(plans: Sequence[Programme]) -> list[Tried]:
        works = [lay(plan, short.zone, calendar, short.verticut_from) for plan in plans]
        found = []
        seen = carry_all(short, [each.work for each in works], [mark], grow, crowd)
        for plan, work, looks in zip(plans, works, seen, strict=True):
            look = looks[mark.key]
            pulled = look.pull_hours * short.zone.area_m2 / years
            hours = float(np.mean(machine_hours(work) + pulled)) / weeks
            weed = look.plants if by_plants else look.cover
            found.append(Tried(plan, hours, weed, look.cover, look.bare))
        return found

    return tried


def search(
    place: Place, judge: Judge, hours: Sequence[float], *, by_plants: bool,
    tell: Callable[[str], None] = lambda _: None,
) -> Curve:  # fmt: skip
    """Search for the best programme within each number of hours.

    Parameters
    ----------
    place : Place
        The zone with what it allows.
    judge : callable
        Tries programmes out; the same programme always comes to the same.
    hours : sequence of float
        Hours a week in season for which a best is wanted. [h]
    by_plants : bool
        Whether weed grass is told in plants; else in cover.
    tell : callable
        Told in words what is being worked on.
    """
    pool: dict[Programme, Tried] = {}

    def tried(plans: Sequence[Programme]) -> list[Tried]:
        new = [plan for plan in dict.fromkeys(plans) if plan not in pool]
        if new:
            pool.update(zip(new, judge(new), strict=True))
        return [pool[plan] for plan in plans]

    caps, lawful = sorted(set(hours)), _Lawful(place)
    (start,) = tried([_plainest(place)])
    for cap in caps:
        tell(f"the best within {cap:g} hours a week")
        best = _best(pool, cap) or start
        while (better := _sweep(best, cap, lawful, tried)) is not best:
            best = better
    points: list[Point] = []
    for cap in caps:
        found = _best(pool, cap)
        if found is not None:
            before = points[-1].best if points else None
            points.append(_point(cap, found, before, place, by_plants=by_plants))
    return Curve(
        tuple(points),
        len(pool),
        next((each.hours for each in points if _is_inside(each, place)), None),
        min(each.hours_week for each in pool.values()),
    )


@dataclass(frozen=True, slots=True)
class _Lawful:
    """The programmes around one that the never-dos and the usual gap of cuts let be tried."""

    place: Place
    known: dict[tuple[Programme, str], list[Programme]] = field(default_factory=dict)

    def around(self, plan: Programme, name: str) -> list[Programme]:
        """Move one coordinate of a programme; worked out once."""
        key = (plan, name)
        if key not in self.known:
            moved = [_moved(plan, name, choice) for choice in choices()[name]]
            self.known[key] = [each for each in moved if each != plan and self._may_be(each)]
        return self.known[key]

    def _may_be(self, plan: Programme) -> bool:
        fits = max(plan.cut_days) <= _longest(self.place)
        return fits and not breaches_in(plan, self.place)


def _sweep(
    best: Tried, cap: float, lawful: _Lawful, tried: Callable[[Sequence[Programme]], list[Tried]]
) -> Tried:
    """Move each coordinate once; gives the very same where nothing is better."""
    for name in COORDINATES:
        moved = lawful.around(best.plan, name)
        for other in tried([plan for plan in moved if plan.pull_hours_week <= cap]):
            if _is_within(other, cap) and other.worth < best.worth:
                best = other
    return best


def _best(pool: Mapping[Programme, Tried], cap: float) -> Tried | None:
    within = [each for each in pool.values() if _is_within(each, cap)]
    return min(within, key=lambda each: each.worth, default=None)


def _is_within(each: Tried, cap: float) -> bool:
    """Tell whether a programme keeps to the hours, in what it asks for and in what it takes."""
    return each.hours_week <= cap and each.plan.pull_hours_week <= cap


def _longest(place: Place) -> float:
    """Longest usual gap between cuts in a zone [d]."""
    fine = place.zone.height_of_cut_mm <= value("verticut_fine_height")
    return parameter("cut_gap_fine" if fine else "cut_gap_lawn").high


def _plainest(place: Place) -> Programme:
    zone = place.zone
    lowest = zone.mower.lowest_mm
    seldom = max(each for each in choices()["cut_days"] if each <= _longest(place))
    return Programme(
        key="searched", name="Searched", says="Found by the search for the hours there are.",
        cut_days=(seldom, seldom), box=Box.NEVER, verticut_days=0,
        verticut_depth_mm=0.0, verticut_lines_deg=(), pull_hours_week=0.0, refills=False,
        nitrogen_g_m2_year=0.0, feeds=0, water_mm=0.0,
        height_of_cut_mm=max(zone.height_of_cut_mm, lowest or 0.0),
    )  # fmt: skip


def _moved(plan: Programme, name: str, choice: Any) -> Programme:
    """Move one coordinate, with what hangs on it."""
    match name:
        case "cut_days":
            return replace(plan, cut_days=(choice, choice))
        case "box":
            return replace(plan, box=Box(choice))
        case "verticut_days":
            lines = tuple(choices()["verticut_lines_deg"]) if choice else ()
            depth = value("programme.usual_verticut_depth") if choice else 0.0
            return replace(
                plan, verticut_days=choice, verticut_depth_mm=depth, verticut_lines_deg=lines
            )
        case "refills":
            return replace(plan, refills=choice, water_mm=value("dose_high") if choice else 0.0)
        case "nitrogen_g_m2_year":
            usual, gap = value("programme.usual_dose"), value("feed_gap_days")
            season = (value("feed_season_to") - value("feed_season_from")) / gap
            return replace(plan, nitrogen_g_m2_year=choice, feeds=ceil(min(choice / usual, season)))
        case _:
            return replace(plan, pull_hours_week=choice)


def _point(
    cap: float, best: Tried, before: Tried | None, place: Place, *, by_plants: bool
) -> Point:
    made = None
    if before is not None:
        made = contrast("more", best.weed, "fewer", before.weed, is_density=by_plants)
    return Point(
        hours=cap,
        best=best,
        left=best.left(by_plants=by_plants),
        cover_percent=Range.of(100 * best.cover),
        bare_percent=Range.of(100 * best.bare),
        inside=float(np.mean(best.cover <= place.zone.tolerance.annual_meadow_grass)),
        against_fewer=made,
    )


def _is_inside(point: Point, place: Place) -> bool:
    return point.cover_percent.at80.high <= 100 * place.zone.tolerance.annual_meadow_grass


def _shortened(ahead: Ahead, days: int) -> Ahead:
    """Keep the days up to next October, and only the courses that some draw meets."""
    courses = min(len(ahead.growth), ceil(len(ahead.course_of_draw) / LANES))
    part = (slice(courses), slice(days))
    return replace(
        ahead,
        drivers=Drivers(*(series[part] for series in ahead.drivers)),
        growth=ahead.growth[part],
        verticut_from=ahead.verticut_from[:courses],
    )
