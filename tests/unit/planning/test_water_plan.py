"""Watering ahead: seedbed or grown sward, who is here, hose or cans, and minutes from tins."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swardbook.foundation.errors import NotEnoughDataError
from swardbook.husbandry.happenings import Closure, Sow, Water
from swardbook.husbandry.tins import longest_run, run_for, scheduling_multiplier
from swardbook.planning.situation import Situation
from swardbook.planning.water_plan import Helper, Tap, cans_for, water_plan
from tests.support.grounds import look, on, seasons, site, weather

SEPTEMBER = date(2011, 9, 12)
JULY = date(2011, 7, 5)


def seedbed(*entries: object, **more: object) -> Situation:
    sown = on(SEPTEMBER - timedelta(days=6), Sow("BB-0417", 30.0))
    sky = seasons(2005, SEPTEMBER, rain=0.0)
    return look(sown, *entries, today=SEPTEMBER, sky=sky, **more)  # type: ignore[arg-type]


def dry_sward(**more: object) -> Situation:
    sky = weather(JULY - timedelta(days=60), JULY, tmin=12.0, tmax=25.0, rain=0.0)
    return look(on(JULY - timedelta(days=15), Water(15.0)), today=JULY, sky=sky, **more)  # type: ignore[arg-type]


def test_a_seedbed_is_watered_daily_in_small_doses_by_what_past_years_lost() -> None:
    plan = water_plan(seedbed(), days=5)
    assert plan.kind == "seedbed"
    assert [each.day for each in plan.days] == [SEPTEMBER + timedelta(days=n) for n in range(5)]
    assert all(0.7 <= each.mm / each.doses <= 2 for each in plan.days)
    assert all(each.low_mm <= each.mm + 0.6 and each.mm <= each.high_mm + 0.6 for each in plan.days)
    assert plan.usual_from == "the same days of 6 past years"
    assert plan.litres == pytest.approx(sum(each.mm for each in plan.days) * 460.8)


def test_a_day_with_nobody_or_too_few_hours_is_told() -> None:
    helpers = [Helper("Ines", frozenset({0}), 4.0), Helper("Bram", frozenset({1}), 0.1)]
    monday, tuesday, wednesday = water_plan(seedbed(), helpers, days=3).days
    assert (monday.who, monday.is_covered) == (("Ines",), True)
    assert (tuesday.who, tuesday.is_covered) == (("Bram",), False)
    assert (wednesday.who, wednesday.is_covered) == ((), False)
    assert water_plan(seedbed(), days=1).days[0].is_covered is None


def test_under_a_restriction_cans_carry_refills_and_not_a_lawn() -> None:
    """B10 and N26."""
    hose = on(SEPTEMBER - timedelta(days=9), Closure(SEPTEMBER + timedelta(days=20), "hose"))
    whole = water_plan(seedbed(hose))
    assert not whole.hose_allowed
    assert not whole.cans_carry
    assert all(each.tap_min is None for each in whole.days)
    assert any("Cans cannot carry this" in each for each in whole.told)
    refills = water_plan(seedbed(hose), refills_m2=2.2)
    assert refills.kind == "refills"
    assert refills.cans_carry
    assert max(each.can_min for each in refills.days) < 5


def test_a_grown_sward_waits_until_it_asks_and_gets_it_at_once() -> None:
    plan = water_plan(dry_sward(), days=14)
    assert plan.kind == "sward"
    assert plan.depletion_mm is not None
    assert plan.ready_mm is not None
    assert plan.days
    assert all(each.doses == 1 and each.mm >= plan.ready_mm for each in plan.days)
    assert all(a.day < b.day for a, b in zip(plan.days, plan.days[1:], strict=False))
    assert any("Deep and seldom" in each for each in plan.told)


def test_minutes_come_from_tins_with_the_multiplier_and_in_turns() -> None:
    tap = Tap(falls_mm_h=21.75, lowest_quarter=0.7126, sinks_mm_h=6.25)
    plan = water_plan(dry_sward(), tap=tap)
    assert plan.run is not None
    assert plan.run.multiplier == pytest.approx(1.2083, abs=1e-3)
    assert plan.run.run_min == pytest.approx(plan.run.plain_min * plan.run.multiplier)
    assert plan.run.turns is not None
    assert plan.run.turns > 1
    assert plan.run.soak_min == pytest.approx(60 * 3 / 6.25)


def test_without_weather_there_is_no_plan_and_without_a_hose_no_minutes() -> None:
    with pytest.raises(NotEnoughDataError, match="daily weather"):
        water_plan(look(today=JULY))
    plan = water_plan(dry_sward(at=site(hose_l_min=None)))
    assert plan.tap_hours is None
    assert any("Time a 10 L bucket" in each for each in plan.told)


@given(st.floats(0, 1))
def test_the_multiplier_never_asks_for_more_than_dividing_by_evenness(share: float) -> None:
    found = scheduling_multiplier(share)
    assert 1 <= found <= 2.5 + 1e-9
    if share > 0.01:
        assert found <= 1 / share + 1e-9


@given(st.floats(1, 30), st.floats(5, 60), st.floats(0.4, 1), st.floats(0.5, 80))
def test_no_turn_is_longer_than_the_ground_takes(
    depth: float, falls: float, share: float, sinks: float
) -> None:
    run = run_for(depth, falls, share, sinks)
    assert run.turns is not None
    assert run.turn_min is not None
    assert run.turns * run.turn_min == pytest.approx(run.run_min)
    longest = longest_run(falls, sinks)
    if longest is not None:
        assert run.turn_min <= longest + 1e-6


def test_cans_are_whole_trips() -> None:
    assert cans_for(0) == 0
    assert cans_for(10) == pytest.approx(1.5)
    assert cans_for(10.1) == pytest.approx(3)
