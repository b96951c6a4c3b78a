"""Soil temperature judged from the air."""

import numpy as np
import pytest

from swardbook.weather.soil_temperature import (
    annual_wave,
    lagged,
    running_mean,
    soil_temperature_5cm,
    soil_temperature_10cm,
    standard_error,
)
from tests.support.arrays import days, one


def test_the_lag_filter_agrees_with_the_sum_by_hand() -> None:
    found = lagged(days(8, 10, 12, 9, 7), 0.25, start=9)

    assert found.tolist() == pytest.approx([8.75, 9.0625, 9.7969, 9.5977, 8.9482], abs=5e-5)


def test_a_steady_air_is_a_steady_soil() -> None:
    assert soil_temperature_10cm(np.full(30, 11.0)).tolist() == pytest.approx([11.0] * 30)


def test_the_deeper_soil_swings_less() -> None:
    day = np.arange(365.0)
    mean = 10 + 4 * np.sin(2 * np.pi * day / 14)

    shallow = soil_temperature_5cm(mean - 4, mean + 4)[100:]
    deep = soil_temperature_10cm(mean)[100:]

    assert np.ptp(deep) < np.ptp(shallow) < np.ptp(mean)


def test_tomorrow_does_not_change_today() -> None:
    air = days(3, 8, 14, 2, 9, 11)

    assert soil_temperature_10cm(air)[:3].tolist() == soil_temperature_10cm(air[:3]).tolist()
    assert running_mean(air, 3)[:3].tolist() == pytest.approx(running_mean(air[:3], 3).tolist())


def test_a_probe_reading_starts_it_where_the_soil_is() -> None:
    assert soil_temperature_10cm(days(10.0), start=4.0).tolist() == [5.5]


def test_a_sudden_frost_holds_the_shallow_soil_within_the_air_of_a_mild_day() -> None:
    found = soil_temperature_5cm(days(14, 14, 1), days(20, 20, 3))

    assert found[2] == 3.0


def test_the_running_mean_is_of_eleven_days_or_as_many_as_there_are() -> None:
    found = running_mean(np.arange(20.0))

    assert found[0] == 0
    assert found[1] == 0.5
    assert found[19] == np.arange(9.0, 20.0).mean()


def test_the_error_is_stated() -> None:
    middle, low, high = standard_error()

    assert (low, middle, high) == (1.5, 2.0, 2.9)


def test_the_annual_wave_agrees_with_the_sum_by_hand() -> None:
    found = annual_wave(days(206), 0.10, mean=10.5, amplitude=7, coldest_day=25)

    assert one(found) == pytest.approx(17.14, abs=0.01)


def test_at_10_cm_the_annual_wave_keeps_95_hundredths_and_lags_three_days() -> None:
    day = np.arange(0.0, 365.0, 0.1)
    surface = annual_wave(day, 0.0, mean=0, amplitude=1, coldest_day=25)
    below = annual_wave(day, 0.10, mean=0, amplitude=1, coldest_day=25)

    assert below.max() == pytest.approx(0.951, abs=0.001)
    assert day[below.argmax()] - day[surface.argmax()] == pytest.approx(2.9, abs=0.1)
