"""What counts say about draws."""

from dataclasses import replace

import numpy as np
import pytest
from scipy import special, stats

from swardbook.model.chance import Array, Chance
from swardbook.model.learning import Cloud, weigh, weighted_quantiles
from swardbook.model.observing import (
    Seeing,
    Standing,
    log_beta_binomial,
    log_negative_binomial,
    log_of_clumps,
    log_of_pull,
    log_of_regrowth,
    log_of_tufts,
    log_of_walk,
    log_rising,
    read_shares,
)
from swardbook.model.places import log_of_visits, tally_of
from swardbook.observations.counts import Method, PlaceCount

POA = "poa annua"
DRAWS = 20_000


def flat(value: float) -> Array:
    return np.full(DRAWS, value)


def seeing() -> Seeing:
    return Seeing(flat(0.4), flat(0.4), flat(0.08), flat(0.9), 0.3)


def standing() -> Standing:
    chance = Chance(("observing",))
    plants = np.exp(1.0 + 1.2 * chance.normals("plants", DRAWS))
    cover = 1 / (1 + np.exp(2 + chance.normals("cover", DRAWS)))
    return Standing({POA: plants}, {POA: cover}, {POA: 0.6 * plants})


def frames(counts: list[float], area: float = 1.0) -> list[PlaceCount]:
    return [PlaceCount(f"P{n}", Method.PLANTS, {POA: each}, area) for n, each in enumerate(counts)]


def log_of_places(places: list[PlaceCount], species: str, ground: Standing, sight: Seeing) -> Array:
    """Weigh one occasion of counting one species."""
    return log_of_visits([ground], tally_of([places], [species]), sight)


def posterior(log_likelihood: Array, values: Array) -> tuple[float, float, float]:
    weighed = weigh(Cloud.of_equals(values[None, :], np.zeros((0, DRAWS))), log_likelihood)
    assert weighed is not None
    low, middle, high = weighted_quantiles(values, weighed[0].weights, (0.1, 0.5, 0.9))
    return float(low), float(middle), float(high)


@pytest.mark.parametrize(("found", "mean", "k"), [(0, 1.0, 0.5), (3, 2.1, 1.0), (40, 9.8, 0.3)])
def test_the_negative_binomial_agrees_with_scipy(found: int, mean: float, k: float) -> None:
    ours = log_negative_binomial(found, np.array([mean]), np.array([k]))[0]
    assert ours == pytest.approx(stats.nbinom.logpmf(found, k, k / (k + mean)), rel=1e-10)


@pytest.mark.parametrize(
    ("hits", "share", "rho"), [(0, 0.1, 0.08), (9, 0.35, 0.2), (25, 0.9, 0.05)]
)
def test_the_beta_binomial_agrees_with_scipy(hits: int, share: float, rho: float) -> None:
    scale = 1 / rho - 1
    ours = log_beta_binomial(hits, 25, np.array([share]), np.array([rho]))[0]
    theirs = stats.betabinom.logpmf(hits, 25, share * scale, (1 - share) * scale)
    assert ours == pytest.approx(theirs, rel=1e-9)


def test_the_order_of_the_places_changes_no_bit() -> None:
    places = frames([0, 3, 1, 0, 7, 2, 2, 0]) + [
        PlaceCount("Q", Method.POINTS, {POA: hits}, 25, "Ines") for hits in (2.0, 0.0, 5.0)
    ]
    there = log_of_places(places, POA, standing(), seeing())
    back = log_of_places(places[::-1], POA, standing(), seeing())
    assert np.array_equal(there, back)


def test_twice_the_area_with_twice_the_plants_says_the_same_density() -> None:
    ground = standing()
    plants = ground.plants[POA]
    small = posterior(log_of_places(frames([2.0] * 24), POA, ground, seeing()), plants)
    large = posterior(log_of_places(frames([4.0] * 24, 2.0), POA, ground, seeing()), plants)
    assert large[1] == pytest.approx(small[1], rel=0.05)


def test_more_frames_narrow_and_the_middle_lies_at_what_was_found() -> None:
    ground = standing()
    plants = ground.plants[POA]
    few = posterior(log_of_places(frames([1.0, 3.0, 2.0]), POA, ground, seeing()), plants)
    many = posterior(log_of_places(frames([1.0, 3.0, 2.0] * 8), POA, ground, seeing()), plants)
    assert few[2] - few[0] > many[2] - many[0]
    assert many[1] == pytest.approx(2 / 0.9, rel=0.15)


def test_a_counter_who_reads_high_is_allowed_for() -> None:
    ground = standing()
    counts = [PlaceCount(f"{n}", Method.POINTS, {POA: 8.0}, 25, "Odalys") for n in range(12)]
    plain = posterior(log_of_places(counts, POA, ground, seeing()), ground.cover[POA])
    high = replace(seeing(), counters={"Odalys": flat(0.5)})
    allowed = posterior(log_of_places(counts, POA, ground, high), ground.cover[POA])
    assert allowed[1] < plain[1]


def test_counts_by_eye_and_kinds_not_looked_for_say_nothing() -> None:
    places = [PlaceCount("P", Method.BY_EYE, {POA: 40}, 100),
              PlaceCount("Q", Method.POINTS, {"bare": 3}, 25)]  # fmt: skip
    assert not log_of_places(places, POA, standing(), seeing()).any()


@pytest.mark.parametrize("steps", [0, 1, 2, 7, 25, 60, 1.6])
def test_rising_products_agree_with_scipy(steps: float) -> None:
    starts = np.array([0.003, 0.7, 12.5, 4000.0])
    assert log_rising(starts, steps) == pytest.approx(
        special.gammaln(starts + steps) - special.gammaln(starts), rel=1e-9, abs=1e-9
    )


def test_kinds_read_together_never_cover_more_than_the_ground() -> None:
    cover = {POA: flat(0.6), "yorkshire fog": flat(0.3), "bare": flat(0.1)}
    high = replace(seeing(), counters={"Odalys": flat(2.0)}, apart={"bare": flat(3.0)})
    shares = read_shares(list(cover), "Odalys", Standing({}, cover, {}), high)
    total = sum(shares.values(), np.zeros(DRAWS))
    assert np.all((total > 0) & (total <= 1 + 1e-9))
    plain = read_shares(list(cover), "Ines", Standing({}, cover, {}), seeing())
    assert all(np.allclose(plain[kind], cover[kind]) for kind in cover)


def test_tufts_with_heads_agree_with_scipy_and_none_with_some_is_all() -> None:
    ground = Standing({}, {}, {}, heading={POA: flat(0.2)})
    told = log_of_tufts(9, 40, POA, ground, seeing())[0]
    assert told == pytest.approx(stats.betabinom.logpmf(9, 40, 0.2 * 9, 0.8 * 9), rel=1e-9)
    none, some = (log_of_tufts(heads, 20, POA, ground, seeing())[0] for heads in (0, None))
    assert np.exp(none) + np.exp(some) == pytest.approx(1, abs=1e-12)


def test_clumps_grown_again_agree_with_scipy() -> None:
    told = log_of_regrowth(2, 40, flat(0.85), seeing())[0]
    assert told == pytest.approx(stats.betabinom.logpmf(2, 40, 0.15 * 9, 0.85 * 9), rel=1e-9)


def test_clumps_tell_less_surely_than_plants_pulled() -> None:
    ground = replace(standing(), clumps=standing().found)
    plants = ground.plants[POA]
    pulled = posterior(log_of_pull(800, 438, flat(1.0), POA, ground, seeing()), plants)
    clumps = posterior(log_of_clumps(800, 438, flat(1.0), POA, ground, seeing()), plants)
    k = 1 / (0.3**2 + 0.5**2)
    mean = 0.6 * plants[0] * 438
    told = log_of_clumps(800, 438, flat(1.0), POA, ground, seeing())[0]
    assert told == pytest.approx(stats.nbinom.logpmf(800, k, k / (k + mean)), rel=1e-9)
    assert clumps[2] / clumps[0] > pulled[2] / pulled[0]
    large = replace(seeing(), plants_in_clump=4.0)
    fewer = log_of_clumps(200, 438, flat(1.0), POA, ground, large)[0]
    assert fewer == pytest.approx(stats.nbinom.logpmf(200, k, k / (k + mean / 4)), rel=1e-9)


def test_a_walk_that_found_none_says_fewer_and_a_longer_one_says_more() -> None:
    ground = standing()
    plants = ground.plants[POA]
    before = posterior(np.zeros(DRAWS), plants)
    short = posterior(log_of_walk(24, POA, ground, seeing()), plants)
    long = posterior(log_of_walk(240, POA, ground, seeing()), plants)
    assert before[2] > short[2] > long[2]


def test_a_second_pass_tells_plants_and_looking_apart() -> None:
    ground = standing()
    plants = ground.plants[POA]
    catch = 1 / (1 + np.exp(-Chance(("pull",)).normals("catch", DRAWS)))
    before = replace(ground, found={POA: plants * catch})
    after = replace(ground, found={POA: plants * (1 - catch) * catch})
    first = log_of_pull(1484, 438, flat(1.0), POA, before, seeing())
    both = first + log_of_pull(445, 438, flat(1.0), POA, after, seeing())
    alone, together = posterior(first, plants), posterior(both, plants)
    assert together[2] / together[0] < alone[2] / alone[0]
    # Two passes of 1,484 and 445 stand for about 2,120 plants in all.
    assert together[0] < 2120 / 438 < together[2]
