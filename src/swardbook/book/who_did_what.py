"""Who saw and did what: written down beside what is done, shown to owners."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from swardbook.book.letting_days import WHO_SAW, days
from swardbook.book.opening import Book
from swardbook.records import acting, beside, happened
from swardbook.records.beside import DoneMark, SawMark, SeenMark
from swardbook.records.fingerprints import fingerprint
from swardbook.records.happened import Happened, Saw

EXPORTED, LETTER, SET = happened.EXPORTED, happened.LETTER, happened.SET
acting_as = acting.acting_as
"""Lets what is done inside be told of somebody."""
wait_for_marks = beside.wait_for_marks

_LONGEST_WAIT = 5.0
"""How long what goes out waits for its line; a full disk keeps nobody's book in [s]."""
MOST = 100
"""Lines that are shown at once."""


@dataclass(frozen=True, slots=True)
class WhoDidWhat:
    """The record of people of a ground, or a part of it.

    Parameters
    ----------
    done : tuple of Happened
        What was done, the newest first.
    earlier : int
        By which number the part before is asked for; 0 where there is none.
    saw : tuple of Saw
        Who opened pages with personal data, the newest day first.
    kept_days : int
        For how many days that is kept. [d]
    """

    done: tuple[Happened, ...]
    earlier: int
    saw: tuple[Saw, ...]
    kept_days: int


def who_did_what(book: Book, before: int = 0, most: int = MOST) -> WhoDidWhat:
    """Give the record of people of the ground.

    Parameters
    ----------
    book : Book
        The opened book.
    before : int
        Number before which; 0 for the newest.
    most : int
        How many lines.
    """
    record = book.store.people().record()
    found = record.latest(most + 1, before)
    shown = found[:most]
    return WhoDidWhat(
        tuple(each for _, each in shown), shown[-1][0] if len(found) > most else 0,
        record.saw(most), days(book, WHO_SAW).days,
    )  # fmt: skip


def tell_written(book: Book, what: str, about: str = "") -> None:
    """Write down what is done with the book, where it has people; inside what is written anyway."""
    if book.store.people().has_owner():
        book.store.people().record().add(what, about=about)


def tell_done(book: Book, what: str, about: str = "") -> None:
    """Write down what was taken out by looking, before it goes out; where the book has people.

    Parameters
    ----------
    book : Book
        The opened book.
    what, about : str
        What, without anything secret.
    """
    there, acts = book.store.people(), acting.who_acts()
    if not there.has_owner():
        return
    mark = DoneMark(there.key(), acts.person, acts.by, what, about)
    beside.put(book.settings, mark)
    wait_for_marks(_LONGEST_WAIT)


def tell_saw(book: Book, person: int, what: str, now: datetime) -> None:
    """Write down that somebody opened pages with personal data today, beside the page.

    Parameters
    ----------
    book : Book
        The opened book, at its ground.
    person : int
        Who, by their number.
    what : str
        Which pages.
    now : datetime
        The time.
    """
    day = now.date()
    until = day + days(book, WHO_SAW)
    beside.put(book.settings, SawMark(book.store.people().key(), person, day, what, until))


def tell_seen(book: Book, token: str, now: datetime) -> None:
    """Write down that something was asked by a log-in today, beside the page."""
    beside.put(book.settings, SeenMark(fingerprint(token), now.date()))
