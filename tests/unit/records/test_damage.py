"""What a disk, a cable or another program can do to a book; nothing is lost in silence."""

import multiprocessing
import os
import random
import shutil
import sqlite3
import subprocess
import sys
import time
from datetime import date
from pathlib import Path

import numpy as np
import pytest

from swardbook.foundation.errors import BookBusyError, DamagedBookError, SwardbookError
from swardbook.husbandry.ground import Ground
from swardbook.records import schema, setup
from swardbook.records.chain import FIRST, Link, checksum, damages
from swardbook.records.damaged import THE_FILE
from swardbook.records.opening import create_store, open_store
from swardbook.settings import Settings
from swardbook.weather.forecast import Forecast
from swardbook.weather.series import DailyWeather
from tests.support.books import MAIN, entry, filled


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book of forty entries, made once."""
    settings = Settings(tmp_path_factory.mktemp("written") / "home")
    store = filled(create_store(settings))
    store.add([entry(n, note=f"note number {n} " * 20) for n in range(1, 41)])
    store.close()
    return settings.home


@pytest.fixture
def settings(written: Path, tmp_path: Path) -> Settings:
    """A copy of it for each test."""
    return Settings(Path(shutil.copytree(written, tmp_path / "home")))


def chained(*texts: str) -> list[Link]:
    links, previous = [], FIRST
    for place, text in enumerate(texts, 1):
        previous = checksum(previous, text)
        links.append(Link(place, f"id {place}", text, previous))
    return links


def test_a_whole_chain_has_no_damage() -> None:
    assert damages(chained("a", "b", "c")) == ()


def test_a_changed_entry_is_named_and_those_after_it_are_counted() -> None:
    links = chained("a", "b", "c", "d")
    links[1] = Link(2, "id 2", "B", links[1].checksum)
    [found] = damages(links)
    assert (found.position, found.entry, found.after) == (2, "id 2", 2)


def test_a_changed_entry_with_a_new_checksum_of_its_own_shows_at_the_next() -> None:
    links = chained("a", "b", "c")
    links[1] = Link(2, "id 2", "B", checksum(links[0].checksum, "B"))
    assert [each.position for each in damages(links)] == [3]


def test_a_missing_entry_is_named_at_the_one_that_follows() -> None:
    links = chained("a", "b", "c", "d")
    del links[1:3]
    [found] = damages(links)
    assert "2 entries are missing" in found.found


def test_flipped_bytes_in_an_entry_are_found_and_named_and_the_rest_is_still_read(
    settings: Settings,
) -> None:
    raw = bytearray(settings.book_file.read_bytes())
    at = raw.index(b"note number 7 ")
    raw[at : at + 4] = b"tone"
    settings.book_file.write_bytes(bytes(raw))
    store = open_store(settings)
    [found] = store.check()
    assert (found.position, found.after) == (7, 33)
    assert found.entry.endswith("007")
    assert len(store.whole_diary()) == 40
    store.close()


def test_an_entry_that_can_no_longer_be_read_is_named(settings: Settings) -> None:
    raw = settings.book_file.read_bytes()
    at = raw.index(b"note number 7 ")
    settings.book_file.write_bytes(raw[:at] + b'"' + raw[at + 1 :])
    store = open_store(settings)
    with pytest.raises(DamagedBookError, match="Entry 7"):
        store.whole_diary()
    assert [each.position for each in store.check()] == [7]
    store.close()


def test_broken_letters_do_not_hide_which_entry_is_broken(settings: Settings) -> None:
    raw = settings.book_file.read_bytes()
    at = raw.index(b"note number 7 ")
    settings.book_file.write_bytes(raw[:at] + b"\xff" + raw[at + 1 :])
    store = open_store(settings)
    assert [each.position for each in store.check()] == [7]
    assert len(store.whole_diary()) == 40
    store.close()


def test_a_changed_zone_is_found(settings: Settings) -> None:
    raw = settings.book_file.read_bytes()
    assert raw.count(b'"area_m2":819.2') == 1
    settings.book_file.write_bytes(raw.replace(b'"area_m2":819.2', b'"area_m2":919.2'))
    store = open_store(settings)
    assert [each.where for each in store.check()] == ["A zone of the ground"]
    store.close()


def test_changed_weather_is_found(settings: Settings) -> None:
    days = np.arange("2011-01-01", "2011-02-01", dtype="datetime64[D]")
    odd = np.where(np.arange(len(days)) % 3 == 0, -np.nan, -0.0)
    store = open_store(settings)
    store.save_weather(
        DailyWeather(days, odd, odd + 7, odd, np.zeros(len(days), dtype=np.int64)), "station"
    )
    assert store.check() == ()
    store.close()
    other = sqlite3.connect(settings.book_file)
    other.execute("UPDATE records_weatherday SET tmax = 70 WHERE day = '2011-01-02'")
    other.commit()
    other.close()
    store = open_store(settings)
    assert [each.where for each in store.check()] == ["The weather"]
    store.close()


@pytest.mark.parametrize("change", ["day SET tmax = 70", "series SET made_on = '2011-01-09'"])
def test_a_changed_forecast_is_found(settings: Settings, change: str) -> None:
    days = np.arange("2011-01-01", "2011-01-05", dtype="datetime64[D]")
    warm, flags = np.arange(4.0), np.zeros(4, dtype=np.int64)
    store = open_store(settings)
    told = DailyWeather(days, warm, warm + 7, warm, flags)
    store.save_forecast(Forecast(told, date(2010, 12, 31)))
    assert store.check() == ()
    store.close()
    other = sqlite3.connect(settings.book_file)
    other.execute(f"UPDATE records_forecast{change}")
    other.commit()
    other.close()
    store = open_store(settings)
    assert [each.where for each in store.check()] == ["The forecast"]
    store.close()


@pytest.mark.parametrize("seed", range(30))
def test_whatever_bytes_change_the_answer_is_a_refusal_a_name_or_the_same_diary(
    settings: Settings, seed: int
) -> None:
    dice = random.Random(seed)
    store = open_store(settings)
    written = store.ground()
    store.close()
    raw = bytearray(settings.book_file.read_bytes())
    for _ in range(dice.choice((1, 3, 30))):
        raw[dice.randrange(len(raw))] = dice.randrange(256)
    settings.book_file.write_bytes(raw[: dice.choice((len(raw), len(raw), dice.randrange(99999)))])
    assert answer_of(settings, written) in {"refused", "named", "the same"}


def answer_of(settings: Settings, written: Ground) -> str:
    """Say how a book that may be damaged answers."""
    try:
        store = open_store(settings)
    except DamagedBookError:
        return "refused"
    try:
        if store.check():
            return "named"
        return "the same" if store.ground() == written else "silently another"
    except DamagedBookError:
        return "refused"
    finally:
        store.close()


@pytest.mark.parametrize("content", [b"", b"not a database at all" * 20, b"SQLite format 3\x00"])
def test_a_file_that_is_no_book_is_refused_and_left_untouched(
    tmp_path: Path, content: bytes
) -> None:
    settings = Settings(tmp_path)
    settings.book_file.write_bytes(content)
    with pytest.raises(DamagedBookError, match="left as it is"):
        open_store(settings)
    assert settings.book_file.read_bytes() == content
    assert os.listdir(tmp_path) == ["book.sqlite3"]


def test_the_database_of_another_program_is_refused_and_left_untouched(tmp_path: Path) -> None:
    settings = Settings(tmp_path)
    other = sqlite3.connect(settings.book_file)
    other.execute("CREATE TABLE theirs (a)")
    other.commit()
    other.close()
    before = settings.book_file.read_bytes()
    with pytest.raises(DamagedBookError, match="another program"):
        open_store(settings)
    assert settings.book_file.read_bytes() == before


def test_broken_pages_are_found_when_the_book_is_opened(settings: Settings) -> None:
    raw = bytearray(settings.book_file.read_bytes())
    raw[4096:] = bytes(len(raw) - 4096)
    settings.book_file.write_bytes(bytes(raw))
    with pytest.raises(DamagedBookError):
        open_store(settings)
    assert settings.book_file.read_bytes() == bytes(raw)


def add_many(home: Path, first: int, failed: "multiprocessing.Queue[str]") -> None:
    """Add twenty entries one by one, as another program would."""
    try:
        store = open_store(Settings(home))
        for n in range(first, first + 20):
            store.add([entry(n)])
        store.close()
    except SwardbookError as slip:
        failed.put(str(slip))


def test_two_programs_that_write_at_once_lose_nothing(settings: Settings) -> None:
    context = multiprocessing.get_context("spawn")
    failed: multiprocessing.Queue[str] = context.Queue()
    workers = [
        context.Process(target=add_many, args=(settings.home, first, failed))
        for first in (1000, 2000)
    ]
    for worker in workers:
        worker.start()
    for worker in workers:
        worker.join()
    assert failed.empty()
    store = open_store(settings)
    assert len(store.whole_diary()) == 80
    assert store.check() == ()
    store.close()


def test_a_book_that_stays_busy_says_so_and_changes_nothing(
    settings: Settings, monkeypatch: pytest.MonkeyPatch
) -> None:
    quick = setup.sqlite_database
    monkeypatch.setattr(
        "swardbook.records.opening.sqlite_database", lambda file: quick(file, busy_seconds=0.1)
    )
    store = open_store(settings)
    holder = sqlite3.connect(settings.book_file, isolation_level=None)
    holder.execute("BEGIN IMMEDIATE")
    with pytest.raises(BookBusyError, match="Nothing was changed"):
        store.add([entry(500)])
    holder.execute("ROLLBACK")
    holder.close()
    assert len(store.whole_diary()) == 40
    store.add([entry(500)])
    store.close()


CHILD = """
import resource, sys
from pathlib import Path
from swardbook.foundation.errors import StorageError
from swardbook.records.opening import open_store
from swardbook.settings import Settings
from swardbook.weather.series import DailyWeather
from tests.support.books import entry

store = open_store(Settings(Path(sys.argv[1])))
resource.setrlimit(resource.RLIMIT_FSIZE, (60_000, resource.RLIM_INFINITY))
try:
    store.add([entry(n, note="x" * 3000) for n in range(1000, 1200)])
except StorageError as refused:
    print("refused:", refused)
resource.setrlimit(resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))
store.add([entry(5000)])
print("entries:", len(store.whole_diary()), "damage:", store.check())
"""


def run_child(code: str, *arguments: str) -> str:
    root = Path(__file__).parents[3]
    done = subprocess.run(
        [sys.executable, "-c", code, *arguments], cwd=root, capture_output=True, text=True,
        check=False, env={**os.environ, "PYTHONPATH": str(root)},
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    return done.stdout


@pytest.mark.skipif(sys.platform == "win32", reason="no limit on a file's size there")
def test_a_full_disk_refuses_the_write_whole_and_what_was_there_stays(settings: Settings) -> None:
    told = run_child(CHILD, str(settings.home))
    assert "refused: Could not write" in told
    assert "what was stored before is untouched" in told
    assert "entries: 41 damage: ()" in told


KILLED = """
import sys
from pathlib import Path
from swardbook.records.opening import open_store
from swardbook.settings import Settings
from swardbook.weather.series import DailyWeather
from tests.support.books import entry

store = open_store(Settings(Path(sys.argv[1])))
for n in range(1000, 100_000):
    store.add([entry(n)])
    print(n, flush=True)
"""


def test_a_program_killed_while_writing_loses_no_entry_it_had_acknowledged(
    settings: Settings,
) -> None:
    root = Path(__file__).parents[3]
    worker = subprocess.Popen(
        [sys.executable, "-c", KILLED, str(settings.home)], cwd=root, text=True,
        stdout=subprocess.PIPE, env={**os.environ, "PYTHONPATH": str(root)},
    )  # fmt: skip
    assert worker.stdout is not None
    told = [int(worker.stdout.readline()) for _ in range(5)]
    time.sleep(0.02)
    worker.kill()
    told += [int(line) for line in worker.stdout.read().split()]
    worker.wait()
    worker.stdout.close()
    store = open_store(settings)
    assert {*told} <= {each.id.int for each in store.whole_diary()}
    assert store.check() == ()
    assert store.ground().zone("main court") == MAIN
    store.close()


def quick_checks(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Count how often the pages of a file are gone through."""
    asked: list[str] = []
    real = schema.quick_check

    def counted(alias: str, where: str) -> None:
        asked.append(where)
        real(alias, where)

    monkeypatch.setattr(schema, "quick_check", counted)
    return asked


def test_the_pages_of_a_small_book_are_gone_through_each_time(
    settings: Settings, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = quick_checks(monkeypatch)
    for _ in range(3):
        open_store(settings).close()
    assert len(asked) == 3
    assert [path.name for path in settings.home.glob(".*")] == []


def test_the_pages_of_a_large_book_are_gone_through_once_a_day_and_when_the_file_is_another(
    settings: Settings, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = quick_checks(monkeypatch)
    monkeypatch.setattr(schema, "CHECKED_EACH_TIME", 1000)
    for _ in range(3):
        open_store(settings).close()
    assert len(asked) == 1
    marker = settings.home / ".book.sqlite3.checked"
    long_ago = time.time() - 2 * schema.CHECK_AGAIN
    os.utime(marker, (long_ago, long_ago))
    open_store(settings).close()
    assert len(asked) == 2
    copy = settings.home / "copy"
    copy.write_bytes(settings.book_file.read_bytes())
    copy.replace(settings.book_file)
    open_store(settings).close()
    assert len(asked) == 3


def test_a_large_book_whose_pages_break_within_the_day_is_found_by_the_check(
    settings: Settings, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(schema, "CHECKED_EACH_TIME", 1000)
    open_store(settings).close()
    raw = bytearray(settings.book_file.read_bytes())
    raw[-4096:] = bytes(4096)
    settings.book_file.write_bytes(bytes(raw))
    store = open_store(settings)
    assert [each.where for each in store.check()][:1] == [THE_FILE]
    store.close()
