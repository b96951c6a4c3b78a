"""Planning the mowing at the command line: next cut, machine, blades."""

import json
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from tests.cli.conftest import Run

COURT = ("--zone", "main court")


def sky(ground: Run, tmp_path: Path, tmin: float = 8, tmax: float = 18) -> None:
    from datetime import date, timedelta

    rows = ["date,tmin,tmax,rain"]
    for back in range(200, -1, -1):
        day = date(2011, 10, 8) - timedelta(days=back)
        rows.append(f"{day},{tmin},{tmax},{8 * (day.day % 4 == 1)}")
    file = tmp_path / "sky.csv"
    file.write_text("\n".join(rows), encoding="utf-8")
    ground("weather", "import", str(file))


def test_a_cut_is_still_recorded_by_cut_alone(ground: Run) -> None:
    assert "Kept" in ground("cut", *COURT, "--height", "8 mm", "--line", "90").text
    assert "Kept" in ground("cut").text


def test_options_of_a_record_before_a_plan_are_refused_not_lost(ground: Run) -> None:
    assert "Options go behind 'plan'" in ground("cut", "--height", "8", "plan", code=2).text
    assert ground("diary", "show", "--json").json["entries"] == []


def test_an_unknown_word_behind_cut_offers_the_nearest(ground: Run) -> None:
    assert "Did you mean plan" in ground("cut", "plans", code=2).text


def test_the_plan_of_a_cut_says_when_why_and_along_which_line(ground: Run, tmp_path: Path) -> None:
    sky(ground, tmp_path)
    ground("cut", *COURT, "--height", "8", "--boxed", "--when", "yesterday", "--line", "0")
    asked = ("cut", "plan", *COURT, "--sides", "32x25,6")
    told = ground(*asked, "--json").json
    assert told["zone"] == "Main court"
    assert told["decides"] == "one-third rule"
    assert told["one_third_rule"]["due_height_mm"] == 12
    assert told["one_third_rule"]["warns_only"] is True
    assert told["line"]["next_deg"] == 90
    assert told["line"]["last_deg"] == 0
    assert told["lines"]["sides_m"] == [32.0, 25.6]
    assert told["lines"]["time_h"] > 0.3
    assert told["growth"]["mm_per_day"] > 0
    text = ground(*asked).text
    assert "Main court: cut" in text
    assert "by the one-third rule" in text
    assert "Next line 90°" in text
    assert "Mind:" in text
    assert max(map(len, text.splitlines())) <= 80


def test_the_same_question_gives_the_same_bytes(ground: Run, tmp_path: Path) -> None:
    sky(ground, tmp_path)
    asked = ("cut", "plan", *COURT, "--json")
    assert ground(*asked).result.stdout == ground(*asked).result.stdout


def test_heights_that_were_measured_set_growth_right(ground: Run, tmp_path: Path) -> None:
    sky(ground, tmp_path)
    plain = ground("cut", "plan", *COURT, "--json").json["growth"]
    for first, last in (("1 September", "8 September"), ("15 September", "22 September")):
        ground("cut", *COURT, "--height", "8", "--when", first)
        ground("diary", "add", "reading", "-s", "quantity=sward height", "-s", "value=1", "-s",
               "unit=cm", *COURT, "--when", last)  # fmt: skip
    told = ground("cut", "plan", *COURT, "--json").json["growth"]
    assert [each["grew_mm"] for each in told["measured_spells"]] == [2.0, 2.0]
    assert told["measured_ratio"] < plain["measured_ratio"] == 1
    assert told["mm_per_day"] < plain["mm_per_day"]


def test_the_way_down_from_high_grass_is_told_cut_by_cut(ground: Run, tmp_path: Path) -> None:
    sky(ground, tmp_path)
    told = ground("cut", "plan", *COURT, "--grass", "6 cm", "--to", "25 mm", "--json").json
    assert told["grass"]["height_mm"] == 60
    assert told["down"][-1]["cut_mm"] == 25
    assert all(each["share_off"] <= 0.334 for each in told["down"])
    text = ground("cut", "plan", *COURT, "--grass", "60", "--to", "1 in").text
    assert "1. Sat 8 October: 60 mm to 40 mm, 33 % off" in text


def test_an_imperial_plan_is_the_metric_one(ground: Run, tmp_path: Path) -> None:
    sky(ground, tmp_path)
    metric = ground("cut", "plan", *COURT, "--grass", "50.8", "--to", "25.4", "--json").json
    imperial = ground("cut", "plan", *COURT, "--grass", "2 in", "--to", "1 in", "--json").json
    assert metric == imperial


def test_without_weather_the_plan_says_what_it_lacks(ground: Run) -> None:
    told = ground("cut", "plan", *COURT).text
    assert "no weather up to today" in told
    assert "Not known, and what rests on it" in told


def test_facts_of_the_machine_are_kept_once_and_used(ground: Run) -> None:
    facts = ("--blades", "10", "--turns", "720", "--speed", "4,32 km/h", "--vibration", "4")
    told = ground("cut", "machine", *facts, *COURT, "--json").json
    assert told["clip"]["clip_mm"] == 10
    assert told["clip"]["cuts_per_m"] == 100
    assert told["clip"]["verdict"] == "watch for ribs"
    assert told["clip"]["fastest_m_s"] == pytest.approx(0.96)
    ground("cut", "machine", *facts, "--keep")
    plan = ground("cut", "plan", *COURT, "--json").json
    assert plan["clip"]["clip_mm"] == 10
    assert plan["lines"]["hours_to_action_value"] == pytest.approx(3.12, abs=0.01)
    six = ground("cut", "machine", "--blades", "6", *COURT).text
    assert "ribs; up to" in six
    assert "Clip 16.7 mm" in six


def test_a_wheel_driven_mower_clips_alike_at_any_speed(ground: Run) -> None:
    driven = ("--blades", "6", "--gears", "63:14", "--wheel", "10.25 in", "--height", "30")
    told = ground("cut", "machine", *driven, "--json").json["clip"]
    assert told["clip_mm"] == pytest.approx(30.3, abs=0.05)
    assert told["fastest_m_s"] is None


def test_the_bench_height_is_told_from_the_height_that_grass_gets(ground: Run) -> None:
    set_ = ("--blades", "10", "--turns", "720", "--bench", "10", "--sinks", "2,5")
    told = ground("cut", "machine", *set_, "--json").json["clip"]
    assert told["height_mm"] == 7.5
    assert "bench 10 mm less 2.5 mm" in told["height_from"]
    ground("cut", "machine", *set_, "--keep")
    assert ground("cut", "machine", "--height", "12", "--json").json["clip"]["height_mm"] == 12
    plan = ground("cut", "plan", *COURT, "--height", "12", "--json").json["clip"]
    assert (plan["height_mm"], plan["height_from"]) == (12, "the height of cut")


def test_work_on_blades_and_paper_tests_are_noted_and_read(ground: Run) -> None:
    ground("cut", "blades", *COURT, "--did", "ground", "--when", "1 September", "--who", "Bram")
    ground("cut", *COURT, "--hours", "0.5")
    told = ground("cut", "blades", *COURT, "--paper", "8", "--json").json
    assert told["edge_on"] == "2011-09-01"
    assert told["hours_since_edge_h"] == 0.5
    assert told["paper_places_clean"] == 8
    assert "8 of 10 places" in told["due"][0]
    text = ground("cut", "blades", *COURT).text
    assert "torn tips" in text
    assert "thick gloves" in text


def test_a_zone_taped_by_its_sides_is_planned_by_them(ground: Run) -> None:
    assert ground("cut", "plan", *COURT, "--json").json["lines"]["sides_m"] == [32.0, 25.6]


def test_a_kept_plan_holds_the_sides_for_the_next(ground: Run) -> None:
    ground("zone", "set", "Main court", "--area", "819")
    ground("cut", "plan", *COURT, "--sides", "32x25.6", "--keep")
    told = ground("cut", "plan", *COURT, "--json").json
    assert told["lines"]["sides_m"] == [32.0, 25.6]


def test_the_lines_to_follow_are_drawn_to_be_seen_and_heard(ground: Run, tmp_path: Path) -> None:
    ground("cut", *COURT, "--line", "20")
    file = tmp_path / "lines.svg"
    asked = ("cut", "plan", *COURT, "--sides", "32x25.6", "--picture", str(file), "--json")
    told = ground(*asked).json["picture"]
    image = ET.fromstring(file.read_text(encoding="utf-8"))
    assert image.attrib["role"] == "img"
    assert image[0].text == told["sentence"]
    assert (
        len(told["tables"][0]["rows"])
        == json.loads(ground(*asked).result.stdout)["lines"]["passes"]
    )
    assert "Dashed: the last line, 20°" in told["key"]
    again = file.read_bytes()
    ground(*asked)
    assert file.read_bytes() == again


def test_without_sides_there_is_no_picture_and_the_plan_stays(ground: Run, tmp_path: Path) -> None:
    ground("zone", "set", "Main court", "--area", "819")
    told = ground("cut", "plan", *COURT, "--picture", str(tmp_path / "lines.svg")).text
    assert "No picture." in told
    assert "Lines: " in told


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["plan", "-z", "nowhere"], "No zone called 'nowhere'"),
        (["plan"], "Main court, Short court"),
        (["plan", *COURT, "--sides", "32"], "two sides, such as 32x25.6"),
        (["plan", *COURT, "--sides", "3x2"], "3 by 2 m make 6 m²"),
        (["plan", *COURT, "--grass", "tall"], "--grass"),
        (["plan", *COURT, "--grass", "-5"], "height of the grass"),
        (["plan", *COURT, "--to", "0.3"], "0.3 in is 7.6 mm"),
        (["plan", *COURT, "--line", "north"], "degrees, such as 20"),
        (["machine", "--speed", "fast"], "a speed in m/s"),
        (["machine", "--speed", "40"], "4.3 km/h is 1.2 m/s"),
        (["machine", "--blades", "ten"], "blades"),
        (["machine", "--gears", "63"], "such as 63:14"),
        (["machine", "--width", "51 m"], "width of the machine"),
        (["blades", *COURT, "--did", "honed"], "No work on blades called 'honed'"),
        (["blades", *COURT, "--paper", "11"], "paper cut clean"),
    ],
)
def test_what_cannot_be_read_is_told_plainly(ground: Run, arguments: list[str], words: str) -> None:
    assert words in " ".join(ground("cut", *arguments, code=2).text.split())


def test_a_lawn_taped_as_a_triangle_is_planned_without_asking_for_an_oblong(ground: Run) -> None:
    ground("zone", "add", "Corner", "--use", "family lawn", "--sides", "triangle 12x9x8",
           "--height-of-cut", "30")  # fmt: skip
    ground("survey", "area", "-z", "Corner", "--sides", "triangle 12x9x8", "--keep")
    told = " ".join(ground("cut", "plan", "-z", "Corner", "--grass", "40").text.split())
    assert "(as a square; --sides tells better)" in told
