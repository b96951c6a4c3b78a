"""Clips, slits and holes, vibration: the sums of a machine."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swardbook.foundation.errors import OutOfRangeError
from swardbook.husbandry.cylinder import (
    Clip,
    clip_against_height,
    clip_mm,
    cuts_per_metre,
    effective_height_mm,
    fastest_m_s,
)
from swardbook.husbandry.slits import hole_share, slit_share, slit_volume_l_m2, strike_pitch_mm
from swardbook.husbandry.vibration import ACTION_M_S2, LIMIT_M_S2, hours_to, points

SPEEDS, TURNS, BLADES = st.floats(0.1, 5), st.floats(100, 4000), st.integers(2, 14)


@given(SPEEDS, TURNS, BLADES, st.floats(1.01, 1.19))
def test_a_clip_grows_with_the_speed_in_proportion(
    speed: float, turns: float, blades: int, times: float
) -> None:
    assert clip_mm(speed * times, turns, blades) == pytest.approx(
        times * clip_mm(speed, turns, blades)
    )


def test_a_walking_pace_with_ten_and_six_blades() -> None:
    assert clip_mm(1.2, 720, 10) == pytest.approx(10)
    assert clip_mm(1.2, 720, 6) == pytest.approx(16.67, abs=0.01)
    assert cuts_per_metre(12.5) == 80


def test_a_clip_longer_than_the_height_of_cut_leaves_ribs() -> None:
    assert clip_against_height(8, 8) is Clip.GOOD
    assert clip_against_height(11, 8) is Clip.WATCH
    assert clip_against_height(12.1, 8) is Clip.RIBS


@given(st.floats(3, 60), TURNS, BLADES)
def test_at_the_fastest_clean_speed_the_clip_is_the_height_of_cut(
    height: float, turns: float, blades: int
) -> None:
    speed = fastest_m_s(height, turns, blades)
    if 0.05 <= speed <= 6:
        assert clip_mm(speed, turns, blades) == pytest.approx(height)


def test_rollers_that_sink_cut_lower_than_the_bench_says() -> None:
    assert effective_height_mm(8, 1.5) == 6.5
    assert effective_height_mm(25, -2) == 27
    with pytest.raises(OutOfRangeError, match="bench height"):
        effective_height_mm(0, 0)


@given(st.floats(0.5, 5), st.floats(6, 60), st.integers(1, 6))
def test_more_directions_open_more_but_never_all(blade: float, spacing: float, ways: int) -> None:
    one, more = slit_share(blade, spacing, ways), slit_share(blade, spacing, ways + 1)
    assert one < more < 1
    assert one <= ways * slit_share(blade, spacing) + 1e-12


def test_blades_thicker_than_they_are_apart_are_refused() -> None:
    with pytest.raises(OutOfRangeError, match="spacing of the blades"):
        slit_share(3, 2)


def test_what_is_taken_out_is_share_times_depth() -> None:
    assert slit_volume_l_m2(2, 20, 10) == pytest.approx(0.1 * 10)
    assert hole_share(10, 50, 100) == pytest.approx(0.0157, abs=1e-4)
    assert strike_pitch_mm(1.0, 3000, 4) == pytest.approx(5)


def test_points_reach_a_hundred_at_the_action_value_and_four_hundred_at_the_limit() -> None:
    for vibration in (2.5, 4.0, 9.0):
        assert points(vibration, hours_to(ACTION_M_S2, vibration)) == pytest.approx(100)
    assert points(7, hours_to(LIMIT_M_S2, 7)) == pytest.approx(400)
    assert hours_to(LIMIT_M_S2, 1) == 24, "a day has no more"
