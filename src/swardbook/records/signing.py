"""Who writes: entries that name nobody carry the initials of who is logged in."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import replace

from swardbook.husbandry.diary import DiaryEntry

_WRITES: ContextVar[str] = ContextVar("writes", default="")
_WHOEVER: ContextVar[bool] = ContextVar("whoever", default=False)


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


@contextmanager
def whoever_sends() -> Iterator[None]:
    """Let what is sent inside and names nobody be what is there under its id, whoever sent that."""
    before = _WHOEVER.set(True)
    try:
        yield
    finally:
        _WHOEVER.reset(before)


def is_signed_anew(sent: DiaryEntry) -> bool:
    """Tell whether the name under an entry that comes is only that of whoever sends it."""
    return not sent.who and (_WHOEVER.get() or bool(_WRITES.get()))
