"""Dew point and wet bulb against a meteorological program and a printed example."""

from __future__ import annotations

from swardbook.foundation.provenance import Grade
from swardbook.weather.humidity import dew_point, saturation_vapour_pressure, wet_bulb
from tests.support.arrays import days, one
from tests.support.checks import Check

SEA_LEVEL = 101.325
# temperature, humidity, dew point, wet bulb
_ROWS = (
    (20.0, 50.0, 9.26, 13.66),
    (10.0, 80.0, 6.70, 8.27),
    (5.0, 90.0, 3.49, 4.29),
    (2.0, 95.0, 1.28, 1.69),
    (15.0, 60.0, 7.29, 10.75),
)


def dew(celsius: float, humidity: float) -> float:
    return one(dew_point(saturation_vapour_pressure(days(celsius)) * humidity / 100.0))


def wet(celsius: float, humidity: float) -> float:
    pressure = saturation_vapour_pressure(days(celsius)) * humidity / 100.0
    return one(wet_bulb(days(celsius), pressure, SEA_LEVEL))


CHECKS: list[Check] = [
    check
    for celsius, humidity, dew_c, wet_c in _ROWS
    for check in (
        Check(
            id=f"dew-point-{celsius:g}-{humidity:g}",
            what=f"dew point of air at {celsius:g} °C and {humidity:g} % [°C]",
            source="may_metpy_2022", place="dewpoint_from_relative_humidity, computed",
            expected=dew_c, tolerance=0.03, grade=Grade.PUBLISHED,
            got=lambda c=celsius, h=humidity: dew(c, h),  # type: ignore[misc]
        ),
        Check(
            id=f"wet-bulb-{celsius:g}-{humidity:g}",
            what=f"wet bulb of air at {celsius:g} °C and {humidity:g} % [°C]",
            source="may_metpy_2022", place="wet_bulb_temperature at 101.325 kPa, computed",
            expected=wet_c, tolerance=0.2, grade=Grade.PUBLISHED,
            got=lambda c=celsius, h=humidity: wet(c, h),  # type: ignore[misc]
        ),
    )
] + [
    Check(
        id="wet-bulb-stull", what="wet bulb of air at 20 °C and 50 % [°C]", source="stull_2011",
        place="worked example, 13.7 °C; the fit is good to about 0.3 °C", expected=13.7,
        tolerance=0.3, grade=Grade.JUDGED, got=lambda: wet(20.0, 50.0),
    )
]  # fmt: skip
