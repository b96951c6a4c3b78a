"""Dressing, feed and spreading: what to order, and how to set the machine."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swardbook.foundation.errors import OutOfRangeError, UnknownNameError
from swardbook.husbandry.bulk import (
    MATERIALS,
    bags,
    barrows,
    bulk_density,
    depth_mm,
    loose_l,
    volume_l,
    weight_kg,
)
from swardbook.husbandry.nutrients import need_g_m2, product_g_m2, share_of, soil_g_m2
from swardbook.husbandry.spreading import catch_for, spray_l_m2, spread_g_m2, tank_area_m2


@given(st.floats(1, 5000), st.floats(0.5, 50), st.sampled_from(MATERIALS))
def test_weight_and_depth_are_one_sum_read_both_ways(
    area: float, depth: float, material: str
) -> None:
    weight = weight_kg(area, depth, bulk_density(material))
    assert depth_mm(weight / area, bulk_density(material)) == pytest.approx(depth)
    assert weight == pytest.approx(volume_l(area, depth) * bulk_density(material))


def test_more_is_ordered_loose_than_lies_there_settled() -> None:
    assert loose_l(1000) == pytest.approx(1150)
    assert barrows(0) == 0
    assert barrows(161) == 3
    assert bags(20, 20) == 1
    assert bags(20.01, 20) == 2


def test_an_unknown_material_is_told_the_near_ones() -> None:
    with pytest.raises(UnknownNameError):
        bulk_density("gold")


def test_a_compound_or_element_that_is_not_on_labels_is_refused() -> None:
    with pytest.raises(UnknownNameError):
        share_of("P", "K2O")
    with pytest.raises(UnknownNameError):
        share_of("P", "P4O10")
    assert sum(share_of(e, "urea") for e in ("C", "O", "N", "H")) == pytest.approx(1)


def test_enough_in_the_soil_needs_nothing() -> None:
    rich = need_g_m2("K", 400, 10, 100, 1.5)
    assert rich.need == 0
    assert rich.held > rich.used + rich.floor


@given(st.floats(0, 100), st.floats(0, 30))
def test_what_is_needed_with_what_is_held_covers_use_and_floor(
    tested: float, nitrogen: float
) -> None:
    need = need_g_m2("P", tested, nitrogen, 100, 1.4)
    assert need.need + need.held >= need.used + need.floor - 1e-9
    assert need.held == pytest.approx(soil_g_m2(tested, 100, 1.4))


def test_a_nutrient_that_no_soil_test_is_read_for_is_refused() -> None:
    with pytest.raises(UnknownNameError, match="nutrient"):
        need_g_m2("Au", 1, 10, 100, 1.5)
    with pytest.raises(OutOfRangeError):
        product_g_m2(3, 0)


@given(st.floats(1, 200), st.floats(0.3, 6), st.floats(5, 100))
def test_what_should_be_caught_is_what_was_spread(rate: float, width: float, run: float) -> None:
    assert spread_g_m2(catch_for(rate, width, run), width, run) == pytest.approx(rate)


def test_a_faster_walk_sprays_less_and_a_tank_goes_further() -> None:
    slow, fast = spray_l_m2(1, 0.8, 1), spray_l_m2(1, 1.6, 1)
    assert slow == pytest.approx(2 * fast)
    assert tank_area_m2(10, fast) == pytest.approx(2 * tank_area_m2(10, slow))
