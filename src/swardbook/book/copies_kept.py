"""Which copies stay: the newest of each of the last days, weeks and months that have one."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass
from datetime import date

from swardbook.foundation.errors import BadInputError
from swardbook.handbook.parameters import value


@dataclass(frozen=True, slots=True)
class Kept:
    """How many copies stay.

    Parameters
    ----------
    days, weeks, months : int
        Of so many days, weeks and months that have copies the newest of each stays.
    """

    days: int
    weeks: int
    months: int


def read_kept(text: str = "") -> Kept:
    """Read ``7,5,12`` as days, weeks and months; nothing: as the handbook says.

    Raises
    ------
    BadInputError
        If it is not three whole numbers, the first at least 1.
    """
    if not text.strip():
        names = ("copies_kept_days", "copies_kept_weeks", "copies_kept_months")
        return Kept(*(round(value(name)) for name in names))
    parts = [part.strip() for part in text.replace(";", ",").split(",")]
    if len(parts) != 3 or not all(part.isdecimal() for part in parts) or int(parts[0]) < 1:
        raise BadInputError(
            "SWARDBOOK_COPIES_KEPT", text,
            "three whole numbers: of how many days (1 or more), weeks and months, such as 7,5,12",
        )  # fmt: skip
    return Kept(*map(int, parts))


def staying(days: Sequence[date], kept: Kept) -> tuple[int, ...]:
    """Choose which of the copies stay.

    Parameters
    ----------
    days : sequence of date
        The day of each copy, oldest first.
    kept : Kept
        How many stay.

    Returns
    -------
    tuple of int
        Places of those that stay, ascending; the newest always does.
    """
    stay: set[int] = set()
    for many, span in (
        (kept.days, _day), (kept.weeks, _week), (kept.months, _month),
    ):  # fmt: skip
        newest = {span(day): place for place, day in enumerate(days)}
        stay |= set(sorted(newest.values())[len(newest) - min(many, len(newest)) :])
    return tuple(sorted(stay))


_Span = Callable[[date], Hashable]


def _day(day: date) -> Hashable:
    return day


def _week(day: date) -> Hashable:
    return day.isocalendar()[:2]


def _month(day: date) -> Hashable:
    return day.year, day.month
