"""For others: for as long as it lasts, nothing private is read from any book."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from contextvars import ContextVar

from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.private import told_to_others

_FOR_OTHERS: ContextVar[bool] = ContextVar("for others", default=False)
_PRIVATELY: ContextVar[bool] = ContextVar("privately", default=False)


@contextmanager
def for_others() -> Iterator[None]:
    """Read no private words until the end, in this thread and what it begins."""
    before = _FOR_OTHERS.set(True)
    try:
        yield
    finally:
        _FOR_OTHERS.reset(before)


@contextmanager
def privately(is_private: bool = True) -> Iterator[None]:
    """Mark each entry that is written until the end as private."""
    before = _PRIVATELY.set(is_private)
    try:
        yield
    finally:
        _PRIVATELY.reset(before)


def is_for_others() -> bool:
    """Tell whether nothing private is to be read."""
    return _FOR_OTHERS.get()


def is_private() -> bool:
    """Tell whether what is written is private."""
    return _PRIVATELY.get()


def as_told(entries: Sequence[DiaryEntry]) -> tuple[DiaryEntry, ...]:
    """Give entries as whoever asks is told them."""
    return told_to_others(entries) if _FOR_OTHERS.get() else tuple(entries)


def marked(stamp: str) -> str:
    """Name the state of a book apart where less of it is told."""
    return f"{stamp}-others" if _FOR_OTHERS.get() else stamp
