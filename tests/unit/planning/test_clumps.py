"""Clumps of Yorkshire fog: dug in early autumn or a moist spring, with a margin, and looked at."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Tolerance, Use
from swardbook.husbandry.happenings import ClumpCheck, DigClumps, Sow, Strip, Underfoot
from swardbook.planning.clumps import DIG, clumps_standing, what_came_back
from swardbook.planning.fit import fit_today
from swardbook.planning.morning import morning_look
from swardbook.planning.situation import Situation
from swardbook.planning.states import Overall, State
from swardbook.planning.tasks import Status, Task
from swardbook.planning.week import plan_week
from tests.support.grounds import look, mild_may, on, weather, zone

AUTUMN = date(2011, 9, 20)
SUMMER = date(2011, 7, 5)
FOG = "holcus lanatus"
SOWN = on(date(2009, 9, 1), Sow("BB-0417", 30.0))


def counted(standing: int, day: date) -> DiaryEntry:
    return on(day, ClumpCheck(FOG, 0, 0, None, standing))


def at(today: date, *entries: DiaryEntry) -> Situation:
    sky = weather(today - timedelta(days=200), today, tmin=8.0, tmax=17.0, rain=3.0)
    firm = on(today, Underfoot("firm"))
    return look(SOWN, firm, *entries, today=today, sky=sky)


def dig(sit: Situation) -> Task | None:
    return next((task for task in plan_week([sit]).tasks if task.job == DIG), None)


def test_clumps_beyond_what_is_fine_are_dug_in_early_autumn_with_margin_and_refill() -> None:
    task = dig(at(AUTUMN, counted(15, AUTUMN - timedelta(days=3))))
    assert task is not None
    assert (task.status, task.when) == (Status.DUE, "today")
    assert "15 clumps (Holcus lanatus)" in task.why
    assert "none is fine here" in task.why
    deep, holes = task.materials
    assert "50 to 75 mm deep, 100 mm beyond the last rooted node" in deep
    assert "turf from the nursery" in holes
    assert "the same lot, BB-0417" in holes
    assert task.caution
    assert (task.hours.low, task.hours.high) == pytest.approx((15 * 0.08, 15 * 0.3))


def test_in_summer_and_in_winter_digging_is_held_off_with_its_reason() -> None:
    for today, until in ((SUMMER, "early autumn"), (date(2011, 12, 6), "a moist spring")):
        task = dig(at(today, counted(15, today - timedelta(days=3))))
        assert task is not None
        assert task.status is Status.HELD_OFF
        assert until in task.when
        assert "season of digging" in task.held_off_because


def test_dry_ground_in_season_asks_for_a_look() -> None:
    sky = weather(AUTUMN - timedelta(days=200), AUTUMN, tmin=8.0, tmax=20.0, rain=0.0)
    fit = fit_today(look(SOWN, today=AUTUMN, sky=sky), DIG)
    assert fit.condition("season of digging").state is State.MET
    assert fit.condition("moist ground").state is State.UNKNOWN
    assert fit.overall is Overall.LOOK_FIRST


def test_nothing_is_dug_where_as_many_are_fine_or_nobody_counted() -> None:
    fine = zone(use=Use.SURROUND, tolerance=Tolerance(0.3, 0.05, 6))
    sky = mild_may(AUTUMN)
    few = look(SOWN, counted(6, AUTUMN), today=AUTUMN, sky=sky, of=fine)
    assert dig(few) is None
    assert dig(at(AUTUMN)) is None
    assert dig(at(AUTUMN, counted(9, AUTUMN), on(AUTUMN, Strip(30.0)))) is None


def test_what_was_dug_since_the_count_no_longer_stands() -> None:
    counting = counted(15, AUTUMN - timedelta(days=9))
    dug = on(AUTUMN - timedelta(days=2), DigClumps(FOG, 11, 100.0))
    assert clumps_standing(at(AUTUMN, counting, dug)).standing == 4
    unknown = on(AUTUMN - timedelta(days=2), DigClumps(FOG))
    assert clumps_standing(at(AUTUMN, counting, unknown)).standing is None


def test_what_came_back_is_told_by_margin() -> None:
    sit = at(
        AUTUMN,
        on(AUTUMN, ClumpCheck(FOG, 40, 2, 100.0)),
        on(AUTUMN, ClumpCheck(FOG, 18, 7, 0.0)),
    )
    assert what_came_back(sit) == "Came back here: 2 of 40 dug with the margin, 7 of 18 with less."
    assert what_came_back(at(AUTUMN)) == ""


def test_dug_clumps_are_looked_at_again_after_six_weeks() -> None:
    dug = on(AUTUMN - timedelta(days=43), DigClumps(FOG, 14, 100.0))
    names = [task.name for task in plan_week([at(AUTUMN, dug)]).tasks if task.job == "clumps"]
    assert names == ["Look again at 14 dug clumps, back or not"]
    seen = on(AUTUMN - timedelta(days=1), ClumpCheck(FOG, 14, 1, 100.0))
    again = plan_week([at(AUTUMN, dug, seen)]).tasks
    assert "clumps" not in {task.job for task in again}


def test_the_morning_look_has_a_line_for_it() -> None:
    section = morning_look([at(AUTUMN, counted(15, AUTUMN))]).section("pull")
    assert section is not None
    assert "15 clumps" in section.lines[0].text


def test_nobody_is_ever_told_to_tread_it_out() -> None:
    for today in (AUTUMN, SUMMER):
        task = dig(at(today, counted(15, today)))
        assert task is not None
        said = f"{task} {fit_today(at(today), DIG)}".casefold()
        assert not any(word in said for word in ("tread", "trampl", "traffic"))
