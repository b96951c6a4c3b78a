"""Tins at the command line, with and without a book."""

import pytest

from tests.cli.conftest import Run

TINS = ["6", "8.5", "7", "9", "5", "7.5", "8", "6.5", "9.5", "4.5", "7", "8.5"]


def test_tins_need_no_book(run: Run) -> None:
    told = run("tins", *TINS).text
    assert "Evenness 0.71 (lowest quarter over mean)" in told
    assert "the driest quarter gets 5.2 mm" in told
    assert "Say --minutes" in told


def test_water_that_falls_faster_than_it_sinks_in_is_given_in_turns(run: Run) -> None:
    """N26."""
    asked = ("tins", *TINS, "--minutes", "20", "--mm", "12", "--infiltration", "25 mm in 240 min")
    told = run(*asked, "--json").json
    assert told["falls_mm_per_h"] == pytest.approx(21.75)
    assert told["infiltration_mm_per_h"] == pytest.approx(6.25)
    assert told["longest_run_min"] == pytest.approx(60 * 3 / 15.5)
    assert told["run_min"] == pytest.approx(33.1, abs=0.01)
    assert told["turns"] == 3
    text = run(*asked).text
    assert "at most 12 minutes in one go" in text
    assert "that is 3 turns" in " ".join(text.split())
    assert max(map(len, text.splitlines())) <= 80


def test_ground_that_keeps_up_takes_it_in_one_go(run: Run) -> None:
    told = run("tins", *TINS, "--minutes", "20", "--mm", "4", "--infiltration", "68 mm/h").text
    assert "68 mm an hour (as told): it keeps up." in told
    assert "4 mm take 11 minutes." in told


def test_the_slowest_reading_of_the_zone_counts(ground: Run) -> None:
    for rate in ("9", "5", "52"):
        reading = ("-s", "quantity=infiltration", "-s", f"value={rate}", "-s", "unit=mm/h")
        ground("diary", "add", "reading", *reading, "--zone", "main court")
    asked = ("tins", *TINS, "--minutes", "20", "--zone")
    told = ground(*asked, "main court", "--json").json
    assert told["infiltration_mm_per_h"] == 5
    assert told["infiltration_from"] == "slowest of 3 in Main court"
    assert "Nobody has measured" in ground(*asked, "short court").text


def test_few_tins_are_not_enough_and_that_is_an_answer(run: Run) -> None:
    assert "at least 4 tins in a grid" in run("tins", "6", "7").text
    told = run("tins", "6", "7", "--json").json
    assert told["not_enough_data"]["there_is"] == "2"
    assert "Not enough data" in told["refusals"][0]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["6", "7", "wet", "5"], "a tin"),
        ([*TINS, "--infiltration", "quick"], "25 mm in 22 min"),
        ([*TINS, "--zone", "main court", "--infiltration", "6"], "one of the two"),
        ([*TINS, "--zone", "nowhere"], "No zone called 'nowhere'"),
    ],
)
def test_what_cannot_be_read_is_told_plainly(ground: Run, arguments: list[str], words: str) -> None:
    assert words in ground("tins", *arguments, code=2).text
