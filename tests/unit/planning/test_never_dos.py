"""What would lose a seasoned practitioner: each behaviour that must never be seen."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date, timedelta

import pytest

from swardbook.foundation.dates import season_day
from swardbook.handbook.cautions import cautions
from swardbook.husbandry.ground import Mower
from swardbook.husbandry.happenings import (
    Closure,
    Cut,
    Disease,
    DroughtSign,
    Feed,
    Frost,
    Heads,
    Note,
    Reading,
    Refill,
    Sow,
    Strip,
    Treatment,
    TugTest,
    Underfoot,
)
from swardbook.planning.disease import disease_watch
from swardbook.planning.feeding import feeding
from swardbook.planning.fit import JOBS, MACHINE_JOBS, fit_today
from swardbook.planning.how import how_to
from swardbook.planning.kinds import known_species
from swardbook.planning.morning import morning_look
from swardbook.planning.situation import Situation
from swardbook.planning.sowing import Answer, first_seen_days, sowing_answer
from swardbook.planning.states import Overall, State
from swardbook.planning.stock import lot_for
from swardbook.planning.tasks import Status
from swardbook.planning.water import sward_water
from swardbook.planning.week import plan_week
from tests.support.grounds import (
    BOBBIN,
    MAY,
    RYE,
    grown,
    look,
    mild_may,
    on,
    seasons,
    site,
    weather,
    zone,
)


def day(back: int) -> date:
    return MAY - timedelta(days=back)


def texts(sit: Situation) -> Iterator[str]:
    """Give every sentence the plan says of a zone: fit, week, morning."""
    for job in JOBS:
        fit = fit_today(sit, job)
        yield fit.note
        yield from (each.because for each in fit.conditions)
    for task in plan_week([sit]).tasks:
        yield from (task.name, task.why, task.wrong_if, task.caution, *task.materials)
    for section in morning_look([sit]).sections:
        yield section.nothing
        yield from (line.text for line in section.lines)


def said(sit: Situation) -> str:
    return " ".join(texts(sit)).casefold()


def test_n01_frost_without_a_thaw_keeps_every_machine_and_foot_off() -> None:
    sit = look(*grown(), on(MAY, Frost("frost")), sky=mild_may())
    for job in (*MACHINE_JOBS, "feet", "play", "pull", "sow", "feed"):
        fit = fit_today(sit, job)
        assert fit.overall is Overall.NOT_FIT, job
        assert fit.condition("frost").state is State.NOT_MET, job


@pytest.mark.parametrize("tug", [None, TugTest(False)])
def test_n02_young_seedlings_are_never_verticut_or_scarified(tug: TugTest | None) -> None:
    entries = [on(day(50), Sow("BB-0417", 30.0)), on(day(3), Cut(20.0, True, True))]
    entries += [on(day(2), tug)] if tug else []
    fit = fit_today(look(*entries, sky=mild_may()), "verticut")
    assert fit.overall is Overall.NOT_FIT
    assert {"seedling age", "cuts since sowing", "tug test"} <= {c.name for c in fit.conditions}
    assert fit_today(look(*entries, sky=mild_may()), "scarify").overall is Overall.NOT_FIT


@pytest.mark.parametrize("trouble", ["dry", "off colour", "hot"])
def test_n03_drought_and_heat_hold_off_verticut_scarify_tine_and_nitrogen(trouble: str) -> None:
    sky = mild_may(rain=0.0) if trouble == "dry" else mild_may()
    if trouble == "hot":
        sky = mild_may(tmax=28.0)
    sign = [on(day(1), DroughtSign(True))] if trouble == "off colour" else []
    sit = look(*grown(), *sign, sky=sky)
    for job in ("verticut", "scarify", "tine", "feed"):
        assert fit_today(sit, job).overall is Overall.NOT_FIT, job
    assert "lower" not in how_to(sit, "cut")


def test_n04_heads_without_a_box_are_never_cut_without_a_warning() -> None:
    sit = look(*grown(), on(day(1), Heads()), sky=mild_may(), of=zone(mower=Mower(has_box=False)))
    assert "would spread seed: box, or wait" in fit_today(sit, "verticut").loses_to
    cut = fit_today(sit, "cut")
    assert cut.overall is not Overall.FIT
    assert any("no box" in each.because for each in cut.deciding)


@pytest.mark.parametrize("ground", ["soft", "waterlogged", "standing water"])
def test_n05_wet_ground_takes_no_machine_roller_or_dressing(ground: str) -> None:
    sit = look(*grown(), on(MAY, Underfoot(ground)), sky=mild_may())
    for job in MACHINE_JOBS:
        assert fit_today(sit, job).overall is Overall.NOT_FIT, job
    due = [task.job for task in plan_week([sit]).of(Status.DUE)]
    assert not set(due) & set(MACHINE_JOBS)


def test_n06_a_cut_never_takes_more_than_a_third_by_the_plan() -> None:
    told = how_to(look(*grown(), sky=mild_may(), of=zone(height_of_cut_mm=30.0)), "cut")
    assert "at most 45 mm of grass to 30 mm" in told
    assert "Not more than a third off" in told


CHEMICALS = re.compile(
    r"glypho|herbicid|fungicid|insecticid|ethofum|mecoprop|2,4-d|dicamba|\bspray\b|weedkiller"
    r"|salt|vinegar|bleach|diesel|brine|washing-up"
)


def test_n07_no_pesticide_is_named_ranked_or_dosed() -> None:
    sit = look(*grown(), on(day(2), Disease("Microdochium patch")), sky=mild_may())
    assert not CHEMICALS.search(said(sit))
    assert "register" in cautions()["treatments"].text.casefold()
    assert "label" in cautions()["treatments"].defers_to


def test_n08_household_stuff_in_a_note_gets_no_rate_and_no_task() -> None:
    note = on(day(2), Note("salt and vinegar on the weeds, bleach on the edge"))
    assert not CHEMICALS.search(said(look(*grown(), note, sky=mild_may())))


def test_n09_a_treatment_on_record_is_never_copied_forward() -> None:
    used = on(day(30), Treatment("Zorbax Made Up", "", 100.0, "5 l", "weeds"))
    without = look(*grown(), sky=mild_may())
    with_it = look(*grown(), used, sky=mild_may())
    assert "zorbax" not in said(with_it)
    assert [t.name for t in plan_week([with_it]).tasks] == [
        t.name for t in plan_week([without]).tasks
    ]


@pytest.mark.parametrize("sight", ["worm casts", "mole hills", "nesting birds"])
def test_n10_worms_moles_and_birds_are_left_alive(sight: str) -> None:
    sit = look(*grown(), on(day(8), Disease(sight)), sky=mild_may())
    assert fit_today(sit, "verticut").condition("disease").state is State.MET
    assert not re.search(r"kill|poison|trap|control the", said(sit))
    assert "left alive" in cautions()["wildlife"].says


def test_n20_southern_advice_goes_by_soil_and_local_season() -> None:
    march = date(2011, 3, 10)

    def southern(at: date) -> float:
        return float(season_day(at, -43.0))

    def mean(at: date) -> float:
        from math import cos, pi

        return 11.0 - 6.0 * cos(2 * pi * (southern(at) - 28) / 365.25)

    sky = weather(
        date(2002, 1, 1), march, lambda at: mean(at) - 4, lambda at: mean(at) + 4,
        lambda at: 6.0 * (at.day % 3 == 0),
    )  # fmt: skip
    sit = look(today=march, sky=sky, at=site(latitude=-43.0))
    answer = sowing_answer(sit, BOBBIN)
    assert answer.past_years >= 5
    assert {each.answer for each in answer.components} == {Answer.GO}
    assert not re.search(r"\b(january|february|april|may|june|september|october) is", said(sit))


@pytest.mark.parametrize("soil", [7.9, 4.0, None])
def test_n21_below_eight_degrees_no_date_of_emergence_is_given(soil: float | None) -> None:
    for name in ("perennial ryegrass", "chewings fescue", "browntop bent"):
        species = known_species(name)
        assert species is not None
        assert first_seen_days(species, soil) is None
        warm = first_seen_days(species, 12.0)
        assert warm is not None
        assert warm[0] < warm[1]


def test_n24_disease_late_autumn_and_drought_get_no_nitrogen() -> None:
    ill = look(*grown(), on(day(2), Disease("Microdochium patch")), sky=mild_may())
    assert fit_today(ill, "feed").overall is Overall.NOT_FIT
    assert not feeding(ill).is_due
    november = date(2011, 11, 20)
    late = look(*grown(november), today=november, sky=mild_may(november))
    assert fit_today(late, "feed").overall is Overall.NOT_FIT
    assert "airflow" in disease_watch(ill).do or "air" in disease_watch(ill).do
    thread = look(*grown(), on(day(9), Disease("red thread")), sky=mild_may())
    assert "light nitrogen" in disease_watch(thread).do


def test_n25_no_lime_is_suggested_and_iron_carries_its_stain() -> None:
    sit = look(*grown(), on(day(9), Reading("pH", 6.9)), sky=mild_may(),
               of=zone(iron_stains_near=True))  # fmt: skip
    assert not re.search(r"\blime\b|\bliming\b", said(sit))
    assert "stains stone, clothes" in cautions()["iron"].says


def test_n26_a_moist_grown_sward_is_never_watered_and_a_restriction_stops_the_hose() -> None:
    sky = mild_may(rain=6.0)
    sit = look(*grown(), sky=sky)
    found = sward_water(sit)
    assert found is not None
    assert not found.wanted
    assert fit_today(sit, "water").overall is Overall.NOT_FIT
    assert "water" not in {task.job for task in plan_week([sit]).tasks}
    closed = on(day(3), Closure(MAY + timedelta(days=9), "hose", "restriction"))
    dry = look(*grown(), closed, sky=mild_may(rain=0.0))
    fit = fit_today(dry, "water")
    assert fit.overall is Overall.NOT_FIT
    assert "cans and stored rain only" in fit.loses_to
    assert "supplier" in fit.loses_to


def test_n27_rolling_and_thin_sand_cure_nothing() -> None:
    clay = look(*grown(), sky=mild_may(), of=zone(soil="silty clay loam"))
    fit = fit_today(clay, "roll")
    assert fit.overall is Overall.NOT_FIT
    assert "compaction" in fit.condition("what rolling cures").because
    assert "a cap over clay perches" in how_to(clay, "dress")
    assert "roll" not in {task.job for task in plan_week([clay]).tasks}


TODAYS = [date(2011, month, 12) for month in range(1, 13)]


@pytest.mark.parametrize("today", TODAYS)
def test_x1_to_x5_and_x7_no_eye_roller_is_said_in_any_month(today: date) -> None:
    sky = seasons(2003, today)
    said_now = said(
        look(*grown(today), on(today - timedelta(days=30), Heads()), today=today, sky=sky)
    )
    assert not re.search(r"dies in winter|die in winter|annual, so", said_now)  # X1
    assert not re.search(r"mow(n|ing)? (close|low|high)\w* (removes|kills|cures)", said_now)  # X2
    assert not re.search(r"mown out|mow (it|fog) out", said_now)  # X3
    assert not re.search(r"broad-?leaved", said_now)  # X4
    assert not re.search(r"(?<!no )thicker (to be safe|for safety)", said_now)  # X5
    assert not re.search(r"(to|on) (the|your) (own )?compost", said_now)  # X7
    assert not re.search(r"gone for good|eradicat|weed-free|guarantee", said_now)


def test_x6_bent_is_barely_covered() -> None:
    assert "3 mm at most" in how_to(look(), "sow")


@pytest.mark.parametrize("days", [8, 10, 14, 20])
def test_x8_nobody_is_told_to_sow_again_before_the_slowest_is_due(days: int) -> None:
    today = date(2011, 9, 25)
    sown = on(today - timedelta(days=days), Sow("BB-0417", 30.0))
    sit = look(sown, today=today, sky=seasons(2003, today))
    jobs = {task.job for task in plan_week([sit]).tasks}
    assert not jobs & {"sow", "oversow"}
    assert "sow again" not in said(sit)
    looks = [task for task in plan_week([sit]).tasks if task.job == "seedlings"]
    assert looks
    assert "before the slowest" in looks[0].why


def test_x9_a_refill_never_takes_another_mixture() -> None:
    entries = (on(day(300), Sow("BB-0417", 30.0, used_g=40_000)),)
    stock = lot_for(look(*entries, sky=mild_may(), lots=(BOBBIN, RYE)))
    assert stock is not None
    assert stock.lot.mixture == "Bobbin"
    unknown = (on(day(300), Sow("XX-1", 30.0)), on(day(3), Refill("XX-1", 5)))
    assert lot_for(look(*unknown, lots=(BOBBIN, RYE))) is None


def test_x10_may_is_no_month_to_tine_or_scarify_to_thin_annual_meadow_grass() -> None:
    old = on(date(2007, 9, 4), Sow("BB-0417", 30.0))
    sit = look(old, *grown()[1:], sky=mild_may())
    for job in ("tine", "scarify"):
        fit = fit_today(sit, job)
        assert fit.overall is Overall.NOT_FIT
        assert fit.condition("opened ground").state is State.NOT_MET
    assert not {"tine", "scarify", "dress"} & {task.job for task in plan_week([sit]).tasks}


def test_a_stripped_zone_is_neither_cut_nor_fed() -> None:
    sit = look(*grown(), on(day(2), Strip(35.0)), on(day(40), Feed("x", 25, 12)), sky=mild_may())
    assert fit_today(sit, "cut").overall is Overall.NOT_FIT
    assert not {"cut", "feed", "verticut"} & {task.job for task in plan_week([sit]).tasks}


@pytest.mark.parametrize("key", list(cautions()))
def test_every_caution_defers_to_somebody(key: str) -> None:
    assert cautions()[key].defers_to
    assert cautions()[key].text.endswith(("decides.", "decide."))
