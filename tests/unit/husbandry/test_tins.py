"""Tins, a watch and a ring."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError
from swardbook.husbandry.tins import evenness, longest_run, rate_mm_h

CAUGHT = st.lists(st.floats(0.1, 100), min_size=4, max_size=60)


def test_twelve_tins_agree_with_the_sum_done_by_hand() -> None:
    found = evenness([6, 8.5, 7, 9, 5, 7.5, 8, 6.5, 9.5, 4.5, 7, 8.5])
    assert (found.tins, found.lowest) == (12, 3)
    assert found.mean == pytest.approx(7.25)
    assert found.lowest_mean == pytest.approx(5.17, abs=0.005)
    assert found.share == pytest.approx(0.71, abs=0.005)


def test_sixteen_tins_in_a_quarter_of_an_hour() -> None:
    found = evenness([12, 14, 10, 9, 13, 15, 11, 8, 12, 10, 14, 13, 9, 11, 12, 7])
    assert found.share == pytest.approx(0.7333, abs=5e-5)
    assert found.christiansen == pytest.approx(0.8333, abs=5e-5)
    assert rate_mm_h(found.mean, 15) == pytest.approx(45)


def test_a_quarter_of_fifteen_tins_is_four_and_says_what_the_other_customs_make_of_it() -> None:
    found = evenness([47, 42, 45, 24, 13, 26, 33, 34, 27, 30, 40, 44, 32, 12, 12])
    assert found.lowest == 4
    assert found.share == pytest.approx(0.4962, abs=5e-5)
    assert found.rounded_down == pytest.approx(0.4013, abs=5e-5)
    assert found.exact_quarter == pytest.approx(0.4772, abs=5e-5)
    assert not found.is_whole
    assert found.christiansen == pytest.approx(0.6914, abs=5e-5)


def test_25_mm_in_22_minutes_sink_in_at_68_mm_an_hour() -> None:
    assert rate_mm_h(25, 22) == pytest.approx(68, abs=0.5)


def test_where_water_falls_faster_than_it_sinks_in_it_is_given_in_turns() -> None:
    """N26."""
    assert longest_run(45, 5) == pytest.approx(60 * 3 / 40)
    assert longest_run(5, 5) is None
    assert longest_run(3, 68) is None


def test_few_or_dry_tins_are_not_enough() -> None:
    with pytest.raises(NotEnoughDataError, match="at least 4 tins"):
        evenness([5, 6, 7])
    with pytest.raises(NotEnoughDataError):
        evenness([0, 0, 0, 0])
    with pytest.raises(OutOfRangeError):
        evenness([5, 6, 7, -1])


@given(CAUGHT)
def test_no_pattern_is_more_than_even_and_the_unit_does_not_matter(caught: list[float]) -> None:
    found = evenness(caught)
    assert 0 <= found.share <= 1 + 1e-9
    assert found.christiansen <= 1 + 1e-9
    assert 0 <= found.rounded_down <= found.exact_quarter + 1e-12
    if found.is_whole:
        assert found.rounded_down == pytest.approx(found.share)
        assert found.exact_quarter == pytest.approx(found.share)
    inches = evenness([each / 25.4 for each in caught])
    assert inches.share == pytest.approx(found.share)
    assert inches.christiansen == pytest.approx(found.christiansen, abs=1e-9)


@given(st.floats(0.1, 50), st.integers(4, 40))
def test_tins_all_alike_are_even(depth: float, tins: int) -> None:
    found = evenness(np.full(tins, depth).tolist())
    assert (found.share, found.christiansen) == pytest.approx((1.0, 1.0))
