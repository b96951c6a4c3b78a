"""The book that pages are about: one opened for each thread, asked for its day each time."""

from __future__ import annotations

import os
import threading
from datetime import date, datetime
from typing import Any

from django.http import HttpRequest
from django.middleware.csrf import get_token

from swardbook.book.opening import Book, on_its_day, open_book
from swardbook.book.units import shown_in
from swardbook.settings import read_settings

_KEPT = threading.local()


def clock_today() -> date:
    """Read the clock; the only place of the pages that does."""
    return datetime.now().astimezone().date()


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


def of_every_page(request: HttpRequest) -> dict[str, Any]:
    """Give every page what its frame shows: the site, the day, whether it is made up."""
    get_token(request)  # sets the cookie, so that what was written without signal can be sent
    if getattr(request, "without_book", False):
        return {}
    book = the_book()
    shown = shown_in(book.settings, book)
    return {"book": book, "site_name": book.ground().site.name, "units": shown}
