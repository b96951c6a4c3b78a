"""Dates of an old file: years carried down, the order of day and month settled over all rows."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date

from swardbook.feeds.station_values import read_dates
from swardbook.foundation.dates import say
from swardbook.foundation.errors import BadInputError

DITTO = {'"', "''", "”", "“", "〃", "do", "do.", "ditto", ",,", '" "', "-''-", '-"-', "as above"}
"""Marks for "as in the row above"."""
_WEEKDAY = re.compile(
    r"^(?:mon|tue|tues|wed|wednes|thu|thur|thurs|fri|sat|satur|sun)(?:day)?\.?,?\s+"
)
_NO_YEAR = re.compile(
    r"\d{1,2}[/.-]\d{1,2}|\d{1,2}(?:st|nd|rd|th)? ?[a-z]{3,9}\.?"
    r"|[a-z]{3,9}\.? \d{1,2}(?:st|nd|rd|th)?"
)
_YEAR = re.compile(r"(?:19|20)\d{2}")


def settle_dates(
    texts: Sequence[str], name: str
) -> tuple[tuple[tuple[str, str], ...], tuple[str, ...]]:
    """Read the dates of a file, row by row.

    Parameters
    ----------
    texts : sequence of str
        The cells; one without a year takes that of the row before.
    name : str
        The file, for messages.

    Returns
    -------
    tuple
        For each row the day as ISO text, or the cell as it came where it is none, with what was
        guessed; and how the whole was read.
    """
    plain, guesses = _with_years(texts)
    notes: tuple[str, ...] = ()
    try:
        found = read_dates(plain, name)
        days, notes = found.days, found.notes
    except BadInputError as slip:
        days = tuple(_only_way(text) for text in plain)
        notes = (f"{slip.hint} Dates that could be either are parked.",)
    settled = []
    for text, day, guess in zip(texts, days, guesses, strict=True):
        told = guess if day is not None else ""
        if day is not None and not told and _has_short_year(text):
            told = f"date {text}: read as {say(day)}"
        settled.append((day.isoformat() if day is not None else text.strip(), told))
    return tuple(settled), notes


def _with_years(texts: Sequence[str]) -> tuple[list[str], list[str]]:
    plain, guesses = [], []
    year = ""
    later = next((found for text in texts if (found := _year_in(text.lower().strip()))), "")
    for text in texts:
        words = _WEEKDAY.sub("", " ".join(text.lower().replace("'", " ").split()))
        words = re.sub(r"(\d)(st|nd|rd|th)? of ", r"\1 ", words)
        guess = ""
        if _NO_YEAR.fullmatch(words) and (year := year or later):
            stroke = re.fullmatch(r"\d{1,2}[/.-]\d{1,2}", words)
            words = f"{words}/{year}".replace(".", "/").replace("-", "/") if stroke else (
                f"{words} {year}"
            )  # fmt: skip
            guess = f"date {text.strip()}: no year, read as {year}, that of the rows around"
        else:
            year = _year_in(words) or year
        plain.append(words)
        guesses.append(guess)
    return plain, guesses


def _year_in(words: str) -> str:
    """Give the year of a date in words or figures, of four figures; empty if it has none."""
    if found := _YEAR.search(words):
        return found[0]
    found = None if _NO_YEAR.fullmatch(words) else re.search(r"[/. '-](\d{2})$", words)
    return str(int(found[1]) + (1900 if int(found[1]) >= 70 else 2000)) if found else ""


def _only_way(text: str) -> date | None:
    """Read a date in a file that mixes orders, if it can be read in one way alone."""
    stroke = re.fullmatch(r"(\d{1,2})[-/. ](\d{1,2})[-/. ](?:\d{4}|\d{2})", text)
    if stroke and int(stroke[1]) <= 12 and int(stroke[2]) <= 12 and stroke[1] != stroke[2]:
        return None
    return read_dates([text], "the row").days[0]


def _has_short_year(text: str) -> bool:
    return bool(re.search(r"[/. '-]\d{2}\s*$", text)) and not _YEAR.search(text)
