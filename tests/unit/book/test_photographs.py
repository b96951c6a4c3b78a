"""Pictures are read, kept by content, or asked about; what is shared tells no place."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from hashlib import sha256
from pathlib import Path

import pytest

from swardbook.book.opening import Book
from swardbook.book.photo_dates import day_of
from swardbook.book.photo_files import pass_of
from swardbook.book.photo_sessions import side_by_side
from swardbook.book.photographs import Asked, PhotoRead, State, read_photographs, sides_mm
from swardbook.foundation.errors import (
    BadInputError,
    NotEnoughDataError,
    RefusedError,
    StorageError,
    UnknownNameError,
)
from swardbook.husbandry.ground import Plot
from swardbook.husbandry.happenings import Photograph, PlotReadings
from swardbook.photos.opening import look_at
from swardbook.photos.reading import read_photo
from swardbook.settings import Settings
from tests.support.books import MAIN, TODAY, small_book
from tests.support.photographs import SIDES_MM, write_photograph
from tests.support.pixels import ROOT
from tests.support.swards import PHONE

DARK, LIGHT = (60, 100, 46), (88, 122, 56)
ASKED = Asked(zone=MAIN.name)


@pytest.fixture
def book(tmp_path: Path) -> Book:
    made = small_book(tmp_path / "home")
    for number, mixture in enumerate(("Bobbin", "Thimble"), 1):
        made.store.save_plot(Plot(f"1-0{number}", MAIN.name, 1, number, mixture))
    settings = Settings(tmp_path / "home", cache_folder=ROOT / ".cache" / "swardbook")
    return replace(made, settings=settings)


def read(book: Book, *paths: Path, **more: object) -> tuple[PhotoRead, ...]:
    return read_photographs(book, paths, replace(ASKED, **more))  # type: ignore[arg-type]


def test_a_picture_is_kept_as_an_entry_of_its_plot_and_its_file_is_not_touched(
    book: Book, tmp_path: Path
) -> None:
    path = write_photograph(tmp_path / "plot 1-02.jpg", has_place=True)
    before = path.read_bytes()
    (found,) = read(book, path)
    assert found.state is State.KEPT
    assert path.read_bytes() == before
    assert found.entry is not None
    what = found.entry.what
    assert isinstance(what, Photograph)
    assert (what.plot, found.entry.zone, found.entry.day) == ("1-02", MAIN.name, date(2011, 10, 6))
    assert what.picture == sha256(before).hexdigest()
    assert what.cover == pytest.approx(0.6, abs=0.03)
    assert (what.wide_mm, what.high_mm) == pytest.approx(SIDES_MM, rel=0.01)
    assert what.faults == ()
    assert not found.entry.needs_a_look
    assert book.ground().diary[-1] == found.entry


def test_the_original_is_kept_bit_for_bit_and_the_copy_to_share_tells_no_place(
    book: Book, tmp_path: Path
) -> None:
    path = write_photograph(tmp_path / "1-01.jpg", has_place=True)
    (found,) = read(book, path)
    assert found.files is not None
    assert found.files.original.read_bytes() == path.read_bytes()
    shared = found.files.to_share.read_bytes()
    assert look_at(path.read_bytes(), "a").facts.has_place
    assert not look_at(shared, "b").facts.has_place
    assert found.files.original.parents[1] == book.settings.home / "pictures"
    assert (book.settings.home / "pictures").stat().st_mode & 0o077 == 0


def test_the_same_picture_is_kept_once(book: Book, tmp_path: Path) -> None:
    path = write_photograph(tmp_path / "1-01.jpg")
    again = tmp_path / "copy.jpg"
    again.write_bytes(path.read_bytes())
    first, second = read(book, path, again)
    assert (first.state, second.state) == (State.KEPT, State.THERE)
    assert second.entry == first.entry
    assert sum(entry.what.kind == "photograph" for entry in book.ground().diary) == 1


def test_one_bad_file_does_not_touch_the_others(book: Book, tmp_path: Path) -> None:
    good = write_photograph(tmp_path / "1-01.jpg")
    cut, none = tmp_path / "cut.jpg", tmp_path / "none.jpg"
    cut.write_bytes(good.read_bytes()[:30_000])
    told: list[str] = []
    found = read_photographs(book, (cut, good, none), ASKED, told.append)
    assert [each.state for each in found] == [State.REFUSED, State.KEPT, State.REFUSED]
    assert "breaks off" in found[0].words
    assert "No such file" in found[2].words
    assert told == ["1 of 3: cut.jpg", "2 of 3: 1-01.jpg", "3 of 3: none.jpg"]


def test_a_device_is_no_picture(book: Book) -> None:
    (found,) = read(book, Path("/dev/zero"))
    assert found.state is State.REFUSED
    assert "a folder of pictures" in found.words


def test_a_folder_stands_for_the_pictures_in_it_in_the_order_a_person_counts(
    book: Book, tmp_path: Path
) -> None:
    folder = tmp_path / "october"
    (folder / "older").mkdir(parents=True)
    for name in ("10.jpg", "2.JPG", "3.heic", ".thumb.jpg", "notes.txt"):
        (folder / name).write_bytes(b"no picture")
    told: list[str] = []
    found = read_photographs(book, [folder], ASKED, told.append)
    assert [each.file for each in found] == ["2.JPG", "3.heic", "10.jpg"]
    assert told[0] == "1 of 3: 2.JPG"
    with pytest.raises(BadInputError, match="pictures right in it"):
        read(book, folder / "older")


def test_a_batch_of_a_hundred_gets_past_a_bad_picture(
    book: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    good = write_photograph(tmp_path / "x.jpg").read_bytes()
    reading = read_photo(look_at(good, "x"), pass_of(book.settings))
    monkeypatch.setattr("swardbook.book.photographs.read_photo", lambda *_, **__: reading)
    folder = tmp_path / "many"
    folder.mkdir()
    for number in range(120):
        # What stands after the end of a JPEG is no part of it, and makes each another file.
        held = good + b"%d" % number if number != 57 else good[:5000]
        (folder / f"{number}.jpg").write_bytes(held)
    found = read_photographs(book, [folder], ASKED)
    assert [each.file for each in found if each.state is not State.KEPT] == ["57.jpg"]
    assert len(book.ground().diary) == 119
    assert not any(each.photo and each.photo.held for each in found)


def test_a_picture_that_needs_a_look_is_kept_with_its_faults(book: Book, tmp_path: Path) -> None:
    dim = replace(PHONE, gains=(0.02, 0.02, 0.02))
    (found,) = read(book, write_photograph(tmp_path / "1-01.jpg", camera=dim))
    assert found.state is State.KEPT
    assert found.entry is not None
    assert "too dark" in found.entry.needs_a_look
    assert isinstance(found.entry.what, Photograph)
    assert found.entry.what.spoils_cover


@pytest.mark.parametrize(
    ("taken", "told"),
    [
        ("", "No date in it"),
        ("2009:01:01 00:00:00", "Camera says 2009"),
        ("2010:09:11 10:00:00", "Taken 392 days ago"),
        ("2012:01:01 10:00:00", "after today"),
    ],
)
def test_an_odd_date_is_asked_about_and_nothing_is_kept(
    book: Book, tmp_path: Path, taken: str, told: str
) -> None:
    path = write_photograph(tmp_path / "1-01.jpg", taken)
    (found,) = read(book, path)
    assert found.state is State.ASKED
    assert told in found.words
    assert not [entry for entry in book.ground().diary if entry.what.kind == "photograph"]
    (typed,) = read(book, path, when="yesterday")
    assert typed.entry is not None
    assert (TODAY - typed.entry.day).days == 1


def test_the_camera_is_believed_where_the_user_says_so() -> None:
    old = datetime.fromisoformat("2010-09-11T10:00:00")
    found = day_of(old, TODAY, trusts_camera=True)
    assert found.when is not None
    assert found.when.first == date(2010, 9, 11)
    ahead = datetime.fromisoformat("2012-09-11T10:00:00")
    assert day_of(ahead, TODAY, trusts_camera=True).when is None


def test_plots_are_named_once_or_one_by_one(book: Book, tmp_path: Path) -> None:
    paths = [write_photograph(tmp_path / f"{name}.jpg", f"2011:10:06 10:0{n}:00")
             for n, name in enumerate(("a", "b"))]  # fmt: skip
    found = read(book, *paths, plots=("1-02", "1-01"))
    assert [each.plot for each in found] == ["1-02", "1-01"]
    with pytest.raises(UnknownNameError, match="1-01"):
        read(book, paths[0], plots=("1-1",))
    with pytest.raises(BadInputError, match="3 plots for 2 pictures"):
        read(book, *paths, plots=("1-01", "1-02", "1-01"))
    with pytest.raises(BadInputError, match="say --zone"):
        read(book, paths[0], zone="", plots=("1-01",))


def test_a_batch_keeps_the_pixels_of_one_picture_only(book: Book, tmp_path: Path) -> None:
    paths = [write_photograph(tmp_path / f"{n}.jpg", f"2011:10:06 10:0{n}:00") for n in range(3)]
    found = read(book, *paths)
    sizes = [each.reading.plot.size for each in found if each.reading is not None]
    assert sizes[0] > 0
    assert sizes[1:] == [0, 0]
    assert all(each.photo is not None and each.photo.held == b"" for each in found)


def test_looking_keeps_nothing(book: Book, tmp_path: Path) -> None:
    (found,) = read(book, write_photograph(tmp_path / "1-01.jpg", ""), keep=False)
    assert found.state is State.READ
    assert found.reading is not None
    assert not (book.settings.home / "pictures").exists()


def test_a_disk_that_will_not_take_it_loses_nothing(book: Book, tmp_path: Path) -> None:
    path = write_photograph(tmp_path / "1-01.jpg")
    (book.settings.home / "pictures").write_text("in the way")
    with pytest.raises(StorageError):
        read(book, path)
    assert not [entry for entry in book.ground().diary if entry.what.kind == "photograph"]


def test_too_few_touches_leave_the_reading_and_say_what_is_missing(
    book: Book, tmp_path: Path
) -> None:
    path = write_photograph(tmp_path / "1-01.jpg")
    (found,) = read(book, path, touches=(("sown", "40,50"), ("bare", "20,30")))
    assert found.reading is not None
    assert found.taught is None
    assert "each touched 4 times" in found.lack


@pytest.mark.parametrize("place", ["", "40", "40,140", "left,top"])
def test_a_touch_that_is_no_place_is_refused(book: Book, tmp_path: Path, place: str) -> None:
    path = write_photograph(tmp_path / "1-01.jpg")
    (found,) = read(book, path, touches=(("sown", place),))
    assert found.state is State.REFUSED
    assert "in percent of the plot" in found.words


@pytest.mark.parametrize(
    ("text", "sides"),
    [("1.2x1", (1200, 1000)), ("1,2 x 1 m", (1200, 1000)), ("120x100 cm", (1200, 1000)),
     ("4 ft x 3 ft", (1219.2, 914.4))],
)  # fmt: skip
def test_sides_are_read_in_any_unit(text: str, sides: tuple[float, float]) -> None:
    assert sides_mm(text) == pytest.approx(sides)


def session(book: Book, tmp_path: Path, **second: object) -> None:
    first = {"cover": 0.8, "leaf": DARK, "taken": "2011:10:06 10:15:00"}
    other = {"cover": 0.55, "leaf": LIGHT, "seed": 4, "taken": "2011:10:06 10:20:00", **second}
    for name, said in (("1-01", first), ("1-02", other)):
        write_photograph(tmp_path / f"{name}.jpg", **said)  # type: ignore[arg-type]
    read(book, tmp_path / "1-01.jpg", tmp_path / "1-02.jpg", trusts_camera=True)


def test_plots_of_one_session_stand_side_by_side_and_can_be_kept(
    book: Book, tmp_path: Path
) -> None:
    session(book, tmp_path)
    found = side_by_side(book, MAIN.name, keep=True)
    assert [each.plot for each in found.plots] == ["1-01", "1-02"]
    (pair,) = found.pairs
    assert pair.is_colour_apart
    assert pair.colour == pytest.approx(0.105, abs=0.03)
    assert found.kept is not None
    assert isinstance(found.kept.what, PlotReadings)
    assert found.kept.what.trait == "dark green index"
    assert [each.plot for each in found.kept.what.readings] == ["1-01", "1-02"]


@pytest.mark.parametrize(
    ("second", "told"),
    [
        ({"taken": "2011:10:05 10:20:00"}, "of 2 days"),
        ({"model": "Other Phone"}, "2 cameras"),
        ({"taken": "2011:10:06 17:20:00"}, "3 hours apart"),
    ],
)
def test_pictures_of_two_sessions_are_not_compared(
    book: Book, tmp_path: Path, second: dict[str, object], told: str
) -> None:
    session(book, tmp_path, **second)
    with pytest.raises(RefusedError, match=told):
        side_by_side(book, MAIN.name, ("1-01", "1-02"))


def test_one_plot_is_not_enough_to_compare(book: Book, tmp_path: Path) -> None:
    read(book, write_photograph(tmp_path / "1-01.jpg"))
    with pytest.raises(NotEnoughDataError, match="two plots or more"):
        side_by_side(book, MAIN.name)
