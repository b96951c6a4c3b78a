"""Neighbours that are alike."""

import numpy as np
import pytest

from swardbook.foundation.errors import NotEnoughDataError
from swardbook.trials.analysis import analyse
from swardbook.trials.plots import Array, Factor, PlotTable
from swardbook.trials.spatial import spatial_fit, spatial_means
from tests.support.trials import column, expected, factor, outside_rows


@pytest.mark.parametrize(
    ("fading", "key"), [("spherical", "spher"), ("rational quadratic", "ratio")]
)
def test_the_wheat_of_nebraska_as_two_programs_say(fading: str, key: str) -> None:
    rows, want = outside_rows("wheat2.csv"), expected("wheat2_spatial")["R"]
    x, y = (column(rows, lambda row, at=at: float(row[at])) for at in ("longitude", "latitude"))  # type: ignore[misc]
    made = spatial_fit(
        column(rows, lambda row: float(row["yield"])), factor(rows, "variety"), x, y, fading
    )
    assert made.log_likelihood == pytest.approx(want[f"logREML_{key}"], abs=1e-5)
    pairs = np.triu_indices(56, 1)
    assert made.likeliest.errors[pairs].mean() == pytest.approx(want[f"mean_sed_{key}"], rel=1e-5)
    assert made.reach == pytest.approx(want[f"{key}_par"]["range"], rel=1e-4)
    assert made.nugget == pytest.approx(want[f"{key}_par"]["nugget"], rel=1e-4)
    assert made.sigma == pytest.approx(want[f"sigma_{key}"], rel=1e-4)
    for name, each in want.get(f"est_{key}", {}).items():
        told = made.likeliest.values[made.likeliest.place(name.removeprefix("variety"))]
        assert told == pytest.approx(each, rel=1e-4)
    if key == "spher":
        best = [made.means.names[at] for at in made.likeliest.ordered(lower_first=False)[:5]]
        assert best == want["top5_spher"]
    assert made.means.errors[pairs].mean() > made.likeliest.errors[pairs].mean()


def test_blocks_of_the_wheat_of_nebraska_hide_what_neighbours_show() -> None:
    rows, want = outside_rows("wheat2.csv"), expected("wheat2_spatial")["R"]
    entry, block = factor(rows, "variety"), factor(rows, "Block")
    names = tuple(str(number) for number in range(len(rows)))
    yields = column(rows, lambda row: float(row["yield"]))
    made = analyse(PlotTable(names, entry, yields, block))
    assert made.error.ms == pytest.approx(want["mse"], rel=1e-10)
    assert 100 * made.cv == pytest.approx(want["cv"], rel=1e-10)
    assert made.means.errors[0, 1] == pytest.approx(want["sed_rcbd"], rel=1e-10)
    best = [made.means.names[at] for at in made.means.ordered(lower_first=False)[:5]]
    assert best == want["top5_rcbd"]


def test_a_trend_is_taken_out_and_the_differences_stand_sharper() -> None:
    chance = np.random.Generator(np.random.Philox(key=8))
    x, y = (each.ravel().astype(float) for each in np.meshgrid(np.arange(8), np.arange(5)))
    entry = Factor.of("m", [f"m{n}" for n in chance.permutation(np.repeat(np.arange(8), 5))])
    truth = entry.indicators @ np.arange(8.0)
    figures = truth + 6 * np.sin(x / 2) + 4 * np.cos(y / 2) + chance.normal(0, 0.5, 40)
    made = spatial_fit(figures, entry, x, y, "exponential")
    plain = np.array([figures[entry.codes == at].mean() for at in range(8)])
    true = np.array([truth[entry.codes == at].mean() for at in range(8)])

    def off(means: Array) -> float:
        return float(np.std(means - true))

    assert off(made.means.values) < 0.6 * off(plain)
    told = spatial_means(figures, entry, x, y, "exponential")
    assert told.values == pytest.approx(made.means.values)
    assert told.covariance == pytest.approx(made.means.covariance)


def test_few_plots_show_no_trend() -> None:
    with pytest.raises(NotEnoughDataError, match="at least 20 plots"):
        spatial_fit(np.arange(8.0), Factor.of("m", "abababab"), np.arange(8.0), np.arange(8.0))
