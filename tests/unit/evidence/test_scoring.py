"""Scores of forecasts, beside numerical integration of what they are defined by."""

from collections.abc import Callable
from math import pi, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.stats import norm

from swardbook.evidence.estimates import Interval
from swardbook.evidence.scoring import (
    crps_from_sample,
    crps_of_normal,
    crps_of_quantiles,
    interval_score,
    place_in_quantiles,
    place_in_sample,
)
from swardbook.foundation.errors import OutOfRangeError

LEVELS = tuple(np.linspace(0, 1, 101).tolist())
SOME = st.lists(st.floats(-50, 50), min_size=1, max_size=12)


def integrated(below: Callable[[float], float], observed: float, low: float, high: float) -> float:
    """Integrate the squared distance of a distribution function from the step at what was found."""
    under = quad(lambda x: below(x) ** 2, low, observed, limit=500)[0]
    over = quad(lambda x: (1 - below(x)) ** 2, observed, high, limit=500)[0]
    return float(under + over)


@pytest.mark.parametrize("observed", [-1.0, 4.0, 9.5, 31.0])
def test_a_normal_scores_as_its_integral(observed: float) -> None:
    judge = integrated(lambda x: norm.cdf(x, 10, 4), observed, -40, 60)
    assert crps_of_normal(10, 4, observed) == pytest.approx(judge, abs=1e-7)


@pytest.mark.parametrize("mean", [-3.0, 1.0, 10.0])
@pytest.mark.parametrize("observed", [0.0, 0.4, 12.0])
def test_a_normal_heaped_at_nothing_scores_as_its_integral(mean: float, observed: float) -> None:
    judge = integrated(lambda x: norm.cdf(x, mean, 4), observed, 0, 80)
    assert crps_of_normal(mean, 4, observed, least=0) == pytest.approx(judge, abs=1e-7)


def test_a_standard_normal_hit_in_its_middle_scores_as_printed() -> None:
    """2 φ(0) less 1 / √π."""
    assert crps_of_normal(0, 1, 0) == pytest.approx((sqrt(2) - 1) / sqrt(pi), abs=1e-12)
    assert crps_of_normal(0, 1, 0) == pytest.approx(0.2337, abs=5e-5)


@pytest.mark.parametrize("observed", [-2.0, 0.0, 0.6, 3.0, 7.3, 9.0])
def test_quantiles_with_a_heap_and_a_gap_score_as_their_integral(observed: float) -> None:
    levels, quantiles = [0, 0.3, 0.5, 0.500001, 0.9, 1], [0.0, 0, 1, 3, 5, 8]

    def below(x: float) -> float:
        return 0.0 if x < 0 else float(np.interp(x, quantiles[1:], levels[1:]))

    judge = integrated(below, observed, min(observed, -1), max(observed, 8))
    assert crps_of_quantiles(levels, quantiles, observed) == pytest.approx(judge, abs=1e-5)


def test_many_quantiles_of_a_normal_score_nearly_as_the_normal() -> None:
    ends = [0.0005, *LEVELS[1:-1], 0.9995]
    quantiles = [10 + 4 * float(norm.ppf(end)) for end in ends]
    for observed in (2.0, 10.0, 17.0):
        exact = crps_of_normal(10, 4, observed)
        assert crps_of_quantiles(LEVELS, quantiles, observed) == pytest.approx(exact, rel=0.01)


@given(SOME, st.floats(-60, 60))
def test_draws_score_as_the_two_means_they_are_defined_by(draws: list[float], y: float) -> None:
    x = np.array(draws)
    judge = np.mean(np.abs(x - y)) - np.mean(np.abs(x[:, None] - x[None, :])) / 2
    assert crps_from_sample(draws, y) == pytest.approx(judge, abs=1e-9)


@given(st.floats(-50, 50), st.floats(-50, 50))
def test_a_single_figure_scores_its_distance(said: float, found: float) -> None:
    assert crps_from_sample([said], found) == abs(said - found)
    assert crps_of_quantiles([0, 1], [said, said], found) == pytest.approx(abs(said - found))


@given(SOME, st.floats(-60, 60))
def test_no_score_is_below_0(draws: list[float], found: float) -> None:
    assert crps_from_sample(draws, found) >= -1e-9
    ordered = sorted([*draws, *draws])
    levels = np.linspace(0, 1, len(ordered)).tolist()
    assert crps_of_quantiles(levels, ordered, found) >= -1e-9


def test_nobody_does_better_by_saying_other_than_they_think() -> None:
    """The mean score over what may be found is least for the distribution it comes from."""
    truth = norm.ppf(np.linspace(0.0005, 0.9995, 1000), 10, 4)

    def mean_score(mean: float, deviation: float) -> float:
        return float(np.mean([crps_of_normal(mean, deviation, found) for found in truth]))

    honest = mean_score(10, 4)
    for mean, deviation in ((10, 2), (10, 7), (8, 4), (13, 4)):
        assert mean_score(mean, deviation) > honest + 0.05


def test_a_range_is_scored_by_width_and_by_what_falls_outside() -> None:
    said = Interval(5, 12)
    assert interval_score(said, 7) == pytest.approx(7)
    assert interval_score(said, 14) == pytest.approx(7 + 10 * 2)
    assert interval_score(said, 4) == pytest.approx(7 + 10 * 1)
    assert interval_score(said, 4, level=0.5) == pytest.approx(7 + 4 * 1)


def test_the_interval_score_is_least_at_the_ends_that_leave_a_tenth_outside() -> None:
    truth = norm.ppf(np.linspace(0.0005, 0.9995, 2000))

    def mean_score(end: float) -> float:
        return float(np.mean([interval_score(Interval(-end, end), found) for found in truth]))

    best = min(np.arange(0.8, 2.0, 0.02), key=mean_score)
    assert best == pytest.approx(norm.ppf(0.9), abs=0.03)


def test_the_place_of_what_was_found_is_the_share_below_it() -> None:
    assert place_in_sample([1, 2, 3, 4], 2.5) == 0.5
    assert place_in_sample([0, 0, 3, 4], 0) == 0.25
    assert place_in_quantiles([0, 0.4, 1], [0, 0, 6], 0) == pytest.approx(0.2)
    assert place_in_quantiles([0, 0.4, 1], [0, 0, 6], 3) == pytest.approx(0.7)
    assert place_in_quantiles([0, 0.4, 1], [0, 0, 6], 9) == 1
    assert place_in_quantiles([0, 0.4, 1], [1, 2, 6], 0.5) == 0


def test_a_distribution_that_is_none_is_refused() -> None:
    for levels, quantiles in (
        ([0, 0.5], [1, 2]), ([0, 0.6, 0.5, 1], [1, 2, 3, 4]), ([0, 1], [2, 1]), ([0, 1], [1]),
    ):  # fmt: skip
        with pytest.raises(OutOfRangeError):
            crps_of_quantiles(levels, quantiles, 1.0)
    with pytest.raises(OutOfRangeError):
        crps_from_sample([], 1.0)
    with pytest.raises(OutOfRangeError):
        place_in_sample([], 1.0)
    with pytest.raises(OutOfRangeError):
        crps_of_normal(1, 0, 1)
    with pytest.raises(OutOfRangeError):
        crps_of_normal(1, 1, -1, least=0)
    with pytest.raises(OutOfRangeError):
        interval_score(Interval(1, 2), 1, level=1.0)
