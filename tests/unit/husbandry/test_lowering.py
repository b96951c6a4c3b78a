"""The one-third rule, and coming down from high grass."""

from itertools import pairwise
from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swardbook.foundation.errors import OutOfRangeError
from swardbook.husbandry.lowering import come_down, cuts_to_lower, days_to_due, due_height_mm

THIRD = 1 / 3


def test_a_cut_is_due_at_one_and_a_half_times_the_height_of_cut() -> None:
    assert due_height_mm(8) == pytest.approx(12)
    assert days_to_due(15, 2) == pytest.approx(3.75)
    assert days_to_due(8, 2, 10) == pytest.approx(1)
    assert days_to_due(8, 2, 14) == 0
    assert days_to_due(8, 0) == inf


def test_sixty_down_to_twenty_five_takes_three_cuts() -> None:
    assert cuts_to_lower(60, 25) == 3
    assert cuts_to_lower(37.5, 25) == 1
    assert cuts_to_lower(20, 25) == 0
    cuts = come_down(60, 25, 0)
    assert [round(each.cut_mm, 1) for each in cuts] == [40, 26.7, 25]
    assert [each.day for each in cuts] == [0, 3, 6]


def test_growth_between_cuts_is_counted() -> None:
    cuts = come_down(60, 25, 2)
    assert cuts[1].grass_mm == pytest.approx(46)
    assert len(cuts) > 2


@given(st.floats(10, 200), st.floats(5, 60), st.floats(0, 2))
def test_every_cut_on_the_way_down_takes_a_third_at_most_or_says_so(
    grass: float, wanted: float, growth: float
) -> None:
    cuts = come_down(grass, wanted, growth)
    assert cuts[-1].cut_mm == pytest.approx(wanted)
    for cut in cuts:
        assert cut.is_over_third or cut.share_off <= THIRD + 1e-6
    for one, other in pairwise(cuts):
        assert other.cut_mm < one.cut_mm
        assert other.grass_mm == pytest.approx(one.cut_mm + growth * (other.day - one.day))


def test_where_grass_outgrows_the_rule_steps_stand_closer_and_then_break_it_openly() -> None:
    cuts = come_down(40, 8, 3)
    gaps = [other.day - one.day for one, other in pairwise(cuts)]
    assert gaps[0] == 3
    assert gaps[-1] == 1
    assert cuts[-1].cut_mm == 8
    fast = come_down(40, 8, 6)
    assert fast[-1].is_over_third


def test_grass_no_higher_than_wanted_is_cut_once() -> None:
    assert [each.cut_mm for each in come_down(8, 8, 1)] == [8]


@pytest.mark.parametrize(("grass", "wanted", "growth"), [(1, 8, 1), (60, 0.5, 1), (60, 25, -1)])
def test_heights_that_are_none_are_refused(grass: float, wanted: float, growth: float) -> None:
    with pytest.raises(OutOfRangeError):
        come_down(grass, wanted, growth)
