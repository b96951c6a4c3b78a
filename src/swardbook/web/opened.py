"""The book that pages are about: one opened for each thread, asked for its day each time."""

from __future__ import annotations

import os
import threading
from collections import OrderedDict
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import replace
from datetime import UTC, date, datetime

from swardbook.book import opening as grounds
from swardbook.book.opening import Book, on_its_day
from swardbook.settings import read_settings

_KEPT = threading.local()
_GROUND: ContextVar[str] = ContextVar("ground", default="")
"""Short name of the ground that is asked for; empty where the book has but one."""

_DAYS: ContextVar[dict[str | None, tuple[date, date]] | None] = ContextVar("days", default=None)
"""The day of each ground that was asked for, and under none of whichever, while a page is only
looked at."""

MOST_HELD = 16
"""Grounds whose entries a thread keeps read."""


def clock_today() -> date:
    """Read the clock; the only place of the pages that does, with `clock_now`."""
    return datetime.now().astimezone().date()


def clock_now() -> datetime:
    """Read the clock, to the second and with its zone: for log-ins, which end."""
    return datetime.now(UTC)


def is_begun() -> bool:
    """Tell whether there is a book; opens none."""
    kept: Book | None = getattr(_KEPT, "any", None)
    settings = kept.settings if kept is not None else read_settings(os.environ)
    return bool(settings.database) or settings.book_file.exists()


def ground_asked() -> str:
    """Give the short name of the ground that is asked for; empty where there is but one."""
    return _GROUND.get()


@contextmanager
def at_ground(slug: str) -> Iterator[None]:
    """Ask of one ground of the book until the end."""
    before = _GROUND.set(slug)
    try:
        yield
    finally:
        _GROUND.reset(before)


def the_book() -> Book:
    """Give the book at the ground that is asked for, on its day.

    Raises
    ------
    WhichGroundError
        If the book holds several and none is asked for.
    UnknownNameError
        If it holds none of that name.
    """
    asked, held = ground_asked(), _held()
    if asked not in held:
        there = any_book()
        held[asked] = grounds.at_ground(there, asked or there.settings.ground, clock_today)
        while len(held) > MOST_HELD:
            held.popitem(last=False)  # the connection is that of `any_book`, and stays
    held.move_to_end(asked)
    return _on_its_day(held[asked], asked)


def _on_its_day(book: Book, asked: str | None) -> Book:
    """Give a book on its day, which a page that only looks asks for once."""
    days = _DAYS.get()
    if days is None:
        return on_its_day(book, clock_today)
    if asked not in days:
        found = on_its_day(book, clock_today)
        days[asked] = (found.today, found.written_on)
    today, written_on = days[asked]
    return replace(book, today=today, written_on=written_on)


@contextmanager
def on_one_day() -> Iterator[None]:
    """Ask each ground for its day once until the end, for a page that writes nothing."""
    before = _DAYS.set({})
    try:
        yield
    finally:
        _DAYS.reset(before)


def any_book() -> Book:
    """Give the book at whichever ground, for what is asked of all of them or of its people."""
    kept: Book | None = getattr(_KEPT, "any", None)
    if kept is None:
        kept = _KEPT.any = grounds.open_any_book(read_settings(os.environ), clock_today)
    return _on_its_day(kept, None)


def whichever_book() -> Book:
    """Give the book at the ground that is asked for, or at any where none is."""
    return the_book() if ground_asked() else any_book()


def has_several() -> bool:
    """Tell whether the book holds several grounds, and none of them is asked for or set."""
    if ground_asked() or read_settings(os.environ).ground:
        return False
    return len(grounds.grounds_of(any_book())) > 1


def close() -> None:
    """Let go of this thread's book."""
    _held().clear()
    if (kept := getattr(_KEPT, "any", None)) is not None:
        kept.store.close()
        del _KEPT.any


def _held() -> OrderedDict[str, Book]:
    if not hasattr(_KEPT, "held"):
        _KEPT.held = OrderedDict()
    found: OrderedDict[str, Book] = _KEPT.held
    return found
