"""What a job of this week is worth: the look-ahead with it done against one with it skipped."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta

from swardbook.handbook.parameters import value
from swardbook.husbandry.happenings import Cut, Feed, Happening, Pull, Refill, Verticut
from swardbook.model.ahead import Ahead, horizons, work
from swardbook.model.carrying import Look, carry_all, operations_of
from swardbook.model.growing import Grow
from swardbook.model.inputs import by_days
from swardbook.model.operations import stack_operations
from swardbook.model.past import MEADOW_GRASS
from swardbook.model.programmes import Box, Planned, Programme
from swardbook.model.prospects import Range

WEEK = 7


@dataclass(frozen=True, slots=True)
class SkippedWorth:
    """What would change by next October if a job is skipped this week, on the same draws.

    Parameters
    ----------
    job : str
        The job.
    cover_points : Range
        Change of annual meadow-grass. [points]
    plants_m2 : Range
        Change of its plants. [plants m⁻²]
    seed_m2 : Range
        Change of the seed it returns by then. [seeds m⁻²]
    bare_points : Range
        Change of bare ground. [points]
    """

    job: str
    cover_points: Range
    plants_m2: Range
    seed_m2: Range
    bare_points: Range


def skipped_worth(
    ahead: Ahead, plan: Programme, job: str, grow: Grow, hours: float = 0.0
) -> SkippedWorth | None:
    """Compare the way ahead with a job done tomorrow and with it left out for the week.

    Both ways follow the same programme in everything else, on the same draws and weather.

    Parameters
    ----------
    ahead : Ahead
        The draws today and the courses of weather.
    plan : Programme
        The programme that goes on around it.
    job : str
        ``cut``, ``verticut``, ``pull``, ``refill`` or ``feed``.
    grow : Grow
        Runs the model over some days.
    hours : float
        Hours given to it, for pulling. [h]

    Returns
    -------
    SkippedWorth or None
        None for a job that the model does not know.
    """
    doing = _happening(plan, job)
    if doing is None:
        return None
    done, skipped = _october(ahead, plan, doing, hours, grow)
    return SkippedWorth(
        job,
        Range.of(100 * (skipped.cover - done.cover)),
        Range.of(skipped.plants - done.plants),
        Range.of(skipped.returned - done.returned),
        Range.of(100 * (skipped.bare - done.bare)),
    )


def _october(
    ahead: Ahead, plan: Programme, doing: Happening, hours: float, grow: Grow
) -> tuple[Look, Look]:
    """Look at next October with the job done and with it skipped, both in one go."""
    mark = horizons(ahead.today, ahead.latitude)[1]
    first, days = ahead.today + timedelta(days=1), (mark.day - ahead.today).days
    courses = [
        [job for job in jobs if job.day <= mark.day] for jobs in work(ahead, plan, MEADOW_GRASS)
    ]
    ways = [
        stack_operations(
            [
                operations_of(ahead.zone, _week(jobs, ahead, doing, hours, skip=skip), first, days)
                for jobs in courses
            ]
        )
        for skip in (False, True)
    ]
    done, skipped = carry_all(ahead, [by_days(each) for each in ways], [mark], grow)
    return done[mark.key], skipped[mark.key]


def _week(
    jobs: Sequence[Planned], ahead: Ahead, doing: Happening, hours: float, *, skip: bool
) -> list[Planned]:
    """Take the job out of the first week, and put it on tomorrow unless it is skipped."""
    tomorrow = ahead.today + timedelta(days=1)
    end = ahead.today + timedelta(days=WEEK)
    kept = [job for job in jobs if job.day > end or job.what.kind != doing.kind]
    if skip:
        return kept
    return [Planned(tomorrow, doing, hours or None), *kept]


def _happening(plan: Programme, job: str) -> Happening | None:
    boxed = plan.box is not Box.NEVER
    depth = plan.verticut_depth_mm or value("programme.usual_verticut_depth")
    dose = plan.nitrogen_g_m2_year / plan.feeds if plan.feeds else value("programme.usual_dose")
    known: dict[str, Happening] = {
        "cut": Cut(plan.height_of_cut_mm, boxed=boxed),
        "verticut": Verticut(depth, boxed=boxed),
        "pull": Pull(MEADOW_GRASS),
        "refill": Refill(),
        "feed": Feed("", rate_g_m2=dose, nitrogen_percent=100.0),
    }
    return known.get(job)
