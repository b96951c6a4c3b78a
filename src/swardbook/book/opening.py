"""The opened book: its store, its settings and its today, passed to every use case."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

from swardbook.foundation.errors import BadInputError
from swardbook.husbandry.ground import Ground
from swardbook.records.store import Store, create_store, open_store
from swardbook.settings import Settings
from swardbook.weather.series import DailyWeather

Clock = Callable[[], date]


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
        """Read the weather up to the book's today; what comes after is not read."""
        return self.store.weather(until=self.today)


def open_book(settings: Settings, clock: Clock, on: date | None = None) -> Book:
    """Open the book that there is.

    Raises
    ------
    BadInputError
        If there is no book yet.
    DamagedBookError
        If the file is no book, or an entry in it is damaged.
    """
    if not settings.database and not settings.book_file.exists():
        raise BadInputError(
            "the book",
            str(settings.book_file),
            "a book made with `swardbook begin` or `swardbook demo`",
            "There is none here yet.",
        )
    return _opened(settings, open_store(settings), clock, on)


def new_book(settings: Settings, clock: Clock) -> Book:
    """Make an empty book and open it."""
    return _opened(settings, create_store(settings), clock, None)


def _opened(settings: Settings, store: Store, clock: Clock, on: date | None) -> Book:
    made_up = store.made_up_today()
    today = on or made_up or clock()
    return Book(settings, store, today, clock(), made_up is not None)
