"""Setting a spreader by what it put down, and nozzles that are off."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swardbook.foundation.errors import BadInputError, NotEnoughDataError
from swardbook.husbandry.calibrating import compare_nozzles, next_setting, set_spreader
from swardbook.husbandry.spreading import catch_for


def test_the_next_setting_is_by_proportion_and_the_run_is_done_again() -> None:
    found = set_spreader([450, 440, 460], 1.5, 20, 12.5, setting=5)
    assert found.got_g_m2 == pytest.approx(15)
    assert found.off == pytest.approx(0.2)
    assert found.setting == pytest.approx(5 / 1.2)
    assert not found.is_held
    assert "20% more than wanted" in found.told
    assert "do the run again" in found.told


def test_one_step_and_the_dials_end_hold_a_setting_back() -> None:
    assert next_setting(4, 5, 20) == (6, True)
    assert next_setting(8, 10, 14, (1, 10)) == (10, True)
    following, held = next_setting(8, 10, 11, (1, 10))
    assert following == pytest.approx(8.8)
    assert not held
    with pytest.raises(BadInputError, match="lowest first"):
        next_setting(4, 5, 6, (10, 1))


def test_one_run_near_enough_is_not_yet_set() -> None:
    one = set_spreader([375], 1.5, 20, 12.5, setting=5)
    assert not one.is_set
    assert "do 3 to trust it" in one.told
    three = set_spreader([375, 370, 380], 1.5, 20, 12.5, setting=5)
    assert three.is_set
    assert three.setting is None


@given(st.floats(2, 60), st.floats(0.5, 4), st.floats(5, 50))
def test_catching_what_should_be_caught_is_set(rate: float, width: float, run: float) -> None:
    caught = catch_for(rate, width, run)
    assert set_spreader([caught] * 3, width, run, rate).is_set


def test_nothing_caught_is_not_enough_data() -> None:
    for caught in ([], [0.0, 0.0]):
        with pytest.raises(NotEnoughDataError, match="product caught in a run"):
            set_spreader(caught, 1.5, 20, 12.5)


def test_a_nozzle_more_than_a_tenth_off_is_looked_at() -> None:
    found = compare_nozzles([0.60, 0.62, 0.58, 0.75])
    assert found.to_look_at == (4,)
    assert found.together_l_min == pytest.approx(2.55)
    with pytest.raises(NotEnoughDataError):
        compare_nozzles([])
