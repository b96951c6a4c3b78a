"""What a look leaves: written beside the page, by one writer that can write nothing else.

A page that is looked at cannot write into the book. Who opened pages with personal data, the last
day of a log-in, and what was taken out are put here and written a moment later over a connection
of the writer's own.
"""

from __future__ import annotations

import atexit
import threading
from collections import deque
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, date, datetime

from django.db import transaction

from swardbook.foundation.errors import SwardbookError
from swardbook.records.damaged import remembered_damage
from swardbook.records.guard import guarded
from swardbook.records.setup import (
    add_connection,
    drop_connection,
    server_database,
    sqlite_database,
)
from swardbook.settings import Settings

GATHERS = 0.4
"""How long more is waited for, so that a page's marks are one write [s]."""
TRIES, PAUSE = 5, 1.0
"""How often a write is tried, and how long is waited after one that failed [s]."""
_AT_THE_END = 2.0
"""How long the end of the program waits for marks [s]."""
MOST = 10_000
"""Marks that wait at most; the oldest goes first."""


@dataclass(frozen=True, slots=True)
class SawMark:
    """Somebody opened a page with personal data."""

    ground: int
    person: int
    day: date
    what: str
    kept_until: date


@dataclass(frozen=True, slots=True)
class SeenMark:
    """Something was asked by a log-in, named by the hash of its token."""

    token: str
    day: date


@dataclass(frozen=True, slots=True)
class DoneMark:
    """Something was taken out of the book by looking."""

    ground: int
    person: int | None
    by: str
    what: str
    about: str


Mark = SawMark | SeenMark | DoneMark


class _Writer:
    """One thread that writes marks; begun when the first comes."""

    def __init__(self) -> None:
        self._waits: deque[tuple[Settings, Mark]] = deque(maxlen=MOST)
        self._known: set[tuple[str, Mark]] = set()
        self._day = date.min
        self._change = threading.Condition()
        self._under_way = 0
        self._thread: threading.Thread | None = None

    def put(self, settings: Settings, mark: Mark) -> None:
        """Take a mark; the same one of a day is taken once."""
        with self._change:
            if not isinstance(mark, DoneMark):
                if mark.day != self._day:
                    self._day = mark.day
                    self._known.clear()
                known = (f"{settings.home} {settings.database}", mark)
                if known in self._known:
                    return
                self._known.add(known)
            self._waits.append((settings, mark))
            self._under_way += 1
            if self._thread is None or not self._thread.is_alive():
                self._thread = threading.Thread(target=self._run, daemon=True, name="marks")
                self._thread.start()
            self._change.notify_all()

    def wait(self, seconds: float) -> bool:
        """Wait until everything that was put is written, or given up; tells whether it is."""
        with self._change:
            return self._change.wait_for(lambda: self._under_way == 0, seconds)

    def forget(self) -> None:
        """Forget which marks were taken already."""
        with self._change:
            self._known.clear()

    def _run(self) -> None:
        while True:
            with self._change:
                self._change.wait_for(lambda: bool(self._waits))
                if not any(isinstance(mark, DoneMark) for _, mark in self._waits):
                    self._change.wait(GATHERS)
                batch = list(self._waits)
                self._waits.clear()
            for settings in dict.fromkeys(each for each, _ in batch):
                _write(settings, [mark for each, mark in batch if each == settings])
            with self._change:
                self._under_way = len(self._waits)
                self._change.notify_all()


_WRITER = _Writer()
atexit.register(lambda: _WRITER.wait(_AT_THE_END))


def put(settings: Settings, mark: Mark) -> None:
    """Let a mark be written beside what goes on.

    Parameters
    ----------
    settings : Settings
        Of the book.
    mark : Mark
        What is to be written.
    """
    _WRITER.put(settings, mark)


def wait_for_marks(seconds: float = 10.0) -> bool:
    """Wait until all marks are written; tells whether they are.

    Parameters
    ----------
    seconds : float
        The longest wait. [s]
    """
    return _WRITER.wait(seconds)


def forget_marks() -> None:
    """Forget which marks of today were taken already, for another book in the same place."""
    _WRITER.forget()


def _write(settings: Settings, marks: list[Mark]) -> None:
    """Write marks of one book; what cannot be written after some tries is let go of."""
    pause = threading.Event()
    for _ in range(TRIES):
        with suppress(SwardbookError):
            _write_once(settings, marks)
            return
        pause.wait(PAUSE)


def _write_once(settings: Settings, marks: Iterable[Mark]) -> None:
    if not settings.database:
        if not settings.book_file.is_file():
            return  # else an empty file would be made in its place
        if remembered_damage(settings.book_file):
            return  # a damaged book is read and no more
    alias = add_connection(
        server_database(settings) if settings.database else sqlite_database(str(settings.book_file))
    )
    try:
        with guarded(str(settings.book_file)), transaction.atomic(using=alias):
            _put_rows(alias, list(marks))
    finally:
        drop_connection(alias)


def _put_rows(alias: str, marks: list[Mark]) -> None:
    from swardbook.records.people_models import HappenedRow, SawRow, SessionRow

    saws = SawRow.objects.using(alias)
    for mark in marks:
        if isinstance(mark, SeenMark):
            SessionRow.objects.using(alias).filter(token=mark.token).update(seen_on=mark.day)
        elif isinstance(mark, DoneMark):
            HappenedRow.objects.using(alias).create(
                at=datetime.now(UTC), ground_id=mark.ground, person_id=mark.person, by=mark.by,
                what=mark.what, about=mark.about,
            )  # fmt: skip
    fresh = [
        SawRow(ground_id=mark.ground, person_id=mark.person, day=mark.day, what=mark.what,
               kept_until=mark.kept_until)
        for mark in marks if isinstance(mark, SawMark)
    ]  # fmt: skip
    if fresh:
        saws.bulk_create(fresh, ignore_conflicts=True)
        saws.filter(kept_until__lte=datetime.now(UTC).date()).delete()
