"""A copy to try things in: the book is never changed by it, and nothing of it stays."""

from pathlib import Path

import pytest

from swardbook.book.diary import write
from swardbook.book.opening import Book, only_looking
from swardbook.book.sandbox import copy_of, tried
from swardbook.foundation.dates import When
from swardbook.foundation.errors import RefusedError
from swardbook.husbandry.happenings import Cut
from swardbook.records.copies import copy_file
from swardbook.settings import Settings
from tests.support.books import MAIN, TODAY, small_book


def cut(book: Book) -> object:
    return write(book, Cut(9.0, True), When.on(TODAY), zone=MAIN.name)


def entries(book: Book) -> int:
    return len(book.ground().diary)


def test_what_is_tried_changes_the_copy_and_not_the_book(tmp_path: Path) -> None:
    book = small_book(tmp_path)
    chain, stamp, there = book.store.chain(), book.store.stamp(), entries(book)
    with only_looking():
        found = tried(book, cut, entries)
    assert (found.before, found.after) == (there, there + 1)
    assert (book.store.chain(), book.store.stamp()) == (chain, stamp)


def test_nothing_of_a_copy_stays_even_when_something_fails_in_it(tmp_path: Path) -> None:
    book = small_book(tmp_path)
    seen = []

    def fails(copy: Book) -> object:
        seen.append(copy.settings.home)
        raise ValueError("in the copy")

    with pytest.raises(ValueError, match="in the copy"):
        tried(book, fails, entries)
    assert seen[0] != book.settings.home
    assert not seen[0].exists()


def test_while_the_book_is_only_looked_at_it_stays_shut_beside_its_copy(tmp_path: Path) -> None:
    book = small_book(tmp_path)
    with only_looking(), copy_of(book) as copy:
        assert copy.today == book.today
        assert copy.store.slug() == book.store.slug()
        with pytest.raises(RefusedError, match="never writes"):
            cut(book)


def test_a_book_on_a_server_is_not_copied(tmp_path: Path) -> None:
    with pytest.raises(RefusedError, match="on a server"):
        copy_file(Settings(tmp_path, database="postgresql://somewhere/book"), tmp_path)
