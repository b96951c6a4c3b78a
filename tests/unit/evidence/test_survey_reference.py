"""Sums of surveys are those of programs that know nothing of this one."""

import numpy as np
import pytest
from scipy.stats import nbinom, poisson

from swardbook.evidence import (
    clopper_pearson,
    density,
    looks_needed,
    none_in_a_frame,
    points_needed,
    poisson_exact,
    quadrats_needed,
    wilson,
)
from swardbook.evidence.clumps import clumping_of
from swardbook.evidence.proportions import agresti_coull, jeffreys, wald
from tests.support.surveys import data_of, expected, outside_rows, tolerance


def height(counts: list[float], mean: float, k: float) -> float:
    return float(np.sum(nbinom.logpmf(counts, k, k / (k + mean))))


@pytest.mark.parametrize(("hits", "n", "score", "exact"), expected("binomial_ci"))
def test_a_share_has_the_ranges_of_the_reference(
    hits: int, n: int, score: list[float], exact: list[float]
) -> None:
    within = tolerance("binomial_ci")["abs"]
    assert wilson(hits, n) == pytest.approx(score, abs=within)
    assert clopper_pearson(hits, n) == pytest.approx(exact, abs=within)


@pytest.mark.parametrize(("hits", "n", "flat", "added", "plain"), expected("share_intervals_more"))
def test_a_share_has_the_other_ranges_of_the_reference(
    hits: int, n: int, flat: list[float], added: list[float], plain: list[float]
) -> None:
    within = tolerance("share_intervals_more")["abs"]
    assert jeffreys(hits, n) == pytest.approx(flat, abs=within)
    assert agresti_coull(hits, n) == pytest.approx(added, abs=within)
    assert wald(hits, n) == pytest.approx(plain, abs=within)


@pytest.mark.parametrize(("count", "interval"), expected("poisson_ci"))
def test_one_count_has_the_range_of_the_reference(count: int, interval: list[float]) -> None:
    assert poisson_exact(count) == pytest.approx(interval, rel=tolerance("poisson_ci")["rel"])


@pytest.mark.parametrize(("mean", "clumping", "error", "frames"), expected("survey_n_quadrats"))
def test_frames_needed_are_those_of_the_reference(
    mean: float, clumping: float | None, error: float, frames: int
) -> None:
    k = float("inf") if clumping is None else clumping
    assert quadrats_needed(mean, k, error) == frames


@pytest.mark.parametrize(("share", "confidence", "places"), expected("survey_n_presence_rule"))
def test_places_without_a_find_are_those_of_the_reference(
    share: float, confidence: float, places: int
) -> None:
    assert looks_needed(share, confidence) == places


@pytest.mark.parametrize(("share", "half", "points"), expected("survey_n_cover_halfwidth"))
def test_points_for_a_half_width_are_those_of_the_reference(
    share: float, half: float, points: int
) -> None:
    assert points_needed(share, half) == points


def test_insects_after_a_spray_are_fitted_as_two_programs_do() -> None:
    want, counts = expected("insect_C_nb"), data_of("insect_C_nb")
    made = density(counts, [1.0] * len(counts))
    assert made.per_m2 == pytest.approx(want["mean"])
    assert made.clumping == pytest.approx(want["k"], rel=tolerance("insect_C_nb")["k_rel"])
    assert height(counts, made.per_m2, made.clumping) == pytest.approx(want["log_likelihood"])
    independent = float(np.sum(poisson.logpmf(counts, made.per_m2)))
    assert independent == pytest.approx(want["independent"])
    assert none_in_a_frame(made.per_m2, made.clumping) == pytest.approx(want["none"], rel=1e-6)
    error = made.standard_error_of_log * made.per_m2
    assert error == pytest.approx(want["se_mean"], rel=1e-6)
    clumps = clumping_of(counts)
    assert clumps.morisita == pytest.approx(want["morisita"], rel=1e-9)
    assert clumps.crowding == pytest.approx(want["crowding"], rel=1e-9)
    assert clumps.p == pytest.approx(want["even_p"], rel=1e-9)
    assert clumps.exponent == pytest.approx(want["exponent_by_moments"], rel=1e-9)


def test_the_range_of_insects_holds_that_of_a_program_that_takes_k_for_known() -> None:
    """MASS keeps k at its best along the profile, by splines; here k is fitted anew: wider."""
    want, counts = expected("insect_C_nb"), data_of("insect_C_nb")
    made = density(counts, [1.0] * len(counts))
    low, high = want["interval_k_fixed"]
    own = made.interval()
    assert own.low < low
    assert own.high > high
    k, best = made.clumping, height(counts, made.per_m2, made.clumping)
    for end in (low, high):
        assert best - height(counts, end, k) == pytest.approx(3.8414588 / 2, rel=5e-4)


@pytest.mark.parametrize("stage", ["seedlings", "flowers", "vegetative"])
def test_lilies_in_quadrats_are_fitted_as_two_programs_do(stage: str) -> None:
    case = f"nb_lily_{stage}"
    want = expected(case)
    counts = [float(row[stage]) for row in outside_rows(case)]
    made = density(counts, [1.0] * len(counts))
    assert made.per_m2 == pytest.approx(want["mean"])
    assert made.clumping == pytest.approx(want["k"], rel=tolerance(case)["k_rel"])
    assert height(counts, made.per_m2, made.clumping) == pytest.approx(want["log_likelihood"])
    assert made.interval() == pytest.approx(want["interval"], rel=1e-4)
    clumps = clumping_of(counts)
    assert clumps.variance_to_mean == pytest.approx(want["variance_to_mean"], rel=1e-9)
    assert clumps.exponent == pytest.approx(want["exponent_by_moments"], rel=1e-9)
    assert clumps.morisita == pytest.approx(want["morisita"], rel=1e-9)
