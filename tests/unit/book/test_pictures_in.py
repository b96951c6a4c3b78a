"""What is sent in is known by content, kept once, and handed on without its place."""

from __future__ import annotations

import io
from dataclasses import replace
from datetime import date
from hashlib import sha256
from pathlib import Path
from uuid import UUID

import pytest
from PIL import Image

from swardbook.book.archive import export_book, import_book
from swardbook.book.opening import Book, open_book
from swardbook.book.pictures_in import (
    AboutSent,
    State,
    TakenIn,
    attached,
    media_type,
    most_bytes,
    propose,
    sent_file,
    small_picture,
    take_in,
)
from swardbook.foundation.errors import BadInputError, OutOfRangeError, UnknownNameError
from swardbook.husbandry.attachments import Attachment
from swardbook.husbandry.ground import Plot
from swardbook.husbandry.happenings import Photograph
from swardbook.photos.opening import look_at
from swardbook.settings import Settings
from tests.support import sounds
from tests.support.books import MAIN, TODAY, small_book
from tests.support.photographs import write_photograph
from tests.support.pixels import ROOT

ID = UUID("6f1d0f0e-1111-4222-8333-444455556666")


@pytest.fixture
def book(tmp_path: Path) -> Book:
    made = small_book(tmp_path / "home")
    made.store.save_plot(Plot("1-02", MAIN.name, 1, 2, "Thimble"))
    settings = Settings(tmp_path / "home", cache_folder=ROOT / ".cache" / "swardbook")
    return replace(made, settings=settings)


def phone_picture(
    taken: str = "2011:10:06 10:15:00", mode: str = "RGB", orientation: int = 1
) -> bytes:
    """Make a small picture as a phone writes it, with its place."""
    tags = Image.Exif()
    tags[0x0112], tags[0x0110] = orientation, "Fen Two"
    if taken:
        tags.get_ifd(0x8769)[0x9003] = taken
    tags.get_ifd(0x8825).update({1: "N", 2: (52.0, 7.0, 30.0), 3: "W", 4: (1.0, 2.0, 3.0)})
    made = io.BytesIO()
    image = Image.linear_gradient("L").resize((400, 200)).convert(mode)
    image.save(made, "JPEG", exif=tags)
    return made.getvalue()


def marked(found: TakenIn) -> Attachment:
    assert found.entry is not None
    assert isinstance(found.entry.what, Attachment)
    return found.entry.what


def test_a_picture_of_a_peg_is_kept_as_it_came_with_a_copy_that_tells_no_place(book: Book) -> None:
    held = phone_picture()
    found = take_in(book, held, "IMG_0001.JPG", AboutSent(peg="p1"))
    assert (found.state, found.what) == (State.KEPT, "picture")
    what = marked(found)
    assert (what.peg, what.file, what.ending) == ("P1", sha256(held).hexdigest(), "jpg")
    assert found.entry is not None
    assert (found.entry.zone, found.entry.day) == (MAIN.name, date(2011, 10, 6))
    original = book.settings.pictures / "originals" / f"{what.file}.jpg"
    assert original.read_bytes() == held
    shared = sent_file(book.settings, what.file)
    assert media_type(shared) == "image/jpeg"
    assert look_at(held, "a", is_measured=False).facts.has_place
    assert not look_at(shared.read_bytes(), "b", is_measured=False).facts.has_place


def test_a_voice_note_is_kept_beside_the_entry_it_belongs_to(book: Book) -> None:
    found = take_in(book, sounds.webm(), "note.webm", AboutSent(zone="main court", of=ID))
    assert (found.state, found.what) == (State.KEPT, "voice note")
    assert attached(book, of=ID) == (found.entry,)
    path = sent_file(book.settings, marked(found).file)
    assert media_type(path) == "audio/webm"
    assert sounds.PLACE not in path.read_bytes()
    assert found.entry is not None
    assert found.entry.day == TODAY
    assert not found.entry.needs_a_look


def test_a_name_is_never_believed(book: Book) -> None:
    found = take_in(book, sounds.ogg(), "../../etc/peg.png\n")
    assert found.what == "voice note"
    refused = take_in(book, b"<svg onload='x()'>", "../../etc/peg.png")
    assert refused.state is State.REFUSED
    assert refused.words.startswith("peg.png: read 'a drawing'")


def test_a_plot_between_its_cards_is_read_and_kept(book: Book, tmp_path: Path) -> None:
    path = write_photograph(tmp_path / "one.jpg", has_place=True)
    about = AboutSent(zone=MAIN.name, plot="1-02", measure=True, id=ID)
    found = take_in(book, path.read_bytes(), "x", about)
    assert (found.state, found.what) == (State.KEPT, "plot picture")
    assert found.entry is not None
    assert isinstance(found.entry.what, Photograph)
    assert (found.entry.id, found.entry.what.plot) == (ID, "1-02")
    assert found.entry.what.cover == pytest.approx(0.6, abs=0.02)
    assert found.read is not None
    assert found.read.photo is not None
    assert found.read.photo.held == b""
    again = take_in(book, path.read_bytes(), "x", about)
    assert (again.state, again.entry) == (State.THERE, found.entry)


def test_a_reply_that_was_lost_stores_nothing_twice(book: Book) -> None:
    about = AboutSent(peg="P2", id=ID)
    first = take_in(book, phone_picture(), "a", about)
    again = take_in(book, phone_picture(), "a", about)
    assert (first.state, again.state) == (State.KEPT, State.THERE)
    assert again.entry == first.entry
    assert len(attached(book)) == 1


def test_the_same_picture_beside_two_things_is_two_entries_and_one_file(book: Book) -> None:
    for peg in ("P1", "P2"):
        assert take_in(book, phone_picture(), "a", AboutSent(peg=peg)).state is State.KEPT
    assert len(attached(book)) == 2
    assert len(list((book.settings.pictures / "originals").iterdir())) == 1
    assert [marked_peg.what for marked_peg in attached(book, peg="p2")] == [
        Attachment(file=sha256(phone_picture()).hexdigest(), ending="jpg", peg="P2",
                   taken_at="2011-10-06T10:15:00")
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("taken", "told"),
    [("", "No date"), ("2001:01:01 00:00:00", "clock"), ("2012:01:01 00:00:00", "after today")],
)
def test_a_picture_without_a_day_is_kept_under_today_and_marked_for_a_look(
    book: Book, taken: str, told: str
) -> None:
    found = take_in(book, phone_picture(taken), "a", AboutSent(peg="P1"))
    assert found.entry is not None
    assert found.entry.day == TODAY
    assert told in found.entry.needs_a_look
    assert "--" not in found.entry.needs_a_look


def test_the_day_of_a_picture_that_is_read_is_asked_for(book: Book, tmp_path: Path) -> None:
    path = write_photograph(tmp_path / "one.jpg", "2010:09:11 10:00:00")
    found = take_in(book, path.read_bytes(), "x", AboutSent(zone=MAIN.name, measure=True))
    assert found.state is State.ASKED
    assert found.proposed == date(2010, 9, 11)
    assert "Does it belong to that day?" in found.words
    assert "--" not in found.words
    assert not book.ground().diary


def test_a_file_tells_of_itself_before_it_is_kept(book: Book) -> None:
    told = propose(book, phone_picture(), "a")
    assert (told.what, told.day, told.question) == ("picture", date(2011, 10, 6), "")
    assert (told.camera, told.tells_place, told.wide, told.high) == ("Fen Two", True, 400, 200)
    assert propose(book, sounds.mp4(), "a").what == "voice note"
    with pytest.raises(BadInputError, match="no picture"):
        propose(book, b"words", "a")
    assert not book.settings.pictures.exists()


@pytest.mark.parametrize(
    ("name", "about"),
    [
        ("zone", AboutSent(zone="elsewhere")),
        ("peg", AboutSent(peg="elsewhere")),
        ("plot", AboutSent(zone=MAIN.name, plot="elsewhere")),
    ],
)
def test_a_place_that_is_not_in_the_book_is_refused(
    book: Book, name: str, about: AboutSent
) -> None:
    with pytest.raises(UnknownNameError, match=name):
        take_in(book, phone_picture(), "a", about)
    assert not book.settings.pictures.exists()


def test_a_grey_picture_will_do_where_nothing_is_measured(book: Book) -> None:
    grey = phone_picture(mode="L")
    assert take_in(book, grey, "a", AboutSent(peg="P1")).state is State.KEPT
    measured = take_in(book, grey, "a", AboutSent(zone=MAIN.name, measure=True))
    assert measured.state is State.REFUSED


def test_a_small_picture_is_upright_and_holds_nothing_but_itself(book: Book) -> None:
    found = take_in(book, phone_picture(orientation=6), "a", AboutSent(peg="P1"))
    held = small_picture(book.settings, marked(found).file, 100)
    with Image.open(io.BytesIO(held)) as image:
        assert image.size == (50, 100)
        assert not image.getexif()
    assert small_picture(book.settings, marked(found).file, 100) == held
    with pytest.raises(OutOfRangeError):
        small_picture(book.settings, marked(found).file, 100_000)


def test_what_is_no_mark_of_a_kept_file_is_not_looked_for(book: Book) -> None:
    note = take_in(book, sounds.wav(), "a")
    for mark in ("../book.sqlite3", "0" * 64, ""):
        with pytest.raises(UnknownNameError):
            sent_file(book.settings, mark)
    with pytest.raises(UnknownNameError):
        small_picture(book.settings, marked(note).file)


def test_a_damaged_picture_cannot_be_made_small(book: Book) -> None:
    found = take_in(book, phone_picture(), "a", AboutSent(peg="P1"))
    path = sent_file(book.settings, marked(found).file)
    path.write_bytes(path.read_bytes()[:200])
    with pytest.raises(BadInputError, match="damaged"):
        small_picture(book.settings, marked(found).file, 64)


def test_nothing_larger_than_any_picture_is_looked_at(book: Book) -> None:
    found = take_in(book, phone_picture() + bytes(most_bytes()), "a")
    assert found.state is State.REFUSED
    assert "at most 80 MB" in found.words


def test_pictures_and_voice_notes_move_house(book: Book, tmp_path: Path) -> None:
    take_in(book, phone_picture(), "a", AboutSent(peg="P1"))
    take_in(book, sounds.ogg(), "a", AboutSent(zone=MAIN.name, of=ID))
    out = export_book(book, tmp_path / "one.zip")
    assert (out.pictures, out.voice_notes) == (1, 1)
    new = Settings(tmp_path / "new", cache_folder=book.settings.cache_folder)
    came = import_book(new, tmp_path / "one.zip")
    assert (came.pictures, came.voice_notes) == (1, 1)
    moved = open_book(new, lambda: TODAY)
    assert attached(moved) == attached(book)
    for entry in attached(moved):
        assert isinstance(entry.what, Attachment)
        there = sent_file(new, entry.what.file)
        assert there.read_bytes() == sent_file(book.settings, entry.what.file).read_bytes()
