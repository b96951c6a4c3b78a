"""Every verb of the diary keeps what was said, with one line and a short id."""

import json
import re
from pathlib import Path

import pytest

from tests.cli.conftest import Run


def test_begin_makes_a_private_book_and_never_over_another(empty: Run, book_home: Path) -> None:
    assert (book_home / "book.sqlite3").stat().st_mode & 0o077 == 0
    name = "fennowick croquet CLUB"
    told = empty("begin", "--name", name, "--latitude", "1", "--elevation", "1", code=2)
    assert "never written over" in told.text
    assert empty("diary", "show", "--json").json["entries"] == []


def test_begin_in_json_says_the_site_and_where_the_book_is(run: Run, book_home: Path) -> None:
    told = run("begin", "--name", "South", "--latitude", "43 S", "--elevation", "10", "--json").json
    assert told["site"]["latitude"] == -43.0
    assert told["book"] == str(book_home / "book.sqlite3")
    assert told["today"] == "2011-10-08"


def test_without_a_book_every_verb_says_how_to_begin(run: Run) -> None:
    for verb in (["cut"], ["diary", "show"], ["zone", "show"], ["export", "x.zip"]):
        assert "swardbook begin" in run(*verb, code=2).text


def test_zones_are_shown_with_stage_and_tolerance(ground: Run) -> None:
    told = ground("zone", "show").text
    assert re.search(r"Main court +court or green +819\.2 +8 +surveyed +2 +6", told)
    assert "annual meadow-grass 10 %, bare 3 %, 0 clumps" in told
    [zone] = ground("zone", "show", "short court", "--json").json["zones"]
    assert (zone["area_m2"], zone["stage"], zone["soil"]) == (460.8, "surveyed", "loam")


def test_a_zone_may_be_given_in_inches_and_acres(empty: Run) -> None:
    told = empty("zone", "add", "Back", "--area", "0.1 ac", "--use", "family-lawn",
                 "--height-of-cut", "5/16 in", "--json")  # fmt: skip
    zone = told.json["zone"]
    assert zone["height_of_cut_mm"] == pytest.approx(7.9375)
    assert zone["area_m2"] == pytest.approx(404.6856)


def test_a_changed_zone_leaves_the_old_value_in_the_diary(ground: Run) -> None:
    told = ground("zone", "set", "main court", "--height-of-cut", "7", "--reason", "new blades")
    assert "old value is kept" in told.text
    [entry] = ground("diary", "show", "--json").json["entries"]
    assert entry["what"]["before"] == '{"height_of_cut_mm":8.0}'
    assert entry["what"]["reason"] == "new blades"


def test_pegs_and_squares_are_shown(ground: Run) -> None:
    assert re.search(r"P1 +Main court +4\.2 m from the post", ground("peg", "show").text)
    told = ground("strip", "show", "--zone", "main court").text
    assert re.search(r"S6 +Main court +1 +Sat 8 October 2011 +yes", told)
    few = ground("strip", "add", "--zone", "short court", "--squares", "2").text
    assert "Fewer than six" in few


VERBS: dict[str, tuple[list[str], dict[str, object]]] = {
    "cut": (["cut", "--height", "8 mm", "--boxed", "--filled", "--line", "-45"],
            {"kind": "cut", "height_of_cut_mm": 8.0, "boxed": True, "filled_box": True,
             "line_deg": -45.0}),
    "cut left": (["cut", "--left"],
                 {"kind": "cut", "height_of_cut_mm": None, "boxed": False, "filled_box": None,
                  "line_deg": None}),
    "verticut": (["verticut", "--depth", "-1", "--datum", "below height of cut", "--line", "+20",
                  "--boxed"],
                 {"kind": "verticut", "depth_mm": 1.0, "datum": "below height of cut",
                  "line_deg": 20.0, "passes": 1, "boxed": True}),
    "sow": (["sow", "--rate", "1 oz/yd2", "--used", "13.8 kg", "--area", "450", "--method", "slit"],
            {"kind": "sow", "lot": "", "rate_g_m2": pytest.approx(33.906, abs=1e-3),
             "area_m2": 450.0, "used_g": 13800.0, "method": "slit", "watered": None}),
    "pull": (["pull", "--plants", "391", "--people", "2", "--area", "460.8", "--pass", "a"],
             {"kind": "pull", "species": "annual meadow-grass", "plants": 391, "area_m2": 460.8,
              "pass_name": "A", "people": 2}),
    "refill": (["refill", "--holes", "58", "--size", "4 cm", "--area", "8.9"],
               {"kind": "refill", "lot": "", "holes": 58, "hole_mm": 40.0, "used_g": None,
                "area_m2": 8.9, "place": ""}),
    "refill check": (["refill", "--check", "60", "31", "--sown-on", "1 October"],
                     {"kind": "refill check", "looked": 60, "taken": 31, "sown_on": "2011-10-01",
                      "place": ""}),
    "feed": (["feed", "--product", "spring feed", "--rate", "25", "--npk", "12-0-9",
              "--watered-in"],
             {"kind": "feed", "product": "spring feed", "rate_g_m2": 25.0,
              "nitrogen_percent": 12.0, "p2o5_percent": 0.0, "k2o_percent": 9.0,
              "iron_percent": 0.0, "watered_in": True}),
    "water": (["water", "--litres", "10 gal_uk", "--by", "can"],
              {"kind": "water", "depth_mm": None, "litres": pytest.approx(45.4609),
               "minutes": None, "by": "can", "place": ""}),
    "hold-off": (["hold-off", "verticut", "--reason", "dry, heads up"],
                 {"kind": "hold-off", "job": "verticut", "reason": "dry, heads up"}),
    "any other": (["diary", "add", "frost", "--set", "state=thawed"],
                  {"kind": "frost", "state": "thawed"}),
}  # fmt: skip
TYPED = {"sow": " (typed: rate 1 oz/yd2)", "water": " (typed: litres 10 gal_uk)"}
"""What was typed in another unit goes with the note."""


@pytest.mark.parametrize("verb", VERBS)
def test_each_verb_keeps_what_was_said(ground: Run, verb: str) -> None:
    arguments, expected = VERBS[verb]
    who = ["--zone", "short court", "--who", "Bram", "--hours", "1.5", "--money", "12,50",
           "--note", "dry", "--when", "yesterday"]  # fmt: skip
    told = ground(*arguments, *who, "--json").json
    entry = told["entry"]
    assert entry["what"] == expected
    assert entry["when"]["first"] == "2011-10-07"
    assert (entry["zone"], entry["who"], entry["hours"]) == ("Short court", "Bram", 1.5)
    note = f"dry{TYPED.get(verb, '')}"
    assert (entry["money"], entry["note"], entry["needs_a_look"]) == ("12.50", note, "")
    assert told["short_id"] == entry["id"][:8]
    assert told["fixes"] == []


@pytest.mark.parametrize("verb", VERBS)
def test_each_verb_answers_with_one_line_and_a_short_id(ground: Run, verb: str) -> None:
    arguments, _ = VERBS[verb]
    first = ground(*arguments, "--zone", "short court").text.splitlines()[0]
    assert re.match(r"Kept [0-9a-f]{8}: Sat 8 October 2011, Short court: ", first)


def test_a_feed_shows_oxides_and_elements(ground: Run) -> None:
    told = ground("feed", "--rate", "30", "--npk", "10-10-10", "--zone", "main court").text
    assert "N 3.0, P₂O₅ 3.0 (P 1.3), K₂O 3.0 (K 2.5) g/m²; label read as N–P₂O₅–K₂O." in told
    told = ground("feed", "--rate", "30", "--npk", "10-10-10", "--elements").text
    assert "(P 3.0)" in told
    assert "read as elements" in told


def test_minutes_become_mm_where_the_hose_rate_is_known(ground: Run) -> None:
    told = ground("water", "--minutes", "2 h", "--by", "hose", "--zone", "main court", "--json")
    assert told.json["depth_mm"] == pytest.approx(120 * 14 / 819.2)


def test_pass_b_says_where_to_see_what_is_left(ground: Run) -> None:
    told = ground("pull", "--plants", "445", "--pass", "b", "--zone", "short court").text
    assert "swardbook compare --pull" in told
    assert "Annual meadow-grass (Poa annua)" in told


def test_e26_a_hold_off_is_one_command_with_its_reason(ground: Run) -> None:
    ground("hold-off", "verticut", "--reason", "no box")
    assert "hold-off: verticut, no box" in ground("diary", "show").text
    assert "--reason" in ground("hold-off", "verticut", code=2).text


def test_e27_about_five_in_mid_july_is_kept_undated(ground: Run) -> None:
    told = ground("cut", "--when", "about five in mid-July", "--zone", "main court", "--json").json
    when = told["entry"]["when"]
    assert (when["first"], when["last"]) == ("2011-07-11", "2011-07-20")
    assert told["entry"]["number"] == 5
    assert "about 5 × cut" in ground("diary", "show").text


def test_e30_a_treatment_is_a_record_and_nothing_more(ground: Run) -> None:
    fields = [
        "product_name=as on the can", "authorisation_number=M 00000", "area_m2=2",
        "rate_as_typed=as the label", "operator=B.", "certificate=000", "reason=docks",
        "weather_as_typed=still, 14 °C", "label_conditions=keep off until dry",
    ]  # fmt: skip
    sets = [part for field in fields for part in ("--set", field)]
    told = ground("diary", "add", "treatment", *sets, "--zone", "short court").text
    assert "register and the label today" in told
    assert "Needs a look" not in told
    [entry] = ground("diary", "show", "--kind", "treatment", "--json").json["entries"]
    for field in fields:
        name, typed = field.split("=")
        assert str(entry["what"][name]) in {typed, f"{typed}.0"}


def test_the_diary_is_shown_by_zone_kind_and_what_needs_a_look(ground: Run) -> None:
    ground("cut", "--height", "8", "--zone", "main court")
    ground("cut", "--height", "8 cm", "--zone", "short court")
    ground("diary", "add", "note", "--set", "text=gate mended")
    shown = ground("diary", "show", "--zone", "main court").text
    assert "gate mended" in shown
    assert "8 cm" not in shown
    assert len(ground("diary", "show", "--kind", "cut", "--json").json["entries"]) == 2
    odd = ground("diary", "show", "--needs-a-look").text
    assert odd.count("Needs a look") == 1
    assert ground("diary", "show", "--kind", "sow").text.strip() == "Nothing in the diary yet."


def test_the_same_question_prints_the_same_bytes(ground: Run) -> None:
    ground("cut", "--height", "8", "--zone", "main court")
    for question in (["diary", "show"], ["zone", "show"], ["peg", "show"], ["strip", "show"]):
        assert ground(*question, "--json").text == ground(*question, "--json").text


def test_e28_a_book_goes_out_in_one_file_and_comes_in_elsewhere(
    ground: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    ground("cut", "--height", "8", "--zone", "main court", "--note", "=wet")
    archive = tmp_path / "fennowick.zip"
    sent = ground("export", str(archive), "--json").json
    assert sent["entries"] == 1
    before = ground("diary", "show", "--json").text
    assert "never written over" in ground("import", str(archive), code=2).text
    monkeypatch.setenv("SWARDBOOK_HOME", str(tmp_path / "elsewhere"))
    told = ground("import", str(archive)).text
    assert "2 zones, 0 lots and 1 diary entries" in told
    assert ground("diary", "show", "--json").text == before
    again = ground("export", str(tmp_path / "again.zip"), "--json").json
    assert again["sha256"] == sent["sha256"]


def test_no_payload_carries_a_clock_time(ground: Run) -> None:
    told = ground("cut", "--zone", "main court", "--json").text
    assert not re.search(r"\d\d:\d\d", told)
    assert json.loads(told)["made_up"] is False
