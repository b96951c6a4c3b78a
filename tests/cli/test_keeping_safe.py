"""Safe copies, a check-up, a move and a restore on the command line."""

import json
import shutil
from datetime import date
from pathlib import Path

import pytest

from swardbook.records.engine import is_faulty
from tests.cli.conftest import Run
from tests.support.books import small_book


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> Path:
    book = small_book(tmp_path_factory.mktemp("written") / "book")
    book.store.close()
    return book.settings.home


@pytest.fixture
def empty(run: Run, written: Path, book_home: Path) -> Run:
    """A small book of each test's own."""
    shutil.copytree(written, book_home)
    return run


@pytest.fixture(autouse=True)
def mended(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let whichever SQLite runs here be a mended one."""
    monkeypatch.setattr("swardbook.records.engine.is_faulty", lambda version: False)
    monkeypatch.setattr("swardbook.cli.doors.clock_today", date.today)


def test_a_book_without_a_copy_has_a_finding_and_with_one_has_none(empty: Run) -> None:
    told = empty("check-up", code=1)
    assert "there is no safe copy" in told.text
    assert "every checksum holds" in told.text
    made = empty("copy")
    assert "gone through and found whole" in made.text
    well = empty("check-up", "--json").json
    assert well["is_well"]
    assert {each["severity"] for each in well["findings"]} <= {"good to know"}


def test_the_faulty_sqlite_is_named_with_what_to_do(
    empty: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("swardbook.records.engine.is_faulty", lambda version: True)
    empty("copy")
    told = empty("check-up", code=1)
    assert "the file can be spoiled" in told.text.replace("\n", " ")
    assert "swardbook[sqlite]" in told.text


def test_which_versions_of_sqlite_have_the_fault() -> None:
    assert [is_faulty(each) for each in ("3.6.23", "3.7.0", "3.40.1", "3.51.2", "3.51.3")] == [
        False, True, True, True, False,
    ]  # fmt: skip


def test_others_who_may_read_the_book_are_a_finding(empty: Run, book_home: Path) -> None:
    empty("copy")
    book_home.chmod(0o755)
    (book_home / "book.sqlite3").chmod(0o644)
    told = empty("check-up", code=1)
    assert "others of this machine may read" in told.text
    assert "chmod -R go=" in told.text


def test_a_damaged_entry_a_lost_and_a_changed_picture_are_named(
    empty: Run, book_home: Path
) -> None:
    import sqlite3

    from swardbook.book.photo_files import keep_copies
    from swardbook.husbandry.attachments import Attachment
    from swardbook.records.opening import open_first_store
    from swardbook.settings import Settings
    from tests.support.books import entry

    marks = ["1" * 64, "2" * 64]
    settings = Settings(book_home)
    store = open_first_store(settings)
    store.add([entry(n, Attachment(file=mark, ending="jpg"), zone="") for n, mark in
               enumerate(marks, 1)])  # fmt: skip
    store.close()
    keep_copies(settings, f"{marks[0]}.jpg", b"not what that mark is of", b"to share")
    with sqlite3.connect(settings.book_file) as raw:
        raw.execute("UPDATE records_thing SET text = replace(text, 'Croquet', 'Crochet')")
    raw.close()
    found = empty("check-up", "--json", code=1).json["findings"]
    told = {(each["about"], each["severity"]) for each in found}
    assert {("entries", "act now"), ("pictures", "act now")} <= told
    words = " ".join(each["found"] for each in found)
    assert "that the diary names are not there" in words
    assert "are not what was kept" in words
    assert "site" in words


def test_entries_of_a_day_to_come_make_the_clock_a_finding(
    empty: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("swardbook.cli.doors.clock_today", lambda: date(2199, 10, 8))
    empty("diary", "add", "note", "--set", "text=the clock is ahead")
    told = empty("check-up", code=1)
    assert "8 October 2199" in told.text


def test_a_copy_is_listed_read_again_and_brought_back(empty: Run, book_home: Path) -> None:
    empty("copy")
    archive = book_home / "before.zip"
    empty("export", str(archive))
    [copy] = empty("copy", "--list", "--json").json["copies"]
    assert "All of them were read through" in empty("copy", "--verify").text
    assert empty("copy", "--daily", "--json").json == {"copy": None}
    empty("diary", "add", "note", "--set", "text=after the copy")
    told = empty("restore", copy["name"], "--against", str(archive), "--json").json
    assert told["same_as"] == [str(archive)]
    assert told["entries"] == copy["entries"]
    assert (Path(told["set_aside"]) / "book.sqlite3").is_file()


def test_a_moved_book_says_where_it_is_and_comes_back(empty: Run, book_home: Path) -> None:
    new = book_home.parent / "new"
    told = empty("move-to", str(new))
    assert "byte for byte" in told.text
    assert str(new) in empty("diary", "show", code=1).text
    assert str(new) in empty("check-up", code=1).text
    assert json.loads(empty("move-to", "--undo", "--json").result.stdout)["other_is_marked"]
    empty("diary", "show")


def test_a_target_is_needed_or_an_undo_and_not_both(empty: Run) -> None:
    empty("move-to", code=2)
    empty("move-to", "somewhere", "--undo", code=2)
    assert "was moved" in empty("move-to", "--undo", code=2).text
