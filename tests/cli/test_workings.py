"""Every figure opens to its inputs, formula, arithmetic and sources."""

import pytest

from swardbook.book.workings import FIGURE_NAMES
from tests.cli.conftest import Run


def test_lists_the_figures_that_can_be_asked(run: Run) -> None:
    assert set(run("workings", "--json").json["figures"]) == set(FIGURE_NAMES)


def test_a_number_of_the_handbook_tells_its_grade_and_source_without_a_book(run: Run) -> None:
    shown = run("workings", "clock_days", "--json").json["workings"][0]

    assert shown["inputs"][0]["grade"] == "common practice"
    assert shown["answer"].endswith(" d")


@pytest.mark.parametrize("figure", ["clock", "fit", "pull"])
def test_a_figure_of_the_plan_opens(run: Run, ground: Run, figure: str) -> None:
    shown = run("workings", figure, "--zone", "main court", "--json").json["workings"]

    assert shown[0]["question"]
    assert shown[0]["answer"]


def test_the_seeds_of_a_lot_open_to_the_arithmetic(run: Run, ground: Run) -> None:
    run("lot", "add", "--code", "BB-0417", "--name", "Bobbin", "--part", "chewings fescue=80",
        "--part", "browntop bent=20")  # fmt: skip
    shown = run("workings", "lot", "--lot", "bb-0417", "--json").json["workings"][0]

    assert any("×" in line for line in shown["arithmetic"])


def test_an_unknown_figure_is_refused_with_the_nearest(run: Run, ground: Run) -> None:
    assert "clock" in run("workings", "clok", code=2).text


def test_a_figure_without_its_zone_says_how_to_give_it(run: Run, ground: Run) -> None:
    assert "--zone" in run("workings", "clock", code=2).text


def test_no_count_is_an_answer_and_no_failure(run: Run, ground: Run) -> None:
    text = run("workings", "count", "--zone", "main court", "--kind", "yorkshire fog").text

    assert "Not enough data" in text
