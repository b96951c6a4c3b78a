"""Counts and shares, against two programs that agreed."""

from math import inf

import numpy as np
import pytest
import statsmodels.api as sm

from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError
from swardbook.trials.glm import count_model, deviances, share_model
from swardbook.trials.plots import Factor
from tests.support.trials import column, expected, factor, outside_rows, rows_of


def test_sprayed_insects_clump_as_two_programs_say() -> None:
    rows, want = outside_rows("insectsprays.csv"), expected("insect_glm")["nb_R"]
    made = count_model(column(rows, lambda row: float(row["count"])), factor(rows, "spray"))
    assert made.clumping == pytest.approx(want["theta"], rel=1e-4)
    assert made.log_likelihood == pytest.approx(want["loglik"], rel=1e-4)
    logs = dict(zip(made.means.names, made.means.values - made.means.values[0], strict=True))
    for spray in "BCDEF":
        assert logs[spray] == pytest.approx(want["coef"][f"spray{spray}"], rel=1e-4)


@pytest.mark.parametrize("seed", range(5))
def test_clumped_counts_in_blocks_agree_with_another_program(seed: int) -> None:
    chance = np.random.Generator(np.random.Philox(key=seed))
    entry = Factor.of("m", [f"m{n % 5}" for n in range(40)])
    block = Factor.of("b", [f"b{n // 5}" for n in range(40)])
    looked = chance.choice([0.5, 1.0], 40)
    mu = 6 * np.exp(0.4 * entry.codes) * looked
    counts = chance.negative_binomial(1.5, 1.5 / (1.5 + mu)).astype(float)
    made = count_model(counts, entry, block, looked)
    design = np.hstack([np.ones((40, 1)), block.indicators[:, 1:], entry.indicators[:, 1:]])
    judge = sm.GLM(
        counts, design, family=sm.families.NegativeBinomial(alpha=1 / made.clumping),
        offset=np.log(looked),
    ).fit(tol=1e-12)  # fmt: skip
    assert made.deviance == pytest.approx(judge.deviance, rel=1e-7)
    assert made.means.values[1:] - made.means.values[0] == pytest.approx(
        judge.params[-4:], abs=1e-6
    )
    assert made.means.errors[0, 1:] == pytest.approx(judge.bse[-4:], rel=1e-5)


def test_counts_that_do_not_clump_are_poisson() -> None:
    counts = np.array([4.0, 5, 6, 5, 4, 6, 5, 5])
    made = count_model(counts, Factor.of("m", "abababab"))
    assert made.clumping == inf
    assert made.means.values == pytest.approx(np.log([counts[::2].mean(), counts[1::2].mean()]))


def test_germination_is_taken_apart_as_two_programs_do() -> None:
    rows, want = rows_of("seed_germination.csv"), expected("mead_germination")["R"]
    hits, points = (column(rows, lambda row, key=key: float(row[key])) for key in ("germ", "seeds"))  # type: ignore[misc]
    warmth, dose = factor(rows, "temp"), factor(rows, "conc")
    lines, left, df = deviances(hits, points, [(warmth,), (dose,), (warmth, dose)])
    assert [each for each, _ in lines] == pytest.approx(want["dev"][1:], rel=1e-8)
    assert [each for _, each in lines] == [3, 3, 9]
    assert [left, df] == pytest.approx([want["resid_dev"], want["resid_df"]], rel=1e-8)
    plain = share_model(hits, points, warmth.by(dose), clumped=False)
    assert plain.pearson / plain.df == pytest.approx(want["phi"], rel=1e-8)


def test_clumped_points_have_wider_errors_by_the_root_of_their_inflation() -> None:
    rows = rows_of("seed_germination.csv")
    hits = column(rows, lambda row: float(row["germ"]))
    points = column(rows, lambda row: float(row["seeds"]))
    cells = factor(rows, "temp").by(factor(rows, "conc"))
    plain, clumped = (share_model(hits, points, cells, clumped=each) for each in (False, True))
    inflation = plain.pearson / plain.df
    assert 1 + 49 * clumped.clumping == pytest.approx(inflation, rel=1e-7)
    assert clumped.means.errors == pytest.approx(plain.means.errors * inflation**0.5, rel=1e-5)


def test_what_cannot_be_counts_or_shares_is_refused() -> None:
    entry = Factor.of("m", "aabb")
    with pytest.raises(OutOfRangeError):
        count_model(np.array([1.0, -1, 2, 3]), entry)
    with pytest.raises(NotEnoughDataError):
        count_model(np.zeros(4), entry)
    with pytest.raises(OutOfRangeError):
        share_model(np.array([26.0, 1, 2, 3]), np.full(4, 25.0), entry)
    with pytest.raises(NotEnoughDataError):
        share_model(np.zeros(4), np.full(4, 25.0), entry)
