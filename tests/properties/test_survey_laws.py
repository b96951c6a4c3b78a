"""Laws of a survey: units and numbers typed either way come to the same, and never drift."""

from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from swardbook.book.shapes import read_area
from swardbook.book.survey_area import AreaAsked, survey_area
from swardbook.book.survey_ground import survey_cores, survey_rings, survey_slope
from swardbook.foundation.quantities import FACTORS, convert

LENGTHS = ("mm", "cm", "m", "in", "ft", "yd")
METRES = st.floats(1, 90).map(lambda each: round(each, 3))


def typed(metres: float, unit: str) -> str:
    """Type a length in a unit."""
    return f"{metres * 1000 / FACTORS[unit][1]!r} {unit}"


@given(METRES, METRES, st.sampled_from(LENGTHS), st.sampled_from(LENGTHS))
def test_sides_in_any_units_have_the_same_area(
    one: float, other: float, first: str, second: str
) -> None:
    area = read_area("", f"{typed(one, first)} x {typed(other, second)}")
    assert abs(area / (one * other) - 1) < 1e-9


@given(METRES, METRES)
def test_a_decimal_comma_is_a_decimal_point(one: float, other: float) -> None:
    plain = f"{one:.2f}x{other:.2f}"
    assert read_area("", plain.replace(".", ",")) == read_area("", plain)


@given(st.floats(1, 100), st.sampled_from(LENGTHS))
def test_a_depth_typed_and_read_a_hundred_times_does_not_drift(depth: float, unit: str) -> None:
    now = depth
    for _ in range(100):
        now = convert(now / FACTORS[unit][1], unit)[0]
    assert abs(now / depth - 1) < 1e-13
    read = survey_cores([typed(depth / 1000, unit)] * 5).found["thatch_mm"]
    assert abs(read / depth - 1) < 1e-9


@given(st.lists(st.floats(0.5, 400), min_size=1, max_size=6), st.randoms())
def test_the_order_of_rings_does_not_matter(rates: list[float], shuffle: Any) -> None:
    told = [f"{each!r}" for each in rates]
    mixed = list(told)
    shuffle.shuffle(mixed)
    one, other = survey_rings(told).found, survey_rings(mixed).found
    assert all(abs(one[key] - other[key]) <= 1e-9 * max(abs(one[key]), 1) for key in one)
    assert one["slowest_mm_per_h"] <= one["middle_mm_per_h"] * (1 + 1e-12)
    assert one["middle_mm_per_h"] <= one["fastest_mm_per_h"] * (1 + 1e-12)


@given(METRES, METRES)
def test_a_range_holds_its_figure_and_a_slope_has_no_unit(one: float, other: float) -> None:
    found = survey_area(AreaAsked(sides=f"{one}x{other}")).found
    assert found["low_m2"] < found["area_m2"] < found["high_m2"]
    fall, run = min(one, other), max(one, other)
    metric = survey_slope(f"{fall} m", f"{run} m").found["slope_percent"]
    feet = survey_slope(typed(fall, "ft"), typed(run, "ft")).found["slope_percent"]
    assert abs(metric / feet - 1) < 1e-9
