"""Days, seasons and dates in words."""

from __future__ import annotations

import re
from calendar import isleap, monthrange
from dataclasses import dataclass
from datetime import date, timedelta

from swardbook.foundation.errors import BadInputError

MONTHS = (
    "january", "february", "march", "april", "may", "june",
    "july", "august", "september", "october", "november", "december",
)  # fmt: skip
WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
UNDERSTOOD = (
    "2011-10-08, 8 October 2011, 8 Oct, 8/10/2011 (day first), today, yesterday, last saturday"
)
YEARS = range(1900, 2200)
"""Years a person can mean; outside them sums of days run out of the calendar."""
_NO_SUCH_DAY = "There is no such day. Is the number of the day or the month right?"
_ABOUT_DAYS = 2
"""Days either side that "about 3 May" may mean."""
_PARTS = {"early": (1, 10), "mid": (11, 20), "late": (21, 31)}


@dataclass(frozen=True, slots=True, order=True)
class When:
    """The day or days on which something happened, and the words it was given in.

    A dated thing has ``first == last``. "About mid-July" has a span and stays undated in every
    sum that needs a day.
    """

    first: date
    last: date
    words: str = ""

    @classmethod
    def on(cls, day: date) -> When:
        """Build the plain case: one known day."""
        return cls(day, day)

    @property
    def is_dated(self) -> bool:
        """Whether the day is known."""
        return self.first == self.last

    @property
    def day(self) -> date:
        """The known day, or the middle of the span."""
        return self.first + (self.last - self.first) // 2


def say(day: date) -> str:
    """Write a day with its month as a word, such as ``Sat 8 October 2011``."""
    return f"{day:%a} {day.day} {day:%B} {day.year}"


def days_between(first: date, last: date) -> list[date]:
    """List the days from `first` to `last`, both included."""
    return [first + timedelta(days=n) for n in range((last - first).days + 1)]


def is_southern(latitude: float) -> bool:
    """Tell whether a latitude [°] has its summer around the turn of the year."""
    return latitude < 0


def season_day(day: date, latitude: float) -> int:
    """Day of the year as the north would number it: the south is moved by half a year.

    Parameters
    ----------
    day : date
        The day.
    latitude : float
        Latitude, south negative. [°]

    Returns
    -------
    int
        1 to 366; about 172 at midsummer in either hemisphere.
    """
    moved = day + _moved(latitude)
    return moved.toordinal() - date(moved.year, 1, 1).toordinal() + 1


def season_day_until(day: date, wanted: int, latitude: float) -> date:
    """Find the latest day, up to and with a day, that has a season day.

    Parameters
    ----------
    day : date
        The day.
    wanted : int
        The season day, 1 to 366; see `season_day`.
    latitude : float
        Latitude, south negative. [°]
    """
    return _found(day, wanted, latitude, -1)


def season_day_from(day: date, wanted: int, latitude: float) -> date:
    """Find the first day, from and with a day, that has a season day; as `season_day_until`."""
    return _found(day, wanted, latitude, 1)


def _found(day: date, wanted: int, latitude: float, step: int) -> date:
    moved = day + _moved(latitude)
    for year in range(moved.year, moved.year + 9 * step, step):  # a 366th may be eight years off
        found = date(year, 1, 1) + timedelta(days=wanted - 1)
        if found.year == year and (found - moved).days * step >= 0:
            return found - _moved(latitude)
    raise ValueError(f"no day of a year: {wanted}")


def _moved(latitude: float) -> timedelta:
    return timedelta(days=182 if is_southern(latitude) else 0)


def month_here(month: int, latitude: float) -> str:
    """Name the month of the same season: the south is half a year on from a northern month.

    Parameters
    ----------
    month : int
        The month in the north, 1 to 12.
    latitude : float
        Latitude, south negative. [°]

    Returns
    -------
    str
        Such as ``October``, which is ``April`` in the south.
    """
    moved = (month + 5) % 12 + 1 if is_southern(latitude) else month
    return f"{date(2000, moved, 1):%B}"


def same_season(one: date, other: date, within_days: float) -> bool:
    """Tell whether two days stand in the same season of any years, within a number of days."""
    first, second = (day.replace(year=2000).timetuple().tm_yday for day in (one, other))
    apart = abs(first - second)
    return min(apart, 366 - apart) <= within_days


def read_day(words: str, today: date) -> date:
    """Read one day from what a person types.

    Parameters
    ----------
    words : str
        A date; numbers with strokes are read day first.
    today : date
        The day that ``today`` means; a date without a year is its latest past occurrence.

    Raises
    ------
    BadInputError
        If the words are no date.
    """
    text = " ".join(words.strip().lower().replace(",", " ").split())
    for reader in (_named_day, _iso_day, _stroke_day, _month_day):
        try:
            day = reader(text, today)
        except (ValueError, OverflowError) as slip:
            raise BadInputError("the date", words, UNDERSTOOD, _NO_SUCH_DAY) from slip
        if day is not None and day.year in YEARS:
            return day
        if day is not None:
            allowed = f"a year from {YEARS.start} to {YEARS.stop - 1}"
            raise BadInputError("the date", words, allowed, "Is the year right?")
    raise BadInputError("the date", words, UNDERSTOOD)


def read_when(words: str, today: date) -> When:
    """Read a day, or a span such as ``about mid-July``, ``early March 2011`` or ``in June``.

    Raises
    ------
    BadInputError
        If the words are neither.
    """
    text = " ".join(words.strip().lower().replace(",", " ").split())
    vague = re.match(r"(?:about|around|circa|c\.?) ", text)
    bare = text[vague.end() :] if vague else text
    found = re.fullmatch(r"(?:in )?(?:(early|mid|late)[ -])?([a-z]{3,9})(?: (\d{4}))?", bare)
    month = _month(found[2]) if found else None
    if found is None or month is None:
        day = read_day(bare, today)
        near = timedelta(days=_ABOUT_DAYS if vague else 0)
        return When(day - near, min(day + near, max(day, today)), words.strip() if vague else "")
    low, high = _PARTS.get(found[1] or "", (1, 31))
    year = int(found[3]) if found[3] else _latest_year(month, low, today)
    try:
        last = date(year, month, min(high, monthrange(year, month)[1]))
        return When(date(year, month, low), last, words.strip())
    except ValueError as slip:
        raise BadInputError("the date", words, UNDERSTOOD, _NO_SUCH_DAY) from slip


def _month(word: str) -> int | None:
    matches = [n for n, name in enumerate(MONTHS, 1) if len(word) >= 3 and name.startswith(word)]
    return matches[0] if len(matches) == 1 else None


def _latest_year(month: int, day: int, today: date) -> int:
    year = today.year if (month, day) <= (today.month, today.day) else today.year - 1
    while (month, day) == (2, 29) and not isleap(year):
        year -= 1
    return year


def _named_day(text: str, today: date) -> date | None:
    ago = re.fullmatch(r"(a|\d+) (day|week)s? ago", text)
    if ago:
        number = 1 if ago[1] == "a" else int(ago[1])
        return today - timedelta(days=number * (7 if ago[2] == "week" else 1))
    fixed = {"today": 0, "yesterday": 1, "day before yesterday": 2, "tomorrow": -1}
    if text in fixed:
        return today - timedelta(days=fixed[text])
    found = re.fullmatch(r"(last |on |this )?([a-z]+)", text)
    if found is None:
        return None
    matches = [
        n for n, name in enumerate(WEEKDAYS) if len(found[2]) >= 3 and name.startswith(found[2])
    ]
    if len(matches) != 1:
        return None
    back = (today.weekday() - matches[0]) % 7
    return today - timedelta(days=back or (7 if found[1] == "last " else 0))


def _iso_day(text: str, _today: date) -> date | None:
    found = re.fullmatch(r"(\d{4})-(\d{1,2})-(\d{1,2})", text)
    return date(int(found[1]), int(found[2]), int(found[3])) if found else None


def _stroke_day(text: str, today: date) -> date | None:
    found = re.fullmatch(r"(\d{1,2})[-/.](\d{1,2})(?:[-/.](\d{4}|\d{2}))?", text)
    if found is None:
        return None
    day, month = int(found[1]), int(found[2])
    year = int(found[3]) if found[3] else _latest_year(month, day, today)
    return date(year + 2000 if year < 100 else year, month, day)


def _month_day(text: str, today: date) -> date | None:
    plain = re.sub(r"^(?:mon|tue|wed|thu|fri|sat|sun)[a-z]* ", "", text)
    found = re.fullmatch(
        r"(?P<day>\d{1,2})(?:st|nd|rd|th)?(?: of)? (?P<month>[a-z]+)\.?(?: (?P<year>\d{4}))?", plain
    ) or re.fullmatch(
        r"(?P<month>[a-z]+)\.? (?P<day>\d{1,2})(?:st|nd|rd|th)?(?: (?P<year>\d{4}))?", plain
    )
    month = _month(found["month"]) if found else None
    if found is None or month is None:
        return None
    day = int(found["day"])
    year = int(found["year"]) if found["year"] else _latest_year(month, day, today)
    return date(year, month, day)
