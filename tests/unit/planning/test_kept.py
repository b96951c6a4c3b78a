"""Kept answers: the week and the morning look go by them, and say when they have aged."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from typing import Any

import pytest

from swardbook.handbook.kept_answers import kept_questions
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Zone
from swardbook.husbandry.happenings import (
    Closure,
    Count,
    Cut,
    DigClumps,
    Feed,
    Happening,
    Reading,
    Refill,
    Scarify,
    Seedlings,
    Sow,
    Strip,
    Verticut,
    Water,
)
from swardbook.husbandry.kept_facts import FACTS, facts_under
from swardbook.husbandry.worked_out import WorkedOut
from swardbook.observations.counts import Method, PlaceCount
from swardbook.planning.kept import KeptState, kept_answer, kept_words
from swardbook.planning.kept_route import next_job
from swardbook.planning.morning import TITLES, morning_look
from swardbook.planning.situation import Situation
from swardbook.planning.tasks import Status, Task
from swardbook.planning.week import plan_week
from tests.support.grounds import BOBBIN, MAY, grown, look, mild_may, on, seasons, zone

AUGUST = date(2011, 8, 28)
SKY = seasons(2005, AUGUST)
STRIPPED = on(AUGUST - timedelta(days=20), Strip(15.0))
GO = {"2011-09-02": "go", "2011-09-09": "go", "2011-09-12": "go", "2011-10-20": "too late"}


def kept(
    day: date, about: str, words: str = "", rests_on: Mapping[str, str] | None = None, **parts: Any
) -> DiaryEntry:
    return on(day, WorkedOut(about, words, rests_on=rests_on or {}, **parts))


def sown_when(day: date = AUGUST - timedelta(days=2), **more: Any) -> DiaryEntry:
    return kept(day, "when to sow", "go.", given={"sown": "Bobbin, lot BB-0417"}, named=GO, **more)


def tasks(sit: Situation) -> dict[str, Task]:
    return {task.job: task for task in plan_week([sit]).tasks}


def state(sit: Situation, about: str) -> KeptState:
    found = kept_answer(sit, about)
    assert found is not None
    return found.state


def words(sit: Situation, about: str) -> str:
    found = kept_answer(sit, about)
    assert found is not None
    return kept_words(sit, found)


def morning_texts(sit: Situation, key: str) -> list[str]:
    section = morning_look([sit]).section(key)
    return [] if section is None else [line.text for line in section.lines]


# when to sow


def test_the_week_says_from_when_to_when_to_sow_and_when_that_was_kept() -> None:
    sit = look(STRIPPED, sown_when(), today=AUGUST, sky=SKY)
    task = tasks(sit)["sow"]
    assert task.status is Status.WAITING
    assert task.when == "from 2 to 12 September, as kept on 26 August"
    assert task.kept == ("Sow from 2 to 12 September: kept on 26 August.",)
    assert morning_texts(sit, "sow")[0] == "Sow from 2 to 12 September: kept on 26 August."


def test_within_its_days_a_kept_sowing_is_due_or_held_off_by_fit_alone() -> None:
    day = date(2011, 9, 5)
    task = tasks(look(STRIPPED, sown_when(), today=day, sky=seasons(2005, day)))["sow"]
    assert task.status is not Status.WAITING
    assert task.kept == ("Sow from 2 to 12 September: kept on 26 August.",)


def test_a_kept_sowing_stands_in_the_week_of_a_sward_that_asks_for_none() -> None:
    sit = look(*grown(AUGUST), sown_when(), today=AUGUST, sky=SKY)
    assert tasks(sit)["oversow"].when == "from 2 to 12 September, as kept on 26 August"
    assert "oversow" not in tasks(look(*grown(AUGUST), today=AUGUST, sky=SKY))


def test_a_kept_sowing_is_over_with_its_days_or_with_the_sowing() -> None:
    late = date(2011, 9, 20)
    assert state(look(STRIPPED, sown_when(), today=late), "when to sow") is KeptState.PAST
    done = look(STRIPPED, sown_when(), on(date(2011, 9, 3), Sow("BB-0417", 30.0)), today=late)
    assert state(done, "when to sow") is KeptState.DONE


# mixture and materials


@pytest.mark.parametrize(
    ("about", "said"),
    [
        ("mixture", "Bobbin, lot BB-0417, Gatepost"),
        ("seed bags", "13.8 kg in 2 bays at 30 g/m²"),
        ("dressing", "3 mm of rootzone: 1.94 m³ loose"),
    ],
)
def test_mixture_bags_and_dressing_stand_beside_the_sowing(about: str, said: str) -> None:
    sit = look(STRIPPED, kept(AUGUST, about, said), today=AUGUST, sky=SKY)
    [line] = tasks(sit)["sow"].kept
    assert said in line
    assert line.endswith("kept on 28 August.")


def test_a_refill_order_stands_beside_digging_and_the_open_gaps() -> None:
    order = kept(MAY, "refill order", "40 holes of 90 mm: 19 L soil, 7 g")
    dug = on(MAY - timedelta(days=3), DigClumps(clumps=40, margin_mm=100))
    sit = look(*grown(), dug, order, sky=mild_may())
    assert any("40 holes of 90 mm" in each for each in morning_texts(sit, "gaps"))
    filled = look(*grown(), dug, order, on(MAY, Refill("BB-0417", 40)), sky=mild_may())
    assert state(filled, "refill order") is KeptState.DONE


@pytest.mark.parametrize(
    ("about", "said"),
    [("feed order", "7.68 kg of 12-0-9, 2.0 g N/m²"), ("spreader", "setting 4.2"),
     ("sprayer", "400 L/ha")],
)  # fmt: skip
def test_product_and_setting_stand_beside_the_feed(about: str, said: str) -> None:
    sit = look(*grown(), kept(MAY - timedelta(days=1), about, said), sky=mild_may())
    assert any(said in each for each in tasks(sit)["feed"].kept)


def test_spoil_stands_beside_scarifying() -> None:
    route = kept(AUGUST, "route", named={"route": "oversow", "first": ""})
    low = on(AUGUST, Cut(5.0, True))
    spoil = kept(AUGUST, "spoil", "slits: 0.9 m³ loose, 11 barrows")
    sit = look(*grown(AUGUST), route, low, spoil, today=AUGUST, sky=SKY)
    assert any("11 barrows" in each for each in tasks(sit)["scarify"].kept)


# route


def test_a_kept_route_brings_its_jobs_one_after_the_other() -> None:
    route = kept(AUGUST - timedelta(days=9), "route", found={"hours": 40.0},
                 named={"route": "hard renovation", "first": "drainage, thatch"})  # fmt: skip
    sit = look(*grown(AUGUST), route, today=AUGUST, sky=SKY)
    assert words(sit, "route").startswith("Hard renovation, next: cut low, 1 of 2; kept on 19")
    assert words(sit, "route").endswith("Before all: drainage and thatch put right.")
    low = [on(AUGUST - timedelta(days=8 - n), Cut(5.0, True)) for n in (0, 4)]
    sit = look(*grown(AUGUST), route, *low, today=AUGUST, sky=SKY)
    task = tasks(sit)["scarify"]
    assert task.name == "Scarify, 1 of 3"
    assert "the next job of the hard renovation kept on 19 August" in task.why
    assert task.wrong_if == "drainage or thatch is not put right first"
    assert 0 < task.hours.low < task.hours.high
    done = on(AUGUST - timedelta(days=1), Scarify(3.0, passes=2))
    sit = look(*grown(AUGUST), route, *low, done, today=AUGUST, sky=SKY)
    assert tasks(sit)["scarify"].name == "Scarify, 3 of 3"


def test_an_ordinary_cut_is_not_the_low_cut_of_a_route() -> None:
    named = {"route": "oversow"}
    sit = look(on(AUGUST, Cut(8.0, True)), on(AUGUST, Cut(None, True)), today=AUGUST)
    found = next_job(sit, named, AUGUST)
    assert found is not None
    assert (found.name, found.kind) == ("cut low", "cut")


def test_a_route_whose_jobs_are_all_in_the_diary_is_over() -> None:
    from swardbook.husbandry.happenings import Brush, Dress

    route = kept(AUGUST - timedelta(days=9), "route", named={"route": "oversow"})
    day = AUGUST - timedelta(days=8)
    did = [on(day, what) for what in (Cut(5.0), Scarify(2.0), Brush("rake"), Sow("BB-0417", 15.0),
                                      Dress("rootzone"))]  # fmt: skip
    sit = look(route, *did, today=AUGUST)
    assert state(sit, "route") is KeptState.PAST


# water, cut, verticut, feed


def test_kept_days_and_minutes_of_watering_are_the_weeks() -> None:
    july = date(2011, 7, 5)
    plan = kept(july, "water plan", "1 watering", found={"run_min": 62.0, "litres_l": 5530.0},
                named={"kind": "sward", "until": "2011-07-11",
                       "2011-07-08": "12 mm, 5,530 L, sprinkler 2 x 31 min"})  # fmt: skip
    sit = look(*grown(july), plan, today=july, sky=seasons(2005, july, rain=0.0))
    task = tasks(sit)["water"]
    assert (task.status, task.when) == (Status.WAITING, "on 8 July, as kept on 5 July")
    assert "sprinkler 2 x 31 min" in task.materials[0]
    assert 0 < task.hours.high < 62 / 60
    assert any("Water on 8 July" in each for each in morning_texts(sit, "drying"))
    given = look(*grown(july), plan, on(date(2011, 7, 8), Water(12.0)), today=date(2011, 7, 9),
                 sky=seasons(2005, date(2011, 7, 9), rain=0.0))  # fmt: skip
    assert "water" not in tasks(given)
    over = look(plan, today=date(2011, 7, 12))
    assert state(over, "water plan") is KeptState.PAST


def test_kept_minutes_stand_beside_the_water_of_a_seedbed() -> None:
    day = date(2011, 9, 12)
    sown = on(day - timedelta(days=6), Sow("BB-0417", 30.0))
    plan = kept(day, "water plan", named={"kind": "seedbed", "until": "2011-09-18",
                "2011-09-12": "2 x 1.0 mm, 922 L, 66 min at the tap, Ines"})  # fmt: skip
    sit = look(sown, plan, today=day, sky=seasons(2005, day, rain=0.0))
    assert tasks(sit)["water"].kept == (
        "Water today, 2 x 1.0 mm, 922 L, 66 min at the tap, Ines, less rain that falls: kept on"
        " 12 September.",
    )


def test_a_kept_cut_stands_in_the_week_with_its_height_and_line() -> None:
    plan = kept(MAY, "next cut", found={"cut_mm": 8.0, "line_deg": 45.0},
                named={"cut on": "2011-05-27", "decides": "one-third rule"})  # fmt: skip
    cut_today = on(MAY - timedelta(days=0), Cut(8.0, True))
    sit = look(cut_today, plan, today=MAY, sky=mild_may())
    task = tasks(sit)["cut"]
    assert (task.status, task.when) == (Status.WAITING, "by 27 May, as kept on 24 May")
    assert task.kept == ("Cut by 27 May at 8 mm, line +45°: kept on 24 May.",)
    day = date(2011, 5, 27)
    cut = look(cut_today, plan, on(day, Cut(8.0, True)), today=day, sky=mild_may(day))
    assert state(cut, "next cut") is KeptState.DONE


def test_a_kept_verticut_keeps_its_depth_datum_and_line() -> None:
    plan = kept(MAY, "verticut plan", found={"depth_mm": 1.5, "line_deg": -30.0},
                given={"passes": "2"}, named={"datum": "below height of cut"})  # fmt: skip
    sit = look(plan, today=MAY)
    assert words(sit, "verticut plan") == (
        "Verticut 1.5 mm below height of cut, line -30°, 2 passes: kept on 24 May."
    )
    done = look(plan, on(MAY, Verticut(1.5)), today=MAY)
    assert state(done, "verticut plan") is KeptState.DONE


def test_a_kept_feed_plan_gives_the_next_dose_with_its_limits() -> None:
    plan = kept(date(2011, 3, 5), "feed plan", found={"year_g_m2": 8.0})
    fed = on(MAY - timedelta(days=60), Feed("feed", 25.0, 12.0))
    sit = look(*grown(), plan, fed, sky=mild_may())
    [line] = tasks(sit)["feed"].kept
    assert line.startswith("8 g N/m² for the year, 3.0 given, 5.0 left: kept on 5 March. Next")
    assert "at most" in line
    assert any("8 g N/m² for the year" in each for each in morning_texts(sit, "feed"))
    lately = on(MAY - timedelta(days=12), Feed("feed", 8.0, 12.0))
    soon = tasks(look(*grown(), plan, lately, sky=mild_may()))["feed"]
    assert soon.status is Status.WAITING
    assert soon.when.endswith("as kept on 5 March")
    later = look(plan, today=date(2012, 4, 2))
    assert state(later, "feed plan") is KeptState.PAST


def test_a_kept_watch_stands_beside_the_look_for_seedlings() -> None:
    day = date(2011, 9, 16)
    sown = on(day - timedelta(days=14), Sow("BB-0417", 30.0))
    watch = kept(day, "germination watch", "too early: Browntop bent may come until 2 October")
    sit = look(sown, watch, today=day, sky=seasons(2005, day))
    [line] = tasks(sit)["seedlings"].kept
    assert "too early" in line


# what has aged


def counted(day: date) -> Happening:
    return Count((PlaceCount("P1", Method.POINTS, {"sown": 40.0}, 100.0),))


WIDER = zone(area_m2=500.0)
LOWER = zone(height_of_cut_mm=6.0)
AGES = [
    ("route", on(AUGUST, counted(AUGUST)), None, "count of Sun 28 August 2011, after it was kept"),
    ("route", on(AUGUST, Reading("thatch", 24.0, "mm")), None, "thatch cores of Sun 28 August"),
    ("route", on(AUGUST, Reading("infiltration", 9.0, "mm/h")), None, "ring test of Sun 28"),
    ("route", None, WIDER, "area was 460.8 m², now 500 m²"),
    ("mixture", None, LOWER, "height of cut was 8 mm, now 6 mm"),
    ("germination watch", on(AUGUST, Seedlings("bent", per_m2=900.0)), None, "count of seedlings"),
    ("water plan", on(AUGUST, WorkedOut("tins", "even")), None, "tins of Sun 28 August 2011"),
    ("water plan", on(AUGUST, Closure(date(2011, 9, 30), "hose")), None, "hose restriction of Sun"),
    ("feed plan", on(AUGUST, Reading("K", 45.0, "mg/kg")), None, "soil test of Sun 28 August"),
    ("next cut", on(AUGUST, WorkedOut("mower, cylinder", "x")), None, "facts of the mower of Sun"),
    ("next cut", on(AUGUST, Reading("sward height", 14.0, "mm")), None, "height measured of Sun"),
    ("verticut plan", on(AUGUST, WorkedOut("verticut unit", "x")), None, "facts of the verticut"),
    ("seed bags", None, WIDER, "area was 460.8 m², now 500 m²"),
    ("refill order", on(AUGUST, DigClumps(clumps=4)), None, "digging of Sun 28 August 2011"),
    ("feed order", None, WIDER, "area was 460.8 m²"),
]


@pytest.mark.parametrize(("about", "happened", "of", "told"), AGES)
def test_an_answer_ages_with_the_facts_it_rests_on_and_says_which(
    about: str, happened: DiaryEntry | None, of: Zone | None, told: str
) -> None:
    before = look(today=AUGUST)
    bare = WorkedOut(about, "an answer", found={"year_g_m2": 8.0}, named={"route": "oversow"})
    then = facts_under(before.ground, before.zone.name, bare)
    entry = kept(AUGUST - timedelta(days=4), about, "an answer", then, found=bare.found,
                 named=bare.named)  # fmt: skip
    fresh = look(entry, today=AUGUST)
    assert state(fresh, about) is KeptState.IN_USE
    sit = look(entry, *([happened] if happened else []), today=AUGUST, of=of)
    assert state(sit, about) is KeptState.AGED
    line = words(sit, about)
    assert told in line
    assert "kept on 24 August has aged: " in line
    command = kept_questions()[about].command
    assert line.endswith(f"Again: swardbook {command} --zone 'Short court' --keep")
    if kept_questions()[about].section:
        assert line in morning_texts(sit, "checks")


def test_a_lot_that_weighs_less_or_has_another_label_ages_what_was_kept_of_it() -> None:
    from dataclasses import replace

    bare = WorkedOut("seed bags", "13.8 kg", named={"lot": "BB-0417"})
    then = facts_under(look(today=AUGUST).ground, "Short court", bare)
    entry = kept(AUGUST, "seed bags", "13.8 kg", then, named=bare.named)
    light = replace(BOBBIN, bought_g=25_000)
    relabelled = replace(BOBBIN, parts=(replace(BOBBIN.parts[0], germination=0.7),))
    for lot, told in ((light, "lot BB-0417 was 40 kg, now 25 kg"),
                      (relabelled, "the label of lot BB-0417 was put right")):  # fmt: skip
        assert told in words(look(entry, today=AUGUST, lots=(lot,)), "seed bags")


def test_an_aged_plan_gives_no_dates_any_more() -> None:
    sit = look(STRIPPED, sown_when(rests_on={"height of cut": "8 mm"}), today=AUGUST, sky=SKY,
               of=LOWER)  # fmt: skip
    task = tasks(sit)["sow"]
    assert "as kept on" not in task.when
    assert task.kept[0].startswith("When to sow kept on 26 August has aged: height of cut was 8 mm")


def test_answers_kept_before_facts_were_kept_with_them_age_by_the_diary() -> None:
    entry = kept(AUGUST - timedelta(days=4), "route", named={"route": "oversow"})
    assert state(look(entry, today=AUGUST), "route") is KeptState.IN_USE
    again = look(entry, on(AUGUST, counted(AUGUST)), today=AUGUST, of=WIDER)
    assert words(again, "route").count("was") == 1
    assert "count of Sun 28 August 2011, after it was kept" in words(again, "route")


def test_every_question_is_about_facts_sections_and_kinds_that_there_are() -> None:
    from swardbook.husbandry.happenings import KINDS

    for question in kept_questions().values():
        assert set(question.rests_on) <= {*FACTS, "lot"}
        assert question.section in {"", *TITLES}
        assert set(question.done_by) <= set(KINDS)
        assert question.used_for
