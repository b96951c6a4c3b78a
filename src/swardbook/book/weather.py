"""Bring in daily weather, look at it, and derive what follows from it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from swardbook.book.forecast import known_to, only_told
from swardbook.book.weather_fetch import credits_of
from swardbook.feeds.station_csv import StationFile, complete, parse_readings, read_station
from swardbook.foundation.dates import say
from swardbook.foundation.errors import BadInputError, NotEnoughDataError
from swardbook.handbook.parameters import value
from swardbook.weather.checks import check_weather
from swardbook.weather.derive import Derived, compare_with_given, derive
from swardbook.weather.forecast import Forecast, parted
from swardbook.weather.joining import as_readings, join
from swardbook.weather.months import Month, dry_spell, summarise_months
from swardbook.weather.readings import Finding, runs
from swardbook.weather.series import DailyWeather, Flag
from swardbook.weather.stretches import missing_spells, say_spells, whole_stretches
from swardbook.weather.thermal import Method

if TYPE_CHECKING:
    from swardbook.book.opening import Book


@dataclass(frozen=True, slots=True)
class Imported:
    """What an import did.

    Parameters
    ----------
    name : str
        Name of the series.
    first, last : date
        First and last day now in the book; of the forecast where nothing was measured yet.
    days_read, days_again, days_now : int
        Days in the file, days of it that were there before, and days now in the book.
    notes : tuple of str
        How the file was read.
    findings : tuple of Finding
        What looked odd, and what was filled.
    forecast : Forecast or None
        The forecast now in the book; its days are in none of the numbers of the records.
    """

    name: str
    first: date
    last: date
    days_read: int
    days_again: int
    days_now: int
    notes: tuple[str, ...]
    findings: tuple[Finding, ...]
    forecast: Forecast | None = None


@dataclass(frozen=True, slots=True)
class WeatherShown:
    """The weather in the book, up to its today.

    Parameters
    ----------
    name : str
        Name of the series.
    first, last : date
        First and last day shown.
    months : tuple of Month
        Month by month.
    dry_spell : int
        Longest run of days under 1 mm. [d]
    filled : tuple of Finding
        Spells that were filled.
    findings : tuple of Finding
        What is odd.
    missing : tuple
        Spells of days that are missing, each by its first and last day; days that are past and
        were only forecast are among them.
    forecast : Forecast or None
        What the book has of a forecast from its today on.
    only_told : tuple or None
        First and last day that is past, was forecast and never measured.
    fetched_days : int
        Days shown that a service reckoned, where the place's own records have none. [d]
    credits : tuple of str
        What those services want said.
    """

    name: str
    first: date
    last: date
    months: tuple[Month, ...]
    dry_spell: int
    filled: tuple[Finding, ...]
    findings: tuple[Finding, ...]
    missing: tuple[tuple[date, date], ...] = ()
    forecast: Forecast | None = None
    only_told: tuple[date, date] | None = None
    fetched_days: int = 0
    credits: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class WeatherDerived:
    """A file's weather and what follows from it."""

    weather: DailyWeather
    derived: Derived
    months: tuple[Month, ...]
    notes: tuple[str, ...]
    findings: tuple[Finding, ...]


def import_weather(
    book: Book,
    path: Path,
    *,
    name: str = "",
    columns: Mapping[str, str] | None = None,
    units: Mapping[str, str] | None = None,
    in_place_of_all: bool = False,
) -> Imported:
    """Bring a weather-station file into the book, over what is there for the same days.

    Parameters
    ----------
    book : Book
        The opened book.
    path : Path
        The file.
    name : str
        Name of the series; that of the series there is, or of the file.
    columns, units : mapping of str to str, optional
        Headings and units named by the person, by quantity.
    in_place_of_all : bool
        Leave out what was there before.

    Returns
    -------
    Imported
        How it was read, filled and joined.

    Raises
    ------
    BadInputError
        If the file is no daily weather.
    """
    station = read_station(path, columns, units)
    latitude, known = book.ground().site.latitude, known_to(book)
    measured, told = parted(station.readings, known)
    in_place = in_place_of_all and measured is not None  # a forecast alone takes no record's place
    there = None if in_place else book.store.weather(until=None)
    joined, again = measured, 0
    if there is not None and measured is not None:
        joined, again = join(as_readings(there), measured)
    whole = None if joined is None else complete(replace(station, readings=joined), latitude)
    ahead = None if told is None else complete(replace(station, readings=told), latitude)
    chosen = name or book.store.weather_name() or path.stem
    records = there if whole is None else whole.weather
    kept = None if in_place_of_all else book.store.forecast()
    if ahead is not None:
        kept = Forecast(ahead.weather, known)
    if kept is not None and records is not None:
        kept = kept.after(records.last)
    with book.store.together():
        if whole is not None:
            book.store.save_weather(whole.weather, chosen)
        book.store.save_forecast(kept)
    days = station.readings.days.astype(object)
    span = days if records is None else records.days.astype(object)
    return Imported(
        chosen, span[0], span[-1], len(days), again, 0 if records is None else len(records),
        station.notes, (*_after_today(days[-1], book), *_findings(whole, ahead, days[0])), kept,
    )  # fmt: skip


def _findings(
    whole: StationFile | None, ahead: StationFile | None, first_read: date
) -> tuple[Finding, ...]:
    """Give what looked odd in the days read, and what is missing."""
    found = [each for file in (whole, ahead) if file is not None for each in file.findings]
    return tuple(
        each
        for each in dict.fromkeys(found)
        if each.day is None or (each.last or each.day) >= first_read or each.flag is Flag.MISSING
    )


def show_weather(book: Book, first: date | None = None, last: date | None = None) -> WeatherShown:
    """Look at the weather in the book, by month, with what was filled and what is odd.

    Parameters
    ----------
    book : Book
        The opened book.
    first, last : date, optional
        Part to look at; all up to the book's today if not given.

    Raises
    ------
    NotEnoughDataError
        If there is no weather for those days.
    """
    weather = book.store.weather(until=book.today)
    if weather is None or len(weather) == 0:
        told = "none" if book.store.forecast() is None else "a forecast alone, and no measured day"
        raise NotEnoughDataError(
            "the weather", "daily weather, from `swardbook weather import FILE.csv`", told
        )
    part = weather.between(first or weather.first, last or weather.last)
    stretches = whole_stretches(part)
    if not stretches:
        raise NotEnoughDataError(
            "the weather of those days", "days that are in the book",
            f"weather from {say(weather.first)} to {say(weather.last)}"
            + (f", without {spells}" if (spells := say_spells(missing_spells(weather))) else ""),
        )  # fmt: skip
    site = book.ground().site
    months: list[Month] = []
    odd: list[Finding] = []
    for whole in whole_stretches(weather):
        if (shown := whole.between(part.first, part.last)) and len(shown):
            derived = part_of(derive(whole, site.latitude, site.elevation_m), whole, shown)
            months += summarise_months(shown, derived)
            odd += check_weather(shown, site.latitude)
    kept, past = book.store.forecast(), only_told(book) if last is None else None
    return WeatherShown(
        book.store.weather_name(), part.first, part.last, tuple(months),
        max(dry_spell(each.rain) for each in stretches), _filled(part), tuple(dict.fromkeys(odd)),
        (*missing_spells(part), *(() if past is None else (past,))),
        None if kept is None else kept.after(max(weather.last, book.today - timedelta(days=1))),
        past, int(((part.flags & _FETCHED) != 0).sum()), credits_of(book),
    )  # fmt: skip


_FETCHED = int(Flag.FETCHED_TEMPERATURE | Flag.FETCHED_RAIN)


def derive_weather(
    source: Path | str,
    latitude: float,
    elevation_m: float,
    *,
    base: float | None = None,
    upper: float | None = None,
    method: Method | str = Method.SINGLE_SINE,
    coastal: bool = False,
    until: date | None = None,
    columns: Mapping[str, str] | None = None,
    units: Mapping[str, str] | None = None,
) -> WeatherDerived:
    """Derive sun, water, warmth and soil temperature from a file; needs no book.

    Parameters
    ----------
    source : Path or str
        The file, or its text.
    latitude : float
        Latitude, south negative. [°]
    elevation_m : float
        Height above the sea. [m]
    base, upper : float, optional
        Limits of the degree-days; those of the handbook if not given. [°C]
    method : Method or str
        How degree-days are reached.
    coastal : bool
        On or near the coast of a large water.
    until : date, optional
        Last day to read.
    columns, units : mapping of str to str, optional
        Headings and units named by the person, by quantity.

    Raises
    ------
    BadInputError
        If the file is no daily weather.
    OutOfRangeError
        If latitude, elevation or the limits make no sense.
    """
    if isinstance(source, Path):
        station = read_station(source, columns, units)
    else:
        station = parse_readings(source, "the text", columns, units)
    file = complete(station, latitude)
    asked = file.weather if until is None else file.weather.until(until)
    stretches = whole_stretches(asked)
    if not stretches:
        raise BadInputError("the last day", until, f"a day from {say(file.weather.first)} on")
    weather = stretches[-1]
    missing = say_spells(missing_spells(asked))
    cut = (f"Derived from {say(weather.first)} on. Missing before: {missing}.",) if missing else ()
    derived = derive(
        weather, latitude, elevation_m, base=base, upper=upper, method=method, coastal=coastal
    )
    beside = compare_with_given(weather, derived)
    return WeatherDerived(
        weather=weather,
        derived=derived,
        months=summarise_months(weather, derived),
        notes=(*file.notes, *cut, *derived.notes, *((beside.words,) if beside else ())),
        findings=_up_to(file, weather.last),
    )


def _up_to(file: StationFile, last: date) -> tuple[Finding, ...]:
    return tuple(each for each in file.findings if each.day is None or each.day <= last)


def _after_today(last: date, book: Book) -> tuple[Finding, ...]:
    today = book.today
    if last <= today:
        return ()
    kept = "Kept, but not read until then."
    if last > known_to(book):
        most = round(value("forecast_days_most"))
        kept = f"Kept as a forecast, never as a record: up to {most} days of it are read."
        if book.is_made_up:
            kept = "Kept as a forecast, never as a record; a made-up ground reads none."
    return (
        Finding(
            "days after today",
            f"{kept} Is the year right?",
            day=today + timedelta(days=1),
            last=last,
        ),
    )


def part_of(whole: Derived, weather: DailyWeather, part: DailyWeather) -> Derived:
    """Take what was derived of a part of the weather."""
    low = weather.index(part.first)
    span = slice(low, low + len(part))
    return replace(
        whole,
        days=part.days,
        et0=whole.et0[span],
        degree_days=whole.degree_days[span],
        growth_potential=whole.growth_potential[span],
        soil_temperature_5cm=whole.soil_temperature_5cm[span],
    )


def _filled(weather: DailyWeather) -> tuple[Finding, ...]:
    found = []
    days = weather.days.astype(object)
    for flag, words in (
        (Flag.FILLED_TEMPERATURE, "temperature"),
        (Flag.FILLED_RAIN, "rain"),
    ):
        for start, end in runs((weather.flags & int(flag)) != 0):
            marks = int(weather.flags[start])
            how = "put at 0 mm" if flag is Flag.FILLED_RAIN else "a straight line"
            if marks & int(Flag.FROM_OTHER_YEARS):
                how = "from other years"
            elif marks & int(Flag.FROM_DAYS_AROUND):
                how = "the mean of the days around, poor"
            count = end - start
            read = f"{words} filled on {count} {'day' if count == 1 else 'days'}"
            found.append(Finding(read, f"Filled: {how}.", days[start], days[end - 1], flag=flag))
    return tuple(sorted(found, key=lambda each: each.day or date.min))
