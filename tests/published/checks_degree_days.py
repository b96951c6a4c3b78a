"""Degree-days of single days, as printed by others."""

from __future__ import annotations

import csv
from functools import cache, partial
from math import inf
from pathlib import Path

import numpy as np

from swardbook.foundation.provenance import Grade
from swardbook.weather.series import Values
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
# printed sums of degree-days: to the end of January and of March, and of the whole leap year
_SUMS = {
    Method.SINGLE_SINE: (79.25, 353.60, 2095.87),
    Method.SINGLE_TRIANGLE: (68.35, 323.43, 2026.74),
}
# minimum, maximum, base; average, modified average, single sine, single triangle
_SPRING = (
    (2, 12, 6, (1.00, 3.00, 2.1235, 1.80)),
    (-2, 8, 0, (3.00, 4.00, 3.3877, 3.20)),
    (4, 16, 10, (0.00, 3.00, 1.9099, 1.50)),
)
_BY_HAND = (Method.AVERAGE, Method.MODIFIED_AVERAGE)


@cache
def _year() -> tuple[Values, Values]:
    """Give minimum and maximum of each day of 2016 at the station."""
    file = Path(__file__).parents[1] / "data" / "ojai_2016.csv"
    rows = list(csv.DictReader(file.read_text(encoding="utf-8").splitlines()))
    low, high = (np.array([float(row[name]) for row in rows]) for name in ("tmin", "tmax"))
    return low, high


def summed(method: Method, last: int) -> float:
    """Add up degree-days between 12 and 33 °C of so many days of that year."""
    low, high = (each[:last] for each in _year())
    return float(degree_days(low, high, base=12, upper=33, method=method).sum())


def spring(low: float, high: float, base: float, method: Method) -> float:
    return one(degree_days(days(low), days(high), base=base, upper=inf, method=method))


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
] + [
    check(low, high, method, expected, 0.005, "equations of the package, computed")
    for low, high, method, expected in (
        (13, 40, Method.SINGLE_SINE, 12.94), (13, 40, Method.SINGLE_TRIANGLE, 13.59),
        (7, 40, Method.SINGLE_SINE, 10.94), (7, 40, Method.SINGLE_TRIANGLE, 11.14),
    )
] + [
    Check(
        id=f"degree-days-{method.value}-to-day-{last}",
        what=f"{method.value} degree-days above 12 °C of {last} days of 2016, cut off at 33 °C",
        source="buckley_trenchr_2022", place=f"{DATA}, accumulated", expected=expected,
        tolerance=0.01, grade=Grade.PUBLISHED, got=partial(summed, method, last),
    )
    for method, sums in _SUMS.items()
    for last, expected in zip((31, 91, 366), sums, strict=True)
] + [
    Check(
        id=f"degree-days-{method.value}-{low}-{high}-above-{base}",
        what=f"{method.value} degree-days of {low} to {high} °C above {base} °C",
        source="practice" if method in _BY_HAND else "virtanen_scipy_2020",
        place="sum by hand" if method in _BY_HAND else "area of the day's curve, computed",
        expected=expected, tolerance=0.001, grade=Grade.DEFINED,
        got=partial(spring, low, high, base, method),
    )
    for low, high, base, by_method in _SPRING
    for method, expected in zip(Method, by_method, strict=True)
]  # fmt: skip
