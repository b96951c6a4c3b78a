"""What one occasion says."""

import pytest

from swardbook.observations.counts import Method, PlaceCount
from swardbook.observations.estimating import estimate_kind
from tests.support.counted import WEED, around, plants, points


def test_four_plots_of_a_hundred_points_are_four_places_not_four_hundred_points() -> None:
    """N17: the place is the unit."""
    (found,) = estimate_kind(points([5, 40, 22, 61], looked=100), WEED)
    assert found.estimate is not None
    assert found.estimate.n == 4
    assert found.estimate.interval.half_width > 15


def test_points_plants_and_by_eye_are_kept_apart() -> None:
    eye = tuple(
        PlaceCount(f"E{n}", Method.BY_EYE, {WEED: float(p)}, 100)
        for n, p in enumerate((10, 25, 30))
    )
    found = estimate_kind((*points(around(22, 8, 10)), *plants([1, 0, 3, 2]), *eye), WEED)
    assert [each.method for each in found] == [Method.POINTS, Method.PLANTS, Method.BY_EYE]
    units = [each.estimate.unit for each in found if each.estimate]
    assert units == ["%", "plants/m2", "%"]


def test_none_found_in_too_few_places_says_nothing() -> None:
    (found,) = estimate_kind(plants([0] * 5), WEED)
    assert found.estimate is None
    assert "at least 6 places" in found.refusal


def test_none_found_says_what_it_still_allows() -> None:
    (by_plants,) = estimate_kind(plants([0] * 24), WEED)
    assert by_plants.still_up_to == pytest.approx((0.125,), abs=0.001)
    (by_points,) = estimate_kind(points([0] * 12), WEED)
    assert by_points.still_up_to == pytest.approx((1.0, 22.1), abs=0.1)


def test_workings_can_be_done_again_by_hand() -> None:
    (found,) = estimate_kind(points([8, 0, 20, 4, 12, 0, 0, 16]), WEED)
    assert found.estimate is not None
    workings = found.estimate.workings
    assert any("design effect" in line for line in workings.arithmetic)
    assert [each.name for each in workings.inputs] == ["points hit", "points looked at", "places"]
    (dense,) = estimate_kind(plants([3, 0, 9, 1]), WEED)
    assert dense.estimate is not None
    assert any("clumping" in line for line in dense.estimate.workings.arithmetic)


def test_one_place_alone_has_no_range() -> None:
    (found,) = estimate_kind(points([20]), WEED)
    assert found.estimate is None
    assert "at least 2 places" in found.refusal


def test_it_says_how_many_places_would_do() -> None:
    (cover,) = estimate_kind(points(around(22, 8, 20), looked=100), WEED)
    assert cover.places_wanted is not None
    assert cover.places_wanted > 8
    (dense,) = estimate_kind(plants([3, 0, 9, 1]), WEED)
    assert dense.places_wanted is not None
    (none,) = estimate_kind(plants([0] * 8), WEED)
    assert none.places_wanted is None


def test_thin_cover_asks_for_plants_instead_of_points() -> None:
    (thin,) = estimate_kind(points([0, 4, 0, 0, 4, 0, 0, 0]), WEED)
    assert thin.estimate is not None
    assert "count plants in frames" in thin.estimate.cautions[0]
