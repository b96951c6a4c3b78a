"""A task with its reasons: what, how long, with what, why now, what it is worth."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import StrEnum

from swardbook.planning.situation import Situation
from swardbook.planning.states import Rank


class Status(StrEnum):
    """How a job stands."""

    DUE = "due"
    WAITING = "waiting"
    HELD_OFF = "held off"

    @property
    def shape(self) -> str:
        """The mark shown beside the word."""
        return {"due": "☐", "waiting": "◷", "held off": "⊘"}[self.value]


@dataclass(frozen=True, slots=True)
class Worth:
    """What a task is worth: the change in the look-ahead if it is skipped.

    Parameters
    ----------
    words : str
        In words; ``not worked out`` until a look-ahead gives it.
    value, low, high : float or None
        The change and its interval. [`unit`]
    unit : str
        Unit of the three.
    """

    words: str
    value: float | None = None
    low: float | None = None
    high: float | None = None
    unit: str = ""


_SENTENCE = re.compile(r"(?<=\.) (?=[A-Z])")
_LONGEST_WHY = 240
NOT_WORKED_OUT = Worth("not worked out")
WorthOf = Callable[[Situation, str], Worth]


@dataclass(frozen=True, slots=True)
class HoursRange:
    """Hours of work, all people together [h]."""

    low: float
    high: float

    @property
    def middle(self) -> float:
        """Middle of the range [h]."""
        return (self.low + self.high) / 2

    def __add__(self, other: HoursRange) -> HoursRange:
        return HoursRange(self.low + other.low, self.high + other.high)

    @property
    def words(self) -> str:
        """The range as a person says it."""
        if self.high <= 0:
            return "no time"
        if self.high < 0.92:
            low, high = (max(5 * round(end * 12), 5) for end in (self.low, self.high))
            return f"{low} min" if low == high else f"{low} to {high} min"
        low_h, high_h = (_rounded(end) for end in (self.low, self.high))
        return f"{low_h:g} h" if low_h == high_h else f"{low_h:g} to {high_h:g} h"


def _rounded(hours: float) -> float:
    """Half hours below ten, whole hours above."""
    return max(round(hours * 2) / 2, 0.5) if hours < 10 else round(hours)


NO_TIME = HoursRange(0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Task:
    """One task of the week.

    Parameters
    ----------
    name : str
        What to do, as said aloud.
    job : str
        The job it belongs to.
    zones : tuple of str
        Where.
    status : Status
        Due, waiting or held off.
    when : str
        Today, or the condition it waits for.
    hours : HoursRange
        How long. [h]
    materials : tuple of str
        With what.
    why : str
        Why now.
    worth : Worth
        What skipping it would change.
    wrong_if : str
        What would make it wrong.
    caution : str
        The caution that goes with it.
    held_off_because : str
        The reason, if it is held off.
    loses_to : Rank or None
        The rule it loses to, if it is held off.
    urgency : int
        Order in the list, 0 first.
    whole : HoursRange or None
        Hours of the whole job, where only a part of it fits the week. [h]
    kept : tuple of str
        What kept answers say of it, or that they have aged.
    """

    name: str
    job: str
    zones: tuple[str, ...]
    status: Status
    when: str
    hours: HoursRange
    why: str
    wrong_if: str
    caution: str
    urgency: int
    materials: tuple[str, ...] = ()
    worth: Worth = NOT_WORKED_OUT
    held_off_because: str = ""
    loses_to: Rank | None = None
    whole: HoursRange | None = None
    kept: tuple[str, ...] = ()

    @property
    def hours_words(self) -> str:
        """How long, as a person says it; of a task that takes what hours are left, both."""
        if self.whole is None:
            return self.hours.words
        most = HoursRange(self.hours.high, self.hours.high).words
        return f"up to {most}; a whole pass is {self.whole.words}"

    @property
    def zone(self) -> str:
        """The zones in one text."""
        return ", ".join(self.zones)


def merge(tasks: list[Task]) -> list[Task]:
    """Put tasks of one kind, status and reason together, their zones named once each."""
    found: dict[tuple[str, ...], Task] = {}
    for task in tasks:
        key: tuple[str, ...] = (
            task.job,
            task.name,
            task.status.value,
            task.when.split(":", maxsplit=1)[0],
        )
        if task.status is Status.HELD_OFF:
            key = (task.job, task.status.value, task.held_off_because.split(":", maxsplit=1)[0])
        if key in found:
            found[key] = _joined(found[key], task)
        else:
            found[key] = task
    return list(found.values())


def _joined(before: Task, task: Task) -> Task:
    """One task of two: each zone's own words first, then what holds for both."""
    both = tuple(each for each in before.materials if each in task.materials)
    own = (*before.materials, *task.materials)
    return replace(
        before,
        zones=tuple(dict.fromkeys((*before.zones, *task.zones))),
        hours=before.hours + task.hours,
        materials=(*dict.fromkeys(each for each in own if each not in both), *both),
        why=_both_whys(before, task),
        urgency=min(before.urgency, task.urgency),
        kept=tuple(dict.fromkeys((*before.kept, *task.kept))),
    )


def _both_whys(before: Task, task: Task) -> str:
    """Both reasons where each names its zone or they are alike; else the first, with its zone."""
    known = _SENTENCE.split(before.why)
    new = [each for each in _SENTENCE.split(task.why) if each not in known]
    told = " ".join((*known, *new))
    if len(told) <= _LONGEST_WHY and all(task.zones[0] in each for each in new):
        return told
    first = before.zones[0]
    return before.why if first in before.why else f"{first}: {before.why}"
