"""Safe copies: whole or none, gone through, thinned out, and brought back."""

import shutil
import sqlite3
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from swardbook.book import copying
from swardbook.book.archive import export_book
from swardbook.book.copies_kept import Kept, read_kept, staying
from swardbook.book.copying import copies_of, daily_copy, make_copy, verify_copy
from swardbook.book.opening import open_any_book
from swardbook.book.photo_files import keep_copies
from swardbook.book.restoring import restore
from swardbook.foundation.errors import (
    BadInputError,
    DamagedBookError,
    RefusedError,
    StorageError,
    UnknownNameError,
)
from swardbook.records.opening import create_store, open_first_store
from swardbook.settings import Settings
from tests.support.books import entry, filled
from tests.support.databases import place

NOW = datetime(2011, 10, 9, 2, 30, tzinfo=UTC)
DAY = timedelta(days=1)
MARK = "0" * 63 + "1"


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> Path:
    settings = Settings(tmp_path_factory.mktemp("written") / "home")
    store = filled(create_store(settings))
    store.add([entry(1), entry(2)])
    store.close()
    keep_copies(settings, f"{MARK}.jpg", b"as it came", b"to share")
    return settings.home


@pytest.fixture
def settings(written: Path, tmp_path: Path) -> Settings:
    return Settings(shutil.copytree(written, tmp_path / "home"))


def write(settings: Settings, number: int) -> None:
    store = open_first_store(settings)
    store.add([entry(number)])
    store.close()


def entries_in(settings: Settings) -> int:
    store = open_first_store(settings)
    try:
        assert store.check() == ()
        return len(store.whole_diary())
    finally:
        store.close()


def test_a_copy_holds_the_whole_book_and_its_pictures(settings: Settings) -> None:
    made = make_copy(settings, NOW)
    assert (made.name, made.entries, len(made.pictures)) == ("2011-10-09-023000", 2, 2)
    assert copies_of(settings) == (made,)
    assert sorted(each.name for each in made.pictures) == [
        f"originals/{MARK}.jpg", f"to share/{MARK}.jpg",
    ]  # fmt: skip
    pool = settings.copies / "pictures"
    assert (pool / "originals" / f"{MARK}.jpg").read_bytes() == b"as it came"
    assert verify_copy(made, NOW + DAY).verified_at == NOW + DAY
    assert copies_of(settings)[0].verified_at == NOW + DAY


def test_a_picture_lies_once_in_the_folder_of_copies_however_many_copies_have_it(
    settings: Settings,
) -> None:
    first = make_copy(settings, NOW)
    file = settings.copies / "pictures" / "originals" / f"{MARK}.jpg"
    before = file.stat().st_ino
    assert make_copy(settings, NOW + DAY).pictures == first.pictures
    assert file.stat().st_ino == before
    assert not file.samefile(settings.pictures / "originals" / f"{MARK}.jpg")


def test_the_days_copy_is_made_once(settings: Settings) -> None:
    assert daily_copy(settings, NOW) is not None
    assert daily_copy(settings, NOW + timedelta(hours=20)) is None
    second = daily_copy(settings, NOW + DAY)
    assert second is not None
    assert second.why == "daily"
    # The older one was read through again on the way.
    assert [each.verified_at for each in copies_of(settings)] == [NOW + DAY, NOW + DAY]


def test_two_programs_do_not_both_make_the_days_copy(settings: Settings) -> None:
    with copying._alone(settings) as first:
        assert first
        with copying._alone(settings) as second:
            assert not second
        assert daily_copy(settings, NOW) is None
        with pytest.raises(RefusedError, match="another program"):
            make_copy(settings, NOW)
    assert daily_copy(settings, NOW) is not None


def test_a_disk_that_is_full_leaves_no_copy_and_harms_no_earlier_one(
    settings: Settings, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = make_copy(settings, NOW)
    write(settings, 3)

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr(copying, "_write_about", full)
        with pytest.raises(StorageError, match="No space left"):
            make_copy(settings, NOW + DAY)
    assert copies_of(settings) == (first,)
    assert not list(settings.copies.glob(".*unfinished"))


def test_a_book_with_a_damaged_entry_makes_no_copy_and_earlier_ones_stay(
    settings: Settings,
) -> None:
    first = make_copy(settings, NOW)
    spoil(settings.book_file)
    with pytest.raises(DamagedBookError, match="entry 2"):
        make_copy(settings, NOW + DAY)
    assert copies_of(settings) == (first,)


def spoil(file: Path) -> None:
    """Change an entry behind the book's back."""
    raw = sqlite3.connect(file)
    raw.execute("DROP TRIGGER records_entry_no_update")
    raw.execute("UPDATE records_entry SET text = replace(text, '8.0', '9.0') WHERE position = 2")
    raw.commit()
    raw.close()


def test_a_copy_that_was_changed_is_found_and_not_brought_back(settings: Settings) -> None:
    made = make_copy(settings, NOW)
    before = settings.book_file.read_bytes()
    with made.file.open("r+b") as handle:
        handle.seek(20_000)
        handle.write(b"x")
    with pytest.raises(DamagedBookError, match="checksum"):
        verify_copy(made, NOW)
    with pytest.raises(DamagedBookError, match="checksum"):
        restore(settings, "newest", NOW)
    assert settings.book_file.read_bytes() == before


def test_a_copied_picture_that_was_changed_is_found(settings: Settings) -> None:
    made = make_copy(settings, NOW)
    (settings.copies / "pictures" / "to share" / f"{MARK}.jpg").write_bytes(b"to shape")
    with pytest.raises(DamagedBookError, match="to share"):
        verify_copy(made, NOW)


def test_a_copy_comes_back_over_a_damaged_book_which_is_set_aside(
    settings: Settings, tmp_path: Path
) -> None:
    book = open_any_book(settings, NOW.date)
    archive = export_book(book, tmp_path / "out.zip").path
    book.store.close()
    make_copy(settings, NOW)
    write(settings, 3)
    (settings.pictures / "originals" / f"{MARK}.jpg").unlink()
    (settings.pictures / "to share" / f"{MARK}.jpg").write_bytes(b"spoilt..")
    settings.book_file.write_bytes(b"SQLite format 3\x00 and then nothing")
    found = restore(settings, "newest", NOW + DAY, (archive,))
    assert (found.entries, found.pictures, found.compared) == (2, 2, (str(archive),))
    assert entries_in(settings) == 2
    assert found.set_aside is not None
    assert (found.set_aside / "book.sqlite3").read_bytes().endswith(b"and then nothing")
    assert (settings.pictures / "to share" / f"{MARK}.jpg").read_bytes() == b"to share"


def test_what_was_written_after_the_copy_is_told_apart_from_an_export(
    settings: Settings, tmp_path: Path
) -> None:
    make_copy(settings, NOW)
    write(settings, 3)
    book = open_any_book(settings, NOW.date)
    archive = export_book(book, tmp_path / "later.zip").path
    book.store.close()
    with pytest.raises(DamagedBookError, match="another state"):
        restore(settings, "newest", NOW, (archive,))
    assert entries_in(settings) == 2


def test_nothing_is_restored_under_a_program_that_has_the_book_open(settings: Settings) -> None:
    make_copy(settings, NOW)
    store = open_first_store(settings)
    store.ground()
    with pytest.raises(RefusedError, match="Stop `swardbook serve`"):
        restore(settings, "newest", NOW)
    store.close()


def test_a_log_left_beside_a_book_that_is_gone_is_not_taken_for_the_restored_ones(
    settings: Settings,
) -> None:
    make_copy(settings, NOW)
    raw = sqlite3.connect(settings.book_file)
    raw.execute("PRAGMA journal_mode=WAL")
    raw.execute("CREATE TABLE extra (x)")
    log = settings.home / "book.sqlite3-wal"
    held = log.read_bytes()
    raw.close()
    settings.book_file.unlink()
    log.write_bytes(held)
    found = restore(settings, "newest", NOW)
    assert found.set_aside is not None
    assert (found.set_aside / log.name).read_bytes() == held
    assert entries_in(settings) == 2


def test_a_copy_that_is_not_there_is_not_guessed_at(settings: Settings) -> None:
    with pytest.raises(UnknownNameError):
        restore(settings, "newest", NOW)
    make_copy(settings, NOW)
    with pytest.raises(UnknownNameError, match="2011-10-09"):
        restore(settings, "2011-10-08-023000", NOW)


def test_a_copy_comes_back_into_another_kind_of_database(
    settings: Settings, tmp_path: Path
) -> None:
    made = make_copy(settings, NOW)
    other = place(tmp_path / "other")
    found = restore(other, str(made.folder), NOW)
    assert (found.entries, found.set_aside) == (2, None)
    assert entries_in(other) == 2
    again = make_copy(other, NOW + DAY)
    assert (again.grounds, len(again.pictures)) == (made.grounds, 2)


def test_old_copies_are_thinned_out_with_pictures_that_none_of_the_rest_has(
    settings: Settings,
) -> None:
    few = Settings(settings.home, copies_kept="2,0,0")
    make_copy(few, NOW)
    for kind in ("originals", "to share"):
        (few.pictures / kind / f"{MARK}.jpg").unlink()
    for later in (1, 2, 3):
        make_copy(few, NOW + later * DAY)
    assert [each.name[:10] for each in copies_of(few)] == ["2011-10-11", "2011-10-12"]
    assert not list((few.copies / "pictures" / "originals").iterdir())


def test_of_each_day_week_and_month_the_newest_stays() -> None:
    first = date(2011, 1, 1)
    days = [first + timedelta(days=n) for n in range(365)]
    stay = [days[n] for n in staying(days, Kept(7, 5, 12))]
    assert stay[-7:] == days[-7:]
    assert [each for each in stay if each.weekday() == 6][-4:] == [
        date(2011, 12, 4), date(2011, 12, 11), date(2011, 12, 18), date(2011, 12, 25),
    ]  # fmt: skip
    assert {each.month for each in stay} == set(range(1, 13))
    assert len(stay) == len(set(stay)) < 24


def test_two_copies_of_one_day_count_as_one_day() -> None:
    assert staying([date(2011, 1, 1)] * 2 + [date(2011, 1, 2)], Kept(2, 0, 0)) == (1, 2)
    assert staying([], Kept(1, 1, 1)) == ()


def test_how_many_stay_is_read_in_words_that_are_refused_if_odd() -> None:
    assert read_kept() == Kept(7, 5, 12)
    assert read_kept(" 3, 2 ,1") == Kept(3, 2, 1)
    for odd in ("0,1,1", "3,2", "a,b,c", "-1,2,3"):
        with pytest.raises(BadInputError, match="7,5,12"):
            read_kept(odd)
