import shutil
import zipfile
from collections.abc import Iterator
from pathlib import Path
from uuid import uuid4

import pytest

from swardbook.book.archive import export_book, import_book
from swardbook.book.diary import put_right, show, withdraw, write
from swardbook.book.letter import LetterAsked, write_letter
from swardbook.book.opening import Book, for_others, open_book, privately
from swardbook.book.pictures_out import told_file
from swardbook.book.sent import read_sent, take_in
from swardbook.foundation.dates import When
from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.husbandry.attachments import PICTURE, Attachment
from swardbook.husbandry.codec import plain_entry, read_entry
from swardbook.husbandry.happenings import Cut, HoldOff, Note
from swardbook.settings import Settings
from tests.support.books import TODAY, small_book

SECRET = "the neighbour complained"
DAY = When.on(TODAY)


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    home = tmp_path_factory.mktemp("made") / "home"
    small_book(home).store.close()
    return home


@pytest.fixture
def book(made: Path, tmp_path: Path) -> Iterator[Book]:
    shutil.copytree(made, tmp_path / "home")
    book = open_book(Settings(tmp_path / "home"), lambda: TODAY)
    with privately():
        write(book, Note(SECRET), DAY, zone="Main court", who="Ines")
        write(book, Cut(8.0, boxed=True), DAY, zone="Main court", who="Ines", note=SECRET)
        write(book, HoldOff("verticut", SECRET), DAY, zone="Main court")
    write(book, Note("for all to read"), DAY, zone="Main court")
    yield book
    book.store.close()


def test_owners_and_workers_read_every_word(book: Book) -> None:
    told = [(each.entry.what.kind, each.entry.private) for each in show(book)]
    assert told == [("note", True), ("cut", True), ("hold-off", True), ("note", False)]


def test_others_are_told_what_was_done_and_none_of_its_words(book: Book) -> None:
    with for_others():
        shown = [each.entry for each in show(book)]
        ground = book.ground()
        assert SECRET not in repr(shown) + repr(ground.diary)
    assert [each.what.kind for each in shown] == ["cut", "hold-off", "note"]
    cut = shown[0]
    assert isinstance(cut.what, Cut)
    assert (cut.what.height_of_cut_mm, cut.note, cut.who) == (8.0, "", "")
    assert SECRET in repr(book.ground().diary)


def test_what_was_remembered_for_one_is_not_told_to_the_other(book: Book) -> None:
    with for_others():
        theirs = book.store.stamp()
    assert theirs != book.store.stamp()


def test_a_letter_never_has_private_words(book: Book) -> None:
    letter = write_letter(book, LetterAsked())
    assert SECRET not in repr(letter)


def test_what_was_made_private_later_is_private_with_all_it_corrects(book: Book) -> None:
    entry = write(book, Note("said too much"), DAY)
    later = put_right(book, entry.id, {"private": "yes"}, "not for all")
    assert later.private
    again = put_right(book, later.id, {"note": "again"}, "a slip")
    assert again.private
    with for_others():
        assert "said too much" not in repr(book.store.whole_diary())
    with pytest.raises(BadInputError, match="yes or no"):
        put_right(book, again.id, {"private": "maybe"}, "x")


def test_what_takes_a_private_entry_back_is_private_too(book: Book) -> None:
    entry = next(each.entry for each in show(book) if each.entry.private)
    assert withdraw(book, entry.id, "wrong").private


def test_what_was_private_can_be_opened(book: Book) -> None:
    entry = next(each.entry for each in show(book) if each.entry.what.kind == "cut")
    put_right(book, entry.id, {"private": "no", "note": "open now"}, "agreed")
    with for_others():
        assert any("open now" in each.note for each in book.store.whole_diary())


def test_a_picture_that_belongs_to_a_private_entry_is_private(book: Book) -> None:
    with privately():
        entry = write(book, Note(SECRET), DAY)
    mark = "ab" * 32
    file = book.settings.pictures / "to share" / f"{mark}.jpg"
    file.parent.mkdir(parents=True)
    file.write_bytes(b"picture")
    write(book, Attachment(PICTURE, mark, "jpg", entry.id), DAY)
    assert told_file(book, mark) == file
    with for_others():
        assert mark not in repr(book.store.whole_diary())
        with pytest.raises(UnknownNameError):
            told_file(book, mark)


def test_an_entry_that_is_not_private_is_written_as_before(book: Book) -> None:
    entry = show(book)[-1].entry
    assert "private" not in plain_entry(entry)
    private = show(book)[0].entry
    assert plain_entry(private)["private"] is True
    assert read_entry(plain_entry(private)) == private
    assert book.store.check() == ()


def words_in(archive: Path) -> str:
    with zipfile.ZipFile(archive) as held:
        return "".join(held.read(name).decode("utf-8", "replace") for name in held.namelist())


def test_ones_own_copy_keeps_private_words_and_one_for_others_has_none(
    book: Book, tmp_path: Path
) -> None:
    own, theirs = tmp_path / "own.zip", tmp_path / "theirs.zip"
    mark = "cd" * 32
    folder = book.settings.pictures / "to share"
    folder.mkdir(parents=True)
    (folder / f"{mark}.jpg").write_bytes(b"picture")
    with privately():
        write(book, Attachment(PICTURE, mark, "jpg"), DAY)
    export_book(book, own)
    export_book(book, theirs, to_others=True)
    assert SECRET in words_in(own)
    assert mark in words_in(own)
    assert SECRET not in words_in(theirs)
    with zipfile.ZipFile(theirs) as held:
        assert not [name for name in held.namelist() if mark in name]


def test_a_copy_for_others_is_a_whole_book_of_its_own(book: Book, tmp_path: Path) -> None:
    out = export_book(book, tmp_path / "theirs.zip", to_others=True)
    assert out.entries == 3
    settings = Settings(tmp_path / "other")
    import_book(settings, out.path)
    other = open_book(settings, lambda: TODAY)
    assert other.store.check() == ()
    assert [each.entry.what.kind for each in show(other)] == ["cut", "hold-off", "note"]
    other.store.close()


def test_nothing_is_marked_private_after_its_time(book: Book) -> None:
    assert not write(book, Cut(9.0), DAY, zone="Main court", id=uuid4()).private


def test_an_entry_sent_by_a_phone_may_be_private(book: Book) -> None:
    told = {"id": str(uuid4()), "kind": "note", "fields": {"text": SECRET}, "private": True}
    assert take_in(book, read_sent(told)).entry.private
    assert not take_in(book, read_sent(told | {"id": str(uuid4()), "private": "no"})).entry.private
