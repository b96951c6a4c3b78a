"""All grounds of a book side by side: which needs a look, which is silent, what is due next.

A listing reads one row for each ground. What takes a whole look at a ground, its stage, what needs
a look and the next thing due, is remembered from when that look was taken, and says so when
something was written since or the day has gone on.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import Any

from swardbook.book.lawn_summary import summary_of
from swardbook.book.lawns_standing import bring_over, lawns_that_stand
from swardbook.book.opening import Book, Clock, at_ground
from swardbook.foundation.dates import say
from swardbook.foundation.errors import SwardbookError
from swardbook.husbandry.stage import Stage
from swardbook.records.lawns import VISIT, LawnRow
from swardbook.review.standing_out import drawn_in

WAITS = "not looked at yet"
_FIRST = (
    Stage.SLIPPING, Stage.CLEARED, Stage.SOWN, Stage.SHOWING, Stage.KNITTING, Stage.SURVEYED,
    Stage.SETTLED,
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Lawn:
    """One ground among all.

    Parameters
    ----------
    slug, name : str
        Its names.
    stages : tuple of str
        The stages its zones are at, the one that wants most care first.
    entries : int
        Entries in its diary.
    last_day : date or None
        The latest day that something happened on.
    silent_days : int or None
        Days since then. [d]
    to_look : int or None
        Things that need a look; none where it was never looked over.
    marked : int
        Entries among them.
    standing : int
        Entries that stood when it was looked over.
    share : float
        Marked entries of those, drawn towards the share of all: what it is sorted by. [-]
    next_due : str
        The next thing due; empty if nothing is.
    next_zone : str
        Where.
    fault : str
        Why it could not be looked over; empty if it could.
    looked_on : date or None
        The day that stages, looks and next thing are for.
    not_of_now : str
        Why they may no longer hold; empty where they do.
    who : str
        Who comes there; empty where nobody is named.
    """

    slug: str
    name: str
    stages: tuple[str, ...]
    entries: int
    last_day: date | None
    silent_days: int | None
    to_look: int | None
    marked: int
    standing: int
    share: float
    next_due: str
    next_zone: str
    fault: str
    looked_on: date | None
    not_of_now: str
    who: str = ""


@dataclass(frozen=True, slots=True)
class AllLawns:
    """All grounds of a book, that which most needs a look first.

    Parameters
    ----------
    today : date
        The day.
    lawns : tuple of Lawn
        The grounds.
    share : float
        Share of all entries that need a look. [-]
    """

    today: date
    lawns: tuple[Lawn, ...]
    share: float

    @property
    def stale(self) -> int:
        """How many were looked over before something was written, on another day, or never."""
        return sum(bool(each.not_of_now) for each in self.lawns)


def all_lawns(book: Book) -> AllLawns:
    """List all grounds of a book, that which most needs a look first.

    Lawns are sorted by the share of entries that need a look, drawn in so that a lawn with few
    entries comes neither first nor last for that; then by days of silence. A lawn that could not
    be looked over comes before all. The number of questions to the database is always the same.

    Parameters
    ----------
    book : Book
        Any ground of the book, opened.
    """
    rows = lawns_that_stand(book.store.lawns(book.today))
    marks = [_whole(row, "marked") for row in rows]
    among = [_whole(row, "entries") for row in rows]
    shares = drawn_in(marks, among)
    lawns = [_lawn(row, share, book.today) for row, share in zip(rows, shares, strict=True)]
    lawns.sort(key=lambda each: (not each.fault, -each.share, -(each.silent_days or 0), each.slug))
    whole = sum(among)
    return AllLawns(book.today, tuple(lawns), sum(marks) / whole if whole else 0.0)


def look_over_lawns(
    book: Book, clock: Clock, *, all_anew: bool = False, tell: Callable[[str], None] | None = None
) -> AllLawns:
    """Look over each lawn whose summary no longer holds, and list all.

    Parameters
    ----------
    book : Book
        Any ground of the book, opened.
    clock : function
        The day.
    all_anew : bool
        Whether those whose summary holds are looked over too.
    tell : function or None
        Told each lawn's name.
    """
    bring_over(book)
    for row in book.store.lawns(book.today):
        if all_anew or _not_of_now(row, book.today):
            if tell is not None:
                tell(row.name)
            remember_lawn(at_ground(book, row.slug, clock, book.today))
    return all_lawns(book)


def remember_lawn(book: Book) -> None:
    """Take a whole look at one ground and remember it for the listing.

    A ground that cannot be read is remembered with the reason, so that it stops no other.
    """
    writes = book.store.writes()
    book.store.remember(_looked_over(book), book.today, writes)


def remember_if_written(book: Book, before: int) -> bool:
    """Take that look where something was written in a book of several grounds.

    Parameters
    ----------
    book : Book
        The opened book.
    before : int
        The store's count of writes from before.
    """
    if book.store.writes() == before or len(book.store.grounds()) == 1:
        return False
    remember_lawn(book)
    bring_over(book, book.store.slug())
    return True


def _looked_over(book: Book) -> dict[str, Any]:
    try:
        return summary_of(book)
    except SwardbookError as slip:
        return {"fault": str(slip)}


def _whole(row: LawnRow, name: str) -> int:
    found = (row.summary or {}).get(name)
    return found if isinstance(found, int) else 0


def _lawn(row: LawnRow, share: float, today: date) -> Lawn:
    held = row.summary or {}
    told = held.get("stages", {})
    stages = [each.value for each in _FIRST if each.value in told.values()]
    return Lawn(
        slug=row.slug,
        name=row.name,
        stages=tuple(stages),
        entries=row.entries,
        last_day=row.last_day,
        silent_days=None if row.last_day is None else (today - row.last_day).days,
        to_look=held.get("to_look"),
        marked=_whole(row, "marked"),
        standing=_whole(row, "entries"),
        share=share,
        next_due=held.get("next_due", ""),
        next_zone=held.get("next_zone", ""),
        fault=held.get("fault", ""),
        looked_on=row.made_for,
        not_of_now=_not_of_now(row, today),
        who=str(row.told.get(VISIT, {}).get("who", "")),
    )


def _not_of_now(row: LawnRow, today: date) -> str:
    if row.summary is None or row.made_for is None:
        return WAITS
    if row.is_written_since:
        return f"written in since it was looked over for {say(row.made_for)}"
    return "" if row.made_for == today else f"looked over for {say(row.made_for)}"
