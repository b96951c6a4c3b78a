"""The letter: two sides of paper for an owner, in plain words, with what to leave out chosen."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path

from swardbook.book.better_or_worse import GroundYear, ground_year
from swardbook.book.fields import read_money
from swardbook.book.letter_parts import (
    next_steps,
    not_known,
)
from swardbook.book.letter_sections import (
    ROOMS,
    Room,
    found_out,
    in_short,
    money_section,
    range_pictures,
    work_section,
)
from swardbook.book.opening import Book, for_others
from swardbook.book.pictures import note_of
from swardbook.book.plan import week
from swardbook.book.units import shown_in
from swardbook.book.weather_fetch import credit_note
from swardbook.book.worked_out import Answer, last_answer
from swardbook.feeds.picture_file import check_paper_path, save_pdf
from swardbook.figures.letter_sheet import (
    LetterSheet,
    Section,
    letter_pages,
    letter_pdf,
    pages_of,
)
from swardbook.foundation.dates import read_day
from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.foundation.unit_words import in_words
from swardbook.handbook.species import ANNUAL_MEADOW_GRASS
from swardbook.husbandry.costs import Costs, costs
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Use
from swardbook.observations.samples import Smallest

LEAVE_OUT: Mapping[str, str] = {
    "names": "people, who are only told by their first letters",
    "address": "what the ground is called",
    "costs": "money, planned and spent",
    "hours": "hours of work",
    "pictures": "the two pictures",
}
"""What a letter can do without. Notes of the diary are never in it."""
PLANNED = "planned costs"
MOST_SIDES = 2
_LOOK_BACK = 550
"""Days up to which a letter goes back to the first entry of a book, else a year."""


@dataclass(frozen=True, slots=True)
class Letter:
    """A letter, ready to be read or set.

    Parameters
    ----------
    sheet : LetterSheet
        Its title, sections and pictures, in the units of the book.
    left_out : tuple of str
        What was left out on wish.
    sides : int
        Sides of paper it takes: never more than two.
    first, last : date
        The days it covers.
    costs : Costs or None
        The money; None where it is left out.
    currency : str
        What money is in.
    """

    sheet: LetterSheet
    left_out: tuple[str, ...]
    sides: int
    first: date
    last: date
    costs: Costs | None
    currency: str


@dataclass(frozen=True, slots=True)
class LetterAsked:
    """What a letter is to be about.

    Parameters
    ----------
    leave_out : tuple of str
        Words of `LEAVE_OUT`.
    since : str
        Its first day, as typed; empty goes back to the start of the book, or a year.
    planned : mapping of str to str
        Costs that were planned, by line, as typed; empty takes those kept in the book.
    kind : str
        The weed it judges by, by key.
    """

    leave_out: tuple[str, ...] = ()
    since: str = ""
    planned: Mapping[str, str] | None = None
    kind: str = ANNUAL_MEADOW_GRASS


@for_others()
def write_letter(book: Book, asked: LetterAsked) -> Letter:
    """Write the letter, as long as two sides of A4 can hold.

    Parameters
    ----------
    book : Book
        The opened book.
    asked : LetterAsked
        What to leave out, and from when.

    Raises
    ------
    UnknownNameError
        If something to leave out is none of those there are.
    BadInputError
        If the first day is not before today, or an amount is none.
    NotEnoughDataError
        If the book has no zone.
    """
    left_out = _left_out(asked.leave_out)
    first = _first_day(book, asked.since)
    year = ground_year(book, asked.kind, Smallest.customary())
    entries = [
        each for each in book.ground().diary if first <= each.when.first and each.day <= book.today
    ]
    planned = planned_costs(book, asked.planned)
    money = costs(entries, planned) if "costs" not in left_out else None
    sides, sheet = 0, None
    for room in ROOMS:
        sheet = _sheet(book, year, entries, money, left_out, first, room)
        sides = pages_of(letter_pdf(sheet))
        if sides <= MOST_SIDES:
            break
    assert sheet is not None
    currency = book.ground().site.currency
    return Letter(sheet, left_out, sides, first, book.today, money, currency)


def letter_paper(letter: Letter) -> bytes:
    """Set a letter as a tagged PDF of A4 pages; the same letter gives the same bytes."""
    return letter_pdf(letter.sheet)


def letter_pictures(letter: Letter, dots_per_inch: float = 100) -> list[bytes]:
    """Set a letter as pictures of its pages, one PNG each.

    Parameters
    ----------
    letter : Letter
        The letter.
    dots_per_inch : float
        How fine. [in⁻¹]
    """
    return letter_pages(letter.sheet, dots_per_inch)


def check_letter_place(path: Path) -> None:
    """Refuse a place where no letter should go; see `save_letter`."""
    check_paper_path(path)


def save_letter(path: Path, letter: Letter) -> None:
    """Write a letter to a file.

    Raises
    ------
    BadInputError
        If no PDF should go there.
    StorageError
        If the disk would not take it.
    """
    save_pdf(path, letter_paper(letter))


def planned_costs(book: Book, typed: Mapping[str, str] | None = None) -> dict[str, Decimal]:
    """Give what was planned to be spent, line by line: as typed, or else as kept in the book.

    Raises
    ------
    BadInputError
        If an amount is none.
    """
    kept = None if typed else last_answer(book.ground(), PLANNED)
    said = typed or (kept.answer.given if kept else {})
    amounts = {name.strip(): read_money(amount) for name, amount in said.items()}
    for name, amount in amounts.items():
        if amount is None or not name:
            raise BadInputError(
                "--planned", f"{name}={said.get(name, '')}", "a line and an amount, as seed=524.50"
            )
    return {name: amount for name, amount in amounts.items() if amount is not None}


def planned_answer(planned: Mapping[str, Decimal]) -> Answer:
    """Turn planned costs into an answer that the book can keep."""
    total = sum(planned.values(), Decimal(0))
    return Answer(
        PLANNED, f"{len(planned)} lines, {total:,.2f} in all",
        {name: str(amount) for name, amount in planned.items()},
    )  # fmt: skip


def _left_out(words: Sequence[str]) -> tuple[str, ...]:
    asked = [part.strip().casefold() for word in words for part in word.split(",") if part.strip()]
    for each in asked:
        if each not in LEAVE_OUT:
            raise UnknownNameError("part that can be left out", each, list(LEAVE_OUT))
    return tuple(each for each in LEAVE_OUT if each in asked)


def _first_day(book: Book, since: str) -> date:
    today = book.today
    if since:
        day = read_day(since, today)
        if day >= today:
            raise BadInputError("--since", since, "a day before today")
        return day
    first = min((each.when.first for each in book.ground().diary), default=today)
    return first if (today - first).days <= _LOOK_BACK else today - timedelta(days=365)


def _sheet(
    book: Book, year: GroundYear, entries: list[DiaryEntry], money: Costs | None,
    left_out: tuple[str, ...], first: date, room: Room,
) -> LetterSheet:  # fmt: skip
    site, today = book.ground().site, book.today
    about = "the ground" if "address" in left_out else site.name
    sections = [
        in_short(year, room),
        found_out(year, room),
        work_section(entries, [each.zone for each in year.zones], left_out, room),
        *([money_section(money, site.currency, room)] if money is not None else []),
        Section(
            "What comes next", points=next_steps(week(book).tasks, year, today, _for_trials(book))
        ),
        Section("What we do not know", points=not_known(year, entries, 5 if room.pictures else 2)),
    ]
    pictures = range_pictures(year) if room.pictures and "pictures" not in left_out else ()
    units = shown_in(book.settings, book)
    return LetterSheet(
        f"Letter about {about}",
        f"{_day(today)}. It covers {_day(first)} to {_day(today)}.",
        tuple(each.said(lambda text: in_words(text, units)) for each in sections),
        pictures,
        " ".join(
            filter(None, (note_of(book), credit_note(book), "Nothing in this letter is a promise."))
        ),
        room.points,
    )


def _for_trials(book: Book) -> frozenset[str]:
    """Name the zones that mixtures are tried in; their counts are the trial's own."""
    return frozenset(each.name for each in book.ground().zones if each.use is Use.TRIAL)


def _day(day: date) -> str:
    return f"{day.day} {day:%B %Y}"
