"""A count that cannot be taken is parked whole, and taken in once it is put right."""

import shlex
from pathlib import Path
from typing import Any

import pytest

from tests.cli.conftest import Run

COURT = ("--zone", "Main court")
SHEET = "place,annual meadow-grass,bare\nP1,5,2\nP2,3o,1\nP1,4\n,7,1\n"


def sheet(folder: Path, text: str = SHEET) -> str:
    path = folder / "autumn.csv"
    path.write_text(text, encoding="utf-8")
    return str(path)


def entries(run: Run, *more: str) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = run("diary", "show", *more, "--json").json["entries"]
    return found


def test_one_bad_cell_parks_its_row_and_the_good_rows_are_kept(ground: Run, tmp_path: Path) -> None:
    kept = ground("count", "add", *COURT, "--file", sheet(tmp_path), "--json").json
    assert [each["place"] for each in kept["entry"]["what"]["places"]] == ["P1", "P1"]
    first, second = (each["what"] for each in kept["parked"])
    assert (first["line"], first["column"], first["read"]) == (3, "annual meadow-grass", "3o")
    assert first["likely"] == "30?"
    assert (second["line"], second["column"]) == (5, "place")
    assert first["cells"] == {"annual meadow-grass": "3o", "bare": "1", "place": "P2"}
    assert "stands twice in this count" in kept["entry"]["needs_a_look"]
    shown = ground("parked", "show").text
    assert "autumn.csv, line 3, annual meadow-grass: read '3o'" in " ".join(shown.split())
    assert "--set 'annual meadow-grass=...'" in shown


def test_a_parked_row_put_right_is_a_count_of_its_day(ground: Run, tmp_path: Path) -> None:
    day = ("--when", "2011-10-01", "--counter", "Ines")
    parked = ground("count", "add", *COURT, *day, "--file", sheet(tmp_path), "--json").json
    row = parked["parked"][0]["short_id"]
    still = ground("parked", "take-in", row, "--set", "bare=x", "--reason", "smudged", code=2)
    assert "Still parked" in still.text
    fresh = ground(
        "parked", "take-in", row, "--set", "annual meadow-grass=3", "--reason", "smudged", "--json"
    ).json["entry"]
    assert fresh["when"]["first"] == "2011-10-01"
    [place] = fresh["what"]["places"]
    assert (place["place"], place["found"], place["counter"]) == (
        "P2", {"annual meadow-grass": 3, "bare": 1}, "Ines",
    )  # fmt: skip
    assert "Put right: smudged" in fresh["note"]
    left = ground("parked", "show", "--json").json["parked"]
    assert [each["what"]["line"] for each in left] == [5]
    kept = [each for each in entries(ground, "--all") if each["what"]["kind"] == "parked"]
    assert len(kept) == 2
    ground("put-right", left[0]["short_id"], "--withdraw", "--reason", "no place noted")
    assert ground("parked", "show").text.strip() == "None parked."
    again = ground("parked", "take-in", fresh["id"], "--reason", "x", code=2)
    assert "It is a count" in again.text


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["--found", "bare=27"], "Recount, or drop to 25?"),
        (["--found", "bare=-1"], "0 or more"),
        (["--found", "bare=3", "--area", "25"], "0.25 m2"),
        (["--found", "bare=3", "--when", "2012-10-01"], "Use Sat 1 October 2011?"),
    ],
)
def test_an_impossible_count_is_parked_never_changed_and_read_by_nothing(
    ground: Run, arguments: list[str], words: str
) -> None:
    told = ground("count", "add", *COURT, "--place", "P1", *arguments, "--hours", "2", "--json")
    assert told.json["entry"] is None
    [parked] = told.json["parked"]
    assert words in parked["needs_a_look"]
    assert parked["what"]["cells"]["bare"] == arguments[1].removeprefix("bare=")
    assert parked["what"]["about"]["hours"] == "2.0"
    assert ground("count", "show", "--json").json["occasions"] == []


def test_a_count_of_a_day_to_come_is_taken_in_with_the_right_day(ground: Run) -> None:
    typed = ("count", "add", *COURT, "--place", "P1", "--found", "bare=3", "--when", "2012-10-01")
    row = ground(*typed, "--hours", "2", "--json").json["parked"][0]["short_id"]
    assert "a day up to today" in ground("parked", "take-in", row, "--reason", "x", code=2).text
    right = ("--set", "when=1 October 2011", "--reason", "year")
    fresh = ground("parked", "take-in", row, *right, "--json").json["entry"]
    assert (fresh["when"]["first"], fresh["hours"]) == ("2011-10-01", 2.0)


def test_the_same_sheet_twice_adds_nothing(ground: Run, tmp_path: Path) -> None:
    add = ("count", "add", *COURT, "--file", sheet(tmp_path), "--json")
    ground(*add)
    before = entries(ground, "--all")
    again = ground(*add).json
    assert again["entry"] is None
    assert again["already_in_the_diary"] == ["P1", "P1"]
    assert entries(ground, "--all") == before


@pytest.mark.parametrize(
    ("zone", "place", "words"),
    [
        ("Main court", "P11", "no peg, plot or honest square called P11. Did you mean P1"),
        ("Short court", "P1", "P1 is a place of Main court, not of Short court. Another zone?"),
        ("Short court", "P9", "Short court has no peg yet"),
    ],
)
def test_a_count_at_no_peg_of_its_zone_is_kept_and_asked_about(
    ground: Run, zone: str, place: str, words: str
) -> None:
    kept = ground("count", "add", "-z", zone, "--place", place, "--found", "bare=1", "--json").json
    assert words in kept["entry"]["needs_a_look"]
    assert kept["entry"]["what"]["places"][0]["place"] == place


def test_the_same_place_typed_twice_on_a_day_is_kept_and_asked_about(ground: Run) -> None:
    typed = ("count", "add", *COURT, "--place", "P1", "--found", "bare=1", "--json")
    assert ground(*typed).json["entry"]["needs_a_look"] == ""
    assert "counted that day already" in ground(*typed).json["entry"]["needs_a_look"]


def test_a_closure_that_ends_before_it_begins_is_kept_and_asked_about(ground: Run) -> None:
    kept = ground("diary", "add", "closure", "--set", "until=2011-09-01", *COURT, "--json").json
    assert "before it begins" in kept["entry"]["needs_a_look"]
    assert "when=2011-09-01" in kept["fixes"][0]


def test_a_place_misspelt_in_a_count_is_put_right_by_the_command_that_is_offered(
    ground: Run,
) -> None:
    kept = ground("count", "add", *COURT, "--place", "P11", "--found", "bare=1", "--json").json
    assert "--set 'place P11=P1'" in kept["fixes"][0]
    fresh = ground(*shlex.split(kept["fixes"][0])[1:], "--json").json["entry"]
    assert fresh["what"]["places"][0]["place"] == "P1"
    assert fresh["needs_a_look"] == ""
    wrong = ("put-right", fresh["id"], "--set", "place P7=P2", "--reason", "x")
    assert "No place in this count called 'P7'" in ground(*wrong, code=2).text


def test_two_frames_at_a_place_are_two_placements(ground: Run) -> None:
    typed = ("count", "add", *COURT, "--place", "P1", "--found", "bare=1", "--json")
    ground(*typed)
    second = ground(*typed, "--placement", "2").json["entry"]
    assert second["needs_a_look"] == ""
    assert second["what"]["places"][0]["placement"] == 2


def test_a_frame_too_large_is_put_right_by_its_area_and_a_total_by_the_way_of_counting(
    ground: Run,
) -> None:
    wide = ("count", "add", *COURT, "--place", "P1", "--found", "bare=3", "--area", "25", "--json")
    row = ground(*wide).json["parked"][0]
    assert "--set 'area_m2=...'" in row["fixes"][0]
    right = ("--set", "area_m2=0.25", "--reason", "typed wrong", "--json")
    fresh = ground("parked", "take-in", row["short_id"], *right).json["entry"]
    assert fresh["what"]["places"][0]["looked"] == 0.25
    many = ("--place", "P2", "--found", "bare=20", "--found", "moss=20", "--json")
    row = ground("count", "add", *COURT, *many).json["parked"][0]
    eye = ("--set", "method=by eye", "--set", "looked=100", "--reason", "by eye", "--json")
    fresh = ground("parked", "take-in", row["short_id"], *eye).json["entry"]
    assert fresh["what"]["places"][0]["method"] == "by eye"


def test_a_row_without_a_place_is_taken_in_with_one(ground: Run, tmp_path: Path) -> None:
    parked = ground("count", "add", *COURT, "--file", sheet(tmp_path), "--json").json["parked"]
    row = next(each for each in parked if each["what"]["column"] == "place")
    assert "--set 'place=...'" in row["fixes"][0]
    right = ("--set", "place=P2", "--reason", "left out", "--json")
    fresh = ground("parked", "take-in", row["short_id"], *right).json["entry"]
    assert fresh["what"]["places"][0]["place"] == "P2"


def test_a_column_of_words_goes_into_the_note_and_one_of_numbers_must_be_a_kind(
    ground: Run, tmp_path: Path
) -> None:
    words = sheet(tmp_path, "place,bare,remarks\nP1,3,damp; mossy\nP2,lots,by the gate\n")
    kept = ground("count", "add", *COURT, "--file", words, "--note", "after rain", "--json").json
    assert kept["entry"]["note"] == "after rain. P1: remarks: damp; mossy"
    [row] = kept["parked"]
    assert row["what"]["about"]["note"] == "remarks: by the gate"
    right = ("--set", "bare=2", "--reason", "counted again", "--json")
    fresh = ground("parked", "take-in", row["short_id"], *right).json["entry"]
    assert fresh["note"].startswith("remarks: by the gate")
    numbers = sheet(tmp_path, "place,bare,anual meadow gras\nP1,3,4\n")
    told = ground("count", "add", *COURT, "--file", numbers, code=2)
    assert "Did you mean Annual meadow-grass" in told.text


def test_hours_go_with_the_first_parked_row_alone_and_a_sheet_twice_with_hours_adds_nothing(
    ground: Run, tmp_path: Path
) -> None:
    bad = sheet(tmp_path, "place,bare\nP1,x\nP2,y\n")
    rows = ground("count", "add", *COURT, "--file", bad, "--hours", "2", "--json").json["parked"]
    assert [each["what"]["about"].get("hours") for each in rows] == ["2.0", None]
    mixed = ("count", "add", *COURT, "--file", sheet(tmp_path), "--hours", "2", "--json")
    assert ground(*mixed).json["entry"]["hours"] == 2.0
    before = entries(ground, "--all")
    ground(*mixed)
    assert entries(ground, "--all") == before
