"""Look over a whole book: everything that needs a look, with the command that puts it right."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from uuid import UUID

from swardbook.book.checking import check_book
from swardbook.book.forecast import known_to, only_told
from swardbook.book.kept import aged_in
from swardbook.book.opening import Book
from swardbook.book.parking import parked_rows, ways_out
from swardbook.book.squaring import sowings_off
from swardbook.foundation.dates import say
from swardbook.handbook.parameters import value
from swardbook.husbandry.parked import Parked
from swardbook.review.look_over import ToLookAt, changes_of, look_over_ground

_IMPORT = "swardbook weather import FILE.csv"


def look_over(book: Book, zone: str = "") -> tuple[ToLookAt, ...]:
    """List everything in the book that needs a look; nothing is altered.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        Only this zone and the whole site's; empty for all.

    Returns
    -------
    tuple of ToLookAt
        Damage first, then parked rows, the ground and its diary, and the weather.

    Raises
    ------
    UnknownNameError
        If there is no such zone.
    """
    wanted = book.ground().zone(zone).name if zone else ""
    whole = book.store.ground(until=None)
    found = (*_damage(book), *_parked(book), *look_over_ground(whole, book.today),
             *_squared(book), *_aged(book), *_weather(book))  # fmt: skip
    return tuple(each for each in found if not wanted or each.zone in {"", wanted})


def _damage(book: Book) -> Iterator[ToLookAt]:
    for each in check_book(book, pages=False).damage:
        yield ToLookAt(
            "damage", f"{each.where}: {each.found}.", "whatever leans on it",
            ("swardbook diary check", "swardbook export --with-damage FILE.zip"),
        )  # fmt: skip


def _parked(book: Book) -> Iterator[ToLookAt]:
    for each in parked_rows(book):
        row = each.what
        if isinstance(row, Parked):
            kind = "count" if row.meant == "count" else row.cells.get("job", "")
            told = f"once it is taken in: {changes_of(kind)}"
            yield ToLookAt("parked", row.words, told, ways_out(each), each.zone, each.when.first,
                           each.id)  # fmt: skip


def _squared(book: Book) -> Iterator[ToLookAt]:
    """List sowings whose weights do not agree bay by bay, where they were weighed."""
    for each in sowings_off(book):
        told = f"Sown on {say(each.day)}: {each.words}"
        yield ToLookAt(
            "mix-up", told, "which seed lies where, and every comparison of mixtures",
            (each.command,), each.zone, each.day,
        )  # fmt: skip


def _aged(book: Book) -> Iterator[ToLookAt]:
    for each in aged_in(book):
        told = f"{each.about[0].upper()}{each.about[1:]} kept on {say(each.day)}: "
        yield ToLookAt(
            "aged", f"{told}{'; '.join(each.changed)}.", each.used_for, (each.again,), each.zone,
            each.day, UUID(each.entry),
        )  # fmt: skip


def _weather(book: Book) -> Iterator[ToLookAt]:
    for first, last in book.missing_weather():
        told = f"Weather missing from {say(first)} to {say(last)}, {(last - first).days + 1} days."
        yield ToLookAt(
            "weather", told,
            "answers rest on the days since; a look-ahead may want for a whole year",
            (_IMPORT,), day=first,
        )  # fmt: skip
    weather = book.weather()
    if weather is None:
        yield ToLookAt(
            "weather", "No weather in the book.", "every answer that leans on warmth or water",
            (_IMPORT,),
        )  # fmt: skip
        return
    behind = (book.today - weather.last).days
    if behind > value("look_weather_stale_days"):
        yield ToLookAt(
            "weather", f"Weather ends on {say(weather.last)}, {behind} days ago.",
            "the seeding clock, the week and the look-ahead", (_IMPORT,), day=weather.last,
        )  # fmt: skip
    yield from _forecast(book)


def _forecast(book: Book) -> Iterator[ToLookAt]:
    past, kept = only_told(book), book.store.forecast()
    if past is not None:
        days = (past[1] - past[0]).days + 1
        yield ToLookAt(
            "weather", f"Forecast but never measured: {say(past[0])} to {say(past[1])}, {days}"
            f" {'day' if days == 1 else 'days'}.",
            "every answer that leans on those days", (_IMPORT,), day=past[0],
        )  # fmt: skip
    reach = known_to(book) + timedelta(days=round(value("forecast_days_most")))
    if kept is not None and kept.weather.last > reach and not book.is_made_up:
        yield ToLookAt(
            "weather",
            f"Weather is dated up to {say(kept.weather.last)}, after today. Is the year right?",
            "nothing: so far ahead it is read as no forecast, and never as a record",
            (f"{_IMPORT} --in-place-of-all",), day=kept.weather.last,
        )  # fmt: skip
