"""Density of plants that clump."""

from collections.abc import Sequence
from functools import partial
from math import exp, inf, log, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import minimize, minimize_scalar
from scipy.stats import chi2, nbinom, poisson
from statsmodels.discrete.discrete_model import NegativeBinomial
from statsmodels.stats.rates import confint_poisson

from swardbook.evidence import (
    Density,
    common_clumping,
    density,
    none_in_a_frame,
    poisson_exact,
    quadrats_needed,
    ratio_of_samples,
    variance_of_counts,
)
from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError

SPRAY_C = (0, 1, 7, 2, 3, 1, 2, 1, 3, 0, 1, 4)
"""Insects in 12 plots after spray C: Beall, G., 1942, Biometrika 32, 243-262."""
ONES = [1.0] * 12


def log_height(counts: Sequence[float], mean: float | np.ndarray, k: float) -> float:
    return float(np.sum(nbinom.logpmf(counts, k, k / (k + mean))))


@pytest.mark.parametrize(
    ("count", "low", "high"),
    [(0, 0, 3.688879), (1, 0.025318, 5.571643), (5, 1.623486, 11.668332),
     (20, 12.216520, 30.888378), (107, 87.689082, 129.298547)],
)  # fmt: skip
def test_exact_poisson_ranges_are_those_of_chi_squared(count: int, low: float, high: float) -> None:
    assert poisson_exact(count) == pytest.approx((low, high), abs=1e-5)
    assert poisson_exact(count).high == pytest.approx(chi2.ppf(0.975, 2 * count + 2) / 2)


@given(st.integers(0, 3000), st.sampled_from([0.5, 0.8, 0.95, 0.99]))
def test_any_count_has_the_exact_range_of_statsmodels(count: int, level: float) -> None:
    low, high = confint_poisson(count, 1.0, method="exact-c", alpha=1 - level)
    assert poisson_exact(count, level) == pytest.approx((0.0 if count == 0 else low, high))


def test_clumping_of_insect_counts_is_that_of_maximum_likelihood() -> None:
    fitted = density(SPRAY_C, ONES)
    assert fitted.per_m2 == pytest.approx(25 / 12)
    assert fitted.clumping == pytest.approx(3.177035, rel=1e-6)
    height = log_height(SPRAY_C, 25 / 12, fitted.clumping)
    assert height == pytest.approx(-22.4085456, abs=1e-6)
    judge = NegativeBinomial(np.array(SPRAY_C), np.ones(12)).fit(disp=0, maxiter=500)
    assert fitted.clumping == pytest.approx(1 / judge.params[1], rel=1e-3)


def test_profile_range_drops_the_likelihood_by_the_chi_squared_quantile() -> None:
    fitted = density(SPRAY_C, ONES)

    def height(mean: float) -> float:
        found = minimize_scalar(lambda log_k: -log_height(SPRAY_C, mean, exp(log_k)), (0, 1))
        return -float(found.fun)

    best = height(25 / 12)
    for end in fitted.interval():
        assert 2 * (best - height(end)) == pytest.approx(chi2.ppf(0.95, 1), abs=1e-3)


def test_counts_no_more_uneven_than_chance_are_taken_as_independent() -> None:
    fitted = density([2, 2, 3, 1, 2, 2], [1.0] * 6)
    assert fitted.clumping == inf
    exact = poisson_exact(12)
    assert fitted.interval() == pytest.approx((exact.low / 6, exact.high / 6))


def test_frames_of_unequal_area_are_weighed_by_likelihood() -> None:
    counts, areas = [0, 9, 1, 3, 0, 14], [0.25, 1.0, 0.25, 1.0, 0.25, 1.0]
    fitted = density(counts, areas)

    def below(x: np.ndarray) -> float:
        return -log_height(counts, np.exp(x[0]) * np.array(areas), float(np.exp(x[1])))

    best = minimize(below, [1.5, 0.0], method="Nelder-Mead")
    assert log(fitted.per_m2) == pytest.approx(best.x[0], abs=1e-3)
    assert log(fitted.clumping) == pytest.approx(best.x[1], abs=1e-3)


@pytest.mark.parametrize("seed", range(6))
def test_any_clumped_counts_are_as_likely_as_scipy_can_make_them_and_their_range_drops_rightly(
    seed: int,
) -> None:
    rng = np.random.default_rng(seed)
    areas = rng.choice([0.1, 0.25, 1.0], 18)
    mean, k = float(rng.uniform(1, 30)), float(rng.uniform(0.3, 3))
    counts = rng.negative_binomial(k, k / (k + mean * areas)).tolist()
    fitted = density(counts, areas.tolist())
    assert fitted.clumping < inf

    def below(log_mean: float, log_k: float) -> float:
        return -log_height(counts, exp(log_mean) * areas, exp(log_k))

    def at(x: np.ndarray) -> float:
        return below(float(x[0]), float(x[1]))

    tries = [
        minimize(at, [log(sum(counts) / areas.sum()), start], method="Nelder-Mead",
                 options={"xatol": 1e-7, "fatol": 1e-10}).fun
        for start in (-2.0, 0.0, 2.0)
    ]  # fmt: skip
    best = float(min(tries))
    assert below(log(fitted.per_m2), log(fitted.clumping)) == pytest.approx(best, abs=1e-6)
    for end in fitted.interval():
        at_end = partial(below, log(end))
        here = minimize_scalar(at_end, bounds=(-6, 8), method="bounded", options={"xatol": 1e-9})
        assert 2 * (here.fun - best) == pytest.approx(chi2.ppf(0.95, 1), abs=2e-3)


def test_none_found_is_bounded_by_the_area_looked_at() -> None:
    assert density([0] * 24, [1.0] * 24).interval() == pytest.approx((0.0, 0.1248), abs=1e-4)


def test_zero_term_and_variance_of_the_negative_binomial() -> None:
    assert none_in_a_frame(1, 0.5) == pytest.approx(0.57735, abs=1e-5)
    assert none_in_a_frame(2, 0.5) == pytest.approx(0.44721, abs=1e-5)
    assert none_in_a_frame(0.1, 0.2) == pytest.approx(0.92211, abs=1e-5)
    assert none_in_a_frame(2, inf) == pytest.approx(poisson.pmf(0, 2))
    assert variance_of_counts(5, 0.5) == 55


@pytest.mark.parametrize(
    ("mean", "clumping", "error", "frames"),
    [(1, 0.5, 0.25, 48), (5, 1, 0.2, 30), (0.1, 0.25, 0.25, 224), (20, 5, 0.25, 4),
     (1, inf, 0.25, 16)],
)  # fmt: skip
def test_frames_needed_for_a_relative_error(
    mean: float, clumping: float, error: float, frames: int
) -> None:
    assert quadrats_needed(mean, clumping, error) == frames


def sample(mean: float, frames: int, clumping: float) -> Density:
    return Density(mean, clumping, (mean,) * frames, (1.0,) * frames)


def test_halving_on_thirty_frames_each_is_only_just_shown() -> None:
    ratio = ratio_of_samples(sample(4, 30, 0.8), sample(2, 30, 0.8), 0.8)
    assert exp(ratio.log) == pytest.approx(0.5)
    assert ratio.standard_error == pytest.approx(0.329140, abs=1e-6)
    assert ratio.log / ratio.standard_error == pytest.approx(-2.1059, abs=1e-4)
    half = 1.959964 * ratio.standard_error
    assert [exp(ratio.log - half), exp(ratio.log + half)] == pytest.approx(
        [0.2623, 0.9531], abs=1e-4
    )


def test_pulled_ground_against_honest_squares_is_clearly_less() -> None:
    ratio = ratio_of_samples(sample(9.8, 8, 1), sample(1.8, 24, 1), 1.0)
    low, high = ratio.interval(0.95)
    assert exp(ratio.log) == pytest.approx(0.18, abs=0.005)
    assert [exp(low), exp(high)] == pytest.approx([0.07, 0.46], abs=0.005)


def test_october_to_october_alone_is_wide_open() -> None:
    ratio = ratio_of_samples(sample(2.1, 24, 1), sample(1.8, 24, 1), 1.0)
    low, high = ratio.interval(0.95)
    assert exp(ratio.log) == pytest.approx(0.86, abs=0.005)
    assert [exp(low), exp(high)] == pytest.approx([0.41, 1.79], abs=0.05)


def test_a_sample_with_none_still_gives_a_ratio_and_says_so() -> None:
    ratio = ratio_of_samples(density([3, 9, 1, 6], [1.0] * 4), density([0] * 8, [1.0] * 8))
    assert ratio.none_in_one
    assert ratio.log < 0 < ratio.standard_error
    with pytest.raises(NotEnoughDataError, match="none in either"):
        ratio_of_samples(density([0] * 4, [1.0] * 4), density([0] * 4, [1.0] * 4))


def test_one_clumping_lies_between_those_of_two_samples() -> None:
    tight, loose = density([0, 0, 9, 0, 0, 14], [1.0] * 6), density(SPRAY_C, ONES)
    assert tight.clumping < common_clumping(tight, loose) < loose.clumping


def test_refuses_what_cannot_be_a_count() -> None:
    with pytest.raises(OutOfRangeError, match="0 or more"):
        density([-1, 2], [1.0, 1.0])
    with pytest.raises(OutOfRangeError, match="above 0"):
        density([1, 2], [1.0, 0.0])
    with pytest.raises(NotEnoughDataError, match="at least 2 frames"):
        density([1], [1.0])


def test_error_of_a_log_density_is_the_delta_method() -> None:
    fitted = sample(4, 30, 0.8)
    assert fitted.standard_error_of_log == pytest.approx(sqrt((1 / 4 + 1 / 0.8) / 30))
