"""Planning a verticut, and learning from strips, at the command line."""

from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from swardbook.figures.picture import PALE
from tests.cli.conftest import Run
from tests.cli.test_cut_plan import COURT, sky

SIDES = ("--sides", "32x25,6")


def test_a_verticut_is_still_recorded_by_verticut_alone(ground: Run) -> None:
    told = ground("verticut", "--depth", "-1", "--line", "+20", *COURT, "--json").json
    assert told["entry"]["what"]["line_deg"] == 20
    assert "0 to" not in told["entry"]["needs_a_look"]
    assert "Options go behind 'plan'" in ground("verticut", "--depth", "1", "plan", code=2).text


def test_a_line_along_the_last_one_is_kept_and_said(ground: Run) -> None:
    one = ("verticut", "--depth", "1", "--datum", "below height of cut", *COURT)
    ground(*one, "--line", "20", "--when", "20 September")
    assert "Along the last line (20° on 20 September)" in ground(*one, "--line", "-165").text
    assert "Along the last" not in ground(*one, "--line", "-20").text
    assert "Along the last" not in ground(*one, "--line", "20", "--when", "1 September").text
    assert "Kept" in ground(*one, "--when", "about two in mid-July").text


def test_the_plan_tells_fit_depth_line_and_what_to_do_after(ground: Run, tmp_path: Path) -> None:
    sky(ground, tmp_path)
    ground("verticut", "--depth", "1", "--datum", "below height of cut", "--line", "20", *COURT,
           "--when", "20 September")  # fmt: skip
    told = ground("verticut", "plan", *COURT, *SIDES, "--json").json
    assert told["fit_today"] in {"fit", "look first", "not fit"}
    assert told["datum"] == "below height of cut"
    assert told["tips_above_soil_mm"] == 7
    assert (told["line_deg"], told["last_line_deg"], told["crosses_deg"]) == (-20, 20, 40)
    assert told["bare_added_low_share"] < told["bare_added_share"] < told["bare_added_high_share"]
    assert told["recovers_low_days"] < told["recovers_days"] < told["recovers_high_days"]
    assert told["bare_spots_close_days"] > told["recovers_days"]
    assert told["spoil_l"] is None
    text = ground("verticut", "plan", *COURT, *SIDES).text
    assert "Cut straight after with the box on" in text
    assert "40° across the last" in text
    assert "Mind:" in text
    assert max(map(len, text.splitlines())) <= 80


def test_spoil_share_and_pitch_are_those_of_the_unit_that_was_kept(ground: Run) -> None:
    unit = ("--blade", "2", "--spacing", "1 in", "--tips", "8", "--turns", "2000",
            "--speed", "4 km/h", "--vibration", "5", "--width", "51 cm")  # fmt: skip
    ground("verticut", "machine", *unit, "--keep")
    asked = ("verticut", "plan", *COURT, "--depth", "6.35", "--datum", "below surface")
    told = ground(*asked, "--json").json
    assert told["blades_measured"] is True
    assert told["sliced_share"] == pytest.approx(0.0787, abs=1e-4)
    assert told["spoil_l"] == pytest.approx(0.5 * 819.2, rel=1e-3)
    assert told["strike_pitch_mm"] == pytest.approx(4.17)
    assert told["job"] == "scarify"
    assert told["lines"]["hours_to_action_value"] == 2
    twice = ground(*asked, "--passes", "2", "--json").json
    assert twice["sliced_share"] == pytest.approx(0.1513, abs=1e-4)
    assert twice["lines"]["time_h"] == pytest.approx(2 * told["lines"]["time_h"], abs=0.002)


def test_a_depth_with_a_sign_asks_what_it_is_told_from(ground: Run) -> None:
    """F09."""
    told = ground("verticut", "plan", *COURT, "--depth", "-2", code=2).text
    assert "Below the height of cut, above the soil, or below the surface?" in told


def test_strips_are_set_out_by_a_seed_that_gives_them_again(ground: Run) -> None:
    asked = ("verticut", "strips", *COURT, *SIDES, "--pairs", "5", "--seed", "7", "--json")
    told = ground(*asked).json
    assert told == ground(*asked).json
    assert len(told["pieces"]) == 10
    assert told["seed"] == 7
    other = ground(*asked[:-2], "8", "--json").json
    tossed = [[each["treated"] for each in one["pieces"]] for one in (told, other)]
    assert tossed[0] != tossed[1]


def test_without_a_seed_the_same_question_gives_the_same_strips(ground: Run) -> None:
    asked = ("verticut", "strips", *COURT, *SIDES, "--json")
    assert ground(*asked).result.stdout == ground(*asked).result.stdout


def test_strips_that_are_kept_are_counted_at_their_pegs_and_read_back(ground: Run) -> None:
    """Twelve treated against nineteen not: the verdict is told, and by whom it rests."""
    asked = ("verticut", "strips", *COURT, *SIDES, "--pairs", "6", "--when", "1 September")
    told = ground(*asked, "--keep", "--json").json
    assert "1a" in ground("peg", "show").text
    assert "all the strips counted on one day" in ground("verticut", "read-back", *COURT).text
    for n, each in enumerate(told["pieces"]):
        hits = (2 if each["treated"] else 6) + n % 3 % 2
        sheet = ("--place", each["name"], "--points", "25")
        ground("count", "add", *COURT, *sheet, "--found", f"annual meadow-grass={hits}")
    read = ground("verticut", "read-back", *COURT, "--json").json
    assert read["verdict"] == "clear", read
    assert "less" in ground("verticut", "read-back", *COURT).text
    assert "name" in ground(*asked, "--keep", code=2).text


def test_strips_are_drawn_with_the_treated_ones_shaded(ground: Run, tmp_path: Path) -> None:
    file = tmp_path / "strips.svg"
    asked = ("verticut", "strips", *COURT, *SIDES, "--pairs", "4", "--seed", "7")
    told = ground(*asked, "--picture", str(file), "--json").json
    image = ET.fromstring(file.read_text(encoding="utf-8"))
    assert image.attrib["role"] == "img"
    assert image[0].text == told["picture"]["sentence"]
    drawn = file.read_text(encoding="utf-8")
    assert drawn.count(f'fill="{PALE}"') == 4
    assert all(f">{each['name']}<" in drawn for each in told["pieces"])
    assert "SVG" in ground(*asked, "--picture", "strips.png", code=2).text.upper()


def test_too_few_pairs_are_refused_before_they_are_laid_out(ground: Run) -> None:
    """B9: fewer than four pairs."""
    told = ground("verticut", "strips", *COURT, *SIDES, "--pairs", "3", code=2).text
    assert "Fewer say nothing" in told


def test_what_pairs_and_tufts_can_show_is_said(ground: Run) -> None:
    told = ground("verticut", "strips", *COURT, *SIDES, "--difference", "6", "--spread", "5",
                  "--heads", "55", "41", "--json").json  # fmt: skip
    assert told["pairs_wanted"] == 8
    assert told["enough_pairs"] is True
    assert told["tufts_each_side"] > 150
    assert told["tufts_each_piece"] * 8 >= told["tufts_each_side"]


def test_strips_of_a_zone_that_was_never_taped_ask_for_its_sides(ground: Run) -> None:
    ground("zone", "set", COURT[1], "--area", "819")
    refused = ground("verticut", "strips", *COURT, code=2)
    assert "--sides, such as 32x25.6" in " ".join(refused.text.split())


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["plan", "-z", "nowhere"], "No zone called 'nowhere'"),
        (["plan"], "Main court, Short court"),
        (["plan", *COURT, "--depth", "deep"], "--depth"),
        (["plan", *COURT, "--depth", "60"], "no verticut"),
        (["plan", *COURT, "--datum", "the sky"], "--datum"),
        (["machine", "--blade", "30"], "blade"),
        (["machine", "--tips", "many"], "blades"),
        (["strips", *COURT, *SIDES, "--pairs", "60"], "at most"),
        (["strips", *COURT, *SIDES, "--heads", "40", "40"], "difference"),
        (["strips", *COURT, *SIDES, "--difference", "0"], "difference"),
        (["read-back", *COURT], "swardbook verticut strips --keep"),
        (["read-back", *COURT, "--smallest", "0"], "above 0"),
    ],
)
def test_what_cannot_be_read_is_told_plainly(ground: Run, arguments: list[str], words: str) -> None:
    assert words in " ".join(ground("verticut", *arguments, code=2).text.split())
