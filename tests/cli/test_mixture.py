"""`swardbook mixture` as a person types it, without a book."""

import json
from typing import Any

import pytest
from click.testing import CliRunner, Result

from swardbook.cli.main import root

GREENS = ("--part", "browntop bent=20", "--part", "chewings fescue=80")


def run(*words: str) -> Result:
    return CliRunner().invoke(root, ["mixture", *words], env={"SWARDBOOK_HOME": "/nowhere"})


def answer(*words: str) -> Any:
    told = run(*words, "--json")
    assert told.exit_code == 0, told.output
    return json.loads(told.stdout)


def test_eighty_twenty_by_weight_and_number() -> None:
    found = answer(*GREENS, "--rate", "25", "--area", "240")
    assert found["seeds_per_g"] == pytest.approx(3566, abs=1)
    bent, fescue = found["parts"]
    assert (bent["species"], fescue["species"]) == ("browntop bent", "chewings fescue")
    assert (bent["share_by_weight"], fescue["share_by_weight"]) == (0.2, 0.8)
    assert bent["share_by_number"] == pytest.approx(0.748, abs=5e-4)
    assert fescue["share_by_number"] == pytest.approx(0.252, abs=5e-4)
    assert bent["viable_seeds_per_m2"] == pytest.approx(25 * 0.2 / 0.000075 * 0.9 * 0.75, rel=1e-4)
    assert found["order_kg"] == pytest.approx(6.9)


def test_n22_eighty_twenty_is_never_told_as_eighty_percent_of_plants() -> None:
    told = " ".join(run(*GREENS).stdout.split())
    assert "Browntop bent is 20 % of the weight and 75 % of the seeds" in told
    assert "by weight" in told
    assert "by number" in told
    assert "80 % of your plants" not in told


def test_names_are_latin_or_english_and_case_blind() -> None:
    assert answer(
        "--part", "AGROSTIS CAPILLARIS=20", "--part", "Festuca rubra commutata=80"
    ) == answer(*GREENS)


def test_the_same_question_gives_the_same_bytes() -> None:
    assert run(*GREENS, "--json").stdout == run(*GREENS, "--json").stdout


def test_the_lines_fit_a_phone() -> None:
    told = run(*GREENS, "--area", "240", "--height", "4", "--bag", "5", "--price", "9.40").stdout
    assert max(len(line) for line in told.splitlines()) <= 50


def test_the_usual_rate_is_taken_and_said() -> None:
    found = answer(*GREENS)
    assert (found["rate_g_m2"], found["rate_is"]) == (25, "usual")
    assert "the usual one (25 to 30)" in run(*GREENS).stdout
    assert answer(*GREENS, "--rate", "30")["rate_is"] == "asked"


def test_weeds_in_the_bag_name_the_standard() -> None:
    rye = ("--part", "perennial ryegrass=100", "--rate", "35")
    law = answer(*rye)["weed_seeds_per_m2"]["annual meadow-grass"]
    higher = answer(*rye, "--standard", "voluntary")["weed_seeds_per_m2"]["annual meadow-grass"]
    assert law["standard"] == "statutory"
    assert higher["standard"] == "higher voluntary"
    assert higher["value"] == pytest.approx(467, rel=0.01)
    assert higher["value"] < law["value"]


def test_figures_not_given_are_the_statutory_minimum_and_said_so() -> None:
    found = answer(*GREENS)
    assert found["parts"][0]["germination"]["value"] == 0.75
    assert found["parts"][0]["germination"]["source"] == "seed_annex_2016"
    assert "statutory minimum" in run(*GREENS).stdout


def test_85_is_read_as_percent_with_a_note() -> None:
    found = answer(*GREENS, "--germination", "browntop=85")
    assert found["parts"][0]["germination"]["value"] == 0.85
    assert found["notes"] == ["germination of browntop bent: 85 is read as 85 %."]
    assert answer(*GREENS, "--germination", "browntop=0.85")["notes"] == []


def test_f04_germination_8_5_is_refused() -> None:
    told = run(*GREENS, "--germination", "browntop bent=8.5")
    assert told.exit_code == 2
    assert "8.5 % would be nearly dead seed. 85 %?" in told.stderr


def test_f03_parts_that_miss_the_whole_are_refused() -> None:
    told = run("--part", "browntop bent=17", "--part", "chewings fescue=80")
    assert told.exit_code == 2
    assert "Keep as 'others 3 %', or change one?" in told.stderr
    kept = answer(
        "--part", "browntop bent=17", "--part", "chewings fescue=80", "--part", "others=3"
    )
    assert kept["others_by_weight"] == 0.03
    assert kept["parts"][0]["share_by_weight"] == 0.17


def test_own_seed_weights_change_the_shares() -> None:
    found = answer(*GREENS, "--tsw", "browntop=0.07", "--tsw", "chewings=1.0")
    assert round(100 * found["parts"][0]["share_by_number"]) == 78


def test_n06_a_height_below_comfort_is_cautioned_with_the_component() -> None:
    words = ("--part", "tall fescue=85", "--part", "smooth-stalked meadow-grass=15")
    told = run(*words, "--height", "10").stdout.replace("\n", " ")
    assert "Caution: at 10 mm tall fescue (85 % by weight) is cut 15 mm below" in told
    assert answer(*words, "--height", "10")["comfort"]["caution"] is True
    assert "will not last" in run("--part", "PRG=100", "--height", "8").stdout


def test_ryegrass_beside_bent_says_it_cannot_be_undone() -> None:
    words = ("--part", "PRG=70", "--part", "slender red fescue=20", "--part", "browntop=10")
    assert answer(*words)["hard_to_undo"] is True
    assert "cannot easily be undone" in run(*words).stdout.replace("\n", " ")


def test_bags_and_price_make_the_order() -> None:
    found = answer(*GREENS, "--area", "240", "--spare", "15", "--bag", "5", "--price", "£9.40")
    assert found["order_kg"] == 10
    assert found["order"]["bags"] == 2
    assert found["order"]["cost_total"] == "94.00"


def test_workings_can_be_done_again_by_hand() -> None:
    shown = answer(*GREENS)["workings"]
    assert "rate × share × 1000" in shown["formula"]
    assert shown["arithmetic"][0].endswith("= 45,000")


@pytest.mark.parametrize(
    "words",
    [
        (),
        ("--part", "browntop bent"),
        ("--part", "moon grass=100"),
        (*GREENS, "--rate", "35 oz/yd2"),
        (*GREENS, "--area", "-3"),
        (*GREENS, "--height", "tall"),
        (*GREENS, "--method", "aeroplane"),
        (*GREENS, "--purity", "tall fescue=97"),
        (*GREENS, "--tsw", "browntop=0.75"),
        (*GREENS, "--area", "240", "--spare", "115"),
        (*GREENS, "--price", "cheap"),
        (*GREENS, "--area", "240", "--bag", "0"),
    ],
)
def test_wrong_use_ends_with_2_and_a_sentence(words: tuple[str, ...]) -> None:
    told = run(*words)
    assert told.exit_code == 2
    assert told.stdout == ""
    assert told.stderr.strip()
    assert "Traceback" not in told.stderr
