"""The book that pages are about: one opened for each thread, asked for its day each time."""

from __future__ import annotations

import os
import threading
from contextvars import ContextVar
from datetime import UTC, date, datetime

from swardbook.book.opening import Book, on_its_day, open_book
from swardbook.settings import read_settings

_KEPT = threading.local()
_GROUND: ContextVar[str] = ContextVar("ground", default="")
"""Short name of the ground that is asked for; empty where the book has but one."""


def clock_today() -> date:
    """Read the clock; the only place of the pages that does, with `clock_now`."""
    return datetime.now().astimezone().date()


def clock_now() -> datetime:
    """Read the clock, to the second and with its zone: for log-ins, which end."""
    return datetime.now(UTC)


def is_begun() -> bool:
    """Tell whether there is a book; opens none."""
    settings = read_settings(os.environ)
    return bool(settings.database) or settings.book_file.exists()


def ground_asked() -> str:
    """Give the short name of the ground that is asked for; empty where there is but one."""
    return _GROUND.get()


def the_book() -> Book:
    """Give the book, on its day."""
    kept: Book | None = getattr(_KEPT, "book", None)
    if kept is None:
        kept = _KEPT.book = open_book(read_settings(os.environ), clock_today)
    return on_its_day(kept, clock_today)


def close() -> None:
    """Let go of this thread's book."""
    if (kept := getattr(_KEPT, "book", None)) is not None:
        kept.store.close()
        del _KEPT.book
