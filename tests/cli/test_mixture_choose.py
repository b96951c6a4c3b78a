"""`swardbook mixture choose|compare|build` on the made-up ground."""

from __future__ import annotations

import json
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from swardbook.cli.main import root
from tests.support.books import standing_on_made_up_ground


@pytest.fixture(scope="module")
def made_up(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """The made-up ground, built once for these tests; they leave it as it is or keep answers."""
    home = tmp_path_factory.mktemp("made_up") / "book"
    with standing_on_made_up_ground(home) as place:
        yield place


def mixture(*words: str, code: int = 0) -> Result:
    told = CliRunner().invoke(root, ["mixture", *words], prog_name="swardbook")
    assert told.exit_code == code, told.output
    return told


def asked(*words: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(mixture(*words, "--json").stdout)
    return found


def titles(found: dict[str, Any]) -> list[str]:
    return [each["name"] for each in found["short_list"]]


@pytest.fixture(scope="module")
def court(made_up: Path) -> dict[str, Any]:
    return asked("choose", "--zone", "Short court", "--bare")


@pytest.mark.long
def test_bare_says_so_and_minds_nothing_of_the_old_sward(made_up: Path) -> None:
    words = ("choose", "--zone", "Short court")
    kept, bare = (asked(*words, *more)["asked"] for more in ((), ("--bare",)))
    assert (kept["stands"], kept["bare"]) == (["bent", "fine fescue"], False)
    assert (bare["stands"], bare["bare"]) == ([], True)
    nobody = ("choose", "--zone", "Surround")
    before, cleared = asked(*nobody)["not_known"], asked(*nobody, "--bare")["not_known"]
    assert any("Give --bare" in each for each in before)
    assert not any("--bare" in each for each in cleared)
    assert len(cleared) == len(before) - 1


def test_a_short_list_has_two_to_four_and_holds_what_suits(court: dict[str, Any]) -> None:
    assert 2 <= len(court["short_list"]) <= 4
    assert {"Bobbin", "Thimble"} <= set(titles(court))
    assert "Haystack" not in titles(court)
    (haystack,) = (each for each in court["others"] if each["name"] == "Haystack")
    judged = haystack["components"][0]["judged"][0]
    assert (judged["criterion"], judged["fits"]) == ("height of cut", "does not last")


def test_each_is_looked_at_three_times_with_ranges_that_hold_together(
    court: dict[str, Any],
) -> None:
    for each in court["short_list"]:
        assert [look["when"] for look in each["looks"]] == ["5 weeks", "6 months", "12 months"]
        for look in each["looks"]:
            sown = look["sown_percent"]
            assert 0 <= sown["low"] < sown["middle"] < sown["high"] <= 100
            parts = sum(part["middle"] for part in look["components_percent"].values())
            assert parts == pytest.approx(sown["middle"], abs=15)
    assert len(court["past_years"]) == 20


def test_cost_weight_and_number_stand_beside_each(court: dict[str, Any]) -> None:
    (bobbin,) = (each for each in court["short_list"] if each["name"] == "Bobbin")
    assert bobbin["cost_per_m2"] == "0.24"
    bent = next(part for part in bobbin["components"] if part["species"] == "browntop bent")
    assert bent["share_by_weight"] == pytest.approx(0.2)
    assert bent["share_of_viable_seeds"] == pytest.approx(0.79, abs=0.01)


def test_ones_own_results_speak_for_or_against_and_none_is_said(court: dict[str, Any]) -> None:
    own = {each["name"]: each["own_results"] for each in court["short_list"]}
    trial = next(each for each in own["Bobbin"] if each["zone"] == "Trial ground")
    assert trial["plots"]
    assert trial["says"] == "too close to call"
    assert "cut at 10 mm there" in trial["beside"]
    short = next(each for each in own["Bobbin"] if each["zone"] == "Short court")
    assert short["says"].startswith("counted in plants")
    text = mixture("compare", "ryegrass and fescue", "Gatepost", "--zone", "Surround").stdout
    assert "Your own results of it: none yet." in text


def test_what_cannot_be_undone_is_said_where_fine_turf_stays(made_up: Path) -> None:
    found = asked("choose", "--zone", "Short court")
    assert "Pocketwatch" not in titles(found)
    (pocket,) = (each for each in found["others"] if each["name"] == "Pocketwatch")
    assert pocket["cannot_be_undone"] == [
        "Perennial ryegrass into fine turf cannot be taken out again."
    ]


def test_the_choice_is_left_to_its_owner_and_what_is_not_known_is_said(made_up: Path) -> None:
    told = " ".join(mixture("choose", "--zone", "Lime Walk").stdout.split())
    assert "the choice is yours" in told
    assert "Salt of the soil" in told
    assert "your own counts are not in them" in told
    assert "best" not in told.casefold()


def test_the_same_question_gives_the_same_bytes(made_up: Path) -> None:
    words = ("compare", "Bobbin", "GP-2240", "--zone", "Main court", "--json")
    assert mixture(*words).stdout == mixture(*words).stdout


def test_lots_are_blended_with_their_price(made_up: Path) -> None:
    found = asked("build", "--take", "BB-0417=3", "--take", "GP-2240=1 kg", "--zone", "Surround")
    (made,) = found["short_list"]
    shares = {part["species"]: part["share_by_weight"] for part in made["components"]}
    assert shares["perennial ryegrass"] == pytest.approx(0.25)
    assert shares["browntop bent"] == pytest.approx(0.15)
    each_kg = (3 * 9.40 + 6.20) / 4
    assert float(made["cost_per_m2"]) == pytest.approx(
        each_kg * made["rate_g_m2"] / 1000, abs=0.005
    )


def test_a_label_is_changed_and_the_rest_keep_their_proportions(made_up: Path) -> None:
    found = asked(
        "build", "--from", "BB-0417", "--part", "browntop bent=10", "--zone", "Main court"
    )
    (made,) = found["short_list"]
    shares = {part["species"]: part["share_by_weight"] for part in made["components"]}
    assert shares == pytest.approx(
        {"browntop bent": 0.1, "chewings fescue": 0.45, "slender creeping red fescue": 0.45}
    )
    assert "keep their proportions" in found["notes"][0]


def test_an_answer_is_kept_for_the_zone(made_up: Path) -> None:
    words = ("build", "--part", "browntop bent=100", "--zone", "Turf nursery", "--name", "Bent")
    assert "kept_as" in asked(*words, "--keep")
    shown = CliRunner().invoke(root, ["diary", "show", "--zone", "Turf nursery"]).stdout
    assert "Bent" in shown


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("choose",), "--zone"),
        (("choose", "--zone", "Shrot court"), "Short court"),
        (("choose", "--zone", "Short court", "--sow-on", "2011-09-01"), "a day after"),
        (("choose", "--zone", "Short court", "--sun", "30"), "from 0 to 24"),
        (("compare", "Bobbin", "--zone", "Short court"), "two or more"),
        (("compare", "Bobbin", "Gatepots", "--zone", "Short court"), "Gatepots"),
        (("build", "--zone", "Short court"), "--take LOT=KG"),
        (("build", "--part", "browntop bent=80", "--zone", "Short court"), "These add to 80"),
        (("--rate", "30", "choose"), "Options go behind"),
    ],
)
def test_a_slip_is_answered_with_what_was_meant(
    made_up: Path, words: tuple[str, ...], says: str
) -> None:
    assert says in mixture(*words, code=2).output


def test_seeds_are_drawn_true_to_size(tmp_path: Path) -> None:
    path = tmp_path / "seeds.svg"
    words = ("--part", "chewings fescue=80", "--part", "browntop bent=20", "--rate", "25")
    found = asked(*words, "--seeds-picture", str(path))
    drawn = ET.fromstring(path.read_text(encoding="utf-8"))
    assert drawn.get("width", "").endswith("mm")
    wide_px = float(drawn.get("viewBox", "").split()[2])
    assert wide_px / float(drawn.get("width", "").removesuffix("mm")) == pytest.approx(
        96 / 25.4, rel=1e-3
    )
    rows = found["seeds_picture"]["tables"][0]["rows"]
    assert [row[1] for row in rows] == ["56", "167"]
    assert rows[1][2] == "1.25 (1 to 1.5)"
    spindles = [each for each in drawn.iter() if "Q" in each.get("d", "")]
    assert len(spindles) == 56 + 167 + 2


def test_a_mixture_that_was_kept_is_compared_and_changed_by_its_name(made_up: Path) -> None:
    zone = ("--zone", "Short court", "--bare")
    asked("build", "--from", "BB-0417", "--part", "browntop bent=10", "--name", "Less bent", *zone,
          "--keep")  # fmt: skip
    beside = asked("compare", "less bent", "Bobbin", *zone)
    assert titles(beside) == ["Less bent", "Bobbin"]
    shares = {part["species"]: part["share_by_weight"]
              for part in beside["short_list"][0]["components"]}  # fmt: skip
    assert shares["browntop bent"] == pytest.approx(0.1)
    again = asked("build", "--from", "Less bent", "--part", "browntop bent=5", *zone)
    assert again["short_list"][0]["components"][0]["share_by_weight"] == pytest.approx(0.05)
    assert "Changed from Less bent" in again["notes"][0]
    assert (
        "Did you mean Less bent" in mixture("compare", "lss bent", "Bobbin", *zone, code=2).output
    )


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--take", "BB-0417"), "LOT=KG, such as BB-0417=4"),
        (("--take", "BB-0417=0"), "a weight above 0"),
        (("--part", "browntop bent=100", "--name", " "), "leave --name out"),
    ],
)
def test_a_slip_in_building_is_answered_with_what_was_meant(
    made_up: Path, words: tuple[str, ...], says: str
) -> None:
    told = mixture("build", *words, "--zone", "Short court", code=2).output
    assert says in " ".join(told.split())


def test_more_than_is_left_of_a_lot_is_said(made_up: Path) -> None:
    notes = asked("build", "--take", "BB-0417=400", "--zone", "Short court", "--bare")["notes"]
    assert "8.09 kg left by the book, 400 kg taken" in notes[-1]


def test_without_weather_mixtures_are_still_judged_and_what_is_missing_is_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SWARDBOOK_HOME", str(tmp_path))
    for words in (
        ("begin", "--name", "Home", "--latitude", "51.5", "--elevation", "40"),
        ("zone", "add", "Back", "--use", "family lawn", "--sides", "12x9", "--height-of-cut", "25"),
    ):
        assert CliRunner().invoke(root, words).exit_code == 0
    told = asked("choose", "--zone", "Back")
    assert titles(told)[0] == "ryegrass and fescue"
    assert all(not each["looks"] for each in told["short_list"])
    assert "no daily weather" in told["not_known"][0]
