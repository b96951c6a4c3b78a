"""An old spreadsheet or notebook goes in row by row, shown before anything is kept."""

from pathlib import Path
from typing import Any

import pytest

from tests.cli.conftest import Run

SHEET = """Fennowick lawn book,,
Date;Lawn;Job;Seed;Rate (oz/yd2);Height (in);Boxed;Hours;poa annua;bare;Peg;Gang
4/9/10;Main court;sown;Bobbin;1;;;2,5;;;;two of us
11/9/10;";mowed;;;1/2;yes;;;;;
;Short court;cut;;;8 mm;no;;;;;
2 Oct 2010;Main court;count;;;;;;6;2;P1;
31 Sept 2010;Main court;cut;;;1/2;;;;;;
3 Oct 2010;Mian court;cut;;;1/2;;;;;;
4 Oct 2010;Main court;polished;;;;;;;;;
9 Oct 2011;Main court;cut;;;1/2;;;;;;
5 Oct 2010;Main court;count;;;;;;26;2;P2;
"""


@pytest.fixture
def old(tmp_path: Path) -> str:
    path = tmp_path / "old.csv"
    path.write_text(SHEET, encoding="utf-8")
    return str(path)


def diary(run: Run) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = run("diary", "show", "--all", "--json").json["entries"]
    return found


def rows(told: dict[str, Any], state: str) -> list[dict[str, Any]]:
    return [row for row in told["rows"] if row["state"] == state]


def test_nothing_is_written_before_it_is_to_be_kept(ground: Run, old: str) -> None:
    told = ground("history-in", old).text
    assert "9 rows: 4 guessed, 5 parked." in told
    assert "Nothing is written yet" in told
    assert diary(ground) == []


def test_what_is_understood_guessed_and_not_is_told_row_by_row(ground: Run, old: str) -> None:
    told = ground("history-in", old, "--json").json
    sown, cut, short, count = rows(told, "guessed")
    assert sown["entry"]["what"]["rate_g_m2"] == pytest.approx(33.9057, abs=1e-3)
    assert (sown["entry"]["hours"], sown["entry"]["when"]["first"]) == (2.5, "2010-09-04")
    assert "two of us" in sown["entry"]["note"]
    assert "Bobbin" in sown["entry"]["note"]
    assert (cut["entry"]["zone"], cut["entry"]["what"]["boxed"]) == ("Main court", True)
    assert cut["entry"]["what"]["height_of_cut_mm"] == pytest.approx(12.7)
    assert (short["entry"]["when"]["first"], short["entry"]["what"]["boxed"]) == (
        "2010-09-11", False,
    )  # fmt: skip
    assert "hits of a frame of 25 crossings" in count["guessed"][-1]
    slips = [(row["line"], row["entry"]["what"]["column"]) for row in rows(told, "parked")]
    assert slips == [
        (7, "date"), (8, "zone"), (9, "job"), (10, "date"), (11, "all kinds together"),
    ]  # fmt: skip
    assert "Main court" in rows(told, "parked")[1]["entry"]["what"]["likely"]


def test_kept_twice_is_kept_once(ground: Run, old: str) -> None:
    ground("history-in", old, "--keep")
    once = diary(ground)
    assert [each["what"]["kind"] for each in once if each["what"]["kind"] != "parked"] == [
        "sow", "cut", "cut", "count",
    ]  # fmt: skip
    assert sum(each["what"]["kind"] == "parked" for each in once) == 5
    again = ground("history-in", old, "--keep", "--json").json
    assert again["counts"]["in_the_diary_already"] == 9
    assert diary(ground) == once


def test_rows_that_are_alike_in_one_file_are_all_kept(ground: Run, tmp_path: Path) -> None:
    path = tmp_path / "twice.csv"
    path.write_text("date,zone,job\n4/9/2010,Main court,cut\n4/9/2010,Main court,cut\n")
    for _ in range(2):
        ground("history-in", str(path), "--keep")
        assert len(diary(ground)) == 2


@pytest.mark.parametrize(
    ("line", "change", "kind", "day"),
    [
        (7, "date=30 Sept 2010", "cut", "2010-09-30"),
        (8, "zone=Main court", "cut", "2010-10-03"),
        (9, "job=rolled", "roll", "2010-10-04"),
        (10, "date=9 Oct 2010", "cut", "2010-10-09"),
        (11, "found annual meadow-grass=16", "count", "2010-10-05"),
    ],
)
def test_a_parked_row_put_right_goes_in_and_the_row_as_it_came_stays(
    ground: Run, old: str, line: int, change: str, kind: str, day: str
) -> None:
    ground("history-in", old, "--keep")
    parked = ground("parked", "show", "--json").json["parked"]
    row = next(each["short_id"] for each in parked if each["what"]["line"] == line)
    still = ground("parked", "take-in", row, "--set", "height=tall", "--reason", "x", code=2)
    assert "height" in still.text or "Still parked" in still.text
    fresh = ground("parked", "take-in", row, "--set", change, "--reason", "read again", "--json")
    entry = fresh.json["entry"]
    assert (entry["what"]["kind"], entry["when"]["first"]) == (kind, day)
    assert entry["corrects"] is not None
    assert "Put right: read again" in entry["note"]
    assert len(ground("parked", "show", "--json").json["parked"]) == 4
    again = ground("history-in", old, "--keep", "--json").json
    assert again["counts"]["in_the_diary_already"] == 9


def test_a_notebook_goes_in_line_by_line(ground: Run, tmp_path: Path) -> None:
    path = tmp_path / "book.txt"
    path.write_text(
        "2010\n4 Sept Main court sown 6 lb per 1000 sq ft\n11 Sept \" cut 12,5 mm boxed\n"
        "2 Oct Main court P1 count: 25 points, poa annua 6, bare 2\ntea on the terrace\n",
        encoding="utf-8",
    )  # fmt: skip
    told = ground("history-in", str(path), "--keep", "--json").json
    sown, cut, count, tea = (row["entry"] for row in told["rows"])
    assert sown["what"]["rate_g_m2"] == pytest.approx(29.2946, abs=1e-3)
    assert cut["what"]["height_of_cut_mm"] == 12.5
    assert count["what"]["places"][0]["found"] == {"annual meadow-grass": 6, "bare": 2}
    assert tea["what"] == {"kind": "note", "text": "tea on the terrace"}
    assert "[book.txt, line 5]" in tea["note"]


@pytest.mark.parametrize(
    ("name", "raw", "words"),
    [
        ("none.csv", None, "a file that can be read"),
        ("old.xlsx", b"PK\x03\x04", "save it as CSV first"),
        ("old.csv", b"lawn,job\nMain court,cut\n", "a column called date"),
        ("empty.txt", b"\n\n", "no row"),
    ],
)
def test_a_file_that_is_no_record_of_work_is_refused_with_what_would_do(
    ground: Run, tmp_path: Path, name: str, raw: bytes | None, words: str
) -> None:
    path = tmp_path / name
    if raw is not None:
        path.write_bytes(raw)
    assert words in ground("history-in", str(path), code=2).text
    assert diary(ground) == []


def test_a_zone_may_be_said_once_for_the_whole_file(ground: Run, tmp_path: Path) -> None:
    path = tmp_path / "plain.csv"
    path.write_text("date,job\n4/9/2010,cut\n")
    told = ground("history-in", str(path), "--zone", "short court", "--json").json
    assert told["rows"][0]["entry"]["zone"] == "Short court"
    assert told["rows"][0]["state"] == "understood"
    whole = ground("history-in", str(path), "--json").json["rows"][0]
    assert (whole["entry"]["zone"], whole["state"]) == ("", "guessed")
