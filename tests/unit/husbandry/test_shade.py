"""Shade: glances to hours, hours to light, with the range of what nobody looked at."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from swardbook.foundation.errors import BadInputError, NotEnoughDataError
from swardbook.husbandry.shade import (
    Glance,
    light_here,
    sunny_from_glances,
    sunny_from_hours,
    usual_open_light,
)
from swardbook.weather.sun import day_length, declination

MIDSUMMER, MIDWINTER = 172.0, 355.0


def test_three_glances_in_the_sun_are_the_whole_day() -> None:
    found = sunny_from_glances([Glance(h, sunny=True) for h in (9, 12, 16)], MIDSUMMER, 52)
    assert found.hours == pytest.approx(found.daylength)
    assert found.daylength == pytest.approx(float(day_length(np.array([MIDSUMMER]), 52)[0]))
    assert found.share == pytest.approx(1)


def test_a_glance_stands_for_the_time_halfway_to_its_neighbours() -> None:
    glances = [Glance(9, sunny=False), Glance(12, sunny=True), Glance(16, sunny=False)]
    found = sunny_from_glances(glances, MIDSUMMER, 52)
    assert found.hours == pytest.approx(14 - 10.5)
    assert found.share > found.hours / found.daylength, "noon counts for more than evening"


@given(st.floats(-55, 55), st.floats(1, 365))
def test_the_share_of_direct_light_is_that_of_the_sun_s_height(latitude: float, day: float) -> None:
    glances = [Glance(9.5, sunny=True), Glance(12, sunny=False), Glance(14.5, sunny=False)]
    phi, delta = np.radians(latitude), float(declination(np.array([day]))[0])
    half = float(day_length(np.array([day]), latitude)[0]) / 2
    if half < 2.6:
        return

    def height(hour: float) -> float:
        return float(np.sin(phi) * np.sin(delta)
                     + np.cos(phi) * np.cos(delta) * np.cos((hour - 12) * np.pi / 12))  # fmt: skip

    whole, part = quad(height, 12 - half, 12 + half)[0], quad(height, 12 - half, 10.75)[0]
    found = sunny_from_glances(glances, day, latitude)
    assert found.share == pytest.approx(part / whole, rel=1e-6, abs=1e-9)


def test_two_glances_or_one_by_night_are_not_enough() -> None:
    with pytest.raises(NotEnoughDataError, match="3 glances"):
        sunny_from_glances([Glance(9, sunny=True), Glance(15, sunny=True)], MIDSUMMER, 52)
    late = [Glance(9, sunny=True), Glance(12, sunny=True), Glance(18, sunny=False)]
    assert sunny_from_glances(late, MIDSUMMER, 52).hours < 17
    with pytest.raises(NotEnoughDataError):
        sunny_from_glances(late, MIDWINTER, 52)


def test_more_sun_than_the_day_has_is_refused() -> None:
    assert sunny_from_hours(2.5, MIDSUMMER, 52).share == pytest.approx(2.5 / 16.5, abs=0.005)
    with pytest.raises(BadInputError, match="that is the day then"):
        sunny_from_hours(12, MIDWINTER, 52)


@given(st.floats(0.5, 60), st.floats(0, 1), st.floats(0, 1))
def test_shade_never_adds_light_and_more_sun_never_takes_it(
    light: float, less: float, more: float
) -> None:
    less, more = sorted((less, more))
    middle, low, high = light_here(light, less)
    assert 0 < low <= middle <= high <= light * (1 + 1e-12)
    assert light_here(light, more, 0.6)[0] >= light_here(light, less, 0.6)[0] - 1e-9
    assert light_here(light, 1, 1)[0] == pytest.approx(light)


def test_the_open_in_a_british_midsummer_has_about_forty_moles_and_midwinter_few() -> None:
    assert 33 < usual_open_light(MIDSUMMER, 52)[0] < 43
    assert 3 < usual_open_light(MIDWINTER, 52)[0] < 8
    assert usual_open_light(MIDSUMMER, 52)[0] == pytest.approx(
        usual_open_light(MIDWINTER, -52)[0], rel=0.1
    )
