"""Change at the same places."""

from math import exp, log, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binomtest, ttest_rel
from statsmodels.stats.weightstats import DescrStatsW

from swardbook.evidence import (
    PairedChange,
    paired_change,
    paired_log_ratio,
    places_needed,
    places_to_show,
    sign_test,
)
from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError

VERTICUT = [15.0, 18, 21, 21, 19]
NOT = [27.0, 19, 30, 22, 26]


def test_twenty_places_show_a_fall_of_seven() -> None:
    change = PairedChange(7, 9 / sqrt(20), 20, 4, 14, 2)
    assert change.interval(0.95) == pytest.approx((2.8, 11.2), abs=0.05)
    assert change.spread_of_changes == pytest.approx(9)


def test_eight_places_do_not() -> None:
    assert PairedChange(7, 9 / sqrt(8), 8, 1, 7, 0).interval(0.95) == pytest.approx(
        (-0.5, 14.5), abs=0.05
    )


def test_agrees_with_scipy_on_five_pairs_of_strips() -> None:
    change = paired_change(NOT, VERTICUT)
    judge = ttest_rel(VERTICUT, NOT).confidence_interval(0.95)
    assert change.mean == pytest.approx(-6)
    assert change.interval(0.95) == pytest.approx((judge.low, judge.high))
    assert (change.fell, change.rose, change.unchanged) == (5, 0, 0)


@given(
    st.lists(st.tuples(st.floats(0, 100), st.floats(0, 100)), min_size=2, max_size=40),
    st.sampled_from([0.8, 0.9, 0.95, 0.99]),
)
def test_any_pairs_have_the_range_of_change_of_statsmodels(
    pairs: list[tuple[float, float]], level: float
) -> None:
    before, after = zip(*pairs, strict=True)
    changes = np.subtract(after, before)
    if np.ptp(changes) > 1e-6:
        judge = DescrStatsW(changes).tconfint_mean(alpha=1 - level)
        assert paired_change(before, after).interval(level) == pytest.approx(judge, abs=1e-6)


@pytest.mark.parametrize(
    ("spread", "half", "places"), [(12, 5, 25), (12, 3, 64), (9, 3, 37), (0, 1, 2)]
)
def test_places_needed_for_a_half_width(spread: float, half: float, places: int) -> None:
    assert places_needed(spread, half) == places


def test_about_eight_pairs_would_usually_have_shown_six_points() -> None:
    spread = paired_change(NOT, VERTICUT).spread_of_changes
    assert places_to_show(spread, 6) == 8


def test_pairing_takes_out_what_a_place_keeps() -> None:
    before = [1.0, 4, 9, 16, 25, 2, 7, 12]
    after = [value / 2 for value in before]
    change = paired_log_ratio(before, after)
    assert exp(change.mean) == pytest.approx(0.5)
    assert change.standard_error == pytest.approx(0, abs=1e-9)


def test_log_ratio_error_is_right_over_many_draws() -> None:
    rng = np.random.default_rng(20100801)
    ratios, errors = [], []
    for _ in range(400):
        level = rng.gamma(2, 2, size=24)
        change = paired_log_ratio(rng.poisson(level).tolist(), rng.poisson(level * 0.8).tolist())
        ratios.append(change.mean)
        errors.append(change.standard_error)
    assert np.mean(ratios) == pytest.approx(log(0.8), abs=0.03)
    assert np.mean(errors) == pytest.approx(np.std(ratios), rel=0.1)


def test_places_with_none_are_kept() -> None:
    change = paired_log_ratio([0, 2, 4, 0, 3], [1, 0, 2, 0, 1])
    assert change.n == 5
    assert change.mean == pytest.approx(log(4 / 9))


@given(st.integers(0, 60), st.integers(0, 60))
def test_sign_test_is_that_of_the_binomial(fell: int, rose: int) -> None:
    judge = binomtest(fell, fell + rose).pvalue if fell + rose else 1.0
    assert sign_test(fell, rose) == pytest.approx(judge)


def test_refuses_visits_that_do_not_pair() -> None:
    with pytest.raises(OutOfRangeError):
        paired_change([1, 2], [1])
    with pytest.raises(NotEnoughDataError, match="at least 2 pairs"):
        paired_change([1], [2])
    with pytest.raises(NotEnoughDataError, match="found none"):
        paired_log_ratio([1, 2], [0, 0])
