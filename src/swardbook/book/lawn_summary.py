"""What is remembered of one ground after a whole look, for what is asked of all grounds."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from swardbook.book.look_over import look_over
from swardbook.book.opening import Book
from swardbook.book.plan import situations
from swardbook.husbandry.ground import Ground
from swardbook.husbandry.stage import stage
from swardbook.planning.clean_down import clean_and_weedy
from swardbook.planning.counts_now import is_cared_for
from swardbook.planning.situation import Situation
from swardbook.planning.tasks import Status, Task
from swardbook.planning.week import plan_week


def summary_of(book: Book) -> dict[str, Any]:
    """Take a whole look at a ground: stages, what needs a look, its week, where it is, its weeds.

    Parameters
    ----------
    book : Book
        The opened book, at the ground.

    Raises
    ------
    SwardbookError
        If the ground cannot be read.
    """
    ground = book.ground()
    zones = situations(book) if ground.zones else []
    tasks = plan_week(zones).tasks if zones else ()
    due, looks = _next(tasks), look_over(book)
    return {
        "stages": {each.name: stage(ground, each, book.today).value for each in ground.zones},
        "to_look": len(looks),
        "marked": len({each.entry for each in looks if each.entry is not None}),
        "entries": len(ground.diary),
        "next_due": due.name if due else "",
        "next_zone": ", ".join(due.zones) if due else "",
        "week": [_plain(each) for each in tasks],
        "weeds": _weeds(zones),
        "position": _position(ground),
        "no_machines_on": list(ground.site.no_machines_on),
    }


def _next(tasks: Iterable[Task]) -> Task | None:
    return next((each for each in tasks if each.status is Status.DUE), None)


def _plain(task: Task) -> dict[str, Any]:
    return {
        "name": task.name, "job": task.job, "zones": list(task.zones),
        "status": task.status.value, "when": task.when, "low_h": task.hours.low,
        "high_h": task.hours.high, "with": list(task.materials), "why": task.why,
        "wrong_if": task.wrong_if, "caution": task.caution, "because": task.held_off_because,
        "urgency": task.urgency,
    }  # fmt: skip


def _weeds(zones: Sequence[Situation]) -> list[list[Any]]:
    """Give zones with their share of annual meadow-grass [-], cleanest first."""
    if not zones:
        return []
    order = clean_and_weedy([each for each in zones if is_cared_for(each)] or zones).order
    return [[each.zone, each.weed_share] for each in order]


def _position(ground: Ground) -> list[float] | None:
    plan = ground.site.plan
    if plan is None or plan.latitude is None or plan.longitude is None:
        return None
    return [plan.latitude, plan.longitude]
