"""Draws carried forward from today under each programme at once, and looked at on the way."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cache

import numpy as np

from swardbook.handbook.parameters import value
from swardbook.husbandry.ground import Zone
from swardbook.husbandry.happenings import Cut, Feed, Pull, Refill, Verticut, Water
from swardbook.model.ahead import Ahead, Horizon, calendar_of, work
from swardbook.model.chance import Array
from swardbook.model.day_heads import grown_up, standing
from swardbook.model.growing import Grow
from swardbook.model.inputs import Operations, Single, by_days
from swardbook.model.kernel_text import LANES
from swardbook.model.members import Members
from swardbook.model.operations import no_operations, stack_operations
from swardbook.model.parameter_sets import Parameters
from swardbook.model.programmes import Planned, Programme
from swardbook.model.state import SwardState
from swardbook.model.unknowns import growth_year, with_year


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

    def each(self) -> Iterator[Look]:
        """Part looks at several copies of the draws from one another."""
        seen = [getattr(self, name) for name in self.__slots__]
        return (Look(*one) for one in zip(*seen, strict=True))


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
    ahead: Ahead, works: Sequence[Single], marks: Sequence[Horizon], grow: Grow,
    tonight: Members | None = None,
) -> list[dict[str, Look]]:  # fmt: skip
    """Run the draws forward under each programme at once, and look at them on each horizon.

    Parameters
    ----------
    ahead : Ahead
        What all programmes share.
    works : sequence of array
        Each programme's work, of (courses, days, fields) as `by_days` lays it out.
        [units of the fields of `Operations`]
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
    draws, courses, times = len(ahead.course_of_draw), len(ahead.growth), len(works)
    drivers, together = by_days(ahead.drivers), np.concatenate(works)
    course = ahead.course_of_draw[::LANES]
    weather_of = np.tile(course, times)
    work_of = np.concatenate([course + courses * number for number in range(times)])
    numbers = _numbers(ahead, first)
    crowd = (tonight or tonight_laid(ahead)).copies(times)
    seen: list[dict[str, Look]] = [{} for _ in works]
    for low, high in _stretches(first, tuple(mark.day for mark in marks), ahead.latitude):
        part = slice((low - first).days, (high - first).days)
        before, numbers = numbers, _numbers(ahead, low)
        crowd.change(before, numbers)
        grow.onward(
            crowd, drivers[:, part], together[:, part],
            weather_of_block=weather_of, operations_of_block=work_of,
        )  # fmt: skip
        for mark in marks:
            if mark.day + timedelta(days=1) == high:
                several = _look(crowd.states(times, draws), ahead.state)
                for looks, one in zip(seen, several.each(), strict=True):
                    looks[mark.key] = one
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
        by_days(
            stack_operations([operations_of(ahead.zone, each, first, days) for each in courses])
        )
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
