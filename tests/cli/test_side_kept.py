"""Mixtures side by side are kept as they stood, age with a new count, and open to workings."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from swardbook.cli.main import root
from tests.support.books import standing_on_made_up_ground


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """The made-up ground, built once; what is kept in one test is read in another."""
    with standing_on_made_up_ground(tmp_path_factory.mktemp("made_up") / "book") as place:
        yield place


def told(*words: str, code: int = 0) -> Any:
    found = CliRunner().invoke(root, [*words, "--json"], prog_name="swardbook")
    assert found.exit_code == code, found.output
    return json.loads(found.stdout)


def test_a_kept_verdict_holds_the_means_and_ages_with_the_next_count(home: Path) -> None:
    kept = told("side-by-side", "--keep", "--who", "Ines")
    entries = told("diary", "show")["entries"]
    (entry,) = (each["what"] for each in entries if each["id"].startswith(kept["kept_as"]))
    assert entry["about"] == "side by side"
    assert "too close to call among Bobbin" in entry["words"]
    assert entry["found"]["Haystack_percent"] == pytest.approx(42, abs=0.6)
    assert entry["named"]["Bobbin ahead of Haystack"] == "clear"
    assert entry["given"]["day"] == "2011-09-21"
    (one,) = (each for each in told("diary", "kept")["kept"] if each["about"] == "side by side")
    assert one["state"] == "in use"
    told("count", "add", "--zone", "Trial ground", "--place", "1-01", "--points", "25", "--found",
         "annual meadow-grass=4", "--when", "7 October 2011")  # fmt: skip
    (one,) = (each for each in told("diary", "kept")["kept"] if each["about"] == "side by side")
    assert one["state"] != "in use"
    begun = CliRunner().invoke(root, ["side-by-side"], prog_name="swardbook")
    assert "Begun since, on Fri 7 October 2011: 1 plot of 40" in " ".join(begun.output.split())
    assert told("side-by-side")["day"] == "2011-09-21"


def test_what_may_only_be_described_is_not_kept(home: Path) -> None:
    before = told("diary", "show")
    told("plots", "care", "water", "1-01", "--reason", "the tap end", "--when", "1 October 2011")
    refused = CliRunner().invoke(root, ["side-by-side", "--keep"], prog_name="swardbook")
    assert refused.exit_code == 0
    assert "Not enough data for an answer to keep" in refused.output
    assert len(told("diary", "show")["entries"]) == len(before["entries"]) + 1


def test_the_answer_of_a_trial_opens_to_analysis_gaps_pairs_and_chances(home: Path) -> None:
    shown = told("workings", "trial", "--kind", "sown")["workings"]
    assert len(shown) == 4
    table, gaps, pairs, chances = shown
    assert "F = " in table["arithmetic"][0]
    assert {"plots that count", "blocks", "mixtures"} <= {each["name"] for each in table["inputs"]}
    assert all(each["grade"] == "measured" for each in table["inputs"])
    assert "q × SED / √2" in gaps["formula"]
    assert "leaves out nought" in pairs["formula"]
    assert "flat prior" in chances["assumptions"][0]


def test_the_arithmetic_of_the_analysis_can_be_done_again_by_hand(home: Path) -> None:
    table = told("workings", "trial")["workings"][0]
    line = next(each for each in table["arithmetic"] if each.startswith("mixture"))
    words = line.replace(";", "").replace(",", "").split()
    total, df, mean = float(words[4]), int(words[6]), float(words[8])
    assert mean == pytest.approx(total / df, rel=1e-3)
    error = next(each for each in table["arithmetic"] if each.startswith("error"))
    assert float(words[15]) == pytest.approx(
        mean / float(error.split(" = ")[1].split(";")[0]), abs=0.01
    )


def test_what_visitors_chose_stands_apart_from_the_figures_and_moves_none(home: Path) -> None:
    answer = told("side-by-side", "--day", "21 September 2011")
    (darkest,) = answer["visitors"]
    assert (darkest["question"], darkest["people"]) == ("darkest", 64)
    assert darkest["most_chosen"] == ["Gatepost"]
    assert set(darkest) == {"day", "question", "people", "chosen", "most_chosen"}
    shown = CliRunner().invoke(root, ["side-by-side"], prog_name="swardbook").output
    text = " ".join(shown.split())
    assert "31 of 64 chose Gatepost as darkest. That is opinion and moves nothing here." in text
    assert "Gatepost stands at 25 %, place 7 of 9 sown as found." in text
