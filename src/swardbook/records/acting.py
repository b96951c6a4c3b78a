"""Who does what is done: the record of people asks it, so that no page can forget to say."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Acting:
    """Who does it.

    Parameters
    ----------
    person : int or None
        Number of the person in the book; none: whoever sits at the machine, or a stranger.
    by : str
        How they are known, such as ``session`` or ``terminal``.
    """

    person: int | None = None
    by: str = "terminal"


_AT_THE_TERMINAL = Acting()
_ACTS: ContextVar[Acting | None] = ContextVar("acts", default=None)


def who_acts() -> Acting:
    """Give who does what is done now."""
    return _ACTS.get() or _AT_THE_TERMINAL


@contextmanager
def acting_as(person: int | None, by: str) -> Iterator[None]:
    """Let what is done inside be told of somebody.

    Parameters
    ----------
    person : int or None
        Number of the person in the book.
    by : str
        How they are known.
    """
    before = _ACTS.set(Acting(person, by))
    try:
        yield
    finally:
        _ACTS.reset(before)
