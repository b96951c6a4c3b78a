"""A copy of the book to try things in: what changes there never changes the book."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Generic, TypeVar

from swardbook.book.opening import Book, open_book
from swardbook.records.copies import copy_file
from swardbook.records.looking import in_a_copy

Answer = TypeVar("Answer")


@dataclass(frozen=True, slots=True)
class Tried(Generic[Answer]):
    """One question asked of the book as it stands, and of a copy in which something differs.

    Parameters
    ----------
    before, after : object
        The two answers.
    """

    before: Answer
    after: Answer


@contextmanager
def copy_of(book: Book) -> Iterator[Book]:
    """Give a copy of the book in a private folder, deleted at the end.

    Parameters
    ----------
    book : Book
        The opened book; it is only read.

    Yields
    ------
    Book
        The copy, on the same day, as `tried` writes into it.

    Raises
    ------
    RefusedError
        If the book is on a server.
    """
    with TemporaryDirectory(prefix="swardbook-copy-") as folder:
        with in_a_copy():
            settings = copy_file(book.settings, Path(folder))
            copy = open_book(settings, lambda: book.written_on, book.today, book.store.slug())
        try:
            yield replace(copy, is_made_up=book.is_made_up)
        finally:
            copy.store.close()


def tried(
    book: Book, change: Callable[[Book], object], question: Callable[[Book], Answer]
) -> Tried[Answer]:
    """Ask a question of the book, and again of a copy in which something was changed.

    Parameters
    ----------
    book : Book
        The opened book; it is only read.
    change : callable
        Writes into the copy it is given.
    question : callable
        Asks a book; the same for both.

    Raises
    ------
    RefusedError
        If the book is on a server.
    SwardbookError
        What the change or the question refuses.
    """
    before = question(book)
    with copy_of(book) as copy:
        with in_a_copy():
            change(copy)
        return Tried(before, question(copy))
