"""The best programme within some hours, on a made-up judge whose best is known."""

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from itertools import pairwise

import numpy as np
import pytest

from swardbook.evidence.verdicts import Verdict
from swardbook.husbandry.ground import Mower, Tolerance, Use, Zone
from swardbook.model.ahead import horizons
from swardbook.model.carrying import run_programme
from swardbook.model.never import Place, breaches_in
from swardbook.model.programmes import Box, Programme, work_hours
from swardbook.model.search import Curve, Judge, Tried, choices, judge_of, search
from tests.support.ahead import tonight

ZONE = Zone("Court", 400.0, Use.COURT_OR_GREEN, Tolerance(0.1, 0.03, 0), 8.0, Mower("cylinder"))
DRAWS = np.linspace(0.9, 1.1, 64)
HOURS = (0.5, 1.0, 2.0, 4.0, 8.0)


def judged(plan: Programme) -> Tried:
    """Each hour of pulling takes a part, a short rhythm of cuts a little, feed harms."""
    hours = 6.0 / plan.cut_days[0] / 3 + plan.pull_hours_week + 0.2 * plan.refills
    left = 0.4 * np.exp(-0.3 * plan.pull_hours_week) + 0.002 * plan.cut_days[0]
    cover = (left + 0.001 * plan.nitrogen_g_m2_year) * DRAWS
    return Tried(plan, hours, cover, cover, 0.01 * DRAWS)


def one_by_one(judge: Callable[[Programme], Tried]) -> Judge:
    return lambda plans: [judge(plan) for plan in plans]


def found(hours: tuple[float, ...] = HOURS, zone: Zone = ZONE) -> Curve:
    return search(Place(zone), one_by_one(judged), hours, by_plants=False)


def test_more_hours_never_give_a_worse_best() -> None:
    means = [each.best.mean for each in found().points]
    assert all(more <= fewer for fewer, more in pairwise(means))
    assert means[-1] < means[0]


def test_a_best_keeps_to_its_hours() -> None:
    assert all(each.best.hours_week <= each.hours for each in found().points)


def test_the_known_best_is_found() -> None:
    best = found().points[-1].best.plan
    assert best.pull_hours_week == 6
    assert best.nitrogen_g_m2_year == 0
    assert not best.refills
    assert max(best.cut_days) <= 4


def test_nothing_tried_breaks_a_never_do() -> None:
    seen: list[Programme] = []

    def watching(plan: Programme) -> Tried:
        seen.append(plan)
        return judged(plan)

    boxless = replace(ZONE, mower=Mower("cylinder", has_box=False))
    search(Place(boxless), one_by_one(watching), HOURS, by_plants=False)
    assert len(seen) == len(set(seen)) > 20
    assert {plan.box for plan in seen} == {Box.NEVER}
    assert not any(breaches_in(plan, Place(boxless)) for plan in seen)


def test_a_lawn_may_be_cut_less_often_than_fine_turf() -> None:
    def lazy(plan: Programme) -> Tried:
        return replace(judged(plan), weed=DRAWS / plan.cut_days[0])

    lawn = replace(ZONE, height_of_cut_mm=35.0)
    gaps = [
        search(Place(zone), one_by_one(lazy), (4.0,), by_plants=False)
        .points[0]
        .best.plan.cut_days[0]
        for zone in (ZONE, lawn)
    ]
    assert gaps == [4, 7]


def test_the_same_question_has_the_same_answer() -> None:
    one, two = found(), found()
    assert [each.best.plan for each in one.points] == [each.best.plan for each in two.points]
    assert one.tried == two.tried


def test_hours_that_bring_the_range_inside_what_is_fine_are_named() -> None:
    curve = found()
    assert curve.enough_hours == 8.0
    assert curve.points[-1].cover_percent.at80.high <= 10
    assert curve.points[-2].cover_percent.at80.high > 10


def test_where_no_hours_do_none_are_named() -> None:
    strict = replace(ZONE, tolerance=Tolerance(0.001, 0.03, 0))
    assert found(zone=strict).enough_hours is None


def test_hours_that_suffice_for_nothing_have_no_point() -> None:
    curve = found((0.01, 4.0))
    assert curve.at(0.01) is None
    assert [each.hours for each in curve.points] == [4.0]
    assert curve.least_hours > 0.01


def test_each_step_of_hours_has_its_verdict() -> None:
    first, *rest = found().points
    assert first.against_fewer is None
    assert {each.against_fewer.verdict for each in rest if each.against_fewer} >= {Verdict.CLEAR}


def test_what_is_tried_is_in_order_and_has_nothing_as_a_choice() -> None:
    for name in ("verticut_days", "pull_hours_week", "nitrogen_g_m2_year"):
        assert list(choices()[name]) == sorted(choices()[name])
        assert choices()[name][0] == 0


def test_a_programme_tried_out_comes_to_what_its_look_ahead_does() -> None:
    ahead, plan, grow = tonight()
    mark = horizons(ahead.today, ahead.latitude)[1]
    years = (mark.day - ahead.today).days / 365.25
    plans = [plan, replace(plan, pull_hours_week=2.0), replace(plan, refills=True, water_mm=3.0)]
    tried = judge_of(ahead, grow, by_plants=False, weeks=30.0)(plans)
    for each, wanted in zip(tried, plans, strict=True):
        looks, jobs = run_programme(ahead, wanted, "annual meadow-grass", [mark], grow)
        np.testing.assert_array_equal(each.weed, looks["autumn"].cover)
        machine = [
            work_hours(ahead.zone, [job for job in course if job.day <= mark.day], years).middle
            for course in jobs
        ]
        pulled = looks["autumn"].pull_hours * ahead.zone.area_m2 / years
        hours = np.mean(np.array(machine)[ahead.course_of_draw] + pulled) / 30.0
        assert each.hours_week == pytest.approx(hours)


def test_a_search_may_look_some_weeks_ahead_on_few_draws() -> None:
    ahead, plan, grow = tonight(96)
    judge = judge_of(ahead, grow, by_plants=False, weeks=8.0, until=ahead.today + timedelta(60))
    best = search(Place(ahead.zone), judge, (4.0,), by_plants=False).points[0].best
    assert best.weed.shape == (96,)
    assert best.mean <= judge([plan])[0].mean
