"""Degree-days of single days, as printed by others."""

from __future__ import annotations

from swardbook.foundation.provenance import Grade
from swardbook.weather.thermal import Method, degree_days
from tests.support.arrays import days, one
from tests.support.checks import Check

DATA = "daily data of station OJAI.C, 2016, lower limit 12 °C, upper 33 °C"
# minimum, maximum, single sine, single triangle
_DAYS = (
    (7.8, 19.4, 2.72, 2.36),
    (4.4, 22.2, 3.51, 2.92),
    (3.3, 18.9, 2.05, 1.53),
    (10.0, 21.7, 4.21, 4.02),
    (6.1, 15.0, 0.77, 0.51),
    (10.6, 34.4, 10.50, 10.50),
    (11.7, 33.9, 10.74, 10.78),
    (10.6, 38.9, 11.71, 12.17),
)


def check(
    low: float, high: float, method: Method, expected: float, tolerance: float, place: str
) -> Check:
    """One day between 12 and 33 °C."""
    return Check(
        id=f"degree-days-{method.value}-{low:g}-{high:g}",
        what=f"{method.value} degree-days of {low:g} to {high:g} °C above 12 °C, cut off at 33 °C",
        source="buckley_trenchr_2022",
        place=place,
        expected=expected,
        tolerance=tolerance,
        grade=Grade.PUBLISHED,
        got=lambda: one(degree_days(days(low), days(high), base=12, upper=33, method=method)),
    )


CHECKS: list[Check] = [
    row
    for low, high, sine, triangle in _DAYS
    for row in (
        check(low, high, Method.SINGLE_SINE, sine, 0.005, DATA),
        check(low, high, Method.SINGLE_TRIANGLE, triangle, 0.005, DATA),
    )
] + [
    check(7, 14, Method.SINGLE_SINE, 0.47, 0.005, "documentation of degree_days, example"),
    check(7, 14, Method.SINGLE_TRIANGLE, 0.29, 0.005, "documentation of degree_days, example"),
]
