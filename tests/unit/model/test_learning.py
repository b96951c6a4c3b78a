"""The filter, against the exact answer where there is one."""

import numpy as np
import pytest

from swardbook.model.chance import Array, Chance
from swardbook.model.learning import (
    Cloud,
    Learned,
    Occasion,
    draw_again,
    effective_draws,
    learn,
    systematic,
    weigh,
    weighted_quantiles,
)

# Origin: constructed linear-Gaussian case; exact by the Kalman recursion, run in the test.
MOVE = np.array([[0.90, 0.0, 0.60], [0.08, 0.70, 0.0], [0.0, 0.25, 0.85]])
PROCESS = np.array([0.04, 0.02, 0.02])
SEEN = np.array([0.10, 0.05])
START, START_VARIANCE = np.array([1.0, 0.2, 0.3]), np.array([0.25, 0.05, 0.05])
COUNTS = np.array([
    [0.265, 0.032], [0.267, 0.347], [0.128, 0.472], [0.554, 0.401], [0.743, 1.147],
    [0.482, 1.516], [0.858, 1.277], [1.426, 1.393], [1.474, 1.666], [1.376, 2.236],
])  # fmt: skip
STEPS, EVERY = 30, 3
EXACT = -3.0973292758755013
EXACT_MEAN = np.array([8.752318190123667, 1.8981490455933228, 2.333301529741816])
EXACT_VARIANCE = np.array([0.4409287764382669, 0.050613254121927485, 0.062260614113584745])


def kalman() -> tuple[float, Array, Array]:
    look = np.array([[0.0, 1.0, 0.0], [0.0, 0.0, 1.0]])
    mean, cover, total = START, np.diag(START_VARIANCE), 0.0
    for step in range(STEPS):
        if step:
            mean, cover = MOVE @ mean, MOVE @ cover @ MOVE.T + np.diag(PROCESS)
        if step % EVERY == 0:
            gap = COUNTS[step // EVERY] - look @ mean
            spread = look @ cover @ look.T + np.diag(SEEN)
            total -= 0.5 * float(
                gap @ np.linalg.solve(spread, gap) + np.linalg.slogdet(2 * np.pi * spread)[1]
            )
            gain = cover @ look.T @ np.linalg.inv(spread)
            mean, cover = mean + gain @ gap, cover - gain @ look @ cover
    return total, mean, np.diag(cover).copy()


def filtered(seed: int, draws: int) -> Learned:
    chance = Chance(("kalman", str(seed)))
    first = START[:, None] + np.sqrt(START_VARIANCE)[:, None] * chance.normal_rows("x", 3, draws)

    def occasion(step: int) -> Occasion:
        def advance(cloud: Cloud) -> Cloud:
            if step == 0:
                return cloud
            noise = chance.normal_rows(f"noise {step}", 3, cloud.draws)
            moved = MOVE @ cloud.states + np.sqrt(PROCESS)[:, None] * noise
            return Cloud(moved, cloud.unbounded, cloud.log_weights)

        def likelihood(cloud: Cloud) -> Array:
            away = COUNTS[step // EVERY][:, None] - cloud.states[1:]
            terms = away**2 / SEEN[:, None] + np.log(2 * np.pi * SEEN)[:, None]
            return np.asarray(-0.5 * np.sum(terms, axis=0))

        return Occasion(f"step {step}", advance, None if step % EVERY else likelihood)

    cloud = Cloud.of_equals(first, np.zeros((0, draws)))
    return learn(cloud, [occasion(step) for step in range(STEPS)], chance, shrink=0.98)


def test_the_recursion_in_this_test_gives_the_value_on_record() -> None:
    total, mean, variance = kalman()
    assert total == pytest.approx(EXACT, abs=1e-9)
    assert mean == pytest.approx(EXACT_MEAN, abs=1e-9)
    assert variance == pytest.approx(EXACT_VARIANCE, abs=1e-9)


def test_the_filter_agrees_with_the_exact_answer() -> None:
    found = [filtered(seed, 2000) for seed in range(40)]
    evidence = np.array([each.log_evidence for each in found])
    error = np.std(evidence, ddof=1) / np.sqrt(len(evidence))
    bias = np.var(evidence, ddof=1) / 2  # a logarithm of an unbiased mean lies low by this
    assert abs(np.mean(evidence) - EXACT) < 4 * error + bias
    means = np.array([each.cloud.states @ each.cloud.weights for each in found])
    assert np.sqrt(np.mean((means - EXACT_MEAN) ** 2 / EXACT_VARIANCE)) < 0.12


def test_without_counts_the_draws_stay_as_they_were() -> None:
    chance = Chance(("a",))
    cloud = Cloud.of_equals(chance.normal_rows("s", 2, 256), chance.normal_rows("p", 3, 256))
    told = learn(cloud, [Occasion("a walk", lambda now: now)], chance, shrink=0.98)
    assert told.cloud is cloud
    assert told.effective_draws == 256


def test_a_second_identical_count_narrows() -> None:
    chance = Chance(("a",))
    cloud = Cloud.of_equals(chance.normal_rows("s", 1, 4096), np.zeros((0, 4096)))

    def likelihood(now: Cloud) -> Array:
        return np.asarray(-0.5 * (now.states[0] - 0.7) ** 2 / 0.3**2)

    def spread(times: int) -> float:
        steps = [Occasion(str(n), lambda now: now, likelihood) for n in range(times)]
        after = learn(cloud, steps, chance, shrink=0.98).cloud
        low, high = weighted_quantiles(after.states[0], after.weights, (0.1, 0.9))
        return float(high - low)

    assert spread(0) > spread(1) > spread(2)


def test_a_count_that_no_draw_allows_is_refused_with_the_reason() -> None:
    cloud = Cloud.of_equals(np.zeros((1, 64)), np.zeros((0, 64)))
    step = Occasion("Sat 10 May", lambda now: now, lambda now: np.full(now.draws, -np.inf))
    told = learn(cloud, [step], Chance(("a",)), shrink=0.98)
    assert "Sat 10 May impossible" in told.refusal
    assert weigh(cloud, np.full(64, np.nan)) is None


def test_too_few_effective_draws_are_refused_with_their_number() -> None:
    cloud = Cloud.of_equals(np.arange(4000.0)[None, :], np.zeros((0, 4000)))
    step = Occasion("a count", lambda now: now, lambda now: np.asarray(-now.states[0]))
    told = learn(cloud, [step], Chance(("a",)), shrink=0.98, least_share=100 / 4000)
    assert "of 4000 draws" in told.refusal
    assert told.effective_draws < 3


def test_drawing_again_keeps_mean_and_covariance_of_the_parameters() -> None:
    chance = Chance(("b",))
    thetas = np.array([[1.0, 0.0], [0.8, 0.6]]) @ chance.normal_rows("p", 2, 20_000)
    weighed = weigh(Cloud.of_equals(thetas[:1], thetas), -0.5 * (thetas[0] - 1) ** 2)
    assert weighed is not None
    cloud = weighed[0]
    after = draw_again(cloud, chance, 0.98)
    mean = thetas @ cloud.weights
    assert after.unbounded.mean(axis=1) == pytest.approx(mean, abs=0.02)
    covariance = np.cov(thetas, aweights=cloud.weights)
    assert np.cov(after.unbounded) == pytest.approx(covariance, abs=0.03)
    assert len(np.unique(after.unbounded[0])) == 20_000


def test_systematic_drawing_takes_each_draw_as_often_as_its_weight_says() -> None:
    weights = np.array([0.5, 0.25, 0.125, 0.125])
    picked = systematic(np.log(np.repeat(weights, 2) / 2), 0.4)
    assert np.bincount(picked // 2, minlength=4).tolist() == [4, 2, 1, 1]


def test_equal_weights_are_all_effective() -> None:
    assert effective_draws(np.log(np.full(100, 0.01))) == pytest.approx(100)


def test_chance_is_keyed_and_does_not_depend_on_how_much_is_asked() -> None:
    chance = Chance(("book", "zone"))
    assert np.array_equal(chance.normals("a", 100), chance.normals("a", 1000)[:100])
    assert not np.array_equal(chance.normals("a", 10), chance.normals("b", 10))
    assert not np.array_equal(chance.normals("a", 10), chance.under("x").normals("a", 10))
    assert abs(np.mean(chance.normals("a", 100_000))) < 0.02
    assert np.std(chance.normals("a", 100_000)) == pytest.approx(1, abs=0.02)
