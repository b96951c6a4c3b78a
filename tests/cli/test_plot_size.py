"""What larger plots and more plots buy, at the command line."""

from pathlib import Path

import pytest

from tests.cli.conftest import Run
from tests.support.surveys import FOLDER

WHEAT = str(FOLDER / "mercer_hall.csv")


def test_twice_the_plots_buy_more_than_twice_the_area_on_patchy_ground(run: Run) -> None:
    told = run("plots", "size", WHEAT, "--json").json
    assert (told["rows"], told["columns"]) == (20, 25)
    assert 0.45 < told["power"] < 0.65
    assert told["error_off_by_twice_the_plots"] == pytest.approx(0.2929, abs=1e-4)
    assert told["error_off_by_twice_the_area"] < told["error_off_by_twice_the_plots"]
    assert told["shapes"][0] == {
        "cells_down": 1, "cells_across": 1, "n_plots": 500,
        "variance": pytest.approx(0.4582796**2, rel=1e-5),
    }  # fmt: skip
    apart = [each["semivariance"] for each in told["apart"]]
    assert apart == sorted(apart)
    assert "take 18 % off the error" in run("plots", "size", WHEAT).text.replace("\n", " ")


@pytest.mark.parametrize(
    ("sheet", "words"),
    [
        ("1,2\n3\n", "row 2: read '1 cells'"),
        ("1,x\n", "row 1, column 2: read 'x'"),
        ("1,\n", "row 1, column 2"),
        ("\n", "rows of numbers"),
        ("1,2,3,4,5\n" * 401, "at most 2000"),
    ],
)
def test_a_sheet_that_is_no_grid_is_refused_with_its_place(
    run: Run, tmp_path: Path, sheet: str, words: str
) -> None:
    path = tmp_path / "readings.csv"
    path.write_text(sheet, encoding="utf-8")
    assert words in " ".join(run("plots", "size", str(path), code=2).text.split())
    run("plots", "size", str(tmp_path / "none.csv"), code=2)


def test_few_readings_say_nothing_of_size_and_that_is_an_answer(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "readings.csv"
    path.write_text("1;2,5\n3;4\n", encoding="utf-8")
    assert "Not enough data" in run("plots", "size", str(path)).text
