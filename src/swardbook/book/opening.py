"""The opened book: its store, its settings and its today, passed to every use case."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from swardbook.foundation.errors import BadInputError, DamagedBookError
from swardbook.husbandry.ground import Ground, Site
from swardbook.records import for_others as private
from swardbook.records import grounds as records_grounds
from swardbook.records import looking
from swardbook.records.grounds import GroundName
from swardbook.records.opening import (
    begin_ground,
    create_store,
    open_first_store,
    open_store,
)
from swardbook.records.setup import configure
from swardbook.records.store import Store
from swardbook.settings import Settings
from swardbook.weather.series import DailyWeather
from swardbook.weather.stretches import missing_spells, whole_stretches

Clock = Callable[[], date]
WhichGroundError = records_grounds.WhichGroundError
OnlyLookingError = looking.OnlyLookingError
only_looking = looking.only_looking
"""Refuses every write to any book for as long as it lasts."""
for_others = private.for_others
"""Reads no private words from any book for as long as it lasts."""
is_for_others = private.is_for_others
privately = private.privately
"""Marks each entry that is written as private for as long as it lasts."""


class NoBookError(BadInputError):
    """There is no book yet where one was looked for."""

    def __init__(self, where: str) -> None:
        super().__init__("the book", where, "a book made with `swardbook begin`")
        self.where = where

    def __str__(self) -> str:
        """Say where it was looked for, and the two ways to one."""
        return (
            f"There is no book yet in {self.where}. Make your own with `swardbook begin --help`,"
            " or build the made-up ground with `swardbook demo`; if you have one elsewhere, set"
            " SWARDBOOK_HOME to its folder."
        )


@dataclass(frozen=True, slots=True)
class Book:
    """An opened book.

    Parameters
    ----------
    settings : Settings
        How this installation is set.
    store : Store
        The records.
    today : date
        The day every answer is for: `--on`, else a made-up book's own today, else the clock's.
    written_on : date
        The clock's day, kept with each new entry.
    is_made_up : bool
        Whether this is a made-up ground, which every output says.
    """

    settings: Settings
    store: Store
    today: date
    written_on: date
    is_made_up: bool

    def ground(self) -> Ground:
        """Read the ground as it stands on the book's today; later entries are left out."""
        return self.store.ground(until=self.today)

    def weather(self) -> DailyWeather | None:
        """Read the latest whole stretch of weather up to the book's today.

        Days before a gap too long to fill are not in it; `missing_weather` names the gap.
        """
        weather = self.store.weather(until=self.today)
        whole = whole_stretches(weather) if weather is not None else ()
        return whole[-1] if whole else None

    def all_weather(self) -> DailyWeather | None:
        """Read all the weather up to the book's today; missing days are not numbers."""
        return self.store.weather(until=self.today)

    def missing_weather(self) -> tuple[tuple[date, date], ...]:
        """List the spells of days that the weather lacks, each by its first and last day."""
        weather = self.store.weather(until=self.today)
        return missing_spells(weather) if weather is not None else ()


def open_book(
    settings: Settings, clock: Clock, on: date | None = None, ground: str | None = None
) -> Book:
    """Open one ground of the book that there is.

    Parameters
    ----------
    settings : Settings
        How this installation is set.
    clock : Clock
        The day.
    on : date or None
        The day answers are for; None: the made-up ground's own, or the clock's.
    ground : str or None
        Short name or name of the ground; None: the one in the settings, or the only one.

    Raises
    ------
    NoBookError
        If there is no book yet.
    WhichGroundError
        If there are several grounds and none is named.
    UnknownNameError
        If there is no ground of that name.
    DamagedBookError
        If the file is no book, or an entry in it is damaged.
    """
    _require_book(settings)
    return _opened(settings, open_store(settings, ground), clock, on)


def open_any_book(settings: Settings, clock: Clock, on: date | None = None) -> Book:
    """Open the first ground of the book, for what is asked of all its grounds.

    Raises
    ------
    NoBookError
        If there is no book yet.
    DamagedBookError
        If the file is no book.
    """
    _require_book(settings)
    return _opened(settings, open_first_store(settings), clock, on)


def _require_book(settings: Settings) -> None:
    if not settings.database and not settings.book_file.exists():
        raise NoBookError(str(settings.book_file))
    if not settings.database and not settings.book_file.is_file():
        raise DamagedBookError(
            str(settings.book_file), "this is a folder, where the book should be",
            "Set SWARDBOOK_HOME to the folder that holds the file book.sqlite3.",
        )  # fmt: skip


def at_ground(book: Book, ground: str, clock: Clock, on: date | None = None) -> Book:
    """Give another ground of an opened book, over the same connection; close only one of them.

    Raises
    ------
    UnknownNameError
        If there is no ground of that name.
    """
    return _opened(book.settings, book.store.at(ground), clock, on)


def grounds_of(book: Book) -> tuple[GroundName, ...]:
    """List the grounds of the book that an opened one is in, in the order begun."""
    return book.store.grounds()


def on_its_day(book: Book, clock: Clock) -> Book:
    """Give an opened book again, for its own today or the clock's, which may have gone on."""
    made_up = book.store.made_up_today()
    return replace(book, today=made_up or clock(), written_on=clock())


def prepare_pages(more: Mapping[str, Any]) -> None:
    """Make ready for pages; once in a process, before any book is opened.

    Parameters
    ----------
    more : mapping
        Django's settings that the pages need.
    """
    configure(more)


def new_book(settings: Settings, clock: Clock) -> Book:
    """Make an empty book and open it."""
    return _opened(settings, create_store(settings), clock, None)


def begin_book(settings: Settings, clock: Clock, site: Site) -> Book:
    """Begin a ground and open it: in a new book, or as a further one in the book there is.

    Raises
    ------
    BadInputError
        If the book has a ground of that name, or is made up and the site is not.
    """
    return _opened(settings, begin_ground(settings, site), clock, None)


def _opened(settings: Settings, store: Store, clock: Clock, on: date | None) -> Book:
    made_up = store.made_up_today()
    today = on or made_up or clock()
    return Book(settings, store, today, clock(), made_up is not None)
