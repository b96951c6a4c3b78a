"""What a letter says of the work: what was done, what comes next, what is not known."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from swardbook.book.better_or_worse import GroundYear, ZoneYear
from swardbook.figures.counts_over_time import ZONE
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.happenings import (
    Count,
    Cut,
    DigClumps,
    Dress,
    Feed,
    Happening,
    Pull,
    Refill,
    Scarify,
    Sow,
    Strip,
    Tine,
    Verticut,
    Water,
)
from swardbook.planning.tasks import Status, Task
from swardbook.review.better_or_worse import Year
from swardbook.review.plain_words import plain_why_not

_DONE: Mapping[type[Happening], str] = {
    Strip: "stripped of its turf", Scarify: "scarified", Tine: "tined", Dress: "top-dressed",
    Sow: "sown", Cut: "cut", Verticut: "verticut", Feed: "fed", Water: "watered",
}  # fmt: skip
_MOST_TASKS = 4
_PLAIN = {"refills, taken or not": "filled holes", ", component by component": ""}


def work_done(entries: Sequence[DiaryEntry], zone: str) -> str:
    """Say in a sentence or two how often each kind of work was done in a zone.

    Parameters
    ----------
    entries : sequence of DiaryEntry
        The entries of the letter's span.
    zone : str
        The zone; empty if nothing is written down for it.
    """
    here = [each for each in entries if each.zone == zone]
    done = [
        f"{word} {_times(n)}" for what, word in _DONE.items() if (n := _days(here, what))
    ]  # fmt: skip
    told = [f"{zone} was {_listed(done)}."] if done else []
    by_hand = [
        (_added(here, Pull, "plants"), "weed was pulled", "weeds were pulled"),
        (_added(here, DigClumps, "clumps"), "clump was dug out", "clumps were dug out"),
        (_added(here, Refill, "holes"), "hole was filled and sown", "holes were filled and sown"),
    ]
    told += [f"{n:,} {one if n == 1 else many}." for n, one, many in by_hand if n]
    if not told:
        return ""
    return " ".join(told) if done else f"{zone}: {' '.join(told)}"


def hours_done(entries: Sequence[DiaryEntry]) -> float | None:
    """Add up the hours that are written down [h]; None where none are."""
    told = [each.hours for each in entries if each.hours is not None]
    return sum(told) if told else None


def initials(entries: Sequence[DiaryEntry]) -> str:
    """Give the people of the entries by the first letters of their names."""
    names = {each.who for each in entries if each.who[:1].isupper()}
    for each in entries:
        if isinstance(each.what, Count):
            names |= {c for place in each.what.places if (c := place.counter)[:1].isupper()}
    marks = {" ".join(f"{part[0]}." for part in name.split() if part[:1].isalpha())
             for name in names}  # fmt: skip
    return _listed(sorted(mark for mark in marks if mark))


def next_steps(
    tasks: Sequence[Task], year: GroundYear, today: date, trials: frozenset[str] = frozenset()
) -> tuple[str, ...]:
    """Say what comes next, each with its month.

    Parameters
    ----------
    tasks : sequence of Task
        The tasks of the week.
    year : GroundYear
        The counts so far.
    today : date
        The day of the letter.
    trials : frozenset of str
        Zones whose counts are a trial's own.
    """
    due = [each for each in tasks if each.status is Status.DUE][:_MOST_TASKS]
    month = f"{today:%B %Y}"
    told = [f"{month}: {_plain(each.name)}. Where: {_some(each.zones)}." for each in due]
    months = _months_of_counts([each for each in year.zones if each.zone not in trials], today)
    if months:
        told.append(f"{_listed(months)}: count the same places again. Let the same person do it.")
    else:
        told.append(f"{month}: count a dozen fixed places, so that next year has a start.")
    return tuple(told)


def not_known(
    year: GroundYear, entries: Sequence[DiaryEntry], most: int = 4
) -> tuple[str, ...]:  # fmt: skip
    """Say what is not known, the zones first."""
    by_why: dict[str, list[str]] = {}
    for each in year.zones:
        if each.word is Year.CANNOT_SAY:
            by_why.setdefault(plain_why_not(each.review), []).append(each.zone)
    told = [
        f"We cannot say how {_some(tuple(zones))} did: {why}." for why, zones in by_why.items()
    ][:most]
    broken = [each.zone for each in year.zones if any("counter" in line for line in each.breaks)]
    if broken:
        told.append(
            f"In {_some(tuple(broken))} someone new took over the count. Counts from before and"
            " after are kept apart."
        )
    undated = sum(each.number for each in entries if not each.when.is_dated)
    if undated:
        jobs = "1 job was" if undated == 1 else f"{undated} jobs were"
        told.append(f"{jobs} written down without the day.")
    without = [each.zone for each in year.zones if each.counts and not each.honest]
    if without:
        told.append(
            f"No ground was left alone in {_some(tuple(without))}. So we do not know what would"
            " have come without the work."
        )
    told.append("One year does not show how much years differ.")
    return tuple(told)


def _months_of_counts(zones: Sequence[ZoneYear], today: date) -> list[str]:
    """Give the months of the coming year in which zones were counted in the past one."""
    seen = {
        count.day for each in zones for count in each.counts
        if count.where == ZONE and 0 <= (today - count.day).days < 365
    }  # fmt: skip
    coming = sorted({(day.year + 1, day.month) for day in seen if (day.year, day.month) !=
                     (today.year - 1, today.month)})  # fmt: skip
    years = list(dict.fromkeys(year for year, _ in coming))
    return [
        f"{_listed([f'{date(year, month, 1):%B}' for of, month in coming if of == year])} {year}"
        for year in years
    ]


def _days(entries: Sequence[DiaryEntry], what: type[Happening]) -> int:
    """Count the days it was done on; an undated entry stands for as many as it says."""
    here = [each for each in entries if isinstance(each.what, what)]
    dated = {each.day for each in here if each.when.is_dated}
    return len(dated) + sum(each.number for each in here if not each.when.is_dated)


def _added(entries: Sequence[DiaryEntry], what: type[Happening], field: str) -> int:
    return sum(getattr(each.what, field) or 0 for each in entries if isinstance(each.what, what))


def _times(n: int) -> str:
    return {1: "once", 2: "twice"}.get(n, f"{n} times")


def _listed(items: Sequence[str]) -> str:
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} and {items[-1]}"


def _some(zones: Sequence[str], most: int = 4) -> str:
    """Name a few zones and count the others."""
    if len(zones) <= most:
        return _listed(zones)
    return f"{', '.join(zones[:most])} and {len(zones) - most} more"


def _plain(name: str) -> str:
    """Say a task's name in words that need no trade."""
    for trade, plain in _PLAIN.items():
        name = name.replace(trade, plain)
    return name if name[1:2].isupper() else name[:1].lower() + name[1:]
