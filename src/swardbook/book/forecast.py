"""The weather ahead that a book has: a forecast file, or the forecast that was brought in."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import numpy as np

from swardbook.book.opening import Book
from swardbook.feeds.station_csv import complete, read_station
from swardbook.foundation.dates import say
from swardbook.foundation.errors import BadInputError
from swardbook.handbook.parameters import value
from swardbook.weather.series import DailyWeather


def forecast_of(book: Book, path: Path | None = None) -> DailyWeather | None:
    """Give the days after today that are known, from a file or else from the book.

    Days that the book holds beyond those a forecast reaches are no forecast: a year mistyped, and
    `swardbook look-over` asks about them. A made-up ground knows nothing of its own days to come,
    and a day long past is answered for by what was known on it: what came after was measured.

    Parameters
    ----------
    book : Book
        The opened book.
    path : Path or None
        A file of forecast days, in the form of a weather file; it goes before the book's own.

    Returns
    -------
    DailyWeather or None
        Days from tomorrow on, one after another; None where there are none.

    Raises
    ------
    BadInputError
        If the file holds no day after today, or does not begin by tomorrow.
    """
    tomorrow = book.today + timedelta(days=1)
    most = round(value("forecast_days_most"))
    if path is not None:
        weather = complete(read_station(path)).weather
        if weather.last < tomorrow:
            raise BadInputError(
                "the forecast", f"up to {say(weather.last)}", f"days after {say(book.today)}",
                "Is the year right?",
            )  # fmt: skip
        if weather.first > tomorrow:
            raise BadInputError(
                "the forecast", f"from {say(weather.first)} on", f"days from {say(tomorrow)} on",
                "Days between today and it are missing.",
            )  # fmt: skip
        return _known(weather.between(tomorrow, book.today + timedelta(days=most)))
    is_past = book.is_made_up or book.today < book.written_on
    kept = None if is_past else book.store.forecast()
    if kept is None or kept.weather.first > tomorrow:
        return None
    return _known(kept.weather.between(tomorrow, book.today + timedelta(days=most)))


def courses_told(book: Book) -> tuple[DailyWeather, ...]:
    """Give the courses that the days after today may take, as they were told; none without any.

    Parameters
    ----------
    book : Book
        The opened book.

    Returns
    -------
    tuple of DailyWeather
        Those of a forecast of several, else the forecast alone; as far as `forecast_of` reads it.
    """
    one = forecast_of(book)
    kept = None if one is None else book.store.forecast()
    if one is None or kept is None:
        return ()
    return tuple(each.between(one.first, one.last) for each in kept.members) or (one,)


def told_words(book: Book) -> str:
    """Say which forecast a look-ahead begins with, and when it was fetched; empty without one."""
    courses, kept = courses_told(book), book.store.forecast()
    if not courses or kept is None:
        return ""
    many = f"{len(courses)} courses" if len(courses) > 1 else "one course"
    made = kept.source.fetched_at.isoformat() if kept.source else str(kept.made_on or "no day")
    span = f"{say(courses[0].first)} to {say(courses[0].last)}"
    return f"forecast of {many}, {span}, made {made}"


def known_to(book: Book) -> date:
    """Give the last day whose weather can have been measured: the book's today, or a later one.

    A question asked for a day long past still has all that was measured since.
    """
    return max(book.today, book.store.made_up_today() or book.written_on)


def only_told(book: Book) -> tuple[date, date] | None:
    """Give the first and last day that is past, was told ahead and has no record; None without.

    Parameters
    ----------
    book : Book
        The opened book.
    """
    kept, measured = book.store.forecast(), book.all_weather()
    if kept is None:
        return None
    last = None if measured is None or not len(measured) else measured.last
    return kept.past_without_record(last, book.today)


def _known(weather: DailyWeather) -> DailyWeather | None:
    """Leave off what comes after a missing day."""
    lacking = ~np.isfinite(weather.tmin) | ~np.isfinite(weather.tmax) | ~np.isfinite(weather.rain)
    gaps = np.flatnonzero(lacking)
    days = int(gaps[0]) if len(gaps) else len(weather)
    if days == 0:
        return None
    return weather.between(weather.first, weather.first + timedelta(days=days - 1))
