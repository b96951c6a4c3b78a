"""Open day on the made-up ground: guess first, numbers alone kept, eyes and counts apart."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner

from swardbook.cli.main import root
from tests.support.books import standing_on_made_up_ground


@pytest.fixture(scope="module")
def ground(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    with standing_on_made_up_ground(tmp_path_factory.mktemp("open")) as home:
        yield home


def run(*words: str, code: int = 0) -> str:
    result = CliRunner().invoke(root, ["open-day", *words], prog_name="swardbook")
    assert result.exit_code == code, result.output
    return result.output


def test_what_is_asked_holds_no_figure_that_was_measured(ground: Path) -> None:
    """E23."""
    told = json.loads(run("--json"))
    assert [each["key"] for each in told["questions"]] == ["darkest", "finest", "fewest weeds"]
    assert len(told["mixtures"]) == 10
    assert set(told) == {"today", "made_up", "zone", "mixtures", "questions"}


def test_a_reveal_waits_for_guesses(ground: Path) -> None:
    assert "guesses written down first" in run("--reveal", "finest")


def test_the_favourite_of_the_eyes_disagrees_with_the_counts(ground: Path) -> None:
    """T18: liking is shown apart from weeds."""
    told = json.loads(run("--reveal", "darkest", "--json"))
    assert told["eyes"] == ["Gatepost"]
    assert told["guesses"] == 64
    assert told["counts"] == []
    assert "Nobody measured the colour here" in told["sentence"]
    assert "Gatepost had 25 % annual meadow-grass" in told["weeds"]
    assert "place 7 of 10" in told["weeds"]


def test_guesses_are_kept_as_numbers_alone(ground: Path) -> None:
    said = "fewest weeds: gatepost=30, Bobbin=4, other=2"
    assert "Not kept" in run("--guess", said)
    run("--guess", said, "--keep")
    told = json.loads(run("--reveal", "fewest weeds", "--json"))
    assert told["guesses"] == 36
    assert told["eyes"] == ["Gatepost"]
    assert "Bobbin" in told["counts"]
    assert "here eyes and counts part" in told["sentence"]
    shown = CliRunner().invoke(root, ["diary", "show", "--kind", "worked out", "--json"])
    kept = [e["what"] for e in json.loads(shown.output)["entries"]
            if e["what"].get("about") == "open day guesses"]  # fmt: skip
    assert all(set(each["named"]) == {"question"} for each in kept)
    assert kept[-1]["found"] == {
        "Gatepost_guesses": 30.0,
        "Bobbin_guesses": 4.0,
        "other_guesses": 2.0,
    }


def test_the_shuffle_is_data_that_a_page_can_play(ground: Path) -> None:
    told = json.loads(run("--shuffle", "12", "--json"))
    assert len(told["shuffles"]) == 12
    assert len(told["plots"]) == len(told["as_sown"]["entries"]) == 38
    assert told["as_sown"]["best"] == "Bobbin"
    for each in told["shuffles"]:
        assert sorted(each["entries"]) == sorted(told["as_sown"]["entries"])
    assert run("--shuffle", "12", "--json") == run("--shuffle", "12", "--json")


def test_the_uneven_ground_is_shown_block_by_block_with_what_was_done(ground: Path) -> None:
    """E24, T4."""
    told = json.loads(run("--blocks", "--json"))
    assert told["blocks"][0]["mean"] == max(each["mean"] for each in told["blocks"])
    assert "compared within blocks" in told["sentence"].replace("\n", " ")


@pytest.mark.parametrize(
    ("guess", "hint"),
    [("darkest", "Gatepost=31"), ("darkest: Gatepst=3", "Gatepost"),
     ("darker: Gatepost=3", "darkest"),
     ("darkest: Gatepost=0", "at least one")],
)  # fmt: skip
def test_a_guess_that_cannot_be_read_is_refused_with_a_hint(
    ground: Path, guess: str, hint: str
) -> None:
    assert hint in run("--guess", guess, code=2)
