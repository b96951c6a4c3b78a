"""Books that earlier swardbooks wrote with their own code: all that was in them is there."""

import json
import lzma
import zipfile
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest

from swardbook.book.archive import export_book
from swardbook.book.opening import Book
from swardbook.records.contents import contents_of
from swardbook.records.opening import open_first_store
from swardbook.records.schema import MIGRATIONS
from swardbook.settings import Settings
from tests.support.books import TODAY, entry

FOLDER = Path(__file__).parents[2] / "data" / "old_books"
SHAPES = sorted(path.name.removesuffix(".sqlite3.xz") for path in FOLDER.glob("*.sqlite3.xz"))
NEVER_ALONE = {"0001_book"}
"""Was never the newest of any commit, so there is no book of it."""


def unpacked(shape: str, home: Path) -> Settings:
    settings = Settings(home)
    home.mkdir()
    settings.book_file.write_bytes(lzma.decompress((FOLDER / f"{shape}.sqlite3.xz").read_bytes()))
    return settings


def told_of(shape: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((FOLDER / f"{shape}.json").read_text("utf-8"))
    return found


def test_there_is_a_book_of_every_shape_but_the_newest_ones() -> None:
    last = MIGRATIONS.index(SHAPES[-1])
    assert set(MIGRATIONS[: last + 1]) - NEVER_ALONE == set(SHAPES)


@pytest.mark.parametrize("shape", SHAPES)
def test_an_old_book_is_copied_and_opens_with_the_same_entries_in_its_export(
    shape: str, tmp_path: Path
) -> None:
    settings = unpacked(shape, tmp_path / "home")
    before = contents_of(settings.book_file)
    assert (before.shape, before.damage) == (shape, ())
    told = told_of(shape)
    store = open_first_store(settings)
    for ground in store.grounds():
        own = store.at(ground.slug)
        assert own.check() == ()
        made = export_book(
            Book(settings, own, TODAY, TODAY, False), tmp_path / f"{ground.slug}.zip"
        ).path
        was = told["files"].pop(ground.slug)
        with zipfile.ZipFile(made) as archive:
            names = set(archive.namelist())
            now = {name: sha256(archive.read(name)).hexdigest() for name in was if name in names}
        # The diary and what was kept are the same bytes; tables may have gained a column since.
        for name in ("diary.jsonl", "kept.jsonl", "weather.csv", "forecast.csv"):
            assert now.get(name) == was.get(name), name
        assert set(was) <= names
    assert told["files"] == {}
    if "people" in told["holds"]:
        assert [each.name for each in store.people().everyone()] == ["Bram"]
    if "keys" in told["holds"]:
        assert store.tokens().of("a secret") is not None
    store.add([entry(5)])
    assert store.check() == ()
    store.close()
    assert contents_of(settings.book_file).shape == MIGRATIONS[-1]
    copies = list(settings.home.glob("book-before-*.sqlite3"))
    assert [contents_of(each) for each in copies] == [before] * (shape != MIGRATIONS[-1])


def test_a_copy_before_an_upgrade_is_never_written_over(tmp_path: Path) -> None:
    settings = unpacked(SHAPES[0], tmp_path / "home")
    named = f"book-before-{MIGRATIONS[-1]}.sqlite3"
    (settings.home / named).write_bytes(b"an earlier copy")
    open_first_store(settings).close()
    assert (settings.home / named).read_bytes() == b"an earlier copy"
    assert contents_of(settings.home / f"book-before-{MIGRATIONS[-1]}-2.sqlite3").shape == SHAPES[0]
