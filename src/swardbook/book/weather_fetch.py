"""Fetch daily weather from the service that was set: the book's own records go before it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

import numpy as np

from swardbook.book.opening import Book
from swardbook.feeds.daily_service import ServiceDays, fill_address, read_service
from swardbook.feeds.fetching import NoAnswerError, fetch, host_of
from swardbook.feeds.kept_answer import KeptAnswer, keep, mark_of, read_kept
from swardbook.feeds.station_csv import StationFile, StationReadings, complete
from swardbook.foundation.errors import BadInputError, RefusedError
from swardbook.handbook.parameters import value
from swardbook.settings import WeatherService
from swardbook.weather.forecast import Forecast, Source, parted
from swardbook.weather.joining import as_fetched, join_under
from swardbook.weather.readings import Finding, Readings
from swardbook.weather.series import DailyWeather, Flag

KIND = "weather fetched"
"""Under which the book keeps what was taken over, and when."""
BACK = 92
"""Days before today that are asked for: what was reckoned early is reckoned better later [d]."""
NOT_DONE = "The weather was not fetched"
NEW, UNCHANGED, FRESH, STALE = "new", "unchanged", "fresh", "stale"


@dataclass(frozen=True, slots=True)
class WeatherFetch:
    """What fetching did.

    Parameters
    ----------
    state : str
        ``new``; ``unchanged`` by the service's word; ``fresh``, so that it was not asked;
        ``stale`` where the copy that is kept stands in.
    source : Source
        Where the weather comes from, and when it was fetched.
    age_h : float
        How old it is. [h]
    reason : str
        Why it is stale; empty where it is not.
    taken : int
        Days that are past, and were taken from it into the records now.
    own : int
        Days of it that were not, because the place's own records have them.
    forecast : Forecast or None
        The forecast that the book has now.
    notes : tuple of str
        How it was read.
    findings : tuple of Finding
        What looked odd.
    """

    state: str
    source: Source
    age_h: float
    reason: str = ""
    taken: int = 0
    own: int = 0
    forecast: Forecast | None = None
    notes: tuple[str, ...] = ()
    findings: tuple[Finding, ...] = ()


def fetch_weather(book: Book, now: datetime, *, again: bool = False) -> WeatherFetch:
    """Fetch the weather of a site, take over what its own records lack, and keep the forecast.

    A fetched copy that is fresh is not asked for again; an older one is asked for only if it has
    changed; where no answer comes the copy that is kept stands in, with its age and the reason.

    Parameters
    ----------
    book : Book
        The opened book.
    now : datetime
        The clock, with its zone.
    again : bool
        Whether a fresh copy is asked for all the same.

    Raises
    ------
    RefusedError
        If no service is set, the ground is made up, or nothing came and nothing is kept.
    BadInputError
        If the address that is set is none.
    StorageError
        If the disk would not take it; nothing was changed.
    """
    service = _service(book)
    address = fill_address(service.address, _said(book, service))
    host, file = host_of(address), kept_file(book)
    kept = read_kept(file)
    is_same = kept is not None and kept.address == mark_of(address)
    if kept is not None and is_same and not again:
        hours = _hours(kept.checked_at, now)
        if 0 <= hours < service.hours:
            return _taken(book, FRESH, kept, _source(kept, host, service), now)
    known = kept if is_same else None
    try:
        answer = fetch(
            address, etag=known.etag if known else "",
            last_modified=known.last_modified if known else "",
        )  # fmt: skip
        if answer.is_unchanged and known is not None:
            state, fresh = UNCHANGED, replace(known, checked_at=now)
        else:
            text = _text(answer.body)
            state, fresh = NEW, KeptAnswer(
                text, now, now, mark_of(address), answer.etag, answer.last_modified
            )  # fmt: skip
        done = _taken(book, state, fresh, _source(fresh, host, service), now)
    except (NoAnswerError, BadInputError) as slip:
        return _stale(book, kept, _source(kept, host, service) if kept else None, now, str(slip))
    keep(file, fresh)
    return done


def kept_file(book: Book) -> Path:
    """Name the file in which a ground's last answer is kept; it can be fetched again."""
    return book.settings.cache / "fetched weather" / f"{book.store.slug() or 'ground'}.json"


def fetches(book: Book) -> tuple[tuple[str, Mapping[str, Any]], ...]:
    """Give what was fetched and taken over so far: the host, and what is kept about it."""
    return book.store.kept(KIND)


def credits_of(book: Book) -> tuple[str, ...]:
    """Give what services want said where the book's weather is shown, the latest last."""
    told = [str(about.get("credit") or f"Weather from {host}") for host, about in fetches(book)]
    return tuple(dict.fromkeys(told))


def credit_note(book: Book) -> str:
    """Write what services want said as sentences; empty where nothing was fetched."""
    return " ".join(f"{each.rstrip('.')}." for each in credits_of(book))


def _service(book: Book) -> WeatherService:
    if book.is_made_up:
        raise RefusedError(NOT_DONE, "a made-up ground has weather of its own.")
    if book.settings.weather is None:
        raise RefusedError(
            NOT_DONE, "no service is set, so nothing is ever fetched.",
            "Set SWARDBOOK_WEATHER_ADDRESS, or bring in a file with `swardbook weather import`.",
        )  # fmt: skip
    if book.today != book.written_on:
        raise RefusedError(NOT_DONE, "it is fetched for today alone, and another day was asked.")
    return book.settings.weather


def _said(book: Book, service: WeatherService) -> dict[str, str]:
    site = book.ground().site
    east = None if site.plan is None else site.plan.longitude
    most = round(value("forecast_days_most"))
    return {
        "latitude": f"{site.latitude:.4f}",
        "longitude": "" if east is None else f"{east:.4f}",
        "elevation": f"{site.elevation_m:g}",
        "first": (book.today - timedelta(days=BACK)).isoformat(),
        "last": (book.today + timedelta(days=most - 1)).isoformat(),
        "key": service.key,
    }  # fmt: skip


def _text(body: bytes) -> str:
    try:
        return body.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise NoAnswerError("what came is no text in UTF-8") from None


def _source(kept: KeptAnswer, host: str, service: WeatherService) -> Source:
    return Source(kept.fetched_at, host, service.credit)


def _hours(then: datetime, now: datetime) -> float:
    return (now - then).total_seconds() / 3600


def _stale(
    book: Book, kept: KeptAnswer | None, source: Source | None, now: datetime, reason: str
) -> WeatherFetch:
    if kept is None or source is None:
        raise RefusedError(NOT_DONE, f"{reason.rstrip('.')}.", "Nothing is kept from before.")
    try:
        done = _taken(book, STALE, kept, source, now)
    except BadInputError:  # of an older shape: what it told is in the book already
        done = WeatherFetch(STALE, source, _hours(kept.fetched_at, now),
                            forecast=book.store.forecast())  # fmt: skip
    return replace(done, reason=reason)


def _taken(book: Book, state: str, kept: KeptAnswer, source: Source, now: datetime) -> WeatherFetch:
    """Take over what an answer tells, unless the book has it already."""
    age = _hours(kept.fetched_at, now)
    last = next((about for _host, about in reversed(fetches(book))), None)
    if last is not None and last.get("sha256") == kept.mark:
        return WeatherFetch(state, source, age, forecast=book.store.forecast())
    plan = book.ground().site.plan
    told = read_service(kept.body.encode(), None if plan is None else plan.longitude)
    joined, forecast, taken, own = _merged(book, told, source)
    with book.store.together():
        if joined is not None:
            book.store.save_weather(joined.weather, book.store.weather_name() or source.host)
        if forecast is not None:
            book.store.save_forecast(forecast)
        book.store.keep(KIND, source.host, _about(kept, source, told, taken, forecast))
    return WeatherFetch(
        state, source, age, "", taken, own, book.store.forecast(), told.station.notes,
        told.station.findings,
    )  # fmt: skip


def _merged(
    book: Book, told: ServiceDays, source: Source
) -> tuple[StationFile | None, Forecast | None, int, int]:
    yesterday = book.today - timedelta(days=1)
    latitude = book.ground().site.latitude
    past, ahead = parted(told.station.readings, yesterday)
    past, ahead = _with_air(past), _with_air(ahead)
    there = book.store.weather(until=None)
    joined, taken, own = None, 0, 0
    if past is not None:
        whole = as_fetched(past) if there is None else join_under(there, past)
        joined = complete(replace(told.station, readings=whole), latitude)
        marks = joined.weather.flags[np.isin(joined.weather.days, past.days)]
        taken = int(((marks & _FETCHED) != 0).sum())
        own = len(past.days) - taken
    if ahead is None:
        return joined, None, taken, own
    weather = complete(replace(told.station, readings=ahead), latitude).weather
    measured = there if joined is None else joined.weather
    members = _members(told.members, weather, yesterday)
    forecast: Forecast | None = Forecast(weather, book.today, source, members)
    if forecast is not None and measured is not None:
        forecast = forecast.after(measured.last)
    return joined, forecast, taken, own


_FETCHED = int(Flag.FETCHED_TEMPERATURE | Flag.FETCHED_RAIN)


def _with_air(readings: Readings | None) -> Readings | None:
    """Give readings if any day has both temperatures."""
    if readings is None or not (np.isfinite(readings.tmin) & np.isfinite(readings.tmax)).any():
        return None
    return readings


def _members(
    told: tuple[StationReadings, ...], weather: DailyWeather, yesterday: date
) -> tuple[DailyWeather, ...]:
    """Give the courses that tell of every day of the forecast."""
    found = []
    for each in told:
        _past, ahead = parted(each.readings, yesterday)
        if ahead is None:
            continue
        at = np.isin(ahead.days, weather.days)
        if int(at.sum()) != len(weather):
            continue
        series = {name: getattr(ahead, name)[at] for name in ("tmin", "tmax", "rain")}
        if all(np.isfinite(values).all() for values in series.values()):
            found.append(DailyWeather(days=weather.days, flags=weather.flags * 0, **series))
    return tuple(found)


def _about(
    kept: KeptAnswer, source: Source, told: ServiceDays, taken: int, forecast: Forecast | None
) -> dict[str, Any]:
    days = told.station.readings.days.astype(object)
    ahead = None if forecast is None else forecast.weather
    return {
        "fetched_at": source.fetched_at.isoformat(),
        "credit": source.credit,
        "sha256": kept.mark,
        "first": days[0].isoformat(),
        "last": days[-1].isoformat(),
        "days_taken": taken,
        "forecast_first": ahead and ahead.first.isoformat(),
        "forecast_last": ahead and ahead.last.isoformat(),
        "courses": 0 if forecast is None else len(forecast.members),
    }
