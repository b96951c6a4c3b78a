"""Water vapour."""

import numpy as np
import pytest
from scipy.integrate import quad

from swardbook.weather.humidity import (
    actual_vapour_pressure,
    dew_point,
    leaf_wet_hours,
    saturation_vapour_pressure,
    slope_of_vapour_pressure,
    vapour_pressure_from_psychrometer,
    wet_bulb,
)
from tests.support.arrays import days, one, scalar


def test_the_mean_of_pressures_is_not_the_pressure_of_the_mean() -> None:
    mean = (scalar(saturation_vapour_pressure, 24.5) + scalar(saturation_vapour_pressure, 15)) / 2

    assert mean - scalar(saturation_vapour_pressure, 19.75) == pytest.approx(0.088, abs=0.002)


def test_the_slope_is_that_of_the_curve() -> None:
    step = 1e-4
    curve = saturation_vapour_pressure(days(16.9 - step, 16.9 + step))

    by_difference = (curve[1] - curve[0]) / (2 * step)
    assert scalar(slope_of_vapour_pressure, 16.9) == pytest.approx(by_difference, rel=1e-4)


def test_the_best_measurement_wins_and_a_missing_day_falls_through() -> None:
    low, high = days(10, 10, 10, 10, 10), days(20, 20, 20, 20, 20)
    none = np.nan

    found = actual_vapour_pressure(
        low,
        high,
        dew_point=days(8, none, none, none, none),
        wettest=days(95, 95, 95, none, none),
        driest=days(50, 50, none, none, none),
        mean_humidity=days(70, 70, 70, 70, none),
    )

    cold, warm = scalar(saturation_vapour_pressure, 10), scalar(saturation_vapour_pressure, 20)
    assert found.tolist() == pytest.approx([
        scalar(saturation_vapour_pressure, 8),
        (cold * 95 + warm * 50) / 200,
        cold * 0.95,
        0.7 * (cold + warm) / 2,
        cold,
    ])  # fmt: skip


def test_dew_point_turns_saturation_round() -> None:
    air = days(-8, 0, 12, 31)

    assert dew_point(saturation_vapour_pressure(air)) == pytest.approx(air, abs=1e-12)


def test_the_wet_bulb_fits_the_psychrometer_it_comes_from() -> None:
    pressure = saturation_vapour_pressure(days(12.0)) * 0.6

    wet = wet_bulb(days(12.0), pressure, 101.3)

    assert vapour_pressure_from_psychrometer(days(12.0), wet, 101.3) == pytest.approx(
        pressure, abs=1e-12
    )
    assert one(dew_point(pressure)) < one(wet) < 12.0


def test_wet_hours_are_those_of_the_sine_above_the_threshold() -> None:
    low, high, pressure = 6.0, 16.0, days(1.1)

    def is_wet(hour: float) -> float:
        air = 11.0 - 5.0 * np.cos(2 * np.pi * hour / 24)
        return float(pressure[0] / scalar(saturation_vapour_pressure, air) >= 0.9)

    by_integral = quad(is_wet, 0, 24, limit=400, points=[5, 19])[0]
    assert one(leaf_wet_hours(days(low), days(high), pressure)) == pytest.approx(
        by_integral, abs=0.05
    )


def test_fog_all_day_is_24_hours_and_dry_air_none() -> None:
    low, high = days(9.0), days(10.0)

    assert one(leaf_wet_hours(low, high, saturation_vapour_pressure(high))) == pytest.approx(24)
    assert one(leaf_wet_hours(low, high, days(0.4))) == pytest.approx(0)
