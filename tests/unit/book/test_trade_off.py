"""A search as a curve of steps, each in plain words."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from swardbook.book.look_ahead import Asked
from swardbook.book.searching import ZoneSearch, zone_search
from swardbook.book.trade_off import adds_nothing, telling, trade_off
from swardbook.demo.scenario import TODAY, made_up_ground, made_up_weather
from swardbook.evidence.verdicts import Verdict
from swardbook.foundation.errors import NotEnoughDataError
from tests.support.model import kernel


@cache
def searched(zone: str = "Main court") -> ZoneSearch:
    """Search with few draws."""
    return zone_search(Asked(made_up_ground(), made_up_weather(), TODAY, 64), zone, kernel())


def test_each_step_takes_more_hours_and_has_both_ranges_of_the_same_draws() -> None:
    found = trade_off(searched())
    points = telling(searched().curve.points)
    assert [each.hours for each in found.steps] == sorted(each.hours for each in found.steps)
    for step, point in zip(found.steps, points, strict=True):
        low, high = np.quantile(100 * point.best.weed, (0.05, 0.95))
        assert (step.at90.low, step.at90.high) == (low, high)
        assert step.at90.low <= step.at80.low <= step.middle <= step.at80.high <= step.at90.high


def test_the_first_step_says_all_that_is_done_and_the_others_what_is_done_otherwise() -> None:
    first, *others = trade_off(searched()).steps
    assert first.buys.startswith("cut every ")
    assert "no " not in first.buys
    assert first.against_fewer == ""
    for step in others:
        assert step.buys
        assert step.against_fewer.startswith("Against fewer hours: ")


def test_pulling_comes_in_where_a_plan_pulls() -> None:
    points = telling(searched().curve.points)
    assert [each.pulls for each in trade_off(searched()).steps] == [
        each.best.plan.pull_hours_week > 0 for each in points
    ]


def test_points_that_repeat_and_ends_that_add_nothing_are_left_out() -> None:
    first, second = searched().curve.points[:2]
    made = second.against_fewer
    assert made is not None
    equal = replace(made, verdict=Verdict.AS_GOOD_AS_EQUAL)
    idle = replace(second, against_fewer=equal)
    assert adds_nothing(idle)
    assert not adds_nothing(first)
    assert telling([first, idle, idle]) == (first,)
    again = replace(first, hours=first.hours + 1, against_fewer=made)
    assert telling([first, again, replace(second, against_fewer=made)])[0] == first
    assert len(telling([first, again, replace(second, against_fewer=made)])) == 2


def test_where_no_hours_suffice_there_is_too_little_to_draw() -> None:
    nothing = replace(searched(), curve=replace(searched().curve, points=()))
    with pytest.raises(NotEnoughDataError, match="a picture of hours"):
        trade_off(nothing)
