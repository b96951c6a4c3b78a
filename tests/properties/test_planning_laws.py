"""Laws of planning that hold for any diary: unknown is never met, nothing is read from ahead."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.happenings import (
    Closure,
    Cut,
    Disease,
    DroughtSign,
    Feed,
    Frost,
    Happening,
    Heads,
    Pull,
    Refill,
    Sow,
    TuftCheck,
    TugTest,
    Underfoot,
    Verticut,
    Water,
)
from swardbook.planning.clock import seeding_clock
from swardbook.planning.cut_gaps import exposed_days
from swardbook.planning.fit import JOBS, MACHINE_JOBS, fit_today
from swardbook.planning.morning import TITLES, morning_look
from swardbook.planning.situation import situation
from swardbook.planning.states import Overall, State
from swardbook.planning.tasks import Status
from swardbook.planning.week import plan_week
from tests.support.grounds import MAY, ZONE, ground, look, on, weather

ANSWER = st.sampled_from([True, False, None])
SKY = weather(
    date(2010, 5, 24), MAY + timedelta(days=60),
    lambda day: 8 + 5 * np.sin(day.toordinal() / 9),
    lambda day: 17 + 7 * np.sin(day.toordinal() / 7),
    lambda day: float(max(0, (day.toordinal() * 7919) % 13 - 7)),
)  # fmt: skip
WORST = [Overall.FIT, Overall.LOOK_FIRST, Overall.NOT_FIT]
WHAT: st.SearchStrategy[Happening] = st.one_of(
    st.builds(Cut, st.just(8.0), ANSWER, ANSWER),
    st.builds(Verticut, st.just(1.0), line_deg=st.sampled_from([20.0, -20.0, None])),
    st.builds(Sow, st.sampled_from(["BB-0417", "", "XX"]), st.just(30.0),
              st.sampled_from([None, 5.0, 100.0])),
    st.builds(Refill, st.just("BB-0417"), st.integers(1, 80), st.just(100.0)),
    st.builds(Heads, st.booleans()),
    st.builds(TuftCheck, st.just(20), st.integers(0, 20)),
    st.builds(TugTest, st.booleans()),
    st.builds(Frost, st.sampled_from(["frost", "thawed", "frozen ground"])),
    st.builds(Underfoot, st.sampled_from(["firm", "soft", "waterlogged", "standing water", "dry"])),
    st.builds(DroughtSign, st.booleans()),
    st.builds(Disease, st.sampled_from(["red thread", "grubs"]), st.booleans()),
    st.builds(Feed, st.just("x"), st.just(20.0), st.sampled_from([None, 12.0])),
    st.builds(Water, st.sampled_from([None, 2.0]), place=st.sampled_from(["", "seedbed"])),
    st.builds(Closure, st.none(), st.sampled_from(["feet", "machines", "hose", "play"])),
    st.builds(Pull, st.just("poa annua"), st.integers(0, 500), st.just(100.0)),
)  # fmt: skip
ENTRIES = st.lists(
    st.builds(
        lambda what, back, span: on(MAY - timedelta(days=back), what,
                                    last=MAY - timedelta(days=max(back - span, 0))),
        WHAT, st.integers(0, 400), st.sampled_from([0, 0, 0, 9]),
    ),
    max_size=14,
)  # fmt: skip
law = settings(
    max_examples=60, deadline=None, derandomize=True,
    suppress_health_check=[HealthCheck.too_slow],
)  # fmt: skip


@law
@given(ENTRIES)
def test_fit_means_that_every_condition_is_met(entries: list[DiaryEntry]) -> None:
    sit = look(*entries, sky=SKY)
    for job in JOBS:
        fit = fit_today(sit, job)
        if fit.overall is Overall.FIT:
            assert all(each.state is State.MET for each in fit.conditions)
        for each in fit.conditions:
            assert each.state is not State.MET or each.source, each


@law
@given(ENTRIES)
def test_without_weather_or_a_record_a_condition_is_never_met(entries: list[DiaryEntry]) -> None:
    kept: dict[str, type[Happening] | None] = {
        "frost": Frost, "wet ground": Underfoot, "drought": DroughtSign, "heat": None,
        "growing now": None, "tug test": TugTest,
    }  # fmt: skip
    for name, record in kept.items():
        rest = [each for each in entries if record is None or not isinstance(each.what, record)]
        fit = fit_today(look(*rest), "verticut")
        if name == "tug test" and not any(isinstance(each.what, Sow | Refill) for each in rest):
            continue
        if name == "tug test" and fit.condition(name).because.startswith(("grown", "no sowing")):
            continue
        assert fit.condition(name).state is not State.MET, name


@law
@given(ENTRIES, st.sampled_from(["frost", "frozen ground"]))
def test_a_frost_record_never_makes_a_machine_job_fitter(
    entries: list[DiaryEntry], state: str
) -> None:
    before, after = look(*entries, sky=SKY), look(*entries, on(MAY, Frost(state)), sky=SKY)
    for job in (*MACHINE_JOBS, "feet", "play"):
        was, now = fit_today(before, job).overall, fit_today(after, job).overall
        assert WORST.index(now) >= WORST.index(was), job
        assert now is Overall.NOT_FIT


@law
@given(ENTRIES, WHAT, st.integers(1, 50))
def test_nothing_after_today_changes_anything(
    entries: list[DiaryEntry], what: Happening, ahead: int
) -> None:
    later = on(MAY + timedelta(days=ahead), what)
    whole = situation(ground(*entries, later), ZONE, SKY, MAY)
    known = situation(ground(*entries), ZONE, SKY.until(MAY), MAY)
    assert [fit_today(whole, job) for job in JOBS] == [fit_today(known, job) for job in JOBS]
    assert plan_week([whole]) == plan_week([known])
    assert morning_look([whole]) == morning_look([known])


@law
@given(ENTRIES)
def test_a_week_is_short_and_every_task_says_why(entries: list[DiaryEntry]) -> None:
    found = plan_week([look(*entries, sky=SKY)])
    assert len(found.tasks) <= 8
    for task in found.tasks:
        assert task.why
        assert task.wrong_if
        assert task.worth.words
        assert (task.status is Status.HELD_OFF) == bool(task.held_off_because)
    order = [section.key for section in morning_look([look(*entries, sky=SKY)]).sections]
    assert order == [key for key in TITLES if key in order]


@law
@given(ENTRIES)
def test_an_unboxed_cut_never_turns_the_clock_back(entries: list[DiaryEntry]) -> None:
    heads = on(MAY - timedelta(days=15), Heads())
    cut = on(MAY, Cut(8.0, boxed=False))
    before = seeding_clock(look(*entries, heads, sky=SKY)).degree_days
    after = seeding_clock(look(*entries, heads, cut, sky=SKY)).degree_days
    assert before is None or (after is not None and after >= before)


@given(st.lists(st.integers(0, 40)), st.integers(0, 20))
def test_a_longer_clock_never_leaves_more_days_exposed(gaps: list[int], clock: int) -> None:
    assert exposed_days(gaps, clock + 1) <= exposed_days(gaps, clock)


def test_a_situation_can_be_moved_to_another_day_without_touching_the_ground() -> None:
    whole = ground(on(MAY, Frost("frost")))
    assert situation(whole, ZONE, SKY, MAY - timedelta(days=1)).ground.diary == ()
    assert replace(whole) == whole
