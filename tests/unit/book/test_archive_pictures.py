"""Photographs go out with the book and come back bit for bit; what tells a place stays."""

from __future__ import annotations

import json
import zipfile
from dataclasses import replace
from hashlib import sha256
from pathlib import Path
from typing import IO

import pytest

from swardbook.book.archive import export_book, import_book
from swardbook.book.archive_pictures import FOLDER, is_picture, pictures_of
from swardbook.book.opening import Book, open_book
from swardbook.book.photo_files import ORIGINALS, TO_SHARE
from swardbook.book.photographs import Asked, State, read_photographs
from swardbook.foundation.errors import BadInputError, DamagedBookError, StorageError
from swardbook.settings import Settings
from tests.support.books import MAIN, TODAY, small_book
from tests.support.photographs import write_photograph
from tests.support.pixels import ROOT

NAMES = ("a" * 64 + ".jpg", "b" * 64 + ".png")


@pytest.fixture
def book(tmp_path: Path) -> Book:
    made = small_book(tmp_path / "home")
    return replace(
        made, settings=Settings(tmp_path / "home", cache_folder=ROOT / ".cache/swardbook")
    )


@pytest.fixture
def with_pictures(book: Book) -> Book:
    folder = book.settings.pictures / TO_SHARE
    folder.mkdir(parents=True)
    for number, name in enumerate(NAMES, 1):
        (folder / name).write_bytes(bytes(range(256)) * 9000 * number)
    (folder / ".half written").write_bytes(b"x")
    (folder / "notes.txt").write_bytes(b"mine")
    return book


def held(settings: Settings) -> dict[str, bytes]:
    folder = settings.pictures / TO_SHARE
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.name in NAMES}


def test_a_photograph_moves_house_without_its_place_and_is_known_there(
    book: Book, tmp_path: Path
) -> None:
    path = write_photograph(tmp_path / "one.jpg", has_place=True)
    (kept,) = read_photographs(book, [path], Asked(zone=MAIN.name))
    assert kept.state is State.KEPT
    assert kept.files is not None
    out = export_book(book, tmp_path / "one.zip")
    assert out.pictures == 1
    with zipfile.ZipFile(tmp_path / "one.zip") as archive:
        assert all(path.read_bytes() != archive.read(name) for name in archive.namelist())
    new = Settings(tmp_path / "new", cache_folder=book.settings.cache_folder)
    assert import_book(new, tmp_path / "one.zip").pictures == 1
    moved = new.pictures / TO_SHARE / kept.files.to_share.name
    assert moved.read_bytes() == kept.files.to_share.read_bytes()
    assert not (new.pictures / ORIGINALS).exists()
    (again,) = read_photographs(open_book(new, lambda: TODAY), [path], Asked(zone=MAIN.name))
    assert again.state is State.THERE


def test_pictures_come_back_bit_for_bit_and_go_out_again_as_the_same_bytes(
    with_pictures: Book, tmp_path: Path
) -> None:
    out = export_book(with_pictures, tmp_path / "one.zip")
    assert out.pictures == 2
    assert out.sha256 == sha256((tmp_path / "one.zip").read_bytes()).hexdigest()
    new = Settings(tmp_path / "new")
    import_book(new, tmp_path / "one.zip")
    assert held(new) == held(with_pictures.settings)
    assert sorted(path.name for path in (new.pictures / TO_SHARE).iterdir()) == sorted(NAMES)
    export_book(open_book(new, lambda: TODAY), tmp_path / "two.zip")
    assert (tmp_path / "one.zip").read_bytes() == (tmp_path / "two.zip").read_bytes()


def test_no_picture_is_ever_held_in_memory_whole(
    with_pictures: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refused(path: Path) -> bytes:
        raise AssertionError(path)

    monkeypatch.setattr("swardbook.book.archive_pictures._PART", 1000)
    monkeypatch.setattr(Path, "read_bytes", refused)
    most = 0
    plain = zipfile.ZipExtFile.read

    def measured(handle: zipfile.ZipExtFile, many: int | None = -1) -> bytes:
        nonlocal most
        part = plain(handle, many)
        if handle.name.startswith(FOLDER):
            most = max(most, len(part))
        return part

    monkeypatch.setattr(zipfile.ZipExtFile, "read", measured)
    export_book(with_pictures, tmp_path / "one.zip")
    import_book(Settings(tmp_path / "new"), tmp_path / "one.zip")
    assert 0 < most <= 1000


def test_a_damaged_picture_is_refused_by_name_and_leaves_nothing(
    with_pictures: Book, tmp_path: Path
) -> None:
    export_book(with_pictures, tmp_path / "one.zip")
    with (
        zipfile.ZipFile(tmp_path / "one.zip") as archive,
        zipfile.ZipFile(tmp_path / "bad.zip", "w") as bad,
    ):
        for name in archive.namelist():
            other = archive.read(name)[:-1] + b"!" if name.endswith(NAMES[0]) else None
            bad.writestr(name, archive.read(name) if other is None else other)
    with pytest.raises(DamagedBookError, match="a" * 64):
        import_book(Settings(tmp_path / "new"), tmp_path / "bad.zip")
    assert not (tmp_path / "new").exists()


def test_a_picture_left_out_of_the_archive_is_missed(with_pictures: Book, tmp_path: Path) -> None:
    export_book(with_pictures, tmp_path / "one.zip")
    with (
        zipfile.ZipFile(tmp_path / "one.zip") as archive,
        zipfile.ZipFile(tmp_path / "bad.zip", "w") as bad,
    ):
        assert FOLDER + NAMES[1] in json.loads(archive.read("manifest.json"))["files"]
        for name in archive.namelist():
            if not name.endswith(NAMES[1]):
                bad.writestr(name, archive.read(name))
    with pytest.raises(DamagedBookError, match="b" * 64):
        import_book(Settings(tmp_path / "new"), tmp_path / "bad.zip")


def test_an_import_that_fails_takes_its_pictures_away_again(
    with_pictures: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    export_book(with_pictures, tmp_path / "one.zip")

    def interrupted(*_: object) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as patch:
        patch.setattr("swardbook.records.store.Store.restore", interrupted)
        with pytest.raises(KeyboardInterrupt):
            import_book(Settings(tmp_path / "new"), tmp_path / "one.zip")
    assert not (tmp_path / "new" / "pictures").exists()
    assert import_book(Settings(tmp_path / "new"), tmp_path / "one.zip").pictures == 2


def test_a_full_disk_is_said_and_nothing_stays(
    with_pictures: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    export_book(with_pictures, tmp_path / "one.zip")

    def full(read: IO[bytes], out: IO[bytes], size: int) -> None:
        out.write(read.read(size))
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("swardbook.book.archive_pictures.shutil.copyfileobj", full)
    with pytest.raises(StorageError, match="No space left"):
        import_book(Settings(tmp_path / "new"), tmp_path / "one.zip")
    assert not (tmp_path / "new").exists()


def test_no_picture_is_written_into_a_home_that_has_a_book(
    with_pictures: Book, tmp_path: Path
) -> None:
    export_book(with_pictures, tmp_path / "one.zip")
    other = small_book(tmp_path / "other")
    with pytest.raises(BadInputError, match="never written over"):
        import_book(other.settings, tmp_path / "one.zip")
    assert not other.settings.pictures.exists()


@pytest.mark.parametrize(
    "name", ["x.jpg", "../" + NAMES[0], "A" * 64 + ".jpg", "a" * 64 + ".exe", "/" + NAMES[0]]
)
def test_only_names_that_pictures_have_are_taken(name: str) -> None:
    assert not is_picture(FOLDER + name)
    assert is_picture(FOLDER + NAMES[0])


def test_a_link_in_the_folder_is_not_followed(with_pictures: Book, tmp_path: Path) -> None:
    (tmp_path / "secret").write_text("x")
    link = with_pictures.settings.pictures / TO_SHARE / ("c" * 64 + ".jpg")
    link.symlink_to(tmp_path / "secret")
    assert [each.path.name for each in pictures_of(with_pictures.settings)] == list(NAMES)
