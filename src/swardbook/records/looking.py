"""Looking only: for as long as it lasts, nothing can be written into any book."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar

from swardbook.foundation.errors import RefusedError

_LOOKS: ContextVar[bool] = ContextVar("looks", default=False)


class OnlyLookingError(RefusedError):
    """Something was to be written while the book was only looked at."""


@contextmanager
def only_looking() -> Iterator[None]:
    """Refuse every write until the end, in this thread and what it begins."""
    before = _LOOKS.set(True)
    try:
        yield
    finally:
        _LOOKS.reset(before)


@contextmanager
def in_a_copy() -> Iterator[None]:
    """Let a copy be written to that nobody keeps; only around what writes into it."""
    before = _LOOKS.set(False)
    try:
        yield
    finally:
        _LOOKS.reset(before)


def require_writable() -> None:
    """Make sure that the book is not only looked at.

    Raises
    ------
    OnlyLookingError
        If it is.
    """
    if _LOOKS.get():
        raise OnlyLookingError(
            "Nothing was written",
            "a page that is looked at never writes.",
            "Press the button that keeps it.",
        )
