"""The week: a short list of tasks with their reasons, inside the hours there are."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from math import floor

from swardbook.handbook.parameters import value
from swardbook.planning.candidates import CANDIDATES
from swardbook.planning.checks_due import CHECKS
from swardbook.planning.clumps import DIG
from swardbook.planning.kept_tasks import with_kept
from swardbook.planning.situation import Situation
from swardbook.planning.tasks import (
    NO_TIME,
    NOT_WORKED_OUT,
    HoursRange,
    Status,
    Task,
    Worth,
    WorthOf,
    merge,
)

TAKE_WHAT_IS_LEFT: Mapping[str, str] = {DIG: "digging", "pull": "pulling"}
"""Jobs that are done as far as the hours go, and how they are called."""


@dataclass(frozen=True, slots=True)
class Week:
    """The tasks of a week.

    Parameters
    ----------
    today : date
        The day it is written on.
    tasks : tuple of Task
        Due first, then waiting for hours, then held off with the reason.
    hours_there_are : float or None
        Hours of the site's week. [h]
    hours : HoursRange
        Hours of what is due. [h]
    left_out : int
        Tasks beyond the few a week can hold.
    """

    today: date
    tasks: tuple[Task, ...]
    hours_there_are: float | None
    hours: HoursRange
    left_out: int

    @property
    def hours_words(self) -> str:
        """What is due against the hours there are, in a sentence or two."""
        due = self.of(Status.DUE)
        filling = [task for task in due if task.whole is not None]
        fixed = sum((task.hours for task in due if task.whole is None), NO_TIME)
        if not filling or self.hours_there_are is None:
            over = self.hours_there_are is not None and self.hours.high > self.hours_there_are
            late = " If it takes longer, the last can wait." if over else ""
            there = "" if self.hours_there_are is None else f" You have {self.hours_there_are:g} h."
            return f"What is due takes {self.hours.words}.{there}{late}"
        last = " and ".join(dict.fromkeys(TAKE_WHAT_IS_LEFT[task.job] for task in filling))
        if not fixed.high:
            return f"{last[0].upper()}{last[1:]} can have all of your {self.hours_there_are:g} h."
        have = "has" if last in TAKE_WHAT_IS_LEFT.values() else "have"
        rest = f"{last} {have} what is left of your {self.hours_there_are:g} h"
        return f"The rest takes {fixed.words}; {rest}."

    def of(self, status: Status) -> tuple[Task, ...]:
        """Give the tasks of one status."""
        return tuple(task for task in self.tasks if task.status is status)


def no_worth(_: Situation, __: str) -> Worth:
    """Say that the worth is not worked out; a look-ahead does better."""
    return NOT_WORKED_OUT


def plan_week(zones: Sequence[Situation], worth: WorthOf = no_worth) -> Week:
    """Plan the week of some zones of one site.

    Parameters
    ----------
    zones : sequence of Situation
        The zones, all on the same day.
    worth : callable
        Gives the change in the look-ahead if a job is skipped in a zone; of a task in several
        zones, in the first.

    Returns
    -------
    Week
        At most eight tasks; holding off is a task with its reason.
    """
    tasks: list[Task] = []
    looked_at_disease = False
    for sit in zones:
        found = [task for candidate in (*CANDIDATES, *CHECKS) for task in candidate(sit)]
        for task in with_kept(sit, found, names_zone=len(zones) > 1):
            if task.job == "disease":
                if looked_at_disease:
                    continue
                looked_at_disease = True
            tasks.append(task)
    there_are = zones[0].site.weekly_hours if zones else None
    in_time = merge(_within_hours(sorted(tasks, key=_first), there_are))
    fitted = sorted(in_time, key=lambda task: (_order(task.status), *_first(task)))
    most = int(value("tasks_most"))
    by_name = {sit.zone.name: sit for sit in zones}
    kept = [
        replace(task, worth=_worth_of(task, by_name[task.zones[0]], worth))
        for task in _keep(fitted, most)
    ]
    total = sum((task.hours for task in kept if task.status is Status.DUE), NO_TIME)
    today = zones[0].today if zones else date.min
    return Week(today, tuple(kept), there_are, total, len(fitted) - len(kept))


def _worth_of(task: Task, sit: Situation, worth: WorthOf) -> Worth:
    if task.status is Status.HELD_OFF and worth is not no_worth:
        return Worth("nothing to compare: it is held off")
    return worth(sit, task.job)


def _within_hours(tasks: Sequence[Task], there_are: float | None) -> list[Task]:
    """Fill the hours in order, zone by zone; pulling and digging take what is left, others wait."""
    if there_are is None:
        return list(tasks)
    due = [task for task in tasks if task.status is Status.DUE]
    taking = [task for task in due if task.job in TAKE_WHAT_IS_LEFT]
    left, kept = there_are, value("filling_share") * there_are if taking else 0.0
    fitted = [task for task in tasks if task.status is not Status.DUE]
    for task in due:
        if task in taking:
            continue
        if task.hours.middle <= left - kept or task.urgency <= 1:
            left = max(left - task.hours.middle, 0.0)
            fitted.append(task)
        else:
            fitted.append(_waiting(task))
    for task in taking:
        part = _what_is_left(task, left)
        fitted.append(part)
        left -= part.hours.middle if part.status is Status.DUE else 0.0
    return sorted(fitted, key=_first)


def _what_is_left(task: Task, left: float) -> Task:
    """Give a task the hours that are left, in half hours; below one it waits."""
    if task.hours.high <= left:
        return task
    most = floor(2 * left) / 2
    if most < 1:
        return _waiting(task)
    part = HoursRange(min(task.hours.low, 1.0), most)
    return replace(task, hours=part, whole=task.hours)


def _waiting(task: Task) -> Task:
    return replace(task, status=Status.WAITING, when="when there are hours for it")


def _keep(tasks: Sequence[Task], most: int) -> list[Task]:
    """Keep the first tasks, with room for what is held off: restraint is on the list too."""
    held = [task for task in tasks if task.status is Status.HELD_OFF]
    others = [task for task in tasks if task.status is not Status.HELD_OFF]
    room = max(most - min(len(held), 3), 0)
    kept = others[:room]
    return [*kept, *held[: most - len(kept)]]


def _order(status: Status) -> int:
    return [Status.DUE, Status.WAITING, Status.HELD_OFF].index(status)


def _first(task: Task) -> tuple[int, str, str]:
    return task.urgency, task.job, task.zone
