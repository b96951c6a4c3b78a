"""Soil that follows the air, and the damped wave of an ordinary year."""

from __future__ import annotations

from functools import partial
from math import pi, sqrt

import numpy as np

from swardbook.foundation.provenance import Grade
from swardbook.handbook.parameters import value
from swardbook.weather.soil_temperature import annual_wave, lagged
from tests.support.arrays import days, one
from tests.support.checks import Check

AIR = (8.0, 10.0, 12.0, 9.0, 7.0)
_LAGGING = (8.75, 9.0625, 9.7969, 9.5977, 8.9482)
DIFFUSIVITY = 4e-7
"""Heat in moist soil [m² s⁻¹]."""
YEAR_S = 365 * 86_400


def _follow(day: int) -> float:
    return float(lagged(days(*AIR), 0.25, start=9.0)[day - 1])


def _july() -> float:
    return one(annual_wave(days(206), 0.10, mean=10.5, amplitude=7, coldest_day=25))


def _wave(depth: float) -> tuple[float, float]:
    """Height of a unit wave at a depth, and the day on which it stands [d]."""
    day = np.arange(0.0, 365.0, 0.01)
    wave = annual_wave(day, depth, mean=0, amplitude=1, coldest_day=25)
    return float(wave.max()), float(day[wave.argmax()])


CHECKS: list[Check] = [
    *(
        Check(f"soil-lag-day-{day}", f"soil on day {day} of five, closing a quarter a day [°C]",
              "practice", "sum by hand", expected, 0.0001, Grade.DEFINED, partial(_follow, day))
        for day, expected in enumerate(_LAGGING, start=1)
    ),
    Check("soil-wave-july", "soil at 10 cm on day 206: 10.5 ± 7 °C, coldest on day 25 [°C]",
          "hillel_1982", "annual wave, computed", 17.14, 0.01, Grade.DEFINED, _july),
    Check("soil-wave-damping", "depth over which the yearly wave falls to 1/e [m]", "hillel_1982",
          "√(2 κ / ω) of 4e-7 m² s⁻¹", sqrt(DIFFUSIVITY * YEAR_S / pi), 0.005, Grade.DEFINED,
          lambda: value("weather.soil_annual_damping_depth")),
    Check("soil-wave-height", "height of the yearly wave at 10 cm against the surface [-]",
          "hillel_1982", "exp(-z/D)", 0.951, 0.001, Grade.DEFINED, lambda: _wave(0.10)[0]),
    Check("soil-wave-lag", "days by which it is late at 10 cm [d]", "hillel_1982",
          "365 z / (2 π D)", 2.9, 0.05, Grade.DEFINED, lambda: _wave(0.10)[1] - _wave(0.0)[1]),
]  # fmt: skip
