"""Damage is found and named, and the words of an entry are the plan's own."""

from pathlib import Path

import pytest

from tests.cli.conftest import Run


def test_a_whole_book_is_said_to_be_whole(ground: Run) -> None:
    ground("cut", "--zone", "main court")
    assert "Whole: 1 entries" in ground("diary", "check").text
    assert ground("diary", "check", "--json").json["findings"] == []


def test_a_changed_letter_is_found_and_named_and_ends_with_1(ground: Run, book_home: Path) -> None:
    entry = ground("cut", "--zone", "main court", "--who", "Ines", "--json").json["entry"]["id"]
    ground("cut", "--zone", "short court")
    file = book_home / "book.sqlite3"
    held = file.read_bytes()
    assert b'"who":"Ines"' in held
    file.write_bytes(held.replace(b'"who":"Ines"', b'"who":"Inez"'))
    told = ground("diary", "check", code=1).text
    assert f"Entry 1 ({entry}): its text and its checksum do not agree" in told
    assert "export --with-damage" in told
    [found] = ground("diary", "check", "--json", code=1).json["findings"]
    assert (found["position"], found["entry"], found["later_entries"]) == (1, entry, 1)


def test_a_folder_in_the_place_of_the_book_is_named(run: Run, book_home: Path) -> None:
    (book_home / "book.sqlite3").mkdir(parents=True)
    assert "this is a folder" in run("morning", code=1).text


def test_every_kind_of_entry_is_listed_with_its_fields(run: Run) -> None:
    told = run("diary", "kinds").text
    assert "state: the ground, frost, thawed or frozen ground" in told
    assert "height_of_cut_mm: height of cut, mm" in told
    assert "boxed: clippings, boxed (yes) or left lying (no)" in told
    [kind] = run("diary", "kinds", "closure", "--json").json["kinds"]
    assert kind == {
        "kind": "closure",
        "fields": ["until", "what: play, feet, machines or hose", "reason"],
    }


@pytest.mark.parametrize(
    ("kind", "field", "meant"),
    [("frost", "state=frsot", "frost"), ("frost", "state=thwaed", "thawed"),
     ("underfoot", "state=waterloged", "waterlogged"), ("closure", "what=hoes", "hose")],
)  # fmt: skip
def test_a_word_that_the_plan_would_pass_over_is_asked_about(
    ground: Run, kind: str, field: str, meant: str
) -> None:
    assert f"Did you mean {meant}" in ground("diary", "add", kind, "--set", field, code=2).text
    assert ground("diary", "show", "--json").json["entries"] == []


def test_an_everyday_word_for_a_kind_gets_the_one_meant(ground: Run) -> None:
    assert "Did you mean cut?" in ground("diary", "add", "mow", code=2).text


def test_a_field_is_found_by_a_word_of_its_name(ground: Run) -> None:
    told = ground("diary", "add", "treatment", "--set", "rate=3 l/ha", code=2).text
    assert "Did you mean rate_as_typed" in told


def test_money_is_told_with_the_entry(ground: Run) -> None:
    told = ground("cut", "--zone", "main court", "--money", "£12.50", "--hours", "1.5").text
    assert "1.5 h, cost 12.50." in told


def test_readings_and_frost_are_told_in_plain_words(ground: Run) -> None:
    reading = ("-s", "quantity=infiltration", "-s", "value=22", "-s", "unit=mm/h")
    assert "reading: infiltration 22 mm/h." in ground("diary", "add", "reading", *reading).text
    assert "whole site: frost." in ground("diary", "add", "frost").text
    assert "frost: thawed." in ground("diary", "add", "frost", "-s", "state=thawed").text


def test_a_sheet_that_cannot_be_read_is_one_clear_sentence(ground: Run, tmp_path: Path) -> None:
    odd = tmp_path / "odd.csv"
    odd.write_bytes(b"\xff\xfe\x00\xa9")
    counted = ("count", "add", "--zone", "main court", "--file")
    assert "bytes that are no text" in ground(*counted, str(odd), code=2).text
    assert "No such file" in ground(*counted, str(tmp_path / "none.csv"), code=2).text
    assert "Errno" not in ground(*counted, str(tmp_path / "none.csv"), code=2).text
    odd.write_text("place,bent\nP1,3\n", encoding="utf-8")
    told = ground(*counted, str(odd), code=2).text
    assert "as a column, called 'bent'. Did you mean Browntop bent or Creeping bent" in told
