"""The plan from the terminal: shown, drawn, placed, undone, and a peg found again."""

from pathlib import Path
from xml.etree import ElementTree as ET

from tests.cli.conftest import Run


def test_the_plan_is_drawn_placed_shown_and_undone(ground: Run, tmp_path: Path) -> None:
    assert ground("plan", "--json").json["not_drawn_yet"] == ["Main court", "Short court"]
    drawn = ground("plan", "draw", "main court", "--corners", "10,5 42,5 42,30.6 10,30.6", "--json")
    assert drawn.json["drawn_area_m2"] == 819.2
    ground("plan", "point", "gate post", "10, 5")
    ground("plan", "point", "shed", "42, 5")
    ground("peg", "add", "Q1", "--zone", "Main court")
    ground("plan", "put", "Q1", "tape 5 gate post, 29.3 shed")
    told = ground("peg", "find", "Q1").text
    assert "5.00 m from gate post, towards the north-east" in " ".join(told.split())
    file = tmp_path / "plan.svg"
    whole = ground("plan", "--picture", str(file), "--json").json
    assert [each["name"] for each in whole["marks"]] == ["gate post", "shed", "Q1"]
    assert ET.parse(file).getroot().attrib["role"] == "img"
    assert "Undone: the edit of peg Q1" in ground("plan", "undo").text
    assert ground("plan", "--json").json["not_placed_yet"] >= 1


def test_moves_that_are_none_and_layers_there_are_not_are_refused(ground: Run) -> None:
    assert "--by '2, -1'" in " ".join(ground("plan", "move", "Main court", code=2).text.split())
    assert "stage" in ground("plan", "--layer", "moon", code=2).text


def test_a_refill_says_where_it_is_and_the_bag_is_found_from_there(ground: Run) -> None:
    ground("plan", "draw", "Main court", "--corners", "0,0 32,0 32,25.6 0,25.6")
    kept = ground("refill", "--holes", "1", "--zone", "Main court", "--at", "4, 3", "--json").json
    assert kept["entry"]["at"][0]["east_m"] == 4.0
    [there] = ground("plan", "sown", "4, 3", "--json").json["here"]
    assert there["kind"] == "refill"
