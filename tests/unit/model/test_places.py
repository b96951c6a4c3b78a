"""Visits to the same places, several kinds in one frame."""

from itertools import permutations

import numpy as np
import pytest
from scipy import stats

from swardbook.model.chance import Array, Chance
from swardbook.model.learning import Cloud, weigh, weighted_quantiles
from swardbook.model.observing import BARE, Seeing, Standing, log_beta_binomial
from swardbook.model.places import log_of_visits, tally_of
from swardbook.observations.counts import Method, PlaceCount

POA, FOG = "annual meadow-grass", "yorkshire fog"
KINDS = (POA, FOG, BARE)
RHO = 0.08
DRAWS = 4096


def one(number: float) -> Array:
    return np.array([number])


def seeing(stays: float = 0.0, k: float = 0.4, draws: int = 1) -> Seeing:
    many = np.ones(draws)
    return Seeing(k * many, 0.4 * many, RHO * many, many, 0.3, place_share=stays)


def standing(
    poa: float = 0.2, fog: float = 0.03, bare: float = 0.05, plants: float = 2.0
) -> Standing:
    cover = {POA: one(poa), FOG: one(fog), BARE: one(bare)}
    return Standing({POA: one(plants), FOG: one(0.1)}, cover, {})


def frame(place: str, points: int = 25, **found: float) -> PlaceCount:
    names = {"poa": POA, "fog": FOG, "bare": BARE, "sown": "sown", "moss": "moss"}
    return PlaceCount(place, Method.POINTS, {names[kind]: n for kind, n in found.items()}, points)


def square(place: str, plants: float, area: float = 0.1) -> PlaceCount:
    return PlaceCount(place, Method.PLANTS, {POA: plants}, area)


def weighed(
    counts: list[list[PlaceCount]], here: Seeing, stood: list[Standing] | None = None
) -> Array:
    """Give the logarithm of the chance of all visits, one after the other."""
    stood = stood or [standing()] * len(counts)
    return sum(
        (
            log_of_visits(stood[:upto], tally_of(counts[:upto], KINDS), here)
            for upto in range(1, len(counts) + 1)
        ),
        np.zeros_like(here.clumping),
    )


def test_the_points_of_a_frame_are_dirichlet_multinomial_over_kinds_and_the_rest() -> None:
    counts = [frame("A", poa=6, fog=1, bare=3, sown=13, moss=2)]
    scale = 1 / RHO - 1
    theirs = stats.dirichlet_multinomial.logpmf(
        [6, 1, 3, 15], scale * np.array([0.2, 0.03, 0.05, 0.72]), [25]
    )
    assert weighed([counts], seeing())[0] == pytest.approx(float(np.squeeze(theirs)), rel=1e-9)


def test_over_all_that_bare_and_fog_may_be_meadow_grass_stays_beta_binomial() -> None:
    alone = log_beta_binomial(2, 4, one(0.2), one(RHO))[0]
    together = [
        weighed([[frame("A", 4, poa=2, fog=fog, bare=bare)]], seeing())[0]
        for fog in range(3)
        for bare in range(3 - fog)
    ]
    assert np.logaddexp.reduce(together) == pytest.approx(alone, rel=1e-9)


def test_kinds_not_looked_for_join_the_rest() -> None:
    only_bare = weighed([[frame("A", bare=3)]], seeing())[0]
    scale = 1 / RHO - 1
    assert only_bare == pytest.approx(
        stats.betabinom.logpmf(3, 25, 0.05 * scale, 0.95 * scale), rel=1e-9
    )
    assert weighed([[frame("A", sown=20, moss=5)]], seeing())[0] == 0
    by_eye = PlaceCount("A", Method.BY_EYE, {POA: 40}, 100)
    assert weighed([[by_eye]], seeing())[0] == 0


def test_where_all_clumping_stays_plants_follow_the_gamma_poisson_exactly() -> None:
    counts, means, k = (3.0, 0.0, 6.0), (1.5, 2.5, 4.0), 0.4
    stood = [standing(plants=mean / 0.1) for mean in means]
    ours = weighed([[square("A", n)] for n in counts], seeing(1.0, k), stood)[0]
    exact, shape, rate = 0.0, k, k
    for n, mean in zip(counts, means, strict=True):
        exact += stats.nbinom.logpmf(n, shape, rate / (rate + mean))
        shape, rate = shape + n, rate + mean
    assert ours == pytest.approx(exact, rel=1e-9)


def test_where_all_clumping_stays_and_the_zone_too_points_follow_the_beta_exactly() -> None:
    hits = (8.0, 5.0, 9.0)
    ours = weighed([[frame("A", poa=n)] for n in hits], seeing(1.0))[0]
    exact, (first, second) = 0.0, (np.array([0.2, 0.8]) * (1 / RHO - 1)).tolist()
    for n in hits:
        exact += stats.betabinom.logpmf(n, 25, first, second)
        first, second = first + n, second + 25 - n
    assert ours == pytest.approx(exact, rel=1e-9)


def test_where_nothing_stays_a_second_visit_is_as_at_places_chosen_anew() -> None:
    counts = [[frame("A", poa=8), square("A", 3)], [frame("A", poa=2), square("A", 0)]]
    apart = [counts[0], [frame("B", poa=2), square("B", 0)]]
    for stays in (0.0, 0.6):
        same, other = (weighed(each, seeing(stays))[0] for each in (counts, apart))
        assert (same == other) == (stays == 0.0)


def test_a_second_visit_to_the_same_places_says_less_of_the_level() -> None:
    cover = 1 / (1 + np.exp(1.4 + 0.8 * Chance(("places",)).normals("cover", DRAWS)))
    stood = Standing({}, {POA: cover}, {})
    first = [frame(f"P{n}", poa=hits) for n, hits in enumerate((2, 9, 5, 7, 1, 6, 4, 8, 3, 5))]
    again = [frame(f"Q{n}", poa=hits) for n, hits in enumerate((2, 9, 5, 7, 1, 6, 4, 8, 3, 5))]

    def width(second: list[PlaceCount]) -> float:
        told = weighed([first, second], seeing(0.6, draws=DRAWS), [stood, stood])
        cloud = weigh(Cloud.of_equals(cover[None, :], np.zeros((0, DRAWS))), told)
        assert cloud is not None
        low, high = weighted_quantiles(cover, cloud[0].weights, (0.1, 0.9))
        return float(high - low)

    alone = width([])
    assert width(again) < width(first) < alone


def test_the_order_of_the_places_changes_no_bit() -> None:
    first = [frame("A", poa=8, bare=1), frame("B", poa=2, bare=0), square("C", 3)]
    second = [frame("A", poa=3, bare=2), frame("B", poa=6, bare=1), square("C", 1)]
    here, stood = seeing(0.6), [standing(), standing(poa=0.3)]
    told = {
        weighed([list(one), list(two)], here, stood)[0]
        for one in permutations(first)
        for two in permutations(second)
    }
    assert len(told) == 1


def test_a_counter_who_reads_high_takes_from_the_sward_and_not_from_bare_ground() -> None:
    high = Seeing(one(0.4), one(0.4), one(RHO), one(1.0), 0.3, {"Odalys": one(0.5)})
    counted = PlaceCount("A", Method.POINTS, {BARE: 3.0}, 25, "Odalys")
    visit = [standing()]
    told = log_of_visits(visit, tally_of([[counted]], KINDS), high)
    plain = log_of_visits(visit, tally_of([[counted]], KINDS), seeing())
    assert np.array_equal(told, plain)
