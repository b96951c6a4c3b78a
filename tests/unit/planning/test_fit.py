"""Fit today: each ruling, with the record it came from; what is unknown is never met."""

from datetime import date, timedelta

import pytest

from swardbook.foundation.errors import UnknownNameError
from swardbook.handbook.parameters import parameters
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Mower
from swardbook.husbandry.happenings import (
    Changed,
    Closure,
    Cut,
    Disease,
    DroughtSign,
    Frost,
    Heads,
    Refill,
    Sow,
    TugTest,
    Underfoot,
    Verticut,
)
from swardbook.planning.fit import JOBS, Fit, fit_today, fit_workings
from swardbook.planning.how import how_to
from swardbook.planning.states import Overall, Rank, State
from tests.support.grounds import MAY, RYE, grown, look, mild_may, on, site, weather, zone

WINTER = date(2011, 1, 12)
FIRM = on(MAY, Underfoot("firm"))
MOIST = mild_may(rain=4.0)


def state(fit: Fit, name: str) -> State:
    return fit.condition(name).state


def day(back: int) -> date:
    return MAY - timedelta(days=back)


def test_a_grown_moist_sward_in_may_is_fit_for_a_light_verticut() -> None:
    fit = fit_today(look(*grown(), FIRM, sky=MOIST), "verticut")
    assert fit.overall is Overall.FIT
    assert all(each.state is State.MET for each in fit.conditions)
    assert all(each.source for each in fit.conditions)


def test_an_empty_book_without_weather_knows_nothing_and_says_so() -> None:
    fit = fit_today(look(), "verticut")
    assert fit.overall is Overall.LOOK_FIRST
    for name in ("frost", "wet ground", "drought", "heat", "growing now", "disease"):
        assert state(fit, name) is State.UNKNOWN, name


def test_an_unknown_job_offers_the_nearest() -> None:
    with pytest.raises(UnknownNameError, match="verticut"):
        fit_today(look(), "verticutt")


@pytest.mark.parametrize("job", list(JOBS))
def test_every_threshold_named_is_a_row_of_the_handbook(job: str) -> None:
    for each in fit_today(look(*grown(), sky=mild_may()), job).conditions:
        assert not each.threshold or each.threshold in parameters()


# frost


def test_a_cold_night_without_a_record_is_dont_know() -> None:
    fit = fit_today(look(*grown(), sky=mild_may(tmin=2.5)), "cut")
    assert state(fit, "frost") is State.UNKNOWN
    assert "nobody noted" in fit.condition("frost").because


def test_a_thaw_noted_after_the_frost_lets_machines_out() -> None:
    frost = (on(MAY, Frost("frost")), on(MAY, Frost("thawed")))
    assert state(fit_today(look(*grown(), *frost, sky=mild_may()), "cut"), "frost") is State.MET


def test_thawed_over_frozen_soil_stays_off() -> None:
    frost = (on(MAY, Frost("frozen ground")), on(MAY, Frost("thawed")))
    fit = fit_today(look(*grown(), *frost, sky=mild_may()), "cut")
    assert state(fit, "frost") is State.NOT_MET
    assert "thawed over frozen soil" in fit.condition("frost").because


def test_a_day_that_stays_below_freezing_keeps_everyone_off() -> None:
    sky = weather(date(2010, 12, 1), WINTER, tmin=-6.0, tmax=-1.0)
    assert fit_today(look(today=WINTER, sky=sky), "feet").overall is Overall.NOT_FIT


def test_frozen_ground_holds_until_a_thaw_is_noted_on_a_later_day() -> None:
    sky = weather(date(2010, 12, 1), WINTER, tmin=4.0, tmax=6.0)
    frozen = on(WINTER - timedelta(days=2), Frost("frozen ground"))
    assert state(fit_today(look(frozen, today=WINTER, sky=sky), "cut"), "frost") is State.NOT_MET
    thaw = on(WINTER - timedelta(days=1), Frost("thawed"))
    assert state(fit_today(look(frozen, thaw, today=WINTER, sky=sky), "cut"), "frost") is State.MET


# wet, drought, heat


@pytest.mark.parametrize("underfoot", ["soft", "waterlogged", "standing water"])
def test_wet_ground_noted_keeps_machines_off(underfoot: str) -> None:
    fit = fit_today(look(*grown(), on(MAY, Underfoot(underfoot)), sky=mild_may()), "verticut")
    assert fit.overall is Overall.NOT_FIT
    assert fit.deciding[0].rank is Rank.GROUND


def test_much_rain_without_a_look_is_dont_know_and_firm_noted_today_is_met() -> None:
    sky = mild_may(rain=7.0)
    assert state(fit_today(look(*grown(), sky=sky), "cut"), "wet ground") is State.UNKNOWN
    firm = on(MAY, Underfoot("firm"))
    assert state(fit_today(look(*grown(), firm, sky=sky), "cut"), "wet ground") is State.MET


def test_drought_by_the_water_balance_stops_a_verticut() -> None:
    fit = fit_today(look(*grown(), sky=mild_may(rain=0.0)), "verticut")
    assert state(fit, "drought") is State.NOT_MET


def test_between_drought_and_moist_it_is_dont_know_until_somebody_looked() -> None:
    dry_from = day(4)
    sky = mild_may(rain=lambda at: 0.0 if at > dry_from else 6.0)
    stress = look(*grown(), sky=sky).lately.stress[-1]
    assert 0.4 < stress < 1
    assert state(fit_today(look(*grown(), sky=sky), "verticut"), "drought") is State.UNKNOWN
    looked = on(MAY, DroughtSign(seen=False))
    assert state(fit_today(look(*grown(), looked, sky=sky), "verticut"), "drought") is State.MET


def test_footprinting_seen_is_drought_until_rain_breaks_it() -> None:
    sign = on(day(3), DroughtSign(seen=True))
    dry = mild_may(rain=lambda at: 0.0 if at > day(3) else 6.0)
    assert state(fit_today(look(*grown(), sign, sky=dry), "feed"), "drought") is State.NOT_MET
    wet = fit_today(look(*grown(), sign, sky=mild_may(rain=6.0)), "feed")
    assert state(wet, "drought") is State.MET


# living seedlings, three tiers


def test_a_young_sowing_names_age_cuts_and_tug_test() -> None:
    sky = mild_may()
    fit = fit_today(look(on(day(35), Sow("BB-0417", 30.0)), sky=sky), "verticut")
    assert state(fit, "seedling age") is State.NOT_MET
    assert "5 growing weeks, 10 wanted" in fit.condition("seedling age").because
    assert state(fit, "cuts since sowing") is State.NOT_MET
    assert state(fit, "tug test") is State.UNKNOWN


def test_ryegrass_is_verticut_at_eight_growing_weeks_and_bent_at_ten() -> None:
    for lot, expected in (("GP-2240", State.MET), ("BB-0417", State.NOT_MET)):
        sit = look(on(day(63), Sow(lot, 30.0)), sky=mild_may(), lots=(RYE, *look().ground.lots))
        assert state(fit_today(sit, "verticut"), "seedling age") is expected


def test_cold_weeks_do_not_count_so_a_mid_september_sowing_waits_for_spring() -> None:
    sky = weather(date(2010, 9, 1), WINTER, tmin=1.0, tmax=6.0)
    sit = look(on(date(2010, 9, 15), Sow("BB-0417", 30.0)), today=WINTER, sky=sky)
    assert state(fit_today(sit, "verticut"), "seedling age") is State.NOT_MET


def test_a_refill_below_five_percent_sets_no_age_but_is_missed() -> None:
    refill = on(day(10), Refill("BB-0417", holes=60, hole_mm=100.0))
    fit = fit_today(look(*grown(), FIRM, refill, sky=MOIST), "verticut")
    assert fit.overall is Overall.FIT
    assert "miss the marked refills" in fit.condition("seedling age").because


def test_a_part_sowing_above_five_percent_sets_the_age() -> None:
    part = on(day(10), Sow("BB-0417", 30.0, area_m2=40.0, method="broadcast on sward"))
    fit = fit_today(look(*grown(), part, sky=mild_may()), "verticut")
    assert state(fit, "seedling age") is State.NOT_MET


def test_a_tug_test_on_the_quick_component_leaves_the_slowest_open() -> None:
    entries = (*grown(), on(day(2), TugTest(True, "chewings fescue")))
    fit = fit_today(look(*entries, sky=mild_may()), "verticut")
    assert state(fit, "tug test") is State.UNKNOWN
    assert "Browntop bent is the slowest" in fit.condition("tug test").because


def test_scarifying_waits_for_the_next_sowing_season() -> None:
    fit = fit_today(look(*grown(), sky=mild_may()), "scarify")
    assert state(fit, "seedling age") is State.NOT_MET
    late = date(2011, 9, 1)
    sit = look(*grown(late), on(date(2010, 9, 4), Sow("BB-0417", 30.0)), today=late,
               sky=mild_may(late))  # fmt: skip
    assert state(fit_today(sit, "scarify"), "seedling age") is State.MET


def test_brushing_waits_for_the_first_cut_and_kneeling_wants_a_board() -> None:
    entries = (on(day(40), Sow("BB-0417", 30.0)),)
    assert fit_today(look(*entries, sky=mild_may()), "brush").overall is Overall.NOT_FIT
    pull = fit_today(look(*entries, sky=mild_may()), "pull")
    assert pull.overall is Overall.LOOK_FIRST
    assert "board" in pull.condition("seedling age").because


def test_a_first_cut_wants_a_tug_test_and_a_seedling_of_a_week_is_too_young() -> None:
    young = fit_today(look(on(day(9), Sow("BB-0417", 30.0)), sky=mild_may()), "cut")
    assert state(young, "first cuts") is State.NOT_MET
    older = fit_today(look(on(day(28), Sow("BB-0417", 30.0)), sky=mild_may()), "cut")
    assert state(older, "first cuts") is State.UNKNOWN
    assert "35 mm of grass, cut to 25 mm" in " ".join(older.waits_for)


def test_a_seedbed_is_told_its_own_first_height_until_it_was_cut() -> None:
    sown = on(day(30), Sow("BB-0417", 30.0))
    told = how_to(look(sown, sky=mild_may()), "cut")
    assert "First cut of seedlings: 35 mm of grass, cut to 25 mm" in told
    told = how_to(look(sown, on(day(2), Cut(25.0)), sky=mild_may()), "cut")
    assert "First cut" not in told


def test_an_oversown_sward_is_kept_cut_raised_and_gently_once_the_seed_lies_still() -> None:
    def cut(back: int, *more: DiaryEntry) -> Fit:
        sown = on(day(back), Sow("BB-0417", 12.0, method="broadcast on sward"))
        old = on(date(2009, 9, 1), Sow("BB-0417", 30.0))
        return fit_today(look(old, sown, *more, FIRM, sky=mild_may()), "cut")

    fresh = cut(3)
    assert fresh.overall is Overall.NOT_FIT
    assert "lifts loose seed" in fresh.condition("first cuts").because
    standing = cut(12)
    assert standing.overall is Overall.LOOK_FIRST
    assert "raised to 10 mm, sharp blade, dry leaf" in standing.condition("first cuts").because
    assert state(cut(20, on(day(4), Cut(10.0, True))), "first cuts") is State.MET


def test_a_small_oversowing_leaves_the_cut_alone() -> None:
    part = on(day(2), Sow("BB-0417", 12.0, area_m2=20.0, method="broadcast on sward"))
    fit = fit_today(look(*grown(), part, FIRM, sky=MOIST), "cut")
    assert "miss the marked refills" in fit.condition("first cuts").because
    assert state(fit, "first cuts") is State.MET


# heads, growth, disease, rhythm


def test_without_a_box_heads_stop_a_verticut_and_make_a_cut_wait_for_a_rake() -> None:
    place = zone(mower=Mower(has_box=False))
    sit = look(*grown(), on(day(1), Heads()), sky=mild_may(), of=place)
    assert fit_today(sit, "verticut").overall is Overall.NOT_FIT
    cut = fit_today(sit, "cut")
    assert cut.overall is Overall.LOOK_FIRST
    assert "rake up" in cut.condition("box and heads").because


def test_a_split_box_noted_counts_as_no_box_until_it_is_mended() -> None:
    split = on(day(5), Changed("grass box", "sound", "split"))
    heads = on(day(1), Heads())
    fit = fit_today(look(*grown(), split, heads, sky=mild_may()), "verticut")
    assert state(fit, "box and heads") is State.NOT_MET
    mended = on(day(1), Changed("grass box", "split", "new one"))
    fit = fit_today(look(*grown(), split, heads, mended, sky=mild_may()), "verticut")
    assert state(fit, "box and heads") is State.MET


def test_growing_now_wants_warmth_and_two_full_boxes() -> None:
    quiet = [on(day(back), Cut(8.0, True, False)) for back in (3, 6, 9)]
    sown_long_ago = on(date(2009, 9, 1), Sow("BB-0417", 30.0))
    fit = fit_today(look(sown_long_ago, *quiet, sky=mild_may()), "verticut")
    assert state(fit, "growing now") is State.NOT_MET
    unsaid = [on(day(back), Cut(8.0, True)) for back in (3, 6, 9)]
    fit = fit_today(look(sown_long_ago, *unsaid, sky=mild_may()), "verticut")
    assert state(fit, "growing now") is State.UNKNOWN
    cold = fit_today(look(*grown(), sky=mild_may(tmin=1.0, tmax=9.0)), "verticut")
    assert state(cold, "growing now") is State.NOT_MET


def test_active_patch_disease_stops_a_verticut_and_grubs_do_not() -> None:
    patch = on(day(2), Disease("Microdochium patch"))
    grubs = on(day(2), Disease("chafer grubs"))
    assert not _fit_with(patch)
    assert _fit_with(grubs)
    over = on(day(1), Disease("Microdochium patch", active=False))
    fit = fit_today(look(*grown(), FIRM, patch, over, sky=MOIST), "verticut")
    assert fit.overall is Overall.FIT


def _fit_with(entry: DiaryEntry) -> bool:
    fit = fit_today(look(*grown(), FIRM, entry, sky=MOIST), "verticut")
    return fit.overall is Overall.FIT


@pytest.mark.parametrize(
    ("days", "expected"), [(5, State.NOT_MET), (8, State.UNKNOWN), (12, State.MET)]
)
def test_weekly_is_the_upper_limit_of_verticutting(days: int, expected: State) -> None:
    fit = fit_today(look(*grown(), on(day(days), Verticut(1.0, line_deg=20)), sky=mild_may()),
                    "verticut")  # fmt: skip
    assert state(fit, "since last verticut") is expected
    assert "-20°" in fit.note


# closures and precedence


def test_a_quiet_weekday_and_a_closure_stop_machines() -> None:
    quiet = site(no_machines_on=("tuesday",))
    fit = fit_today(look(*grown(), sky=mild_may(), at=quiet), "cut")
    assert fit.overall is Overall.NOT_FIT
    closed = on(day(3), Closure(date(2011, 5, 30), "feet", "new seed"))
    assert fit_today(look(*grown(), closed, sky=mild_may()), "feet").overall is Overall.NOT_FIT
    past = on(day(9), Closure(day(2), "feet"))
    assert fit_today(look(*grown(), past, sky=mild_may()), "feet").overall is Overall.FIT


def test_the_stronger_rule_is_named_first_when_several_collide() -> None:
    closed = on(MAY, Closure(None, "machines", "match day"))
    entries = (on(day(20), Sow("BB-0417", 30.0)), on(MAY, Frost("frost")), closed)
    fit = fit_today(look(*entries, sky=mild_may(tmax=29.0)), "verticut")
    ranks = [each.rank for each in fit.deciding]
    assert ranks == sorted(ranks, key=lambda rank: rank.order)
    assert ranks[0] is Rank.SAFETY
    assert fit.loses_to.startswith("closures")


def test_the_workings_name_every_condition_with_its_rule() -> None:
    sit = look(*grown(), sky=mild_may())
    fit = fit_today(sit, "verticut")
    told = fit_workings(fit, sit)
    assert len(told.arithmetic) == len(fit.conditions)
    assert all("rule:" in each for each in told.arithmetic)
