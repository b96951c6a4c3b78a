"""Somebody's week over all lawns as a sheet to print."""

from __future__ import annotations

from pathlib import Path

from swardbook.book.firm_week import Call, FirmWeek, PersonDay
from swardbook.book.firm_words import (
    call_words,
    cautions_of_day,
    day_words,
    firm_notes,
    head_of,
    job_words,
    left_words,
    wash_words,
)
from swardbook.book.opening import Book
from swardbook.feeds.picture_file import check_paper_path, save_pdf
from swardbook.figures.week_sheet import LawnRow, SheetDay, WeekSheet, week_pdf
from swardbook.foundation.dates import say


def week_sheet(found: FirmWeek, book: Book) -> WeekSheet:
    """Put the week of the one person it was asked for in words.

    Parameters
    ----------
    found : FirmWeek
        The week, of one person.
    book : Book
        The opened book, for the foot of the sheet.
    """
    [own] = found.people
    waits = (f"{lawn}: {job_words(job)}." for lawn, job in own.only_waits)
    made_up = "Made-up ground. " if book.is_made_up else ""
    return WeekSheet(
        own.worker.name,
        tuple(_day(each) for each in own.days if each.calls),
        (*left_words(own), *waits),
        firm_notes(found),
        f"{made_up}For the week from {say(found.today)}.",
    )


def week_paper(found: FirmWeek, book: Book) -> bytes:
    """Set the week of one person as a tagged PDF."""
    return week_pdf(week_sheet(found, book))


def check_week_place(path: Path) -> None:
    """Refuse a place where no paper should go, before it is set."""
    check_paper_path(path)


def save_week(path: Path, found: FirmWeek, book: Book) -> None:
    """Write the sheet to a file.

    Raises
    ------
    BadInputError
        If no PDF should go there.
    StorageError
        If the disk would not take it.
    """
    save_pdf(path, week_paper(found, book))


def _day(day: PersonDay) -> SheetDay:
    return SheetDay(
        head_of(day), f"{day_words(day)}.", tuple(map(_lawn, day.calls)), cautions_of_day(day)
    )


def _lawn(call: Call) -> LawnRow:
    jobs = tuple((job.status.value, f"{job_words(job)}.") for job in (*call.jobs, *call.waits))
    takes = dict.fromkeys(each for job in call.jobs for each in job.takes)
    return LawnRow(call.name, f"{call_words(call)}.", wash_words(call), jobs, "; ".join(takes))
