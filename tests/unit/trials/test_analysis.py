"""Blocks, missing plots, squares and augmented trials, against two programs that agreed."""

from collections.abc import Callable

import numpy as np
import pytest
import statsmodels.api as sm

from swardbook.foundation.errors import NotEnoughDataError
from swardbook.trials.analysis import (
    Analysis,
    analyse,
    analyse_after,
    analyse_many,
    is_complete,
    latin_square,
)
from swardbook.trials.plots import Factor, PlotTable
from tests.support.trials import (
    column,
    expected,
    factor,
    immer,
    outside_rows,
    rows_of,
    strawberry,
    table_of,
)


def insects() -> PlotTable:
    return table_of(
        outside_rows("insectsprays.csv"), lambda row: float(row["count"]) ** 0.5, "spray"
    )


CASES = {"immer": immer, "strawberry": strawberry, "insect_sqrt": insects}


@pytest.mark.parametrize(("case", "table"), CASES.items(), ids=CASES)
def test_sums_ratios_and_means_are_those_of_two_programs(
    case: str, table: Callable[[], PlotTable]
) -> None:
    made, want = analyse(table()), expected(case)["anova"]
    lines = [each.line for each in made.lines] + [made.error]
    assert [line.df for line in lines] == want["df"]
    assert [line.ss for line in lines] == pytest.approx(want["ss"], rel=1e-8)
    assert [each.f for each in made.lines] == pytest.approx(want["F"][:-1], rel=1e-8)
    assert [each.p for each in made.lines] == pytest.approx(want["p"][:-1], rel=1e-8, abs=1e-12)
    means = expected(case)["means"]
    assert dict(zip(made.means.names, made.means.values, strict=True)) == pytest.approx(means)
    assert made.means.errors[0, 1] == pytest.approx(expected(case)["sed"], rel=1e-8)
    assert made.means.difference(0, 1).needed() == pytest.approx(expected(case)["lsd05"], rel=1e-8)
    assert 100 * made.cv == pytest.approx(expected(case)["cv"], rel=1e-8)


def without_one() -> PlotTable:
    rows = [r for r in rows_of("strawberry_yield.csv") if (r["block"], r["gen"]) != ("B2", "E")]
    return table_of(rows, lambda row: float(row["yield"]), "gen", "block")


def test_a_missing_plot_is_missing_never_nought() -> None:
    want = expected("missing_plot")["R"]
    made = analyse(without_one())
    assert made.error.df == want["dfe"]
    assert made.error.ms == pytest.approx(want["mse"], rel=1e-8)
    in_order = [made.means.values[made.means.place(name)] for name in want["lev"]]
    assert in_order == pytest.approx(want["adj_mean"], rel=1e-8)
    damaged = made.means.place("E")
    errors = np.delete(made.means.errors[damaged], damaged)
    assert errors == pytest.approx(np.full(7, want["sed_with_missing"]), rel=1e-8)
    whole = made.means.errors[made.means.place("F"), made.means.place("G")]
    assert whole == pytest.approx(want["sed_others"], rel=1e-8)
    after = [(line.line.ss, line.f, line.p) for line in made.lines]
    theirs = [(each["Sum Sq"], each["F value"], each["Pr(>F)"]) for each in want["anova2"][:2]]
    for ours, them in zip(after, theirs, strict=True):
        assert ours == pytest.approx(them, rel=1e-8)


def test_an_augmented_trial_has_the_four_errors_of_the_formulas() -> None:
    want = expected("augmented")
    made = analyse(
        table_of(rows_of("augmented_example.csv"), lambda r: float(r["y"]), "entry", "block")
    )
    assert made.error.df == want["df"]
    assert made.error.ms == pytest.approx(want["mse"], rel=1e-9)
    errors = made.means.errors / made.spread
    place = made.means.place
    got = {
        "check_check": errors[place("C0"), place("C1")],
        "new_same_block": errors[place("N0_0"), place("N0_1")],
        "new_diff_block": errors[place("N0_0"), place("N1_0")],
        "new_check": errors[place("N0_0"), place("C1")],
    }
    assert got == pytest.approx(want["formula_units_of_sqrtMSE"], rel=1e-9)


def test_herbicide_by_population_is_taken_apart_as_others_do() -> None:
    from swardbook.trials.least_squares import in_order

    rows = outside_rows("agri_blackgrass_herbicide.csv")
    kinds = [factor(rows, name) for name in ("Rep", "Population", "Herbicide")]
    figures = np.log(column(rows, lambda row: float(row["Fwt"])))
    lines = in_order(figures, [*((each,) for each in kinds), (kinds[1], kinds[2])])
    assert [line.df for line in lines] == expected("blackgrass")["df"]
    assert [line.ss for line in lines] == pytest.approx(expected("blackgrass")["ss"], rel=1e-8)


def least_squares_judge(table: PlotTable) -> tuple[float, float]:
    """Error mean square and F of the entries, from another program's least squares."""
    assert table.block is not None
    blocks, entries = table.block.indicators[:, 1:], table.entry.indicators[:, 1:]
    n = len(table.values)
    small = sm.OLS(table.values, np.hstack([np.ones((n, 1)), blocks])).fit()
    full = sm.OLS(table.values, np.hstack([np.ones((n, 1)), blocks, entries])).fit()
    f, _, _ = full.compare_f_test(small)
    return float(full.mse_resid), float(f)


@pytest.mark.parametrize("seed", range(6))
def test_trials_with_holes_agree_with_another_program(seed: int) -> None:
    chance = np.random.Generator(np.random.Philox(key=seed))
    entry = Factor.of("mixture", [f"m{n % 7}" for n in range(35)])
    block = Factor.of("block", [f"b{n // 7}" for n in range(35)])
    values = np.asarray(chance.normal(size=35) + entry.codes * 0.3 + block.codes, dtype=float)
    keep = np.ones(35, dtype=bool)
    keep[chance.choice(35, seed, replace=False)] = False
    table = PlotTable(tuple(map(str, range(35))), entry, values, block).only(keep)
    made = analyse(table)
    mse, f = least_squares_judge(table)
    assert made.error.ms == pytest.approx(mse, rel=1e-9)
    assert made.entries.f == pytest.approx(f, rel=1e-9)


def test_sums_and_least_squares_give_one_answer() -> None:
    table = immer()
    assert table.block is not None
    assert is_complete(table.entry, table.block)
    by_sums, by_squares = (
        analyse(table),
        analyse_after(table.values, table.entry, [table.block], ""),
    )
    assert by_sums.entries.p == pytest.approx(by_squares.entries.p, rel=1e-9)
    assert by_sums.means.errors == pytest.approx(by_squares.means.errors, abs=1e-12)
    assert dict(by_sums.block_means) == pytest.approx(dict(by_squares.block_means))


def test_many_traits_at_once_are_what_each_is_alone() -> None:
    table = strawberry()
    assert table.block is not None
    figures = np.column_stack([table.values, table.values**2, table.values])
    figures[4, 2] = np.nan
    made = analyse_many(figures, table.entry, table.block)
    assert made[0].entries.p == pytest.approx(analyse(table).entries.p)
    keep = ~np.isnan(figures[:, 2])
    assert made[2].error.ms == pytest.approx(analyse(table.only(keep)).error.ms)
    assert made[2].error.df == 20


def square() -> Analysis:
    letters = ["ABCD", "BCDA", "CDAB", "DABC"]
    cells = [(r, c) for r in range(4) for c in range(4)]
    values = np.array(
        [10 + 2 * r + c + "ABCD".index(letters[r][c]) * 3 + (r * c) % 3 for r, c in cells]
    )
    return latin_square(
        values.astype(float),
        Factor.of("mixture", [letters[r][c] for r, c in cells]),
        Factor.of("row", [r for r, _ in cells]),
        Factor.of("column", [c for _, c in cells]),
    )


def test_a_latin_square_takes_rows_and_columns_out() -> None:
    made = square()
    assert [each.line.df for each in made.lines] == [3, 3, 3]
    assert made.error.df == 6
    assert made.means.errors[0, 1] == pytest.approx(np.sqrt(2 * made.error.ms / 4))


def test_one_plot_of_each_is_no_comparison() -> None:
    table = PlotTable(("1", "2", "3"), Factor.of("m", "abc"), np.array([1.0, 2.0, 3.0]))
    with pytest.raises(NotEnoughDataError, match="describe them, do not rank them"):
        analyse(table)


def test_means_that_share_no_block_are_not_set_side_by_side() -> None:
    entry, block = Factor.of("m", "aabbaabb"), Factor.of("b", "11221122")
    table = PlotTable(tuple("12345678"), entry, np.arange(8.0), block)
    with pytest.raises(NotEnoughDataError):
        analyse(table)
