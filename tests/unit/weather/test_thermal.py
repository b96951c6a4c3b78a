"""Warmth."""

from itertools import pairwise
from math import inf, pi, sin

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.stats import norm

from swardbook.foundation.errors import OutOfRangeError
from swardbook.weather.thermal import (
    GrowingWeeks,
    Kind,
    Method,
    days_to_growing_weeks,
    degree_days,
    growing_weeks,
    growth_potential,
)
from tests.support.arrays import days, one


def warmth(low: float, high: float, method: Method, base: float, upper: float = inf) -> float:
    return one(degree_days(days(low), days(high), base=base, upper=upper, method=method))


@pytest.mark.parametrize(
    ("low", "high", "base", "average", "modified", "sine", "triangle"),
    [
        (2, 12, 6, 1.00, 3.00, 2.1235, 1.80),
        (-2, 8, 0, 3.00, 4.00, 3.3877, 3.20),
        (4, 16, 10, 0.00, 3.00, 1.9099, 1.50),
    ],
)
def test_the_four_methods_differ_on_a_spring_day(
    low: float, high: float, base: float, average: float, modified: float, sine: float,
    triangle: float,
) -> None:  # fmt: skip
    found = [warmth(low, high, method, base) for method in Method]

    assert found == pytest.approx([average, modified, sine, triangle], abs=5e-5)


@pytest.mark.parametrize(
    ("low", "high", "average", "modified"),
    [(7.8, 19.4, 1.60, 3.70), (4.4, 22.2, 1.30, 5.10), (3.3, 18.9, 0, 3.45), (7, 14, 0, 1.0)],
)
def test_both_averages_agree_with_the_sum_by_hand(
    low: float, high: float, average: float, modified: float
) -> None:
    assert warmth(low, high, Method.AVERAGE, 12, 33) == pytest.approx(average, abs=0.005)
    assert warmth(low, high, Method.MODIFIED_AVERAGE, 12, 33) == pytest.approx(modified, abs=0.005)


@pytest.mark.parametrize(("low", "high"), [(2, 12), (-2, 34), (7.8, 19.4), (28, 36), (10.6, 38.9)])
@pytest.mark.parametrize(("base", "upper"), [(6.0, inf), (12.0, 33.0), (0.0, 30.0)])
def test_single_sine_is_the_area_under_the_clipped_sine(
    low: float, high: float, base: float, upper: float
) -> None:
    def above(time: float) -> float:
        air = (low + high) / 2 + (high - low) / 2 * sin(2 * pi * time)
        return min(max(air, base), upper) - base

    places = np.linspace(0, 1, 201)
    area = sum(quad(above, a, b)[0] for a, b in pairwise(places))
    assert warmth(low, high, Method.SINGLE_SINE, base, upper) == pytest.approx(area, abs=1e-4)


@given(
    st.lists(st.tuples(st.floats(-15, 35), st.floats(0.2, 22)), min_size=20, max_size=60),
    st.floats(-5, 15), st.floats(1, 30),
)  # fmt: skip
@settings(deadline=None, max_examples=40)
def test_sine_and_triangle_are_the_areas_under_their_clipped_courses_on_any_days(
    drawn: list[tuple[float, float]], base: float, span: float
) -> None:
    """Half a day from minimum to maximum, both courses drawn in 20,000 steps."""
    low, range_ = np.array(drawn).T
    steps = (np.arange(20_000) + 0.5) / 20_000
    for method, course in (
        (Method.SINGLE_SINE, (1 - np.cos(pi * steps)) / 2), (Method.SINGLE_TRIANGLE, steps),
    ):  # fmt: skip
        air = low[:, None] + range_[:, None] * course
        area = np.mean(np.clip(air, base, base + span) - base, axis=1)
        found = degree_days(low, low + range_, base=base, upper=base + span, method=method)
        assert found == pytest.approx(area, abs=2e-6)


@pytest.mark.parametrize(("low", "high"), [(2, 12), (7, 40), (13, 40)])
def test_single_triangle_is_the_area_under_the_clipped_triangle(low: float, high: float) -> None:
    air = np.linspace(low, high, 2_000_001)
    area = float(np.trapezoid(np.clip(air, 12, 33) - 12, dx=1 / 2_000_000))

    assert warmth(low, high, Method.SINGLE_TRIANGLE, 12, 33) == pytest.approx(area, abs=1e-6)


def test_a_day_wholly_above_the_upper_limit_gets_the_span_of_the_limits() -> None:
    assert warmth(35, 40, Method.SINGLE_SINE, 12, 33) == pytest.approx(21)
    assert warmth(35, 40, Method.SINGLE_TRIANGLE, 12, 33) == pytest.approx(21)


@pytest.mark.parametrize("method", list(Method))
def test_a_day_without_a_range_is_the_same_by_every_method(method: Method) -> None:
    assert warmth(15, 15, method, 5, 30) == pytest.approx(10)
    assert warmth(5, 5, method, 5, 30) == pytest.approx(0)


def test_the_limits_must_stand_the_right_way_round() -> None:
    with pytest.raises(OutOfRangeError, match="upper limit is 5"):
        warmth(2, 12, Method.SINGLE_SINE, 10, 5)


GP = {
    0: .0013, 2: .0047, 4: .0145, 5: .0243, 6: .0392, 8: .0925, 10: .1915, 12: .3472, 14: .5515,
    15: .6615, 16: .7676, 18: .9360, 20: 1, 22: .9360, 25: .6615, 30: .1915,
}  # fmt: skip


def test_growth_potential_is_a_bell_around_its_optimum() -> None:
    found = growth_potential(days(*GP))

    assert found.tolist() == pytest.approx(list(GP.values()), abs=6e-5)
    bell = norm.pdf(list(GP), 20, 5.5) / norm.pdf(20, 20, 5.5)
    assert found == pytest.approx(bell, abs=1e-12)


def test_warm_season_grass_is_best_in_heat() -> None:
    found = growth_potential(days(10, 15, 20, 25), Kind.WARM)

    assert found.tolist() == pytest.approx([0.0111, 0.0734, 0.2909, 0.6926], abs=6e-5)


def test_the_year_of_growth_potential_splits_a_feed() -> None:
    """Monthly means made up for the sum; the split of 10 g gives 2.33 g in July."""
    means = days(4.2, 4.4, 6.3, 8.6, 11.7, 14.6, 16.8, 16.5, 13.9, 10.4, 6.9, 4.5)

    potential = growth_potential(means)

    assert potential.sum() == pytest.approx(3.631, abs=0.005)
    assert 10 * potential[6] / potential.sum() == pytest.approx(2.33, abs=0.005)


WEEKS = np.repeat([10.0, 7.9, 8.0, 3.0], 7)


def test_growing_weeks_are_whole_weeks_from_8_degrees_on() -> None:
    assert growing_weeks(WEEKS) == GrowingWeeks(2)
    assert growing_weeks(WEEKS[:20]) == GrowingWeeks(1)
    assert growing_weeks(WEEKS[:6]) == GrowingWeeks(0)


def test_cold_days_in_a_warm_week_do_not_lose_it_and_warm_days_in_a_cold_one_do_not_make_it() -> (
    None
):
    assert growing_weeks(days(4, 4, 4, 11, 11, 11, 11)).grown == 1
    assert growing_weeks(days(9, 9, 9, 9, 9, 5, 5)).grown == 0


def test_a_week_with_a_day_missing_is_told_apart_and_the_next_ones_keep_their_days() -> None:
    lacking = WEEKS.copy()
    lacking[3] = np.nan

    assert growing_weeks(lacking) == GrowingWeeks(1, 1)
    assert growing_weeks(lacking).at_most == 2


def test_the_day_that_is_wanted_is_the_last_of_its_week() -> None:
    assert days_to_growing_weeks(WEEKS, 1) == 7
    assert days_to_growing_weeks(WEEKS, 2) == days_to_growing_weeks(WEEKS, 1.5) == 21
    assert days_to_growing_weeks(WEEKS, 0) == 0
    assert days_to_growing_weeks(WEEKS, 3) is None
