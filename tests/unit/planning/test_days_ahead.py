"""Plans of water and mowing go by the forecast as far as it goes, and by past years after it."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from swardbook.husbandry.happenings import Cut, Heads, Sow
from swardbook.planning.days_ahead import days_ahead
from swardbook.planning.mowing import next_cut
from swardbook.planning.situation import Situation
from swardbook.planning.water_plan import water_plan
from swardbook.weather.series import DailyWeather
from tests.support.grounds import look, on, seasons, weather

SEPTEMBER = date(2011, 9, 12)
MAY = date(2011, 5, 24)


def forecast(today: date, days: int, **more: object) -> DailyWeather:
    first = today + timedelta(days=1)
    return weather(first, today + timedelta(days=days), **more)  # type: ignore[arg-type]


def seedbed() -> Situation:
    sown = on(SEPTEMBER - timedelta(days=6), Sow("BB-0417", 30.0))
    return look(sown, today=SEPTEMBER, sky=seasons(2005, SEPTEMBER, rain=0.0))


def mown(**more: object) -> Situation:
    sky = seasons(2005, MAY, rain=3.0, **more)
    return look(on(MAY - timedelta(days=1), Cut(8.0, True)), today=MAY, sky=sky)


def test_the_source_says_until_when_the_forecast_goes() -> None:
    sky = days_ahead(seedbed(), 7, forecast(SEPTEMBER, 3))
    assert sky.source == (
        "the forecast to Thu 15 September 2011, then the same days of 6 past years"
    )
    assert [each.is_forecast for each in sky.days] == [True] * 3 + [False] * 4
    assert [each.day for each in sky.days] == [
        SEPTEMBER + timedelta(days=n) for n in range(1, 8)
    ]  # fmt: skip
    assert days_ahead(seedbed(), 3, forecast(SEPTEMBER, 9)).source == (
        "the forecast to Thu 15 September 2011"
    )
    assert days_ahead(seedbed(), 7).forecast_to is None


def test_days_after_the_forecast_are_those_of_past_years() -> None:
    without, given = days_ahead(seedbed(), 7), days_ahead(seedbed(), 7, forecast(SEPTEMBER, 3))
    assert given.days[3:] == without.days[3:]
    assert all(each.et0_low < each.et0 < each.et0_high for each in without.days)
    assert all(each.air_low <= each.air <= each.air_high for each in without.days)


def test_a_forecast_that_does_not_begin_tomorrow_is_not_laid_on() -> None:
    late = forecast(SEPTEMBER + timedelta(days=2), 3)
    assert days_ahead(seedbed(), 7, late).forecast_to is None


def test_rain_that_is_forecast_is_taken_off_a_seedbed_and_its_upper_end_is_without_it() -> None:
    sky = forecast(SEPTEMBER, 3, rain=lambda day: 1.2 * (day.day == 14))
    plan = water_plan(seedbed(), days=5, forecast=sky)
    dry = water_plan(seedbed(), days=5, forecast=forecast(SEPTEMBER, 3))
    by_day = {each.day.day: each for each in plan.days}
    beside = {each.day.day: each for each in dry.days}
    assert plan.forecast_to == date(2011, 9, 15)
    assert by_day[14].rain_mm == 1.2
    assert by_day[14].mm < beside[14].mm
    assert by_day[14].high_mm == beside[14].high_mm
    assert by_day[15] == beside[15]
    assert any("1 mm on Wed 14" in each for each in plan.told)


def test_a_wet_day_that_is_forecast_wants_no_dose_and_says_why() -> None:
    plan = water_plan(seedbed(), days=5, forecast=forecast(SEPTEMBER, 1, rain=12.0))
    assert SEPTEMBER + timedelta(days=1) not in [each.day for each in plan.days]
    assert plan.told[0] == (
        "Rain forecast and taken off: 12 mm on Tue 13. If it stays away, water that day."
    )


def test_rain_ahead_puts_off_the_watering_of_a_grown_sward() -> None:
    july = date(2011, 7, 5)
    sky = weather(july - timedelta(days=60), july, tmin=12.0, tmax=25.0,
                  rain=lambda day: 20.0 * (day == july - timedelta(days=1)))  # fmt: skip
    sit = look(today=july, sky=sky)
    dry = water_plan(sit, days=14)
    wet = water_plan(sit, days=14, forecast=forecast(july, 2, rain=6.0))
    assert dry.days[0].day < wet.days[0].day
    assert wet.days[0].rain_mm == 12
    assert wet.days[0].low_mm <= wet.days[0].mm <= wet.days[0].high_mm


def test_a_warm_forecast_brings_the_cut_nearer_and_a_cold_one_puts_it_off() -> None:
    warm = next_cut(mown(), forecast=forecast(MAY, 10, tmin=14.0, tmax=24.0))
    usual = next_cut(mown())
    cold = next_cut(mown(), forecast=forecast(MAY, 10, tmin=1.0, tmax=9.0))
    assert warm.third is not None
    assert usual.third is not None
    assert cold.third is not None
    assert warm.third.in_days is not None
    assert usual.third.in_days is not None
    assert warm.third.in_days < usual.third.in_days
    assert cold.third.in_days is None or cold.third.in_days > usual.third.in_days
    assert warm.forecast_to == MAY + timedelta(days=10)
    assert usual.ahead_from == "the same days of 6 past years"


def test_days_like_the_last_week_bring_the_cut_when_the_last_week_would() -> None:
    steady = {"tmin": 8.0, "tmax": 16.0}
    found = next_cut(mown(**steady), forecast=forecast(MAY, 16, **steady))
    assert found.third is not None
    assert found.growth is not None
    assert found.grass is not None
    left = found.third.due_mm - found.grass.height_mm
    assert found.third.in_days == pytest.approx(left / found.growth.rate, rel=1e-6)


def test_the_seeding_clock_runs_at_the_warmth_that_is_forecast() -> None:
    heads = on(MAY - timedelta(days=4), Heads())
    sky = seasons(2005, MAY, rain=3.0)
    sit = look(on(MAY - timedelta(days=300), Cut(60.0, True)), heads, today=MAY, sky=sky)
    warm = next_cut(sit, forecast=forecast(MAY, 8, tmin=16.0, tmax=30.0))
    cold = next_cut(sit, forecast=forecast(MAY, 8, tmin=2.0, tmax=8.0))
    assert warm.clock_days is not None
    assert cold.clock_days is not None
    left = warm.clock.working.degree_days - (warm.clock.degree_days or 0.0)
    assert warm.clock_days == pytest.approx(left / 23.0)
    assert warm.clock_days < cold.clock_days
