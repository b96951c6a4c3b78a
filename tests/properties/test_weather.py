"""Laws of the weather formulas."""

from math import inf

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from swardbook.weather.evapotranspiration import hargreaves, reference_evapotranspiration
from swardbook.weather.humidity import actual_vapour_pressure, dew_point, wet_bulb
from swardbook.weather.series import Values
from swardbook.weather.soil_temperature import soil_temperature_5cm
from swardbook.weather.soil_water import (
    RootZone,
    Seedbed,
    WaterBalance,
    dried_by,
    root_zone_balance,
    seedbed_balance,
)
from swardbook.weather.sun import day_length, extraterrestrial_radiation, radiation_from_temperature
from swardbook.weather.thermal import (
    Method,
    days_to_growing_weeks,
    degree_days,
    growing_weeks,
    growth_potential,
)
from tests.support.arrays import days, one

celsius = st.floats(-30, 45)
spans = st.floats(0, 25)
methods = st.sampled_from(list(Method))
latitudes = st.floats(-66, 66)
year_days = st.integers(1, 366)
amounts = st.floats(0, 40)


def warmth(low: float, high: float, base: float, upper: float, method: Method) -> float:
    return one(degree_days(days(low), days(high), base=base, upper=upper, method=method))


courses_of_air = st.integers(0, 120).flatmap(
    lambda number: arrays(np.float64, number, elements=st.floats(2, 14) | st.just(np.nan))
)


@given(courses_of_air, st.floats(0, 10))
def test_more_warmth_never_makes_fewer_growing_weeks(air: Values, warmer: float) -> None:
    assert growing_weeks(air + warmer).grown >= growing_weeks(air).grown


@given(courses_of_air, st.integers(0, 120))
def test_growing_weeks_never_fall_as_days_go_by(air: Values, day: int) -> None:
    before, after = growing_weeks(air[:day]), growing_weeks(air)

    assert before.grown <= after.grown
    assert before.at_most <= after.at_most <= len(air) // 7


@given(courses_of_air, st.floats(0, 14))
def test_weather_that_was_missing_leaves_growing_weeks_between_known_and_at_most(
    air: Values, found: float
) -> None:
    known = growing_weeks(np.where(np.isnan(air), found, air))

    assert growing_weeks(air).grown <= known.grown <= growing_weeks(air).at_most
    assert known.unknown == 0


@given(courses_of_air, st.floats(0.1, 18))
def test_the_wanted_day_is_the_first_on_which_the_growing_weeks_are_there(
    air: Values, wanted: float
) -> None:
    day = days_to_growing_weeks(air, wanted)

    if day is None:
        assert growing_weeks(air).grown < wanted
    else:
        assert growing_weeks(air[: day - 1]).grown < wanted <= growing_weeks(air[:day]).grown


@given(st.floats(0, 60))
def test_growth_potential_is_the_same_on_either_side_of_its_optimum(apart: float) -> None:
    assert growth_potential(days(20 - apart)) == pytest.approx(growth_potential(days(20 + apart)))


@given(celsius, spans, st.floats(-5, 15), st.floats(0.5, 30), methods)
def test_degree_days_lie_between_nothing_and_the_span_of_their_limits(
    low: float, span: float, base: float, above: float, method: Method
) -> None:
    found = warmth(low, low + span, base, base + above, method)

    assert -1e-9 <= found <= above + 1e-9


@given(celsius, spans, st.floats(0, 10), st.floats(-5, 15), methods)
def test_a_warmer_day_never_has_fewer_degree_days(
    low: float, span: float, warmer: float, base: float, method: Method
) -> None:
    cool = warmth(low, low + span, base, base + 20, method)

    assert warmth(low + warmer, low + span + warmer, base, base + 20, method) >= cool - 1e-9


@given(celsius, spans, st.floats(-5, 15), st.floats(0, 5), methods)
def test_a_higher_base_never_gives_more(
    low: float, span: float, base: float, higher: float, method: Method
) -> None:
    assert warmth(low, low + span, base + higher, inf, method) <= (
        warmth(low, low + span, base, inf, method) + 1e-9
    )


@given(celsius, spans, st.floats(-5, 15))
def test_sine_and_triangle_lie_between_the_two_averages(
    low: float, span: float, base: float
) -> None:
    high = low + span
    least = warmth(low, high, base, inf, Method.AVERAGE)
    most = warmth(low, high, base, inf, Method.MODIFIED_AVERAGE)

    for method in (Method.SINGLE_SINE, Method.SINGLE_TRIANGLE):
        assert least - 1e-9 <= warmth(low, high, base, inf, method) <= most + 1e-9


@given(celsius, spans, latitudes, year_days, st.floats(0, 1), st.floats(0, 10), st.floats(0, 3000))
def test_evapotranspiration_is_never_below_nothing(
    low: float, span: float, latitude: float, day: int, share: float, wind: float, height: float
) -> None:
    high, top = low + span, extraterrestrial_radiation(days(day), latitude)
    pressure = actual_vapour_pressure(days(low), days(high))

    found = reference_evapotranspiration(
        days(low), days(high), vapour_pressure=pressure, radiation=share * 0.75 * top,
        extraterrestrial=top, wind=days(wind), elevation_m=height,
    )  # fmt: skip

    assert 0 <= one(found) < 25
    assert one(hargreaves(days(low), days(high), top)) >= 0


@given(st.floats(-10, 5), spans)
def test_a_cold_dark_damp_day_loses_no_more_than_a_trace(low: float, span: float) -> None:
    high = low + min(span, 3)
    top = extraterrestrial_radiation(days(355), 60.0)

    found = reference_evapotranspiration(
        days(low), days(high), vapour_pressure=actual_vapour_pressure(days(low), days(high)),
        radiation=0.2 * top, extraterrestrial=top, wind=days(2.0), elevation_m=50.0,
    )  # fmt: skip

    assert 0 <= one(found) < 0.6


@given(latitudes, year_days)
def test_north_and_south_share_the_day_between_them(latitude: float, day: int) -> None:
    both = day_length(days(day), latitude) + day_length(days(day), -latitude)

    assert one(both) == pytest.approx(24)


@given(celsius, spans, latitudes, year_days)
def test_radiation_at_the_ground_is_less_than_above_the_air(
    low: float, span: float, latitude: float, day: int
) -> None:
    top = extraterrestrial_radiation(days(day), latitude)

    assert 0 <= one(radiation_from_temperature(days(low), days(low + span), top)) <= one(top)


@given(st.floats(-10, 40), st.floats(5, 100), st.floats(70, 105))
def test_the_wet_bulb_lies_between_dew_point_and_air(
    air: float, humidity: float, pressure: float
) -> None:
    vapour = actual_vapour_pressure(days(air), days(air), mean_humidity=days(humidity))

    wet = one(wet_bulb(days(air), vapour, pressure))

    assert one(dew_point(vapour)) - 1e-6 <= wet <= air + 1e-6


series = arrays(np.float64, st.integers(1, 40), elements=st.floats(0.01, 20))


@given(series, st.floats(0.5, 20))
def test_shallow_soil_lies_within_the_air_of_a_day_above_freezing(low: Values, span: float) -> None:
    soil = soil_temperature_5cm(low, low + span)

    assert ((soil >= low) & (soil <= low + span)).all()


def shortfall(balance: WaterBalance, water: Values, start: float) -> float:
    """What a balance leaves unexplained over the whole time."""
    stored = start - float(balance.depletion[-1])
    return stored - float(water.sum() - balance.loss.sum() - balance.drainage.sum())


daily = st.lists(st.tuples(st.floats(0, 8), amounts, amounts), min_size=1, max_size=60)


@given(daily, st.floats(3, 150), st.floats(0, 1), st.booleans())
def test_the_root_zone_neither_makes_nor_loses_water(
    drawn: list[tuple[float, float, float]], total: float, filled: float, adjusts: bool
) -> None:
    et0, rain, irrigation = np.array(drawn).T
    start = total * filled

    found = root_zone_balance(et0, rain, irrigation, RootZone(total, 0.4, adjusts), start=start)

    assert abs(shortfall(found, rain + irrigation, start)) < 1e-9 * (1 + rain.sum() + total) * 10
    assert ((found.depletion >= 0) & (found.depletion <= total + 1e-9)).all()
    assert ((found.stress >= 0) & (found.stress <= 1)).all()


@given(daily, st.floats(0, 10), st.floats(0.5, 20), st.floats(0, 1))
def test_the_seedbed_neither_makes_nor_loses_water(
    drawn: list[tuple[float, float, float]], readily: float, slow: float, filled: float
) -> None:
    et0, rain, irrigation = np.array(drawn).T
    bed = Seedbed(readily, readily + slow)
    start = bed.total * filled

    found = seedbed_balance(et0, rain, irrigation, bed, start=start)

    assert abs(shortfall(found, rain + irrigation, start)) < 1e-8
    assert ((found.depletion >= 0) & (found.depletion <= bed.total + 1e-9)).all()
    assert (found.loss <= 1.1 * et0 + 1e-9).all()


@given(st.floats(0, 3), st.floats(0, 10), st.floats(0, 10))
def test_drying_in_two_parts_of_a_day_is_drying_in_one(
    depletion: float, first: float, second: float
) -> None:
    start = days(depletion)
    morning = dried_by(start, days(first), 1.35, 3.0)
    evening = dried_by(start + morning, days(second), 1.35, 3.0)

    assert morning + evening == pytest.approx(
        dried_by(start, days(first + second), 1.35, 3.0), abs=1e-9
    )
