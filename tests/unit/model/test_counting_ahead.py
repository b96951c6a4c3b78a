"""A forecast of a count holds what makes counts differ: clumps, few frames, a habit of reading."""

import numpy as np
import pytest

from swardbook.model.chance import Array, Chance
from swardbook.model.counting_ahead import Frames, counted_ahead
from swardbook.model.observing import Seeing, Standing
from swardbook.model.places import log_of_visits, tally_of
from swardbook.observations.counts import Method, PlaceCount

DRAWS = 8_000
POA = "annual meadow-grass"
CHANCE = Chance(("made-up", "counts"))


def even(number: float) -> Array:
    return np.full(DRAWS, number)


def standing(plants: float = 2.0, cover: float = 0.15) -> Standing:
    return Standing({POA: even(plants)}, {POA: even(cover)}, {})


def seeing(**more: Array) -> Seeing:
    return Seeing(even(0.4), even(0.4), even(0.08), even(0.9), 0.3, more)


def frames(method: Method, places: int, size: float, counter: str = "Ines") -> Frames:
    return Frames(method, counter, tuple((f"P{n}", size) for n in range(places)))


def test_plants_found_have_the_mean_and_spread_of_clumped_plants() -> None:
    found = counted_ahead(frames(Method.PLANTS, 24, 1.0), POA, standing(), seeing(), CHANCE)
    mean, k = 2.0 * 0.9, 0.4 * (1.0 / 0.1) ** 0.4
    variance = (mean + mean**2 / k) / 24
    assert np.mean(found) == pytest.approx(mean, rel=0.01)
    assert np.var(found) == pytest.approx(variance, rel=0.05)


def test_points_hit_have_the_mean_and_spread_of_points_that_sit_together() -> None:
    found = counted_ahead(frames(Method.POINTS, 12, 25.0), POA, standing(), seeing(), CHANCE)
    variance = 1e4 * 0.15 * 0.85 * (1 + 24 * 0.08) / 25 / 12
    assert np.mean(found) == pytest.approx(15, rel=0.01)
    assert np.var(found) == pytest.approx(variance, rel=0.05)


def test_a_count_is_wider_than_what_stands_and_more_places_bring_it_nearer() -> None:
    few, many = (
        counted_ahead(frames(Method.POINTS, n, 25.0), POA, standing(), seeing(), CHANCE)
        for n in (6, 48)
    )
    assert np.std(few) > 2 * np.std(many) > 0


def test_a_counter_who_reads_high_is_expected_to_read_high() -> None:
    habits = seeing(Odalys=even(0.3))
    ines, odalys = (
        counted_ahead(frames(Method.POINTS, 12, 25.0, who), POA, standing(), habits, CHANCE)
        for who in ("Ines", "Odalys")
    )
    assert np.mean(odalys) > np.mean(ines) + 2


def test_where_hardly_any_stand_most_counts_find_none() -> None:
    found = counted_ahead(frames(Method.PLANTS, 6, 0.1), POA, standing(0.01), seeing(), CHANCE)
    assert np.mean(found == 0) > 0.9
    assert np.min(found) == 0


@pytest.mark.parametrize("method", [Method.PLANTS, Method.POINTS])
def test_a_count_is_foretold_by_the_very_chances_it_will_be_learned_from(method: Method) -> None:
    size = 1.0 if method is Method.PLANTS else 25.0
    found = counted_ahead(frames(method, 1, size), POA, standing(), seeing(), CHANCE)
    hits = found if method is Method.PLANTS else found / 100 * size
    for number in range(6):
        place = PlaceCount("P0", method, {POA: number}, size, "Ines")
        chance = np.exp(log_of_visits([standing()], tally_of([[place]], [POA]), seeing()))[0]
        assert np.mean(np.isclose(hits, number)) == pytest.approx(chance, abs=0.015)


def test_the_same_key_gives_the_same_bits() -> None:
    one, two = (
        counted_ahead(frames(Method.PLANTS, 8, 1.0), POA, standing(), seeing(), CHANCE)
        for _ in range(2)
    )
    assert np.array_equal(one, two)


def test_frames_are_those_of_the_last_count_one_counter_a_place() -> None:
    def count(place: str, who: str, placement: int = 1, **more: Method) -> PlaceCount:
        method = more.get("method", Method.POINTS)
        return PlaceCount(place, method, {POA: 3}, 25.0, who, placement)

    counted = [
        count("P2", "Ines"), count("P1", "Ines"), count("P1", "Ines", 2), count("P1", "Odalys"),
        count("P3", "Ines", method=Method.BY_EYE),
    ]  # fmt: skip
    found = Frames.as_last_time(counted, POA, Method.POINTS)
    assert found == Frames(Method.POINTS, "Ines", (("P1", 25.0), ("P1", 25.0), ("P2", 25.0)))
    assert found.places == ("P1", "P2")
    assert Frames.as_last_time(counted, POA, Method.PLANTS) is None
    assert Frames.as_last_time(counted, "bare", Method.POINTS) is None
