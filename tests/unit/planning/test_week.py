"""The week and the morning look: short, in order, inside the hours, with reasons."""

from __future__ import annotations

from datetime import date, timedelta

from swardbook.husbandry.happenings import (
    Closure,
    Count,
    Cut,
    DroughtSign,
    Feed,
    Frost,
    Heads,
    HoldOff,
    Sow,
    TuftCheck,
    Verticut,
    Water,
)
from swardbook.observations.counts import Method, PlaceCount
from swardbook.planning.morning import TITLES, morning_look
from swardbook.planning.situation import Situation
from swardbook.planning.tasks import HoursRange, Status, Task, Worth, merge
from swardbook.planning.week import Week, plan_week
from tests.support.grounds import MAY, grown, look, mild_may, on, seasons, site

MOIST = mild_may(rain=1.5)


def day(back: int, of: date = MAY) -> date:
    return of - timedelta(days=back)


def plants(density: float) -> Count:
    return Count(
        tuple(
            PlaceCount(f"P{n}", Method.PLANTS, {"annual meadow-grass": density * (n + 1) / 6}, 1.0)
            for n in range(10)
        )
    )


def task_of(week: Week, job: str) -> Task:
    return next(task for task in week.tasks if task.job == job)


HEADS = on(day(25), Heads())
LAST_CUT = on(day(12), Cut(8.0, True, True))


def test_a_cut_past_the_clock_comes_first_with_its_reason() -> None:
    week = plan_week([look(HEADS, LAST_CUT, *grown()[:2], sky=MOIST)])
    first = week.tasks[0]
    assert (first.job, first.status) == ("cut", Status.DUE)
    assert "past the clock" in first.why
    assert "Walk the lawn first" in first.caution
    assert first.hours.low > 0


def test_a_quiet_day_moves_a_job_to_tomorrow_and_does_not_hold_it_off() -> None:
    quiet = site(no_machines_on=("tuesday",))
    week = plan_week([look(HEADS, LAST_CUT, *grown()[:2], sky=MOIST, at=quiet)])
    assert (task_of(week, "cut").status, task_of(week, "cut").when) == (Status.DUE, "tomorrow")


def test_frost_holds_a_cut_off_and_says_to_what_it_loses() -> None:
    week = plan_week([look(HEADS, LAST_CUT, *grown()[:2], on(MAY, Frost("frost")), sky=MOIST)])
    task = task_of(week, "cut")
    assert task.status is Status.HELD_OFF
    assert task.held_off_because == "frost: frost noted, not noted as thawed"
    assert task.loses_to is not None
    assert task.loses_to.value == "frost and wet ground"
    assert "thawed" in task.when


def test_drought_holds_a_verticut_off_and_the_hold_off_is_a_task() -> None:
    sit = look(*grown(), HEADS, on(day(1), DroughtSign(True)), sky=MOIST)
    task = task_of(plan_week([sit]), "verticut")
    assert task.status is Status.HELD_OFF
    assert "footprinting" in task.held_off_because


def test_a_verticut_is_not_planned_sooner_than_ten_days_after_the_last() -> None:
    sit = look(*grown(), HEADS, on(day(8), Verticut(1.0)), sky=MOIST)
    assert "verticut" not in {task.job for task in plan_week([sit]).tasks}


def test_weed_within_tolerance_asks_for_no_verticut() -> None:
    few = Count(tuple(PlaceCount(f"P{n}", Method.POINTS, {"annual meadow-grass": 1}, 25)
                      for n in range(12)))  # fmt: skip
    many = Count(tuple(PlaceCount(f"P{n}", Method.POINTS, {"annual meadow-grass": 9}, 25)
                       for n in range(12)))  # fmt: skip

    def jobs(count: Count) -> set[str]:
        return {
            t.job for t in plan_week([look(*grown(), HEADS, on(day(5), count), sky=MOIST)]).tasks
        }

    assert "verticut" not in jobs(few)
    assert "verticut" in jobs(many)


def test_pulling_takes_the_hours_that_are_left_and_names_the_densest_places() -> None:
    sit = look(*grown(), on(day(5), plants(6.0)), sky=MOIST, at=site(weekly_hours=4.0))
    week = plan_week([sit])
    task = task_of(week, "pull")
    assert task.hours.high <= 4.0
    dense = look(on(day(5), Count((
        PlaceCount("P1", Method.PLANTS, {"annual meadow-grass": 9}, 1.0),
        *(PlaceCount(f"P{n}", Method.PLANTS, {"annual meadow-grass": 1}, 1.0) for n in (2, 3, 4)),
    ))), sky=MOIST)  # fmt: skip
    assert "at the last count by P1" in task_of(plan_week([dense]), "pull").why


def test_a_seedbed_that_dries_is_watered_before_anything_else() -> None:
    sown = on(day(6), Sow("BB-0417", 30.0))
    given = on(day(1), Water(depth_mm=2.0), who="Ines")
    sit = look(sown, given, HEADS, sky=mild_may(rain=0.0))
    first = plan_week([sit]).tasks[0]
    assert first.job == "water"
    assert "L, hose" in first.materials[0]
    assert "Ines" in first.why
    closed = on(day(3), Closure(None, "hose"))
    by_can = plan_week([look(sown, closed, sky=mild_may(rain=0.0))]).tasks[0]
    assert "cans" in by_can.materials[0]


def test_what_a_task_is_worth_is_asked_of_the_look_ahead() -> None:
    def worth(_: Situation, job: str) -> Worth:
        return Worth(f"skipping {job} adds 2 points", 2.0, 0.5, 4.0, "points")

    sit = look(HEADS, LAST_CUT, *grown()[:2], sky=MOIST)
    assert plan_week([sit], worth).tasks[0].worth.value == 2.0
    assert plan_week([sit]).tasks[0].worth.words == "not worked out"


def test_more_than_the_hours_waits_and_is_not_lost() -> None:
    entries = (HEADS, LAST_CUT, *grown()[:2], on(day(60), Feed("x", 25, 12)))
    week = plan_week([look(*entries, sky=MOIST, at=site(weekly_hours=0.3))])
    assert Status.WAITING in {task.status for task in week.tasks}
    assert week.hours_there_are == 0.3


def test_after_a_long_gap_in_growth_the_cut_steps_down() -> None:
    assert (
        "step down"
        in task_of(plan_week([look(HEADS, LAST_CUT, *grown()[:2], sky=MOIST)]), "cut").why
    )


def test_a_tuft_check_is_asked_for_and_then_not_again() -> None:
    entries = (*grown(), HEADS)
    assert "tufts" in {t.job for t in plan_week([look(*entries, sky=MOIST)]).tasks}
    checked = on(day(3), TuftCheck(20, 4))
    assert "tufts" not in {t.job for t in plan_week([look(*entries, checked, sky=MOIST)]).tasks}


def test_nobody_looked_for_heads_and_warmth_says_they_may_be_there() -> None:
    sit = look(*grown(), sky=seasons(2009, MAY))
    task = task_of(plan_week([sit]), "heads")
    assert "a hint only" in task.why


def test_tasks_of_one_kind_are_told_once_for_all_their_zones() -> None:
    base = Task("Cut", "cut", ("A",), Status.DUE, "today", HoursRange(1, 2), "w", "x", "", 2)
    other = Task("Cut", "cut", ("B",), Status.DUE, "today", HoursRange(1, 1), "w", "x", "", 1)
    merged = merge([base, other])
    assert len(merged) == 1
    assert (merged[0].zones, merged[0].hours, merged[0].urgency) == (
        ("A", "B"), HoursRange(2, 3), 1,
    )  # fmt: skip


def test_pulling_that_is_longer_than_the_hours_says_both() -> None:
    sit = look(*grown(), on(day(5), plants(6.0)), sky=MOIST, at=site(weekly_hours=4.0))
    week = plan_week([sit])
    task = task_of(week, "pull")
    assert task.whole is not None
    assert task.whole.high > 4.0
    assert task.hours_words.startswith("up to ")
    assert f"a whole pass is {task.whole.words}" in task.hours_words
    assert "pulling has what is left of your 4 h" in week.hours_words
    enough = plan_week([look(*grown(), on(day(5), plants(6.0)), sky=MOIST,
                             at=site(weekly_hours=400.0))])  # fmt: skip
    assert task_of(enough, "pull").whole is None
    assert "You have 400 h." in enough.hours_words


def test_short_jobs_come_before_a_pass_without_end_and_leave_it_its_share() -> None:
    entries = (*grown(), HEADS, on(day(5), plants(40.0)), on(day(60), Feed("x", 25, 12)))
    week = plan_week([look(*entries, sky=MOIST, at=site(weekly_hours=6.0))])
    fixed = sum(task.hours.middle for task in week.of(Status.DUE) if task.job != "pull")
    assert task_of(week, "pull").hours.high >= 0.3 * 6.0 - 0.5
    assert fixed + task_of(week, "pull").hours.high <= 6.0


def test_reasons_of_several_zones_are_told_apart() -> None:
    def task(zone: str, why: str) -> Task:
        return Task("Feed", "feed", (zone,), Status.DUE, "today", HoursRange(1, 2), why, "", "", 5)

    (alike,) = merge([task("A", "Six days since."), task("B", "Six days since.")])
    assert alike.why == "Six days since."
    (apart,) = merge([task("A", "0.0 g so far."), task("B", "8.5 g so far.")])
    assert apart.why == "A: 0.0 g so far."
    (named,) = merge([task("A", "It lifts. A: none."), task("B", "It lifts. B: 9 days ago.")])
    assert named.why == "It lifts. A: none. B: 9 days ago."


def test_what_holds_for_all_zones_stands_after_what_is_one_zones_own() -> None:
    def task(zone: str) -> Task:
        return Task("Sow", "sow", (zone,), Status.DUE, "today", HoursRange(1, 2), "", "", "", 5,
                    (f"{zone}: Bobbin", "in two directions"))  # fmt: skip

    (merged,) = merge([task("A"), task("B")])
    assert merged.materials == ("A: Bobbin", "B: Bobbin", "in two directions")


def test_hours_are_said_as_a_person_says_them() -> None:
    assert HoursRange(10.4, 13.6).words == "10 to 14 h"
    assert HoursRange(0.1, 0.3).words == "5 to 20 min"
    assert HoursRange(1.1, 2.4).words == "1 to 2.5 h"
    assert HoursRange(0, 0).words == "no time"


# the first screen


def test_the_first_screen_keeps_its_order_says_what_dries_and_drops_what_says_nothing() -> None:
    keys = [section.key for section in morning_look([look(*grown(), HEADS, sky=MOIST)]).sections]
    assert keys == [key for key in TITLES if key in keys]
    assert keys[0] == "stops"
    assert keys[1] == "drying"
    assert "pull" not in keys


def test_the_first_screen_says_what_stops_and_what_it_waits_for() -> None:
    sit = look(*grown(), on(MAY, Frost("frost")), sky=MOIST)
    stops = morning_look([sit]).section("stops")
    assert stops is not None
    assert stops.lines[0].word == "not met"
    assert "Next fit when 'thawed' noted" in stops.lines[0].text
    firm = morning_look([look(*grown(), sky=MOIST)]).section("stops")
    assert firm is not None
    assert firm.nothing.startswith("Nothing")


def test_the_first_screen_does_not_call_a_day_free_on_which_drought_or_heat_stops_most_jobs() -> (
    None
):
    dry = morning_look([look(*grown(), sky=mild_may(rain=0.0))]).section("stops")
    assert dry is not None
    assert any(line.text.startswith("drought: ") for line in dry.lines)
    hot = morning_look([look(*grown(), sky=mild_may(rain=3.0, tmax=31.0))]).section("stops")
    assert hot is not None
    assert any(line.text.startswith("heat: maximum 31 °C") for line in hot.lines)


def test_the_first_screen_tells_heads_lifted_and_boxed() -> None:
    lifted = (on(day(2), Verticut(1.0)), on(day(2), Cut(8.0, True)))
    clock = morning_look([look(*grown(), HEADS, *lifted, sky=MOIST)]).section("clock")
    assert clock is not None
    assert "heads since 29 Apr; lifted and boxed 22 May" in clock.lines[0].text


def test_a_recorded_hold_off_is_thanked_with_its_reason() -> None:
    held = on(day(2), HoldOff("verticut", "dry, heads up"))
    section = morning_look([look(*grown(), held, sky=MOIST)]).section("held_off")
    assert section is not None
    assert any("dry, heads up" in line.text for line in section.lines)


def test_an_empty_book_has_a_morning_too() -> None:
    assert morning_look([look()]).sections
    assert {task.job for task in plan_week([look()]).tasks} <= {"heads"}
