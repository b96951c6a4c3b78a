"""Sowing, water, refills, pulling, feeding and disease: each ruling with its arithmetic."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pytest

from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.happenings import (
    Closure,
    ClumpCheck,
    Count,
    Cut,
    DigClumps,
    Disease,
    Feed,
    Pull,
    Reading,
    Refill,
    RefillCheck,
    Sow,
    Water,
)
from swardbook.observations.counts import Method, PlaceCount
from swardbook.planning.disease import disease_watch
from swardbook.planning.feeding import feeding
from swardbook.planning.pulling import last_removal, pulling, pulling_hours
from swardbook.planning.refills import hole_advice, refilling, seed_for_holes
from swardbook.planning.sections import drying
from swardbook.planning.sowing import Answer, past_years, sowing_answer
from swardbook.planning.stock import left_of, lot_for
from swardbook.planning.water import seedbed_water, young_seedbed
from swardbook.seed.lot import LotPart, SeedLot
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


def day(back: int, of: date = MAY) -> date:
    return of - timedelta(days=back)


# sowing by component


ALL_KINDS = SeedLot(
    "MX-1", "Mixed",
    (LotPart("perennial ryegrass", 0.4), LotPart("chewings fescue", 0.3),
     LotPart("browntop bent", 0.1), LotPart("smooth-stalked meadow-grass", 0.2)),
)  # fmt: skip


def answers(today: date) -> dict[str, Answer]:
    sit = look(today=today, sky=seasons(2001, today), lots=(ALL_KINDS,))
    return {each.species: each.answer for each in sowing_answer(sit, ALL_KINDS).components}


def test_last_dates_pass_in_the_order_of_the_warmth_each_kind_needs() -> None:
    sit = look(today=date(2011, 9, 1), sky=seasons(2001, date(2011, 9, 1)))
    days = {c.species: c.days_left for c in sowing_answer(sit, ALL_KINDS).components}
    meadow, fescue = days["Smooth-stalked meadow-grass"], days["Chewings fescue"]
    rye, bent = days["Perennial ryegrass"], days["Browntop bent"]
    assert meadow is not None
    assert fescue is not None
    assert rye is not None
    assert bent is not None
    assert meadow < fescue == bent < rye


def test_the_last_date_leaves_enough_warmth_in_four_years_of_five() -> None:
    today = date(2011, 8, 20)
    sit = look(today=today, sky=seasons(1991, today))
    last = next(c for c in sowing_answer(sit, RYE).components).last_day
    assert last is not None
    to_come = [year.warmth_from(last.timetuple().tm_yday) for year in past_years(sit)]
    assert np.mean(np.array(to_come) >= 300) >= 0.8


def test_autumn_goes_from_go_through_part_to_too_late() -> None:
    assert set(answers(date(2011, 8, 15)).values()) == {Answer.GO}
    october = answers(date(2011, 10, 12))
    assert october["Smooth-stalked meadow-grass"] is Answer.TOO_LATE
    assert october["Perennial ryegrass"] is Answer.GO
    assert set(answers(date(2011, 11, 25)).values()) == {Answer.TOO_LATE}


def test_spring_starts_by_soil_warmth_kind_by_kind() -> None:
    march = answers(date(2011, 4, 12))
    assert march["Perennial ryegrass"] is Answer.GO
    assert march["Browntop bent"] is Answer.WAIT
    assert set(answers(date(2011, 6, 1)).values()) == {Answer.GO}


def test_a_measured_soil_temperature_outranks_the_judged_one() -> None:
    today = date(2011, 4, 12)
    reading = on(day(1, today), Reading("soil temperature", 5.0, "°C"))
    sit = look(reading, today=today, sky=seasons(2001, today))
    found = sowing_answer(sit, RYE)
    assert found.soil == 5.0
    assert found.soil_source.startswith("measured")
    assert found.answer is Answer.WAIT


def test_without_past_years_the_last_date_is_not_known() -> None:
    today = date(2011, 9, 10)
    sit = look(today=today, sky=mild_may(today))
    assert sowing_answer(sit, RYE).answer is Answer.UNKNOWN
    assert sowing_answer(look(today=today), RYE).answer is Answer.UNKNOWN


def test_the_whole_lot_is_as_ready_as_its_slowest_component() -> None:
    found = sowing_answer(
        look(today=date(2011, 10, 12), sky=seasons(2001, date(2011, 10, 12))), ALL_KINDS
    )
    assert found.answer is Answer.TOO_LATE
    assert "go for Perennial ryegrass" in found.because


# water


def test_a_seedbed_wants_one_to_one_point_two_times_et0_less_rain() -> None:
    sown = on(day(5), Sow("BB-0417", 30.0))
    need = seedbed_water(look(sown, sky=mild_may(rain=0.0)), 460.8)
    assert need is not None
    assert need.low_mm == pytest.approx(need.et0)
    assert need.high_mm == pytest.approx(1.2 * need.et0)
    assert need.doses == 3
    assert 0.7 <= need.dose_mm <= 1.0
    assert need.litres == pytest.approx(need.doses * need.dose_mm * 460.8)
    assert need.minutes == pytest.approx(need.litres / 14.0)


def test_rain_that_did_it_needs_no_dose() -> None:
    sown = on(day(5), Sow("BB-0417", 30.0))
    need = seedbed_water(look(sown, sky=mild_may(rain=6.0)), 460.8)
    assert need is not None
    assert need.doses == 0


def test_larger_doses_are_for_hot_dry_days_only() -> None:
    sky = weather(day(60), MAY, tmin=12.0, tmax=31.0)
    need = seedbed_water(look(on(day(5), Sow("BB-0417", 30.0)), sky=sky), 10.0)
    assert need is not None
    assert 1.0 < need.dose_mm <= 2.0


def test_water_given_today_and_a_restriction_are_counted() -> None:
    entries = (
        on(day(5), Sow("BB-0417", 30.0)), on(MAY, Water(depth_mm=1.0), who="Ines"),
        on(day(1), Closure(None, "hose")),
    )  # fmt: skip
    need = seedbed_water(look(*entries, sky=mild_may(rain=0.0)), 2.2)
    assert need is not None
    assert (need.given_mm, need.hose_allowed, need.watered_by) == (1.0, False, "Ines")
    assert need.can_minutes > 0


def test_without_a_measured_hose_there_are_litres_but_no_minutes() -> None:
    sit = look(on(day(5), Sow("BB-0417", 30.0)), sky=mild_may(rain=0.0), at=site(hose_l_min=None))
    need = seedbed_water(sit, 10.0)
    assert need is not None
    assert need.minutes is None
    assert seedbed_water(look(), 10.0) is None


def test_a_seedbed_is_young_for_four_weeks() -> None:
    assert young_seedbed(look(on(day(20), Sow("BB-0417", 30.0)))) == pytest.approx(460.8)
    assert young_seedbed(look(on(day(40), Sow("BB-0417", 30.0)))) == 0


# refills and stock


def test_holes_are_advised_by_size_warmth_and_dryness() -> None:
    assert "closes itself" in hole_advice(40, growing=True, cold=False, dry=False)
    assert "brush" in hole_advice(40, growing=False, cold=False, dry=False)
    assert "same lot, about 28 g/m²" in hole_advice(100, growing=True, cold=False, dry=False)
    assert "turf from the nursery" in hole_advice(300, growing=True, cold=False, dry=False)
    assert "turf" in hole_advice(100, growing=True, cold=False, dry=True)
    assert hole_advice(100, growing=False, cold=True, dry=False).startswith("keep the seed")


def test_seed_for_holes_agrees_with_the_sum_done_by_hand() -> None:
    """286 holes of 100 mm are 2.25 m²; at 28 g/m² 63 g."""
    assert seed_for_holes(286, 100) == pytest.approx(62.9, abs=0.1)


def test_refills_are_due_another_look_after_six_weeks_and_only_once() -> None:
    refill = on(day(50), Refill("BB-0417", 60, 100.0))
    due = refilling(look(refill, sky=mild_may())).due
    assert [(each.what, each.number) for each in due] == [("refills", 60)]
    looked = on(day(3), RefillCheck(60, 31))
    found = refilling(look(refill, looked, sky=mild_may()))
    assert found.due == ()
    assert (found.taken, found.looked) == (31, 60)
    assert refilling(look(on(day(20), Refill("BB-0417", 60)), sky=mild_may())).due == ()


def test_dug_clumps_of_yorkshire_fog_are_due_another_look() -> None:
    dug = on(day(50), DigClumps("holcus lanatus", 14, 100.0))
    assert refilling(look(dug, sky=mild_may())).due[0].what == "dug clumps"
    seen = on(day(4), ClumpCheck("holcus lanatus", 14, 1))
    assert refilling(look(dug, seen, sky=mild_may())).due == ()


def test_cold_soil_keeps_the_seed() -> None:
    sit = look(on(day(20), DigClumps(clumps=5, margin_mm=100)), sky=mild_may(tmin=2.0, tmax=11.0))
    found = refilling(sit)
    assert found.keep_seed
    assert found.open_holes == 5
    assert found.advice[-1].seed_g is None


def test_what_is_left_of_a_lot_is_what_was_not_sown() -> None:
    entries = (
        on(day(300), Sow("BB-0417", used_g=13_800)),
        on(day(30), Refill("BB-0417", used_g=21)),
    )
    sit = look(*entries)
    assert left_of(sit, BOBBIN) == pytest.approx(40_000 - 13_821)
    stock = lot_for(sit)
    assert stock is not None
    assert stock.is_same


def test_a_new_lot_of_the_same_name_counts_as_another_seed() -> None:
    newer = SeedLot("BB-0533", "Bobbin", BOBBIN.parts, bought_g=10_000)
    entries = (on(day(300), Sow("BB-0417", used_g=40_000)),)
    stock = lot_for(look(*entries, lots=(BOBBIN, newer)))
    assert stock is not None
    assert (stock.lot.code, stock.is_same, stock.sown_before) == ("BB-0533", False, "BB-0417")


# pulling


def counted(density: float, back: int = 10) -> DiaryEntry:
    places = tuple(
        PlaceCount(f"P{n}", Method.PLANTS, {"annual meadow-grass": density}, 1.0) for n in range(12)
    )
    return on(day(back), Count(places))


def passes(*plants_hours: tuple[int, float], gap: int = 7, start: int = 60) -> list[DiaryEntry]:
    return [
        on(day(start - gap * n), Pull("poa annua", plants, 452.8, "AB"[n % 2]), hours=hours)
        for n, (plants, hours) in enumerate(plants_hours)
    ]


def test_hours_are_fitted_to_the_zones_own_passes_and_never_plants_alone() -> None:
    timed = passes((1484, 16.5), (445, 9.8), (604, 7.2), (188, 4.1))
    sit = look(*timed, sky=mild_may())
    found = pulling_hours(sit, 452.8, 600)
    assert found.own_pace
    assert found.low < found.high
    assert pulling_hours(sit, 452.8, 0).high > 0


def test_with_fewer_than_two_passes_hours_are_a_wide_range() -> None:
    found = pulling_hours(look(sky=mild_may()), 460.8, 600)
    assert not found.own_pace
    assert found.high > 2 * found.low


def test_pulling_cannot_win_is_arithmetic_of_hours_not_a_rule() -> None:
    dense = pulling(look(counted(130.0), sky=mild_may()))
    assert "cannot win here" in dense.told
    assert dense.weeks is not None
    assert dense.weeks[0] > 10
    sparse = pulling(look(counted(1.5), sky=mild_may()))
    assert "cannot win" not in sparse.told
    boundless = pulling(look(counted(130.0), sky=mild_may(), at=site(weekly_hours=None)))
    assert "cannot win" not in boundless.told


def test_two_passes_a_week_apart_tell_what_is_left() -> None:
    found = last_removal(look(*passes((604, 7.2), (188, 4.1)), sky=mild_may()))
    assert found is not None
    assert found.passes is not None
    assert found.passes.left == pytest.approx(85, abs=1)


def test_passes_in_a_germinating_week_carry_a_caution() -> None:
    late = date(2011, 9, 6)
    pulls = [
        on(date(2011, 8, 23), Pull("poa annua", 352, 452.8, "A"), hours=4.9),
        on(date(2011, 8, 30), Pull("poa annua", 231, 452.8, "B"), hours=4.6),
    ]
    found = last_removal(look(*pulls, today=late, sky=mild_may(late)))
    assert found is not None
    assert "germinating week" in found.caution
    far = last_removal(look(*passes((604, 7.2), (188, 4.1), gap=12), sky=mild_may()))
    assert far is not None
    assert "12 days apart" in far.caution


def test_a_single_pass_and_barely_fewer_the_second_time_are_refused() -> None:
    single = last_removal(look(*passes((391, 5.0)), sky=mild_may()))
    assert single is not None
    assert single.passes is None
    barely = last_removal(look(*passes((41, 2.0), (35, 2.0)), sky=mild_may()))
    assert barely is not None
    assert barely.passes is None
    assert "not enough data" in barely.caution


# feed


def test_nitrogen_of_the_year_adds_up_and_feeds_without_figures_make_it_a_least() -> None:
    today = date(2011, 10, 8)
    doses = [(200, 25, 12), (150, 5, 21), (120, 5, 21), (70, 15, 12), (42, 20, 8), (5, 30, 3)]
    feeds = [on(day(back, today), Feed("x", rate, n)) for back, rate, n in doses]
    found = feeding(look(*feeds, today=today, sky=mild_may(today)))
    assert found.given == pytest.approx(9.4)
    assert "9.4 g N/m² so far" in found.told
    unknown = on(day(100, today), Feed("somebody's bag"))
    assert feeding(look(*feeds, unknown, today=today, sky=mild_may(today))).not_known == 1


def test_growth_by_warmth_never_stands_alone() -> None:
    cuts = [on(day(back), Cut(8.0, True, True)) for back in (2, 6, 9)]
    found = feeding(look(*cuts, sky=mild_may()))
    assert found.growth is not None
    assert (found.boxes.filled, found.boxes.cuts) == (3, 3)
    names = {each.name for each in found.workings.inputs}
    assert {"growth by warmth alone", "growth as measured"} <= names


def test_measured_growth_outranks_a_cold_week() -> None:
    cold = mild_may(tmin=1.0, tmax=12.0)
    assert feeding(look(*grown(), sky=cold)).fit.condition("growth").state.value == "met"


def test_autumn_feed_is_low_in_nitrogen_and_a_dose_is_capped() -> None:
    today = date(2011, 10, 8)
    assert feeding(look(*grown(today), today=today, sky=mild_may(today))).most <= 1.0
    assert feeding(look(*grown(), sky=mild_may())).most <= 3.0


def test_a_year_that_is_full_gets_no_more() -> None:
    feeds = [on(day(back), Feed("x", 50, 20)) for back in (80, 60, 45)]
    assert not feeding(look(*grown(), *feeds, sky=mild_may())).is_due


# disease


def test_without_humidity_the_likelihood_is_dont_know() -> None:
    october = date(2011, 10, 20)
    sown = on(day(40, october), Sow("BB-0417", 30.0))
    sky = mild_may(october, tmin=4.0, tmax=11.0)
    watch = disease_watch(look(sown, today=october, sky=sky))
    assert watch.for_what == "Microdochium patch"
    assert watch.likelihood == "don't know"


def test_cool_wet_days_on_a_young_sward_make_patch_likely() -> None:
    october = date(2011, 10, 20)
    sown = on(day(40, october), Sow("BB-0417", 30.0))
    sky = weather(day(90, october), october, tmin=4.0, tmax=11.0, rain=2.0, humidity=95.0)
    assert disease_watch(look(sown, today=october, sky=sky)).likelihood == "likely"


def test_a_look_this_week_is_enough() -> None:
    looked = on(day(2), Disease("Microdochium patch"))
    assert not disease_watch(look(looked, sky=mild_may())).look
    earlier = on(day(8), Disease("Microdochium patch"))
    assert disease_watch(look(earlier, sky=mild_may())).look


def test_grubs_are_counted_before_anybody_acts() -> None:
    watch = disease_watch(look(on(day(9), Disease("chafer grubs")), sky=mild_may(), of=zone()))
    assert "300 mm square" in watch.do


def test_a_young_seedbed_without_todays_weather_is_never_called_damp() -> None:
    told = drying([look(on(day(3), Sow("BB-0417", 30.0)), sky=None)])
    assert [(each.shape, each.word) for each in told] == [("?", "don't know")]
    assert "press a finger in" in told[0].text
    assert drying([look(sky=None)]) == []
