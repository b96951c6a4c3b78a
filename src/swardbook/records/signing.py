"""Who writes: entries that name nobody carry the initials of who is logged in."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import replace

from swardbook.husbandry.diary import DiaryEntry

_WRITES: ContextVar[str] = ContextVar("writes", default="")


def signed(entry: DiaryEntry) -> DiaryEntry:
    """Put the initials of who is logged in under an entry that names nobody."""
    initials = _WRITES.get()
    return replace(entry, who=initials) if initials and not entry.who else entry


@contextmanager
def signed_as(initials: str) -> Iterator[None]:
    """Let entries that are written inside and name nobody carry these initials."""
    before = _WRITES.set(initials)
    try:
        yield
    finally:
        _WRITES.reset(before)
