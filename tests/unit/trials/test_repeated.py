"""Dates: one mean over time, and a split plot in time."""

from datetime import date, timedelta

import numpy as np
import pytest

from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError
from swardbook.trials.analysis import analyse_after
from swardbook.trials.plots import Array, Factor
from swardbook.trials.repeated import (
    area_under,
    sphericity,
    split_plot_in_time,
    time_weighted,
)
from tests.support.trials import expected, outside_rows

DAYS = [date(2011, 3, 1) + timedelta(days=n) for n in (0, 10, 40)]


def test_trees_under_ozone_as_two_programs_say() -> None:
    rows, want = outside_rows("sitka.csv"), expected("sitka_auc")["R"]
    trees: dict[str, list[tuple[float, float]]] = {}
    kind: dict[str, str] = {}
    for row in rows:
        trees.setdefault(row["tree"], []).append((float(row["Time"]), float(row["size"])))
        kind[row["tree"]] = row["treat"]
    lines = [sorted(each) for each in trees.values()]
    times = [time for time, _ in lines[0]]
    areas = area_under(np.array([[size for _, size in each] for each in lines]), times)
    entry = Factor.of("treat", [kind[tree] for tree in trees])
    made = analyse_after(areas, entry, [], "")
    pair = made.means.difference(made.means.place("control"), made.means.place("ozone"))
    assert pair.value / pair.standard_error == pytest.approx(want["t"], rel=1e-9)
    assert [pair.df, pair.p] == pytest.approx([want["df"], want["p"]], rel=1e-8)
    assert pair.interval() == pytest.approx(tuple(want["ci"]), rel=1e-8)
    for name, mean in want["auc_mean"].items():
        assert made.means.values[made.means.place(name)] == pytest.approx(mean, rel=1e-10)


def test_a_date_counts_for_the_time_it_stands_for() -> None:
    made = time_weighted(np.array([[0.0, 10.0, 10.0]]), DAYS)
    assert made.means == pytest.approx([(5 * 10 + 10 * 30) / 40])
    assert made.filled == ()


def test_a_gap_inside_is_drawn_straight_and_told_and_an_end_is_never_made_up() -> None:
    made = time_weighted(np.array([[0.0, np.nan, 40.0], [1.0, 2.0, np.nan]]), DAYS)
    assert made.means[0] == pytest.approx(20.0)
    assert made.filled == ((0, 1),)
    assert np.isnan(made.means[1])


def test_one_date_or_dates_out_of_order_are_no_spell() -> None:
    with pytest.raises(NotEnoughDataError):
        time_weighted(np.ones((2, 1)), DAYS[:1])
    with pytest.raises(OutOfRangeError):
        time_weighted(np.ones((2, 2)), [DAYS[1], DAYS[0]])


def grown(dates: int, seed: int) -> tuple[Array, Factor, Factor]:
    chance = np.random.Generator(np.random.Philox(key=seed))
    entry = Factor.of("m", [f"m{n % 4}" for n in range(16)])
    block = Factor.of("b", [f"b{n // 4}" for n in range(16)])
    walk = np.cumsum(chance.normal(size=(16, dates)), axis=1)
    return walk + entry.codes[:, None], entry, block


def test_over_plots_it_is_the_analysis_of_plot_means() -> None:
    figures, entry, block = grown(5, 2)
    made = split_plot_in_time(figures, entry, block)
    alone = analyse_after(figures.mean(axis=1), entry, [block], "")
    assert made.entries.f == pytest.approx(alone.entries.f)
    assert made.entries.p == pytest.approx(alone.entries.p)


def test_dates_that_wander_are_corrected_and_two_dates_need_no_correction() -> None:
    figures, entry, block = grown(5, 3)
    made = split_plot_in_time(figures, entry, block)
    assert 1 / 4 <= made.epsilon < 1
    uncorrected = made.strata[2].tests()[1]
    assert made.crossing.f == pytest.approx(uncorrected.f)
    assert made.crossing.p != pytest.approx(uncorrected.p)
    pair, entry, block = grown(2, 4)
    assert split_plot_in_time(pair, entry, block).epsilon == pytest.approx(1)


def test_epsilon_is_that_of_the_roots_of_the_spread() -> None:
    figures, entry, block = grown(6, 5)
    columns = np.hstack([np.ones((16, 1)), entry.indicators, block.indicators])
    left = figures - columns @ np.linalg.pinv(columns) @ figures
    helmert = np.linalg.qr(np.hstack([np.ones((6, 1)), np.eye(6)[:, :5]]))[0][:, 1:]
    roots = np.linalg.eigvalsh(helmert.T @ left.T @ left @ helmert)
    assert sphericity(figures, entry, block) == pytest.approx(
        roots.sum() ** 2 / (5 * (roots**2).sum())
    )


def test_a_hole_is_no_split_plot_in_time() -> None:
    figures, entry, block = grown(3, 6)
    figures[1, 1] = np.nan
    with pytest.raises(NotEnoughDataError):
        split_plot_in_time(figures, entry, block)


def test_with_plots_missing_dates_are_compared_plot_by_plot() -> None:
    figures, entry, block = grown(4, 7)
    whole = split_plot_in_time(figures, entry, block)
    keep = np.ones(16, dtype=bool)
    keep[5] = False
    made = split_plot_in_time(figures[keep], entry.only(keep), block.only(keep))
    assert made.strata == ()
    assert made.crossing.line.df == whole.crossing.line.df
    assert made.crossing.f == pytest.approx(whole.crossing.f, rel=0.8)
    alone = analyse_after(figures[keep].mean(axis=1), entry.only(keep), [block.only(keep)], "")
    assert made.entries.f == pytest.approx(alone.entries.f)
