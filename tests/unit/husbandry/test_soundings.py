"""Rings, cores, jars, slopes and buckets: what they say and what they cannot."""

from math import hypot, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from swardbook.foundation.errors import BadInputError, NotEnoughDataError, OutOfRangeError
from swardbook.handbook.textures import texture_names
from swardbook.husbandry.soundings import cores, drains, jar, rings, slope, tap_l_min
from swardbook.husbandry.tins import rate_mm_h


def test_twenty_five_millimetres_in_twenty_two_minutes() -> None:
    """Appendix 2."""
    assert rate_mm_h(25, 22) == pytest.approx(68, abs=0.5)


def test_one_ring_is_one_hole_and_three_are_enough() -> None:
    assert not rings([6.0]).is_enough
    south = rings([6, 9, 5])
    assert south.is_enough
    assert south.word == "slowly"
    assert (south.slowest, south.fastest) == (5, 9)
    assert south.middle == pytest.approx(stats.gmean([6, 9, 5]))
    assert rings([38, 52, 44]).word == "well"
    with pytest.raises(NotEnoughDataError):
        rings([])


def test_ground_that_takes_nothing_still_has_a_middle() -> None:
    none = rings([0, 0, 0])
    assert none.word == "poorly"
    assert none.slowest == 0


@pytest.mark.parametrize(
    ("rate", "word"), [(4.9, "poorly"), (5, "slowly"), (19, "slowly"), (20, "well")]
)
def test_the_words_change_at_the_handbook_numbers(rate: float, word: str) -> None:
    assert drains(rate) == word


@given(st.lists(st.floats(1, 60), min_size=5, max_size=12))
def test_cores_have_the_mean_and_range_that_scipy_gives(depths: list[float]) -> None:
    found = cores(depths)
    error = stats.sem(depths)
    assert found.mean == pytest.approx(sum(depths) / len(depths))
    if error > 1e-9:
        low, high = stats.t.interval(0.95, len(depths) - 1, found.mean, error)
        assert found.low == pytest.approx(max(low, 0), abs=1e-6)
        assert found.high == pytest.approx(high)


def test_four_cores_give_no_mean() -> None:
    with pytest.raises(NotEnoughDataError, match="at least 5 cores"):
        cores([18, 17, 20, 16])


def test_a_jar_names_the_soil_and_what_else_it_may_be() -> None:
    found = jar(24, 40, 16)
    assert (found.sand, found.silt, found.clay) == pytest.approx((30, 50, 20))
    assert found.name == "silt loam"
    assert set(found.may_be) >= {"loam", "clay loam"}
    assert jar(100, 0, 0).name == "sand"
    with pytest.raises(BadInputError, match="heights"):
        jar(0, 0, 0)


@given(st.floats(0, 200), st.floats(0, 200), st.floats(0, 200), st.floats(0.1, 5))
def test_a_larger_jar_of_the_same_soil_says_the_same(
    sand: float, silt: float, clay: float, scale: float
) -> None:
    if sand + silt + clay < 1:
        return
    one = jar(sand, silt, clay)
    other = jar(sand * scale, silt * scale, clay * scale)
    assert one.name in texture_names()
    assert one.name == other.name or one.name in other.may_be


@given(st.floats(0, 5), st.floats(5, 200))
def test_a_slope_is_fall_over_run(fall: float, run: float) -> None:
    found = slope(fall, run)
    assert sin(radians(found.angle)) == pytest.approx(fall / hypot(fall, run))
    assert found.one_in is None or found.one_in == pytest.approx(1 / found.share)


def test_a_slope_with_the_two_swapped_is_asked_about() -> None:
    assert slope(0.36, 32).one_in == pytest.approx(88.9, abs=0.1)
    with pytest.raises(BadInputError, match="swapped"):
        slope(32, 0.36)


def test_a_bucket_and_a_watch() -> None:
    assert tap_l_min(10, 50) == 12
    with pytest.raises(OutOfRangeError):
        tap_l_min(10, 0)
