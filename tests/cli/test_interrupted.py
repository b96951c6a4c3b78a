"""A command killed midway leaves the book as it was, and can be run again."""

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from tests.cli.conftest import Run

KILLED_AT = """
import os, signal, sys
from swardbook.records.setup import configure
configure()
import swardbook.records.rows as rows

place = {place!r}
real = getattr(rows.Rows, place)

def halfway(*arguments):
    real(*arguments)
    os.kill(os.getpid(), signal.SIGKILL)

setattr(rows.Rows, place, halfway)
sys.argv = ["swardbook", *{arguments!r}]
from swardbook.cli.main import main
main()
"""


def killed(home: Path, place: str, *arguments: str) -> None:
    """Run a command in a process of its own that is killed once some rows are written."""
    text = KILLED_AT.format(place=place, arguments=list(arguments))
    done = subprocess.run(
        [sys.executable, "-c", text],
        env={**os.environ, "SWARDBOOK_HOME": str(home)},
        capture_output=True,
        check=False,
        timeout=120,
    )
    assert done.returncode == -signal.SIGKILL, done.stderr.decode()


def old(folder: Path) -> str:
    path = folder / "old.csv"
    rows = [f"{day}/9/2010,Main court,cut,8 mm" for day in range(1, 31)]
    path.write_text("\n".join(["date,zone,job,height", *rows, "soon,Main court,cut,8 mm"]))
    return str(path)


def station(folder: Path, name: str, warmer: float = 0.0) -> str:
    path = folder / name
    rows = [f"2011-09-{day:02},{8 + warmer},{17 + warmer},1" for day in range(1, 31)]
    path.write_text("\n".join(["date,tmin_c,tmax_c,rain_mm", *rows]))
    return str(path)


def test_history_killed_midway_leaves_no_row_and_goes_in_again(
    ground: Run, book_home: Path, tmp_path: Path
) -> None:
    before = ground("diary", "show", "--all", "--json").json["entries"]
    killed(book_home, "append_entries", "history-in", old(tmp_path), "--keep")
    assert ground("diary", "show", "--all", "--json").json["entries"] == before
    ground("diary", "check")
    again = ground("history-in", old(tmp_path), "--keep", "--json").json["counts"]
    assert (again["understood"], again["parked"], again["in_the_diary_already"]) == (30, 1, 0)


def test_a_count_killed_midway_keeps_neither_good_rows_nor_parked_ones(
    ground: Run, book_home: Path, tmp_path: Path
) -> None:
    sheet = tmp_path / "counts.csv"
    sheet.write_text("place,bare\nP1,3\nP2,lots\n")
    add = ("count", "add", "--zone", "Main court", "--file", str(sheet))
    killed(book_home, "append_entries", *add)
    assert ground("diary", "show", "--all", "--json").json["entries"] == []
    again = ground(*add, "--json").json
    assert len(again["entry"]["what"]["places"]) == len(again["parked"]) == 1


def test_weather_killed_midway_is_what_it_was(ground: Run, book_home: Path, tmp_path: Path) -> None:
    ground("weather", "import", station(tmp_path, "one.csv"))
    before = ground("weather", "show", "--json").json
    warm = station(tmp_path, "two.csv", warmer=2.0)
    killed(book_home, "put_weather", "weather", "import", warm)
    assert ground("weather", "show", "--json").json == before
    ground("diary", "check")
    ground("weather", "import", warm)
    assert ground("weather", "show", "--json").json["months"] != before["months"]


def test_an_import_killed_midway_leaves_no_book_and_can_be_run_again(
    ground: Run, book_home: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    ground("history-in", old(tmp_path), "--keep")
    whole = ground("diary", "show", "--all", "--json").json["entries"]
    archive = str(tmp_path / "all.zip")
    ground("export", archive)
    other = tmp_path / "other"
    killed(other, "append_entries", "import", archive)
    assert not (other / "book.sqlite3").exists()
    monkeypatch.setenv("SWARDBOOK_HOME", str(other))
    ground("import", archive)
    assert ground("diary", "show", "--all", "--json").json["entries"] == whole
    assert [each.name for each in other.iterdir()] == ["book.sqlite3"]
