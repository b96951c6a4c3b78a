"""Kept answers in the week: beside the tasks they are about, and as tasks of their own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from swardbook.handbook.parameters import parameter, value
from swardbook.husbandry.happenings import Water
from swardbook.planning.candidates import cut_hours, from_fit, per_area
from swardbook.planning.feed_year import feed_year, what_is_due
from swardbook.planning.feeding import PLAN as FEED_PLAN
from swardbook.planning.fit import JOBS, fit_today
from swardbook.planning.how import caution_of
from swardbook.planning.kept import (
    NEXT_CUT,
    ROUTE,
    VERTICUT_PLAN,
    WATER_PLAN,
    WHEN_TO_SOW,
    Kept,
    KeptState,
    cut_day,
    kept_answers,
    kept_words,
    short_day,
    sowing_span,
    span_words,
    watering_days,
)
from swardbook.planning.kept_route import next_job
from swardbook.planning.situation import Situation
from swardbook.planning.sowings import is_bare
from swardbook.planning.tasks import NO_TIME, HoursRange, Status, Task
from swardbook.planning.verticutting import BELOW_SURFACE

_SOW = ("sow", "oversow")


def with_kept(sit: Situation, tasks: Sequence[Task], *, names_zone: bool = False) -> list[Task]:
    """Put kept answers beside the tasks of a zone, and add the tasks that they ask for.

    Parameters
    ----------
    sit : Situation
        The zone on its day.
    tasks : sequence of Task
        Its tasks without them.
    names_zone : bool
        Whether what is said names the zone: where tasks of several zones stand together.

    Returns
    -------
    list of Task
        A sowing that is due before its kept days waits for them. Answers that have aged stand
        with what changed, and the plan no longer goes by them.
    """
    kept = [each for each in kept_answers(sit) if each.state in {KeptState.IN_USE, KeptState.AGED}]
    if not kept:
        return list(tasks)
    found = [_waits_for_its_days(sit, task, kept) for task in tasks]
    found += _asked_for(sit, found, kept)
    place = f"{sit.zone.name}: " if names_zone else ""
    return [_beside(sit, task, kept, place) for task in found]


def _beside(sit: Situation, task: Task, kept: Sequence[Kept], place: str) -> Task:
    lines = [f"{place}{kept_words(sit, each)}" for each in kept if _is_about(sit, task, each)]
    return replace(task, kept=tuple(lines)) if lines else task


def _is_about(sit: Situation, task: Task, kept: Kept) -> bool:
    if kept.what.about != ROUTE or not kept.is_in_use:
        return task.job in kept.question.jobs
    found = next_job(sit, kept.what.named, kept.day)
    return found is not None and (task.job == found.kind or {task.job, found.kind} <= set(_SOW))


def _waits_for_its_days(sit: Situation, task: Task, kept: Sequence[Kept]) -> Task:
    plan = _in_use(kept, WHEN_TO_SOW)
    span = sowing_span(plan) if plan is not None else None
    if task.job not in _SOW or task.status is not Status.DUE or plan is None or span is None:
        return task
    if span[0] <= sit.today:
        return task
    when = f"{span_words(*span)}, as {plan.kept_on}"
    return replace(task, status=Status.WAITING, when=when)


def _asked_for(sit: Situation, tasks: Sequence[Task], kept: Sequence[Kept]) -> list[Task]:
    jobs = {task.job for task in tasks}
    makers = (
        (WHEN_TO_SOW, _SOW, _sow_task), (WATER_PLAN, ("water",), _water_task),
        (NEXT_CUT, ("cut",), _cut_task), (FEED_PLAN, ("feed",), _feed_task),
        (VERTICUT_PLAN, ("verticut", "scarify"), _verticut_task), (ROUTE, (), _route_task),
    )  # fmt: skip
    found = []
    for about, asked, make in makers:
        plan = _in_use(kept, about)
        if plan is None or jobs & set(asked):
            continue
        found += [task for task in make(sit, plan) if task.job not in jobs]
        jobs |= {task.job for task in found}
    return found


def _in_use(kept: Sequence[Kept], about: str) -> Kept | None:
    return next((each for each in kept if each.what.about == about and each.is_in_use), None)


def _sow_task(sit: Situation, plan: Kept) -> list[Task]:
    span = sowing_span(plan)
    if span is None or sit.age(span[0]) < -value("kept_ahead_days"):
        return []
    job = "sow" if is_bare(sit) else "oversow"
    why = f"The days that were worked out for {plan.what.given.get('sown', 'this seed')}."
    task = from_fit(sit, fit_today(sit, job), job.capitalize(), per_area(sit, "sow_hours"), why,
                    "it cannot be kept damp, or heavy rain is due", 3)  # fmt: skip
    if span[0] > sit.today:
        return [_waiting(task, f"{span_words(*span)}, as {plan.kept_on}")]
    return [task]


def _water_task(sit: Situation, plan: Kept) -> list[Task]:
    days = [each for each in watering_days(plan) if each[0] >= plan.day]
    given = sit.latest(Water)
    due = [each for each in days if given is None or given.day < each[0]]
    if not due or plan.what.named.get("kind") != "sward":
        return []
    day, told = due[0]
    if sit.age(day) < -value("look_days"):
        return []
    minutes = plan.what.found.get("work_min", 0.0)
    hours = HoursRange(minutes / 60, minutes / 60) if minutes else NO_TIME
    if "run_min" in plan.what.found:
        setting = parameter("check_hours")
        hours = HoursRange(setting.low, setting.high)
    task = from_fit(sit, fit_today(sit, "water"), "Water deep, once", hours,
                    "The root zone is down to what it can lose without stress by then.",
                    "rain came since: take it off", 2)  # fmt: skip
    task = replace(task, materials=(f"{sit.zone.name}: {told}",))
    return [task if day <= sit.today else _waiting(task, f"on {short_day(day)}, as {plan.kept_on}")]


def _cut_task(sit: Situation, plan: Kept) -> list[Task]:
    day = cut_day(plan)
    if day is None or sit.age(day) < -value("look_days"):
        return []
    decides = plan.what.named.get("decides", "")
    why = f"By the {decides}." if decides else "As planned."
    task = from_fit(sit, fit_today(sit, "cut"), "Cut", cut_hours(sit), why,
                    "the ground is soft or frozen", 2)  # fmt: skip
    if height := plan.what.found.get("cut_mm"):
        task = replace(task, materials=(f"{sit.zone.name}: {height:g} mm",))
    return [task if day <= sit.today else _waiting(task, f"by {short_day(day)}, as {plan.kept_on}")]


def _feed_task(sit: Situation, plan: Kept) -> list[Task]:
    year = feed_year(sit, plan.what.found.get("year_g_m2"))
    if year.next_from is None or is_bare(sit) or year.next_g_m2 < value("kept_feed_least"):
        return []
    if sit.age(year.next_from) < -value("kept_ahead_days"):
        return []
    task = from_fit(sit, fit_today(sit, "feed"), "Feed", per_area(sit, "feed_hours"),
                    what_is_due(year), "growth is strong without it, or rain will wash it out",
                    7)  # fmt: skip
    task = replace(task, materials=(f"{sit.zone.name}: at most {year.next_g_m2:.1f} g N/m²",))
    if task.status is Status.HELD_OFF or year.next_from <= sit.today:
        return [task]
    return [_waiting(task, f"from {short_day(year.next_from)}, as {plan.kept_on}")]


def _verticut_task(sit: Situation, plan: Kept) -> list[Task]:
    if sit.age(plan.day) > value("kept_ahead_days") or is_bare(sit):
        return []
    job = "scarify" if plan.what.named.get("datum") == BELOW_SURFACE else "verticut"
    slower, cut = parameter("verticut_slower"), cut_hours(sit)
    passes = int(plan.what.given.get("passes", "1"))
    hours = HoursRange(passes * cut.low * slower.low, passes * cut.high * slower.high)
    why = f"As planned, {plan.kept_on}."
    return [from_fit(sit, fit_today(sit, job), job.capitalize(), hours, why,
                     "lines show for days, or gaps rise", 6)]  # fmt: skip


def _route_task(sit: Situation, plan: Kept) -> list[Task]:
    """Give the next job of a kept route that the diary does not have yet."""
    found = next_job(sit, plan.what.named, plan.day)
    if found is None:
        return []
    why = f"It is the next job of the {found.route.value} {plan.kept_on}."
    hours = HoursRange(*(end / found.job.times for end in found.job.hours[1:]))
    name, wrong = f"{found.name[0].upper()}{found.name[1:]}", "a count since says otherwise"
    if first := plan.what.named.get("first", ""):
        wrong = f"{first.replace(', ', ' or ')} is not put right first"
    if found.kind in JOBS:
        return [from_fit(sit, fit_today(sit, found.kind), name, hours, why, wrong, 4)]
    return [Task(name, found.kind, (sit.zone.name,), Status.DUE, "this week", hours, why, wrong,
                 caution_of(sit, found.kind), 4)]  # fmt: skip


def _waiting(task: Task, when: str) -> Task:
    return replace(task, status=Status.WAITING, when=when, held_off_because="", loses_to=None)
