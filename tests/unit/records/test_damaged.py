"""A damaged book is opened to be read and no more; the copy put in its place is written again."""

from __future__ import annotations

import random
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest
from tools.crash_damage import answered, spoil

from swardbook.book.checking import check_book, only_read
from swardbook.book.opening import Book
from swardbook.foundation.errors import DamagedBookError
from swardbook.records.opening import open_store
from swardbook.settings import Settings
from tests.support.books import TODAY, entry, small_book


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    book = small_book(tmp_path / "home")
    book.store.add([entry(n, note=f"note number {n} " * 20) for n in range(1, 41)])
    book.store.close()
    shutil.copy(book.settings.book_file, tmp_path / "copy")
    return book.settings


@pytest.fixture
def altered(settings: Settings) -> Iterator[Book]:
    """Give a book in which somebody changed one entry past its checksum."""
    with closing(sqlite3.connect(settings.book_file)) as opened:
        for (name,) in opened.execute(
            "SELECT name FROM sqlite_master WHERE type = 'trigger'"
        ).fetchall():
            opened.execute(f'DROP TRIGGER "{name}"')
        opened.execute(
            "UPDATE records_entry SET text = replace(text, 'note number 7 ', 'note number 8 ')"
            " WHERE position = 7"
        )
        opened.commit()
    store = open_store(settings)
    yield Book(settings, store, TODAY, TODAY, False)
    store.close()


def test_what_a_check_finds_is_known_wherever_the_book_is_opened_next(altered: Book) -> None:
    assert only_read(altered) == ""
    [found] = check_book(altered).damage
    assert found.position == 7
    again = open_store(altered.settings)
    assert "Entry 7" in again.damage
    assert len(again.whole_diary()) == 40
    assert again.ground().site.name
    again.close()


def test_nothing_is_written_into_it(altered: Book) -> None:
    check_book(altered)
    again = open_store(altered.settings)
    for store in (altered.store, again):
        with pytest.raises(DamagedBookError, match="nothing was written"):
            store.add([entry(99)])
        with pytest.raises(DamagedBookError, match="nothing was written"):
            store.remember({}, TODAY, 0)
    assert len(again.whole_diary()) == 40
    again.close()
    assert "only read" in only_read(altered)


def test_a_good_copy_in_its_place_is_whole_and_written_again(altered: Book, tmp_path: Path) -> None:
    check_book(altered)
    altered.store.close()
    (tmp_path / "copy").replace(altered.settings.book_file)
    again = open_store(altered.settings)
    assert again.damage == ""
    again.add([entry(99)])
    assert len(again.whole_diary()) == 41
    again.close()


def test_pages_that_do_not_hang_together_open_to_be_read(settings: Settings) -> None:
    raw = bytearray(settings.book_file.read_bytes())
    with closing(sqlite3.connect(settings.book_file)) as opened:
        [(page,)] = opened.execute(
            "SELECT rootpage FROM sqlite_master WHERE name = 'records_kept'"
        ).fetchall()
    raw[(page - 1) * 4096] = 0x55
    settings.book_file.write_bytes(bytes(raw))
    told = answered(settings)
    assert told["named"]
    assert told["read_only"]
    assert len(told["texts"]) == 40  # type: ignore[arg-type]


@pytest.mark.parametrize("seed", range(6))
def test_whatever_is_done_to_a_file_no_altered_entry_goes_unnamed(
    settings: Settings, seed: int
) -> None:
    before = answered(settings)
    spoil(settings.book_file, random.Random(seed))
    spoilt = settings.book_file.read_bytes()
    after = answered(settings)
    assert settings.book_file.read_bytes() == spoilt
    assert after["texts"] == before["texts"] or after["named"]
