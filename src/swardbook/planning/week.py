"""The week: a short list of tasks with their reasons, inside the hours there are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from swardbook.handbook.parameters import value
from swardbook.planning.candidates import CANDIDATES
from swardbook.planning.checks_due import CHECKS
from swardbook.planning.situation import Situation
from swardbook.planning.tasks import NOT_WORKED_OUT, HoursRange, Status, Task, Worth, WorthOf, merge


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
        for candidate in (*CANDIDATES, *CHECKS):
            for task in candidate(sit):
                if task.job == "disease":
                    if looked_at_disease:
                        continue
                    looked_at_disease = True
                tasks.append(task)
    ordered = sorted(merge(sorted(tasks, key=_first)), key=_first)
    there_are = zones[0].site.weekly_hours if zones else None
    fitted = _within_hours(ordered, there_are)
    most = int(value("tasks_most"))
    by_name = {sit.zone.name: sit for sit in zones}
    kept = [
        replace(task, worth=_worth_of(task, by_name[task.zones[0]], worth))
        for task in _keep(fitted, most)
    ]
    total = sum((task.hours for task in kept if task.status is Status.DUE), HoursRange(0.0, 0.0))
    today = zones[0].today if zones else date.min
    return Week(today, tuple(kept), there_are, total, len(fitted) - len(kept))


def _worth_of(task: Task, sit: Situation, worth: WorthOf) -> Worth:
    if task.status is Status.HELD_OFF and worth is not no_worth:
        return Worth("nothing to compare: it is held off")
    return worth(sit, task.job)


def _within_hours(tasks: Sequence[Task], there_are: float | None) -> list[Task]:
    """Fill the hours in order; pulling takes what is left, other tasks wait."""
    if there_are is None:
        return list(tasks)
    left = there_are
    fitted = []
    for task in tasks:
        if task.status is not Status.DUE:
            fitted.append(task)
        elif task.job == "pull" and left >= 1:
            part = HoursRange(min(task.hours.low, left), min(task.hours.high, left))
            fitted.append(replace(task, hours=part))
            left -= part.middle
        elif task.hours.middle <= left or task.urgency <= 1:
            left = max(left - task.hours.middle, 0.0)
            fitted.append(task)
        else:
            fitted.append(replace(task, status=Status.WAITING, when="when there are hours for it"))
    return sorted(fitted, key=lambda task: _order(task.status))


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
