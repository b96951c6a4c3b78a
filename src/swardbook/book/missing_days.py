"""Name the days that the weather lacks, wherever an answer falls short for want of them."""

from __future__ import annotations

from swardbook.book.opening import Book
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.weather.stretches import say_spells


def with_missing_days(refusal: NotEnoughDataError, book: Book) -> NotEnoughDataError:
    """Give a refusal for want of weather with the days that are missing; any other as it is.

    Parameters
    ----------
    refusal : NotEnoughDataError
        What was refused.
    book : Book
        The opened book.
    """
    if "weather" not in f"{refusal.question} {refusal.needed} {refusal.found}":
        return refusal
    missing = say_spells(book.missing_weather())
    if not missing or missing in refusal.found:
        return refusal
    found = f"{refusal.found}, after days that are missing: {missing}"
    return NotEnoughDataError(refusal.question, refusal.needed, found)
