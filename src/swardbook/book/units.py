"""The units that a book is shown in; the environment wins over the book."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from swardbook.foundation.units import COMMA, System, Units, read_units
from swardbook.records.peek import peek_at_site

if TYPE_CHECKING:
    from swardbook.book.opening import Book
    from swardbook.settings import Settings


def shown_in(settings: Settings, book: Book | None = None) -> Units:
    """Give the units to show quantities in.

    Parameters
    ----------
    settings : Settings
        What the environment says.
    book : Book or None
        The opened book; none: its file is only looked at.

    Raises
    ------
    BadInputError
        If a word is none of those known.
    """
    if settings.units and settings.decimal_mark:
        return read_units(settings.units, settings.decimal_mark)
    if book is not None:
        site = book.store.site()
        system, mark = (site.units, site.decimal_mark) if site is not None else (None, None)
    elif settings.database:
        system, mark = None, None
    else:
        there = peek_at_site(settings.book_file, settings.ground)
        system, mark = there.get("units"), there.get("decimal_mark")
    return read_units(settings.units or system or "", settings.decimal_mark or mark or "")


def choose_units(book: Book, units: str, decimal_mark: str) -> Units:
    """Keep in the book what it is shown in; what is empty stays as it was.

    Raises
    ------
    BadInputError
        If a word is none of those known.
    """
    site = book.ground().site
    chosen = replace(
        site,
        units=units_word(units) if units else site.units,
        decimal_mark=mark_word(decimal_mark) if decimal_mark else site.decimal_mark,
    )
    if chosen != site:
        from swardbook.book.who_did_what import SET, tell_written

        book.store.save_site(chosen, on=book.today, reason="What quantities are shown in.")
        tell_written(book, SET, "units and decimal mark")
    return shown_in(book.settings, book)


def units_word(text: str) -> str | None:
    """Give the word by which the units are kept; none if nothing was said.

    Raises
    ------
    BadInputError
        If it is none of those known.
    """
    return read_units(text).system.value if text else None


def mark_word(text: str) -> str | None:
    """Give the word by which the decimal mark is kept; none if nothing was said.

    Raises
    ------
    BadInputError
        If it is neither point nor comma.
    """
    if not text:
        return None
    return "comma" if read_units(System.METRIC, text).decimal_mark == COMMA else "point"
