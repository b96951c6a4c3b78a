"""Commands asked by a page: what they would print is collected, with its form, and not printed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from datetime import date

    from swardbook.book.opening import Book
    from swardbook.figures.picture import Picture

ROOM = 100_000
"""Columns where nothing is wrapped: a page wraps by itself."""


class Heading(str):
    """A line that stands over others."""

    __slots__ = ()


class Marked(str):
    """A line behind a mark, such as ``✓``; its text is the whole line without it."""

    mark: str
    indent: int

    def __new__(cls, text: str, mark: str = "", indent: int = 0) -> Marked:
        """Make the line as it would be printed."""
        made = super().__new__(cls, text)
        made.mark, made.indent = mark, indent
        return made


class Laid(str):
    """Rows under heads; as text the rows, a line each."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]

    def __new__(cls, heads: Sequence[str], rows: Sequence[Sequence[str]]) -> Laid:
        """Make one line that holds the whole table."""
        made = super().__new__(cls, "\n".join("  ".join(row) for row in rows))
        made.heads, made.rows = tuple(heads), tuple(tuple(row) for row in rows)
        return made


@dataclass
class Collected:
    """What one command answered.

    Parameters
    ----------
    book : Book
        The opened book it is asked about; it stays open.
    payload : dict
        The one object that ``--json`` prints.
    lines : list of str
        What it says; `Heading`, `Marked` and `Laid` keep their form.
    pictures : list of Picture
        What it drew.
    """

    book: Book
    payload: dict[str, Any] = field(default_factory=dict)
    lines: list[str] = field(default_factory=list)
    pictures: list[Picture] = field(default_factory=list)

    def on(self, day: date | None) -> Book:
        """Give the book for the day asked."""
        return replace(self.book, today=day) if day else self.book


_COLLECTS: ContextVar[Collected | None] = ContextVar("collects", default=None)


def collected() -> Collected | None:
    """Give what collects the answer of this command; None where it is printed."""
    return _COLLECTS.get()


@contextmanager
def collecting(book: Book) -> Iterator[Collected]:
    """Collect what commands called inside answer about an opened book."""
    made = Collected(book)
    before = _COLLECTS.set(made)
    try:
        yield made
    finally:
        _COLLECTS.reset(before)
