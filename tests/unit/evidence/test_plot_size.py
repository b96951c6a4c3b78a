"""A larger plot buys less than more plots, where neighbours are alike."""

import csv

import numpy as np
import pytest

from swardbook.evidence.plot_size import PlotShape, smiths_b, variance_of_plots
from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError
from tests.support.surveys import FOLDER, expected, tolerance


def wheat() -> list[list[float]]:
    """Wheat of Mercer and Hall 1911, the first 24 columns of 25."""
    with (FOLDER / "mercer_hall.csv").open(encoding="utf-8") as file:
        return [[float(cell) for cell in row[:24]] for row in csv.reader(file)]


def test_wheat_varies_between_plots_as_two_programs_say() -> None:
    grid, want = wheat(), expected("mercer_hall")
    within = tolerance("mercer_hall")["rel"]
    made = [variance_of_plots(grid, rows, columns) for rows, columns, _, _ in want["plots"]]
    for shape, (_, _, plots, variance) in zip(made, want["plots"], strict=True):
        assert shape.plots == plots
        assert shape.variance == pytest.approx(variance, rel=within)
    assert smiths_b(made, is_weighted=False) == pytest.approx(want["b"], rel=within)
    assert smiths_b(made) == pytest.approx(want["b_weighted"], rel=within)


def test_ground_without_patches_gives_a_power_of_one() -> None:
    grid = np.random.Generator(np.random.Philox(key=2)).normal(size=(64, 64))
    shapes = [variance_of_plots(grid.tolist(), n, n) for n in (1, 2, 4, 8)]
    assert smiths_b(shapes) == pytest.approx(1, abs=0.1)


def test_too_little_ground_says_nothing() -> None:
    with pytest.raises(NotEnoughDataError, match="two plots"):
        variance_of_plots([[1, 2], [3, 4]], 2, 2)
    with pytest.raises(NotEnoughDataError, match="three sizes"):
        smiths_b([PlotShape(1, 1, 4, 1.0), PlotShape(1, 2, 2, 1.0)])
    with pytest.raises(OutOfRangeError, match="all alike"):
        variance_of_plots([[1, 2], [3]], 1, 1)
    with pytest.raises(OutOfRangeError, match="1 or more"):
        variance_of_plots([[1, 2]], 0, 1)
