"""A survey at the command line: each look with its honest error, and what is missing."""

import json
import shlex
from itertools import pairwise
from pathlib import Path

import pytest

from tests.cli.conftest import Run

LAWN = [[0.4, 52.0], [0.400291, 52.0], [0.400291, 52.000108], [0.4, 52.000108], [0.4, 52.0]]
"""About 20 by 12 m."""


def test_a_new_zone_says_its_use_first_and_what_is_missing_most_telling_first(ground: Run) -> None:
    told = ground("survey", "show", "short court", "--json").json["zones"][0]
    assert told["use_words"].startswith("Court or green, cut at 8 mm. Fine there: annual meadow-")
    assert "agree it with the owner" in told["use_words"]
    assert told["sentence"] == "Nothing of the ground has been measured yet."
    facts = [each["fact"] for each in told["missing"]]
    assert facts[:3] == ["drainage", "keepers", "thatch"]
    assert facts[-1] == "soil_test"
    routes = ["mend or start again" in each["changes"] for each in told["missing"]]
    assert routes == sorted(routes, reverse=True)
    assert all(each["how"] and each["command"] for each in told["missing"])


def test_what_is_kept_makes_the_sentence_and_leaves_the_list(ground: Run) -> None:
    """Job A04."""
    zone = ("--zone", "main court", "--keep", "--who", "Ines")
    ground("survey", "rings", "6", "9", "5", "--place", "low end", *zone)
    ground("survey", "rings", "25 mm in 33 min", "52", "44 mm/h", "--place", "high end", *zone)
    ground("survey", "cores", "18", "16", "2 cm", "17", "19", *zone)
    ground("survey", "cores", "40", "42", "38", "41", "39", "--what", "rooting", *zone)
    page = ground("survey", "show", "Main court").text
    assert "Drains slowly at the low end; thatch 18 mm; roots 40 mm." in page
    told = ground("survey", "show", "Main court", "--json").json["zones"][0]
    missing = {each["fact"] for each in told["missing"]}
    assert not missing & {"drainage", "thatch", "rooting"}
    entries = ground("diary", "show", "--zone", "main court", "--json").json["entries"]
    kinds = [each["what"]["kind"] for each in entries]
    assert kinds.count("reading") == 16, "each ring and core is kept, so that history exists"
    assert kinds.count("worked out") == 4


def test_rings_before_the_ground_was_opened_are_asked_for_again(ground: Run) -> None:
    ground("survey", "rings", "3", "4", "2", "--zone", "main court", "--keep", "--when", "1 Sep")
    ground("diary", "add", "tine", "--zone", "main court", "--when", "20 Sep")
    told = ground("survey", "show", "main court", "--json").json["zones"][0]
    lack = next(each for each in told["missing"] if each["fact"] == "drainage")
    assert "before the ground was worked" in lack["why"]


def test_one_ring_is_one_hole(run: Run) -> None:
    told = run("survey", "rings", "25 mm in 22 min", "--json").json
    assert told["middle_mm_per_h"] == pytest.approx(68.18, abs=0.01)
    assert told["enough_rings"] == "no"
    assert "One ring test is one hole. Do 3 per zone, pre-wet" in told["notes"][0]
    assert "read too fast" in run("survey", "rings", "30", "--dry").text


def test_four_cores_are_kept_but_give_no_mean(ground: Run) -> None:
    told = ground("survey", "cores", "18", "16", "20", "17", "-z", "main court", "--keep").text
    assert "at least 5 cores" in " ".join(told.split())
    page = ground("survey", "show", "main court").text
    assert "five or more give a mean" in " ".join(page.split())


def test_an_area_by_tape_is_held_against_the_book(ground: Run) -> None:
    same = ground("survey", "area", "--sides", "35 yd x 28 yd", "-z", "main court", "--json").json
    assert same["area_m2"] == pytest.approx(819.4, abs=0.1)
    assert "no difference" in same["notes"][-1]
    other = ground("survey", "area", "--sides", "30 x 20", "-z", "main court").text
    assert "27 % less. Which is right?" in " ".join(other.split())
    assert "swardbook zone set 'Main court' --area 600.0" in " ".join(other.split())


@pytest.mark.parametrize(
    ("asked", "area"),
    [
        (("--sides", "8 across"), 50.27),
        (("--sides", "12x8 across"), 75.40),
        (("--sides", "0, 4.2, 5.6, 6.1, 5.3, 3.9, 0 every 2"), 50.2),
        (("--sides", "3x4x5"), 6.0),
        (("--corners", "0,0 12,0 12,5 7,5 7,9 0,9"), 88.0),
        (("--corners", "0,0; 5,0; 10,0; 10,5; 0,5"), 50.0),
    ],
)
def test_areas_need_no_book(run: Run, asked: tuple[str, str], area: float) -> None:
    told = run("survey", "area", *asked, "--json").json
    assert told["area_m2"] == pytest.approx(area, abs=0.01)
    assert told["low_m2"] < area < told["high_m2"]


def test_a_phone_on_a_small_lawn_says_tape_two_sides(run: Run, tmp_path: Path) -> None:
    """Job A01."""
    walk = tmp_path / "walk.geojson"
    line = [[a[0] + (b[0] - a[0]) * k / 12, a[1] + (b[1] - a[1]) * k / 12]
            for a, b in pairwise(LAWN) for k in range(12)]  # fmt: skip
    walk.write_text(json.dumps({"type": "LineString", "coordinates": line}), encoding="utf-8")
    told = run("survey", "area", "--file", str(walk), "--json").json
    assert told["by"] == "phone"
    assert told["area_m2"] == pytest.approx(240, rel=0.01)
    assert 15 < told["error_percent"] < 35
    assert "Tape two sides and it is replaced." in told["notes"][0]
    better = run("survey", "area", "--file", str(walk), "--accuracy", "0.5 m", "--json").json
    assert better["error_percent"] < 5
    drawn = tmp_path / "drawn.geojson"
    drawn.write_text(json.dumps({"type": "Polygon", "coordinates": [LAWN]}), encoding="utf-8")
    assert run("survey", "area", "--file", str(drawn), "--json").json["by"] == "map"


def test_glances_at_the_shadow_become_light_with_a_range(ground: Run) -> None:
    seen = ("-s", "9:00 shade", "-s", "1 pm sun", "-s", "17:00 shade")
    asked = ("survey", "shade", *seen, "--noon", "13:00", "--on", "20 Jun 2011")
    told = ground(*asked, "--json").json
    row = told["rows"][0]
    assert row["sun_hours"] == pytest.approx(4.0)
    assert row["low_mol_m2"] < row["light_mol_m2"] < row["high_mol_m2"] < row["open_light_mol_m2"]
    text = " ".join(ground(*asked).text.split())
    assert "Not looked at in spring and autumn" in text
    assert "No weather in the book" in text
    known = ground(*asked, "--sky", "40%", "--json").json["rows"][0]
    assert known["high_mol_m2"] - known["low_mol_m2"] < row["high_mol_m2"] - row["low_mol_m2"]


def test_hours_by_month_give_a_row_each_and_the_south_has_its_own_seasons(run: Run) -> None:
    run("begin", "--name", "Ground", "--latitude", "43 S", "--elevation", "10")
    asked = ("survey", "shade", "--by-month", "apr 2,5; jan 4 h", "--json")
    rows = run(*asked).json["rows"]
    assert [each["season"] for each in rows] == ["autumn", "summer"]
    assert [each["sun_hours"] for each in rows] == [2.5, 4.0]


def test_a_jar_a_slope_a_bucket_and_a_sheet(ground: Run) -> None:
    jar = ground("survey", "jar", "2.4 cm", "40", "16", "-z", "main court", "--json").json
    assert jar["texture"] == "silt loam"
    assert "clay loam" in jar["may_be"]
    slope = ground("survey", "slope", "--fall", "360 mm", "--run", "32", "--json").json
    assert slope["slope_percent"] == pytest.approx(1.125)
    steep = ground("survey", "slope", "--fall", "2", "--run", "20").text
    assert "mower's manual decides" in " ".join(steep.split())
    ground("zone", "add", "Lawn", "--area", "240", "--use", "family lawn", "--height-of-cut", "30")
    tap = ground("survey", "tap", "--seconds", "50", "-z", "Lawn", "--json").json
    assert (tap["tap_l_min"], tap["watering_l"], tap["watering_min"]) == (12, 480, 40)
    assert "water supplier" in tap["notes"][0]
    assert "14 L/min" in tap["notes"][1]
    asked = ("survey", "soil-test", "K=45", "p=30", "--nitrogen", "10")
    sheet = ground(*asked, "--json").json
    assert sheet["K_need_g_m2"] == pytest.approx(3.80, abs=0.01)
    assert sheet["P_need_g_m2"] == 0
    assert (
        "by the old wall: outside"
        in ground("survey", "ph", "7.4", "--place", "by the old wall").text
    )


def test_what_is_measured_is_what_the_plan_goes_by_and_the_old_figure_is_kept(ground: Run) -> None:
    zone = ("-z", "main court", "--keep")
    told = ground("survey", "tap", "--seconds", "50", *zone).text
    assert "The plan goes by 12 L/min at the tap from now on." in told
    assert "The plan goes by" not in ground("survey", "tap", "--seconds", "50", *zone).text
    ground("survey", "shade", "--by-month", "jun 5; sep 2.5", *zone)
    assert ground("zone", "show", "main court", "--json").json["zones"][0]["sun_hours"] == 2.5
    late = ("--when", "1 Jun 2011")
    older = ground("survey", "shade", "--hours", "6", *zone, *late).text
    assert "The plan goes by" not in older, "a later look stands"
    changes = ground("diary", "show", "--kind", "changed", "--json").json["entries"]
    assert any("14" in each["what"]["before"] for each in changes)


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("area",), "--sides 32x25.6"),
        (("area", "--sides", "3x4", "--corners", "0,0 1,0 1,1"), "one:"),
        (("area", "--corners", "0;0 1"), "east and north"),
        (("area", "--file", "nowhere.gpx"), "nowhere.gpx"),
        (("area", "--sides", "1x2x3x4 across"), "a number in mm"),
        (("shade", "-s", "9:00"), "sun or shade"),
        (("shade", "-s", "9:75 sun", "-s", "12 sun", "-s", "15 sun"), "a time such as"),
        (("shade", "--by-month", "ju 4"), "a month and its hours"),
        (("shade",), "glances, hours"),
        (("jar", "1", "2", "mud"), "the jar"),
        (("cores", "18", "--what", "worms"), "thatch"),
        (("wear", "enormous"), "No wear called"),
        (("soil-test", "Na=4", "--nitrogen", "10"), "No nutrient called 'Na'"),
        (("ph", "sour"), "6.4"),
        (("slope", "--fall", "32", "--run", "0.36"), "swapped"),
        (("tap", "--seconds", "0"), "time to fill"),
        (("rings", "quick"), "25 mm in 22 min"),
        (("rings", "9", "-z", "nowhere"), "No zone called"),
    ],
)
def test_what_cannot_be_read_is_told_plainly(
    ground: Run, arguments: tuple[str, ...], words: str
) -> None:
    assert words in ground("survey", *arguments, code=2).text


def test_a_slip_of_the_point_is_kept_and_asked_about(ground: Run) -> None:
    """F02 and F27."""
    zone = ("-z", "main court")
    assert (
        "ten times the 819.2 m² of Main court"
        in ground("survey", "area", "--sides", "320x25.6", *zone).text
    )
    told = ground("survey", "ph", "56", *zone, "--keep").text
    assert "pH 56 is outside what soils have." in told
    assert "5.6?" in told
    assert "Needs a look" in told
    assert "pH 56" not in ground("survey", "show", "main court").text


def test_two_glances_are_not_enough_and_that_is_an_answer(ground: Run) -> None:
    told = ground("survey", "shade", "-s", "9:00 sun", "-s", "15:00 sun", "--json").json
    assert "3 glances" in told["not_enough_data"]["needs"]


def test_the_same_question_gives_the_same_bytes(ground: Run) -> None:
    asked = ("survey", "show", "--json")
    assert ground(*asked).result.stdout == ground(*asked).result.stdout


def test_what_is_missing_is_asked_for_in_a_command_that_keeps_it_for_that_zone(ground: Run) -> None:
    asked = ground("survey", "show", "--zone", "short court", "--json").json["zones"]
    assert [each["zone"] for each in asked] == ["Short court"]
    for lack in asked[0]["missing"]:
        assert "--zone 'Short court'" in lack["command"]
        assert lack["command"].endswith("--keep") or lack["fact"] == "keepers"
        assert "..." not in lack["command"]
    first = asked[0]["missing"][0]["command"]
    ground(*shlex.split(first)[1:])
    left = ground("survey", "show", "short court", "--json").json["zones"][0]["missing"]
    assert "drainage" not in {each["fact"] for each in left}


def test_a_ring_may_be_told_in_inches(ground: Run) -> None:
    told = ground(
        "survey", "rings", "1 in in 30 min", "2,5 in/h", "-z", "main court", "--json"
    ).json
    assert told["slowest_mm_per_h"] == pytest.approx(50.8)
    assert told["fastest_mm_per_h"] == pytest.approx(63.5)
