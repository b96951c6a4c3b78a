"""`swardbook lot`: bags recorded, shown with what is left, and checked."""

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from swardbook.cli.main import root

BOBBIN = (
    "--name", "Bobbin", "--part", "chewings fescue=40",
    "--part", "slender creeping red fescue=40", "--part", "browntop bent=20",
)  # fmt: skip


class Ground:
    """A book of one zone in a folder of its own."""

    def __init__(self, home: Path) -> None:
        self.home = home
        assert self("begin", "--name", "Fennowick", "--latitude", "52", "--elevation", "62").ok
        assert self("zone", "add", "Z2", "--use", "court or green", "--height-of-cut", "8",
                    "--area", "460.8").ok  # fmt: skip

    def __call__(self, *words: str) -> "Told":
        env = {"SWARDBOOK_HOME": str(self.home)}
        return Told(CliRunner().invoke(root, list(words), env=env))

    def answer(self, *words: str) -> Any:
        told = self(*words, "--json")
        return json.loads(told.result.stdout)


class Told:
    """What came back."""

    def __init__(self, result: Result) -> None:
        self.result = result
        self.code = result.exit_code
        self.text = " ".join(result.output.split())

    @property
    def ok(self) -> bool:
        return self.code == 0


@pytest.fixture
def ground(tmp_path: Path) -> Ground:
    return Ground(tmp_path)


def test_a_bag_is_kept_and_shown_with_what_is_left(ground: Ground) -> None:
    assert ground("lot", "add", "--code", "BB-0417", *BOBBIN, "--weight", "40",
                  "--price", "9.40").ok  # fmt: skip
    assert ground.answer("lot", "show", "bb-0417")["lot"]["state"] == "unopened lot"
    assert ground("sow", "--lot", "BB-0417", "--used", "13.8 kg", "--zone", "Z2",
                  "--when", "yesterday").ok  # fmt: skip
    shown = ground.answer("lot", "show", "BB-0417")["lot"]
    assert (shown["used_g"], shown["left_g"]) == (13_800, 26_200)
    assert shown["state"] == "open"
    assert "left 26.2 kg" in ground("lot", "show", "BB-0417").text


def test_a_sowing_told_by_its_rate_takes_the_zones_area(ground: Ground) -> None:
    ground("lot", "add", "--code", "BB-0417", *BOBBIN, "--weight", "15")
    assert ground("sow", "--lot", "BB-0417", "--rate", "30", "--zone", "Z2",
                  "--when", "yesterday").ok  # fmt: skip
    shown = ground.answer("lot", "show", "BB-0417")["lot"]
    assert shown["used_g"] == pytest.approx(460.8 * 30)
    assert shown["state"] == "kept for refills"


def test_more_out_than_was_bought_is_a_finding(ground: Ground) -> None:
    ground("lot", "add", "--code", "BB-0417", *BOBBIN, "--weight", "10", "--tested", "yesterday")
    ground("sow", "--lot", "BB-0417", "--used", "13.8 kg", "--zone", "Z2", "--when", "yesterday")
    told = ground("lot", "check", "BB-0417")
    assert told.code == 1
    assert "More went out than was bought" in told.text


def test_a_germination_test_in_the_diary_stands_beside_the_label(ground: Ground) -> None:
    ground("lot", "add", "--code", "BB-0417", *BOBBIN)
    assert ground("diary", "add", "germination test", "--set", "lot=BB-0417",
                  "--set", "seeds=100", "--set", "germinated=74").ok  # fmt: skip
    test = ground.answer("lot", "show", "BB-0417")["lot"]["germination_test"]
    assert test["share"] == 0.74
    assert (round(100 * test["low"]), round(100 * test["high"])) == (65, 82)
    assert "74 of 100, 74 % (65 to 82)" in ground("lot", "show", "BB-0417").text


def test_a_test_goes_before_the_label_everywhere_the_seed_is_reckoned(ground: Ground) -> None:
    ground("lot", "add", "--code", "BB-0417", *BOBBIN, "--weight", "40", "--tested", "yesterday")
    before = ground.answer("mixture", "--lot", "BB-0417", "--rate", "30")
    ground("diary", "add", "germination test", "--set", "lot=BB-0417", "--set", "seeds=100",
           "--set", "germinated=40", "--when", "yesterday")  # fmt: skip
    after = ground.answer("mixture", "--lot", "BB-0417", "--rate", "30")
    card = ground.answer("lot", "show", "BB-0417")["lot"]
    bags = ground.answer("materials", "seed", "--zone", "Z2", "--lot", "BB-0417", "--rate", "30")
    live = after["viable_seeds_per_m2"]
    assert (before["viable_by"], after["viable_by"]) != ("germination test", "label")
    assert after["viable_by"] == card["viable_by"] == "germination test"
    assert live < before["viable_seeds_per_m2"]
    assert card["viable_seeds_per_kg"] * 0.03 == pytest.approx(live, rel=1e-4)
    assert bags["live_seed"]["per_m2"] == pytest.approx(live, abs=1)
    as_label = 30 * before["viable_seeds_per_m2"] / live
    assert bags["live_seed"]["rate_as_label_g_m2"] == pytest.approx(as_label, abs=0.01)
    asked = ground.answer("mixture", "--lot", "BB-0417", "--germination", "browntop bent=85")
    assert asked["viable_by"] != "germination test"


def test_a_test_clearly_below_the_label_is_found(ground: Ground) -> None:
    ground("lot", "add", "--code", "BB-0417", *BOBBIN, "--tested", "yesterday")
    words = ("diary", "add", "germination test", "--set", "lot=BB-0417", "--set", "seeds=100",
             "--set")  # fmt: skip
    ground(*words, "germinated=74", "--when", "2 days ago")
    beside = ground("lot", "check", "BB-0417")
    assert beside.ok, beside.text
    assert "lies in that range; the test is used" in beside.text
    ground(*words, "germinated=40", "--when", "yesterday")
    found = ground("lot", "check", "BB-0417")
    assert found.code == 1
    assert "lies above that range" in found.text


def test_t16_a_second_lot_of_the_same_name_is_a_second_seed(ground: Ground) -> None:
    ground("lot", "add", "--code", "BB-0417", *BOBBIN)
    told = ground("lot", "add", "--code", "BB-0533", *BOBBIN)
    assert told.ok
    assert "this counts as a second seed" in told.text
    assert "Its components or varieties differ" not in told.text
    assert ground.answer("lot", "show", "BB-0417")["lot"]["other_lots_of_this_name"] == ["BB-0533"]


def test_f31_other_components_under_the_same_name_are_said(ground: Ground) -> None:
    ground("lot", "add", "--code", "BB-0417", *BOBBIN)
    told = ground("lot", "add", "--code", "BB-0533", *BOBBIN, "--cultivar", "chewings=Second")
    assert "Its components or varieties differ." in told.text


def test_f31_another_label_under_the_same_number_asks_for_a_second_lot(ground: Ground) -> None:
    ground("lot", "add", "--code", "BB-0417", *BOBBIN)
    other = ("lot", "add", "--code", "BB-0417", "--name", "Bobbin", "--part", "hard fescue=100")
    told = ground(*other)
    assert told.code == 2
    assert "Start a second lot" in told.text
    assert ground(*other, "--put-right").ok
    assert len(ground.answer("lot", "show", "BB-0417")["lot"]["parts"]) == 1


def test_the_same_label_twice_is_one_lot(ground: Ground) -> None:
    for _ in range(2):
        assert ground("lot", "add", "--code", "BB-0417", *BOBBIN).ok
    assert len(ground.answer("lot", "show")["lots"]) == 1


def test_f05_the_name_given_as_lot_number_is_explained_and_kept_as_unknown(ground: Ground) -> None:
    told = ground("lot", "add", "--code", "Bobbin", *BOBBIN)
    assert told.ok
    assert "That is the name. The lot is usually a code near the bar code" in told.text
    assert ground.answer("lot", "show")["lots"][0]["code"] == "unknown Bobbin"


def test_f04_dead_seed_on_a_label_is_refused(ground: Ground) -> None:
    told = ground("lot", "add", "--code", "BB-0417", *BOBBIN, "--germination", "browntop=8.5")
    assert told.code == 2
    assert "85 %?" in told.text


def test_a_label_below_the_statutory_limit_is_found(ground: Ground) -> None:
    ground("lot", "add", "--code", "BB-0417", *BOBBIN, "--germination", "browntop=74",
           "--tested", "yesterday")  # fmt: skip
    told = ground("lot", "check", "BB-0417")
    assert told.code == 1
    assert "Browntop bent: germination 74 % is below the statutory 75 %." in told.text


def test_a_sound_label_passes(ground: Ground) -> None:
    ground("lot", "add", "--code", "BB-0417", *BOBBIN, "--germination", "browntop=75",
           "--tested", "yesterday")  # fmt: skip
    told = ground("lot", "check", "BB-0417")
    assert told.ok
    assert "Nothing found." in told.text


def test_a_lot_without_a_date_is_doubtful_until_it_is_tested(ground: Ground) -> None:
    ground("lot", "add", "--code", "BB-0417", *BOBBIN)
    assert ground("lot", "check", "BB-0417").code == 1
    ground("diary", "add", "germination test", "--set", "lot=BB-0417", "--set", "seeds=100",
           "--set", "germinated=74")  # fmt: skip
    assert ground("lot", "check", "BB-0417").ok


def test_a_test_in_the_future_is_refused(ground: Ground) -> None:
    told = ground("lot", "add", "--code", "BB-0417", *BOBBIN, "--tested", "tomorrow")
    assert told.code == 2
    assert "Is the year right?" in told.text


def test_a_mixture_is_worked_out_from_a_lot(ground: Ground) -> None:
    ground("lot", "add", "--code", "BB-0417", *BOBBIN, "--price", "9.40", "--standard", "voluntary")
    found = ground.answer("mixture", "--lot", "bb-0417", "--rate", "30", "--area", "460.8")
    assert found["mixture"] == "Bobbin, lot BB-0417"
    assert found["order"]["cost_per_m2"] == "0.282"
    assert ground("mixture", "--lot", "bb-0417", *BOBBIN[2:]).code == 2


def test_an_unknown_lot_offers_the_nearest(ground: Ground) -> None:
    ground("lot", "add", "--code", "BB-0417", *BOBBIN)
    told = ground("lot", "show", "BB-0471")
    assert told.code == 2
    assert "Did you mean BB-0417?" in told.text


def test_a_ground_without_lots_says_how_to_record_one(ground: Ground) -> None:
    assert "swardbook lot add" in ground("lot", "show").text


def test_a_bag_whose_label_gives_no_components_is_kept_and_says_what_is_missing(
    ground: Ground,
) -> None:
    told = ground("lot", "add", "--name", "Patch pack", "--weight", "1")
    assert told.ok
    assert "Not enough data for seed numbers" in told.text
    assert ground("sow", "--lot", "unknown patch pack", "--used", "200", "--zone", "Z2",
                  "--when", "yesterday").ok  # fmt: skip
    shown = ground.answer("lot", "show", "unknown Patch pack")["lot"]
    assert (shown["left_g"], shown["viable_seeds_per_kg"]) == (800, None)
    assert ground("mixture", "--lot", "unknown Patch pack").code == 2


def test_a_label_older_than_a_year_is_doubtful(ground: Ground) -> None:
    ground("lot", "add", "--code", "BB-0417", *BOBBIN, "--tested", "400 days ago")
    told = ground("lot", "check", "BB-0417")
    assert told.code == 1
    assert "Last tested 400 days ago" in told.text


def test_a_figure_alone_is_said_of_every_part_of_the_bag(tmp_path: Path) -> None:
    ground = Ground(tmp_path)
    told = ground("lot", "add", "--code", "BB-1", *BOBBIN, "--weight", "5", "--purity", "97",
                  "--germination", "85", "--germination", "browntop bent=90")  # fmt: skip
    assert told.ok, told.text
    checked = ground("lot", "check", "BB-1").text
    assert checked.count("purity 97 %: pass (statutory") == 3
    assert checked.count("germination 85 %: pass") == 2
    assert checked.count("germination 90 %: pass") == 1
