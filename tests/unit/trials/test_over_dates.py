"""Mixtures over dates as lines."""

import numpy as np
import pytest

from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError
from swardbook.trials.over_dates import Alike, Lines, lines_over_time
from swardbook.trials.plots import Factor
from tests.support.trials import column, expected, factor, outside_rows


def trees(unit: float, alike: Alike, by_date: bool = False) -> Lines:
    rows = sorted(outside_rows("sitka.csv"), key=lambda row: row["treat"])
    return lines_over_time(
        column(rows, lambda row: float(row["size"])), factor(rows, "tree"), factor(rows, "treat"),
        column(rows, lambda row: (float(row["Time"]) - 150) / unit), alike, by_date,
    )  # fmt: skip


def test_trees_with_lines_of_their_own_are_fitted_as_two_programs_do() -> None:
    want, made = expected("sitka_auc")["R"]["lmer"], trees(50, Alike.OWN_LINE)
    assert made.names == ("start", "change", "start of ozone", "change of ozone")
    keys = ("(Intercept)", "tc", "treatozone", "tc:treatozone")
    within = expected_tolerance()
    assert made.values == pytest.approx([want["fix"][key] for key in keys], rel=within)
    assert made.errors == pytest.approx([want["se"][key] for key in keys], rel=within)
    start, change, both, rest = (each["vcov"] for each in want["vc"])
    assert made.between[[0, 1, 0], [0, 1, 1]] == pytest.approx([start, change, both], rel=within)
    assert made.sigma**2 == pytest.approx(rest, rel=within)
    assert made.log_likelihood == pytest.approx(want["reml"], abs=1e-5)
    assert made.fading is None


def expected_tolerance() -> float:
    from tests.support.trials import reference

    return float(reference()["sitka_auc"]["tolerance"]["mixed_rel"])


@pytest.mark.parametrize(("key", "by_date"), [("line", False), ("dates", True)])
def test_trees_whose_readings_fade_are_fitted_as_two_programs_do(key: str, by_date: bool) -> None:
    want, made = expected("sitka_fading")[key], trees(1, Alike.FADING, by_date)
    assert made.log_likelihood == pytest.approx(want["reml"], abs=1e-6)
    assert made.fading == pytest.approx(want["phi"], rel=1e-6)
    if "sigma" in want:
        assert made.sigma == pytest.approx(want["sigma"], rel=1e-6)
    assert made.between.size == 0
    assert len(made.values) == (10 if by_date else 4)


def grown(chance: np.random.Generator, dates: int) -> tuple[np.ndarray, Factor, Factor, np.ndarray]:
    """Twelve plots of two mixtures that start alike and part by 2 a unit of time."""
    plot = np.repeat(np.arange(12), dates)
    when = np.tile(np.arange(dates, dtype=float), 12)
    start, change = 10 + chance.normal(size=12), 3 + 0.3 * chance.normal(size=12)
    figures = start[plot] + (change[plot] + 2 * (plot % 2)) * when
    figures += 0.2 * chance.normal(size=len(plot))
    return figures, Factor.of("p", plot.tolist()), Factor.of("m", (plot % 2).tolist()), when


def test_mixtures_that_part_are_found_to_and_missing_readings_do_not_matter() -> None:
    figures, plot, entry, when = grown(np.random.Generator(np.random.Philox(key=2)), 5)
    keep = np.ones(len(figures), dtype=bool)
    keep[[3, 17, 40]] = False
    made = lines_over_time(figures[keep], plot.only(keep), entry.only(keep), when[keep])
    parted = made.values[made.names.index("change of 1")]
    assert abs(parted - 2) < 3 * made.errors[3]
    assert abs(made.values[2]) < 3 * made.errors[2]
    assert made.sigma == pytest.approx(0.2, rel=0.3)


def test_one_time_or_one_plot_each_has_no_line() -> None:
    figures, plot, entry, when = grown(np.random.Generator(np.random.Philox(key=2)), 3)
    with pytest.raises(NotEnoughDataError):
        lines_over_time(figures, plot, entry, np.zeros(len(when)))
    with pytest.raises(NotEnoughDataError):
        lines_over_time(figures, entry, entry, when)
    with pytest.raises(OutOfRangeError):
        lines_over_time(figures, plot, entry, when[1:])
