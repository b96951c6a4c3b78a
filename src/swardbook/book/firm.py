"""A firm's own facts: the yard that days begin at, who works how long, and who comes to which lawn.

The yard is a ground of its own, with its place on the globe and its seed shed. All of it is kept in
the grounds it is about, so it goes out and comes in with them.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from swardbook.book.lawns_standing import lawns_that_stand
from swardbook.book.opening import Book
from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.foundation.quantities import read_number
from swardbook.handbook.parameters import value
from swardbook.husbandry.positions import Position
from swardbook.records.lawns import VISIT, YARD, LawnRow

WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
WORKING = WEEKDAYS[:5]
BEGINS = 8.0
"""When a day begins where the yard does not say [h]."""
_CLOCK = re.compile(r"(\d{1,2})(?:[:.h](\d{2}))?")


@dataclass(frozen=True, slots=True)
class Worker:
    """Somebody who goes out.

    Parameters
    ----------
    name : str
        Who.
    hours : float
        Hours out of the yard in a day. [h]
    days : tuple of str
        Weekdays they go out on.
    """

    name: str
    hours: float
    days: tuple[str, ...] = WORKING

    def goes_out_on(self, day: date) -> bool:
        """Tell whether they work on a day."""
        return WEEKDAYS[day.weekday()] in self.days


@dataclass(frozen=True, slots=True)
class Yard:
    """Where days begin and end.

    Parameters
    ----------
    slug, name : str
        The ground it is.
    begins : float
        When a day begins, as hours of the day. [h]
    workers : tuple of Worker
        Who goes out, as far as it was said.
    position : Position or None
        Where it is; None where nobody said.
    """

    slug: str
    name: str
    begins: float
    workers: tuple[Worker, ...]
    position: Position | None


@dataclass(frozen=True, slots=True)
class Comes:
    """Who comes to a lawn, and when somebody may be there.

    Parameters
    ----------
    who : str
        Who comes; empty for nobody.
    days : tuple of str
        Weekdays on which it may be worked on; none for any.
    opens, closes : float or None
        From when and until when, as hours of the day. [h]
    """

    who: str = ""
    days: tuple[str, ...] = ()
    opens: float | None = None
    closes: float | None = None


def yard_of(rows: Iterable[LawnRow]) -> Yard | None:
    """Find the yard among the grounds of a book; None where none is named."""
    for row in rows:
        told = row.told.get(YARD)
        if told and not told.get("ended"):
            workers = tuple(
                Worker(str(name), float(each["hours"]), tuple(each["days"]))
                for name, each in sorted(told.get("workers", {}).items())
            )
            return Yard(
                row.slug, row.name, float(told.get("begins", BEGINS)), workers, position_of(row)
            )
    return None


def position_of(row: LawnRow) -> Position | None:
    """Give where a ground lies, as far as it was looked over."""
    told = (row.summary or {}).get("position")
    return Position(float(told[0]), float(told[1])) if told else None


def comes_of(row: LawnRow) -> Comes:
    """Read who comes to a lawn."""
    told = row.told.get(VISIT, {})
    return Comes(
        str(told.get("who", "")), tuple(told.get("days", ())), told.get("opens"), told.get("closes")
    )


def comes_here(book: Book) -> Comes:
    """Read who comes to the lawn that a book is at."""
    slug, rows = book.store.slug(), book.store.lawns(book.today)
    return next(comes_of(row) for row in rows if row.slug == slug)


def name_yard(book: Book, begins: str = "") -> None:
    """Make a ground the yard; another one that was it is so no longer.

    Parameters
    ----------
    book : Book
        The opened book, at that ground.
    begins : str
        When a day begins, such as 7:30; empty leaves it as it is.

    Raises
    ------
    BadInputError
        If it has zones: a yard is no lawn.
    """
    if book.ground().zones:
        raise BadInputError(
            "the yard", book.ground().site.name, "a ground without zones",
            "Begin one for it: swardbook begin --name 'The yard'.",
        )  # fmt: skip
    slug, at = book.store.slug(), clock_hours(begins, "when a day begins") if begins else None
    before: dict[str, Any] = {}
    with book.store.together():
        for row in book.store.lawns(book.today):
            told = row.told.get(YARD)
            if told and not told.get("ended"):
                before = dict(told)
                if row.slug != slug:
                    book.store.at(row.slug).keep(YARD, "", {"ended": book.today.isoformat()})
        now = {"workers": {}, "begins": BEGINS, **before}
        book.store.keep(YARD, "", now if at is None else {**now, "begins": at})


def set_worker(book: Book, name: str, hours: str = "", days: str = "") -> Worker:
    """Say how long somebody is out in a day, and on which weekdays.

    Parameters
    ----------
    book : Book
        The opened book, at the yard.
    name : str
        Who; as lawns name them.
    hours : str
        Hours in a day; empty takes the usual ones.
    days : str
        Weekdays, apart by commas; empty for Monday to Friday.

    Raises
    ------
    BadInputError
        If the ground is not the yard, nobody is named, or the hours are none.
    UnknownNameError
        If a day is no weekday.
    """
    yard = yard_of(book.store.lawns(book.today))
    if yard is None or yard.slug != book.store.slug():
        raise BadInputError("the yard", book.store.slug(), "the ground that was named the yard")
    if not name.strip():
        raise BadInputError("who", "nothing", "the name of somebody")
    made = Worker(" ".join(name.split()), _hours(hours), weekdays(days) or WORKING)
    [told] = [row.told[YARD] for row in book.store.lawns(book.today) if row.slug == yard.slug]
    workers = {
        each: held for each, held in told.get("workers", {}).items()
        if each.casefold() != made.name.casefold()
    }  # fmt: skip
    workers[made.name] = {"hours": made.hours, "days": list(made.days)}
    book.store.keep(YARD, "", {**told, "workers": workers})
    return made


def say_who_comes(
    book: Book, who: str | None = None, days: str | None = None, between: str | None = None
) -> Comes:
    """Say who comes to a lawn and when it may be worked on; what is not given stays.

    Parameters
    ----------
    book : Book
        The opened book, at the lawn.
    who : str or None
        Who comes; empty for nobody.
    days : str or None
        Weekdays, apart by commas; empty for any.
    between : str or None
        Hours such as 9:00-15:30; empty for any.

    Raises
    ------
    BadInputError
        If the hours cannot be read.
    UnknownNameError
        If a day is no weekday.
    """
    slug = book.store.slug()
    [before] = [comes_of(row) for row in book.store.lawns(book.today) if row.slug == slug]
    opens, closes = (before.opens, before.closes) if between is None else _between(between)
    now = Comes(
        before.who if who is None else " ".join(who.split()),
        before.days if days is None else weekdays(days),
        opens,
        closes,
    )
    told = {"who": now.who, "days": list(now.days), "opens": now.opens, "closes": now.closes}
    if now != before:
        book.store.keep(VISIT, "", told)
    return now


def workers_of(yard: Yard | None, rows: Sequence[LawnRow]) -> tuple[Worker, ...]:
    """List who goes out: those of the yard, and whoever a lawn names, in the order of names."""
    known = {each.name.casefold(): each for each in (yard.workers if yard else ())}
    for row in rows:
        who = comes_of(row).who
        if who and who.casefold() not in known:
            known[who.casefold()] = Worker(who, value("firm_day_hours"))
    return tuple(known[name] for name in sorted(known))


def find_worker(workers: Sequence[Worker], name: str) -> Worker:
    """Find somebody by name.

    Raises
    ------
    UnknownNameError
        If nobody of that name goes out.
    """
    for each in workers:
        if each.name.casefold() == name.strip().casefold():
            return each
    raise UnknownNameError("person", name, [each.name for each in workers])


def rows_seen(book: Book, among: Collection[str] | None) -> tuple[LawnRow, ...]:
    """Read the grounds that whoever asks may see, without those that another stands for."""
    return lawns_that_stand(book.store.lawns(book.today), among)


def weekdays(text: str) -> tuple[str, ...]:
    """Read weekdays, by their first letters too; in the order of the week.

    Raises
    ------
    UnknownNameError
        If one is none.
    """
    found = set()
    for part in filter(None, (each.strip().casefold() for each in re.split(r"[,;\s]+", text))):
        fits = [day for day in WEEKDAYS if len(part) > 1 and day.startswith(part)]
        if len(fits) != 1:
            raise UnknownNameError("weekday", part, WEEKDAYS)
        found.add(fits[0])
    return tuple(day for day in WEEKDAYS if day in found)


def clock_hours(text: str, what: str) -> float:
    """Read a time of the day.

    Returns
    -------
    float
        Hours since midnight. [h]

    Raises
    ------
    BadInputError
        If it is none.
    """
    found = _CLOCK.fullmatch(text.strip())
    hours = int(found[1]) + int(found[2] or 0) / 60 if found else 99.0
    if hours > 24:
        raise BadInputError(what, text, "a time such as 8:30")
    return hours


def clock_words(hours: float) -> str:
    """Say a time of the day, to five minutes.

    Parameters
    ----------
    hours : float
        Hours since midnight. [h]
    """
    minutes = 5 * round(hours * 12)
    return f"{minutes // 60}:{minutes % 60:02d}"


def _hours(text: str) -> float:
    if not text:
        return value("firm_day_hours")
    found = read_number(re.sub(r"\s*h(ours?)?$", "", text.strip()))
    if found is None or not 0.5 <= found <= 16:
        raise BadInputError("hours in a day", text, "0.5 to 16 hours")
    return found


def _between(text: str) -> tuple[float | None, float | None]:
    if not text.strip():
        return None, None
    first, apart, last = re.sub(r"\s*(–|to|and)\s*", "-", text.strip()).partition("-")
    if not apart:
        raise BadInputError("when it is open", text, "two times such as 9:00-15:30")
    opens, closes = clock_hours(first, "when it opens"), clock_hours(last, "when it closes")
    if closes <= opens:
        raise BadInputError("when it is open", text, "a closing time after the opening")
    return opens, closes
