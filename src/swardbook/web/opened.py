"""The book that pages are about: one opened for each thread, asked for its state each time.

Its day follows from the state, and so do answers (`remembering`): a page that only looks asks for
the state of a ground once.
"""

from __future__ import annotations

import os
import threading
from collections import OrderedDict
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime

from swardbook.book import opening as grounds
from swardbook.book.opening import Book, on_its_day
from swardbook.settings import Settings, read_settings

_KEPT = threading.local()
_GROUND: ContextVar[str] = ContextVar("ground", default="")
"""Short name of the ground that is asked for; empty where the book has but one."""
MOST_HELD, MOST_DAYS = 16, 1024
"""Grounds whose entries a thread keeps read; states of grounds whose own today is held."""
_MADE_UP: OrderedDict[tuple[Settings, str], date | None] = OrderedDict()
_LOCK = threading.Lock()


@dataclass(slots=True)
class _Look:
    """What was asked of the book for one page that only looks, by the keys of grounds."""

    states: dict[int, str] = field(default_factory=dict)
    days: dict[int, tuple[date, date]] = field(default_factory=dict)
    grounds: int | None = None


_LOOK: ContextVar[_Look | None] = ContextVar("look", default=None)


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
    return _on_its_day(held[asked])


@contextmanager
def standing_still() -> Iterator[None]:
    """Ask each ground for its state and its day once until the end; for what writes nothing."""
    before = _LOOK.set(_Look())
    try:
        yield
    finally:
        _LOOK.reset(before)


def state_of(book: Book) -> str:
    """Name the state of the ground that a book is at."""
    look = _LOOK.get()
    if look is None:
        return book.store.stamp()
    key = book.store.people().key()
    if key not in look.states:
        look.states[key] = book.store.stamp()
    return look.states[key]


def _on_its_day(book: Book) -> Book:
    """Give a book on its day."""
    look = _LOOK.get()
    if look is None:
        return on_its_day(book, clock_today)
    key = book.store.people().key()
    if key not in look.days:
        now = clock_today()
        look.days[key] = (_made_up_today(book) or now, now)
    today, written_on = look.days[key]
    return replace(book, today=today, written_on=written_on)


def _made_up_today(book: Book) -> date | None:
    """Give the today that a made-up ground carries, read once for each state of it."""
    state = (book.settings, state_of(book))
    with _LOCK:
        if state in _MADE_UP:
            _MADE_UP.move_to_end(state)
            return _MADE_UP[state]
    found = book.store.made_up_today()
    with _LOCK:
        _MADE_UP[state] = found
        while len(_MADE_UP) > MOST_DAYS:
            _MADE_UP.popitem(last=False)
    return found


def any_book() -> Book:
    """Give the book at whichever ground, for what is asked of all of them or of its people."""
    kept: Book | None = getattr(_KEPT, "any", None)
    if kept is None:
        kept = _KEPT.any = grounds.open_any_book(read_settings(os.environ), clock_today)
    return _on_its_day(kept)


def whichever_book() -> Book:
    """Give the book at the ground that is asked for, or at any where none is."""
    return the_book() if ground_asked() else any_book()


def has_several() -> bool:
    """Tell whether the book holds several grounds, and none of them is asked for or set."""
    if ground_asked() or (book := any_book()).settings.ground:
        return False
    look = _LOOK.get() or _Look()
    if look.grounds is None:
        look.grounds = len(grounds.grounds_of(book))
    return look.grounds > 1


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
