"""One ground of several goes out alone, and comes in beside others."""

from dataclasses import replace
from pathlib import Path

import pytest

from swardbook.book.archive import export_book, import_book
from swardbook.book.ground import begin
from swardbook.book.opening import Book, at_ground, grounds_of, open_book
from swardbook.book.photo_files import TO_SHARE
from swardbook.foundation.errors import BadInputError
from swardbook.husbandry.happenings import Note
from swardbook.settings import Settings
from tests.support.books import SITE, TODAY, entry, small_book

ALMSHOUSE = replace(SITE, name="Almshouse Green")
MINE, OTHERS = "a" * 64, "b" * 64


@pytest.fixture
def book(tmp_path: Path) -> Book:
    """The small ground, with another beside it, each with a picture."""
    book = small_book(tmp_path / "home")
    book.store.add([entry(1), entry(2, Note(f"picture {MINE}"))])
    other = begin(book.settings, lambda: TODAY, ALMSHOUSE)
    other.store.add([entry(3, Note(f"picture {OTHERS}"), zone="")])
    other.store.close()
    folder = book.settings.pictures / TO_SHARE
    folder.mkdir(parents=True)
    for mark in (MINE, OTHERS):
        (folder / f"{mark}.jpg").write_bytes(mark.encode())
    return book


def test_an_archive_holds_one_ground_with_its_whole_chain_and_its_pictures_alone(
    book: Book, tmp_path: Path
) -> None:
    out = export_book(book, tmp_path / "one.zip")
    assert (out.entries, out.pictures) == (2, 1)
    came = import_book(Settings(tmp_path / "new"), tmp_path / "one.zip")
    assert (came.site, came.entries, came.pictures) == (SITE.name, 2, 1)
    new = open_book(Settings(tmp_path / "new"), lambda: TODAY)
    assert new.store.chain() == book.store.chain()
    assert [path.stem for path in (new.settings.pictures / TO_SHARE).iterdir()] == [MINE]


def test_a_ground_goes_from_one_book_into_another_and_out_again_as_the_same_bytes(
    book: Book, tmp_path: Path
) -> None:
    other = at_ground(book, "almshouse-green", lambda: TODAY)
    export_book(other, tmp_path / "one.zip")
    settings = Settings(tmp_path / "new")
    small_book(settings.home).store.close()
    import_book(settings, tmp_path / "one.zip", beside=True)
    there = open_book(settings, lambda: TODAY, ground="Almshouse Green")
    assert [each.slug for each in grounds_of(there)] == ["fennowick-croquet-club",
                                                         "almshouse-green"]  # fmt: skip
    assert there.store.chain() == other.store.chain()
    export_book(there, tmp_path / "two.zip")
    assert (tmp_path / "one.zip").read_bytes() == (tmp_path / "two.zip").read_bytes()


def test_a_ground_that_is_there_is_not_brought_in_over_itself(book: Book, tmp_path: Path) -> None:
    export_book(book, tmp_path / "one.zip")
    before = book.store.chain()
    with pytest.raises(BadInputError, match="never written over"):
        import_book(book.settings, tmp_path / "one.zip", beside=True)
    with pytest.raises(BadInputError, match="never written over"):
        import_book(book.settings, tmp_path / "one.zip")
    assert (book.store.chain(), len(grounds_of(book))) == (before, 2)
