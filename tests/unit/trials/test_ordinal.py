"""Ratings in steps, against two programs that agreed."""

import numpy as np
import pytest

from swardbook.foundation.errors import NotEnoughDataError
from swardbook.trials.ordinal import null_scores, ordinal_model
from swardbook.trials.plots import Factor
from tests.support.trials import column, expected, factor, outside_rows


def test_wine_is_judged_as_two_programs_say() -> None:
    rows, want = outside_rows("wine_ordinal.csv"), expected("wine")["R"]
    steps = np.array([int(row["rating"]) - 1 for row in rows])
    design = np.array([[row["temp"] == "warm", row["contact"] == "yes"] for row in rows], float)
    plain = ordinal_model(steps, design)
    got = [*plain.thresholds, *plain.effects]
    assert got == pytest.approx(list(want["coef"].values()), abs=1e-4)
    assert plain.errors == pytest.approx(list(want["se"].values())[-2:], abs=1e-4)
    assert plain.log_likelihood == pytest.approx(want["loglik"], abs=1e-4)
    judged = ordinal_model(steps, design, factor(rows, "judge"))
    assert judged.log_likelihood == pytest.approx(want["clmm_loglik"], abs=1e-4)
    assert judged.rater_sd == pytest.approx(want["clmm_sd"], abs=1e-4)


def test_rows_that_stand_several_times_count_so_often() -> None:
    rows = outside_rows("agri_strawberry_cross_disease.csv")
    want = expected("strawberry_ordinal")["R"]
    steps = np.array([int(row["category"][1]) - 1 for row in rows])
    kinds = [factor(rows, name).indicators[:, 1:] for name in ("male", "female", "block")]
    made = ordinal_model(
        steps, np.hstack(kinds), times=column(rows, lambda row: float(row["count"]))
    )
    assert made.log_likelihood == pytest.approx(want["loglik"], abs=1e-4)
    assert [*made.thresholds, *made.effects] == pytest.approx(list(want["coef"].values()), abs=1e-3)


def test_a_mixture_always_rated_best_makes_the_model_say_nothing() -> None:
    steps = np.array([0, 1, 0, 1, 2, 2])
    made = ordinal_model(steps, Factor.of("m", "aaaabb").indicators[:, 1:])
    assert not made.is_stable


def test_scores_add_up_to_nought_and_rise_with_the_rating() -> None:
    steps = np.array([0, 1, 2, 3, 1, 2, 2, 3])
    scores = null_scores(steps, None)
    assert scores.sum() == pytest.approx(0, abs=1e-4)
    assert np.all(np.diff(scores[:4]) > 0)


def test_one_rating_for_all_is_no_model() -> None:
    with pytest.raises(NotEnoughDataError):
        ordinal_model(np.array([2, 2, 2]), np.ones((3, 1)))
