"""Cells of a weather-station file: dates and numbers in the ways people write them."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise
from math import isfinite

from swardbook.foundation.dates import MONTHS, say
from swardbook.foundation.errors import BadInputError

MISSING = {
    "", "-", "--", "---", "–", "—", ".", "?", "na", "n/a", "#n/a", "nan", "null", "none",
    "missing", "m", "x",
}  # fmt: skip
TRACE = {"tr", "t", "trace", "tr."}
DATES = "2024-03-14, 14/03/2024, 14.3.2024 or 14 Mar 2024"

_NUMBER = re.compile(r"[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:e[+-]?\d+)?")
_ISO = re.compile(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[t ].*)?")
_COMPACT = re.compile(r"(\d{4})(\d{2})(\d{2})")
_NUMBERS = re.compile(r"(\d{1,2})[-/. ](\d{1,2})[-/. ](\d{4}|\d{2})(?:[t ].*)?")
_NAMED = re.compile(
    r"(?:[a-z]{3,9},? )?(\d{1,2})(?:st|nd|rd|th)?[- ]([a-z]{3,9})\.?[- ,]+(\d{4}|\d{2})"
)
_NAMED_FIRST = re.compile(r"(?:[a-z]{3,9},? )?([a-z]{3,9})\.? (\d{1,2})(?:st|nd|rd|th)?,? (\d{4})")


@dataclass(frozen=True, slots=True)
class Cell:
    """One number read: its value (not a number where missing) and how it was written."""

    value: float
    is_trace: bool = False
    has_comma: bool = False


def read_cell(text: str) -> Cell | None:
    """Read one number.

    Parameters
    ----------
    text : str
        The cell; a decimal comma, a sign for missing and a trace of rain are understood.

    Returns
    -------
    Cell or None
        None if it is none of these.
    """
    plain = text.strip().lower().replace("−", "-")
    if plain in MISSING:
        return Cell(float("nan"))
    if plain in TRACE or re.fullmatch(r"<\s*[\d.,]+", plain):
        return Cell(0.0, is_trace=True)
    if not _NUMBER.fullmatch(plain):
        return None
    number = float(plain.replace(",", "."))
    return Cell(number, has_comma="," in plain) if isfinite(number) else None


@dataclass(frozen=True, slots=True)
class DatesRead:
    """Dates of a file; None where a cell is no date."""

    days: tuple[date | None, ...]
    notes: tuple[str, ...]


def read_dates(texts: Sequence[str], name: str) -> DatesRead:
    """Read a column of dates, the order of day and month settled over all of them.

    Parameters
    ----------
    texts : sequence of str
        The cells.
    name : str
        The file, for messages.

    Returns
    -------
    DatesRead
        The days, and how numbers with strokes were read.

    Raises
    ------
    BadInputError
        If some dates can only be day first and others only month first.
    """
    plain = [" ".join(text.strip().lower().split()) for text in texts]
    numbers = [_NUMBERS.fullmatch(text) for text in plain]
    strokes = [(int(found[1]), int(found[2]), _year(found[3])) for found in numbers if found]
    day_first, note = _order(strokes, name) if strokes else (True, "")
    days = [
        _stroke(found, day_first=day_first) if found else _worded(text)
        for text, found in zip(plain, numbers, strict=True)
    ]
    return DatesRead(tuple(days), (note,) if note else ())


def _order(strokes: list[tuple[int, int, int]], name: str) -> tuple[bool, str]:
    only_day = [each for each in strokes if each[0] > 12 >= each[1]]
    only_month = [each for each in strokes if each[1] > 12 >= each[0]]
    if only_day and only_month:
        one, other = only_day[0], only_month[0]
        raise BadInputError(
            f"the dates of {name}",
            f"{one[0]}/{one[1]}/{one[2]} and {other[0]}/{other[1]}/{other[2]}",
            DATES,
            "One can only be day first, the other only month first.",
        )
    if only_day:
        return True, f"Dates were read day first: {_example(strokes, day_first=True)}."
    if only_month:
        return False, f"Dates were read month first: {_example(strokes, day_first=False)}."
    broken = {first: _breaks(strokes, day_first=first) for first in (True, False)}
    day_first = broken[True] <= broken[False]
    why = (
        "nothing in the file settles it" if broken[True] == broken[False]
        else "so the days follow each other"
    )  # fmt: skip
    order = "day" if day_first else "month"
    said = _example(strokes, day_first=day_first)
    return day_first, f"Dates could be day first or month first; read {order} first, {why}: {said}."


def _breaks(strokes: list[tuple[int, int, int]], *, day_first: bool) -> int:
    days = sorted({_date(y, b, a) if day_first else _date(y, a, b) for a, b, y in strokes} - {None},
                  key=lambda day: day or date.min)  # fmt: skip
    known = [day for day in days if day is not None]
    return sum((later - day).days != 1 for day, later in pairwise(known))


def _example(strokes: list[tuple[int, int, int]], *, day_first: bool) -> str:
    for a, b, year in strokes:
        day = _date(year, b, a) if day_first else _date(year, a, b)
        if day is not None and a != b:
            return f"{a}/{b}/{year} is {say(day)}"
    return "14/3/2024 is 14 March"


def _stroke(found: re.Match[str], *, day_first: bool) -> date | None:
    first, second, year = int(found[1]), int(found[2]), _year(found[3])
    return _date(year, second, first) if day_first else _date(year, first, second)


def _worded(text: str) -> date | None:
    if found := _ISO.fullmatch(text) or _COMPACT.fullmatch(text):
        return _date(int(found[1]), int(found[2]), int(found[3]))
    if found := _NAMED.fullmatch(text):
        return _date(_year(found[3]), _month(found[2]), int(found[1]))
    if found := _NAMED_FIRST.fullmatch(text):
        return _date(_year(found[3]), _month(found[1]), int(found[2]))
    return None


def _month(word: str) -> int:
    matches = [n for n, name in enumerate(MONTHS, 1) if name.startswith(word[:4])]
    return matches[0] if len(matches) == 1 else 9 if word == "sept" else 0


def _year(text: str) -> int:
    year = int(text)
    if len(text) == 4:
        return year
    return year + (1900 if year >= 70 else 2000)


def _date(year: int, month: int, day: int) -> date | None:
    if not 1700 <= year <= 2200:
        return None
    try:
        return date(year, month, day)
    except ValueError:
        return None
