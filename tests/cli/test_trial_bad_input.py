"""What a person does wrong with a trial, by the numbers of the list: said, kept, never hidden."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from swardbook.cli.main import root
from tests.support.books import standing_on_made_up_ground

MIXTURES = ("BB-0417", "Thimble", "Gatepost")
BED = ("--zone", "New bed")


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """The made-up ground with a second trial ground, built once for these tests."""
    with standing_on_made_up_ground(tmp_path_factory.mktemp("made_up") / "book") as place:
        said("zone", "add", "New bed", "--sides", "20x9.5", "--use", "trial", "--height-of-cut",
             "10 mm", "--mower", "cylinder", "--mower-width", "51 cm")  # fmt: skip
        yield place


def said(*words: str, code: int = 0) -> str:
    found = CliRunner().invoke(root, list(words), prog_name="swardbook")
    assert found.exit_code == code, found.output
    return " ".join(found.output.split())


def told(*words: str) -> Any:
    found = CliRunner().invoke(root, [*words, "--json"], prog_name="swardbook")
    assert found.exit_code == 0, found.output
    return json.loads(found.stdout)


def test_f32_one_plot_each_may_be_described_and_not_ranked(home: Path) -> None:
    text = said("set-out", *MIXTURES, *BED, "--design", "single")
    assert "One plot each: I can describe these, not rank them." in text
    assert "3 or more of each would let me." in text
    assert told("set-out", *MIXTURES, *BED, "--design", "single")["shows"] is None


def test_f33_a_plot_moved_by_hand_needs_a_reason_and_marks_the_plan_for_good(home: Path) -> None:
    said("set-out", *MIXTURES, *BED, "--plot", "1.5x2", "--keep")
    plan = told("set-out", *BED)
    assert plan["shuffled"]
    one, other = (each["name"] for each in plan["plots"][:2])
    assert "--reason" in said("shuffle", *BED, "--move", f"{one}={other}", code=2)
    text = said("shuffle", *BED, "--move", f"{one}={other}", "--reason", "it suits it there")
    assert "chosen, not shuffled" in text
    again = told("set-out", *BED)
    assert not again["shuffled"]
    assert [each["mixture"] for each in again["plots"][:2]] == [
        each["mixture"] for each in plan["plots"][1::-1]
    ]


def test_f34_a_plot_left_out_after_its_results_is_shown_with_and_without(home: Path) -> None:
    trial = ("--zone", "Trial ground")
    whole = told("side-by-side", *trial)
    assert "2-10" not in {each["plot"] for each in whole["left_out"]}
    refused = said("plots", "leave-out", "2-10", *trial, code=2)
    assert "--reason" in refused
    text = said("plots", "leave-out", "2-10", *trial, "--reason", "it looked bad", "--when",
                "20 September 2011")  # fmt: skip
    assert "Results from that day are in the book already." in text
    found = told("side-by-side", *trial)
    (out,) = (each for each in found["left_out"] if each["plot"] == "2-10")
    assert out["why"] == "it looked bad"
    assert "with plots left out" in found["other_plots"]
    assert "Plots counted with plots left out" in said("side-by-side", *trial)
    said("plots", "leave-out", "2-10", *trial, "--back", "--reason", "it was only luck")
    back = told("side-by-side", *trial)
    assert back["mixtures"] == whole["mixtures"]


def test_f16_and_f35_plots_alike_and_two_counters_in_a_block_are_asked_about(home: Path) -> None:
    plots = [f"2-{number:02d}=6" for number in range(1, 11)]
    alike = told("plots", "read", *plots, "--trait", "quality", "--zone", "Trial ground",
                 "--who", "Ines")  # fmt: skip
    assert "10 plots exactly alike" in alike["entries"][0]["needs_a_look"]
    assert all(each["value"] == 6 for each in alike["entries"][0]["what"]["readings"])


def test_f41_merged_heads_and_words_for_nothing_are_read_row_by_row(
    home: Path, tmp_path: Path
) -> None:
    sheet = tmp_path / "old.csv"
    sheet.write_text(
        "Old trial;;;\nPlot;Quality;Clippings g/m2;Remark\n1-01;n/a;<1;\n1-02;7;tr;dew\n"
        "1-03;;12,5;\n",
        encoding="utf-8",
    )
    kept = told("plots", "read", "--file", str(sheet), "--zone", "Trial ground")
    found = {each["what"]["trait"]: each["what"]["readings"] for each in kept["entries"]}
    assert [each["value"] for each in found["quality"]] == [None, 7, None]
    values = [each["value"] for each in found["clippings"]]
    assert all(0 < value < 1 for value in values[:2])
    assert values[2] == 12.5
    assert [each["as_typed"] for each in found["clippings"]][:2] == ["<1", "tr"]
    assert len(kept["understood"]) == 3
    assert kept["parked"] == []
