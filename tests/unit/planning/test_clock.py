"""The seeding clock: where it starts, what resets it, and what it refuses to say."""

from datetime import date, timedelta

import pytest

from swardbook.husbandry.ground import Mower
from swardbook.husbandry.happenings import Brush, Cut, Heads, TuftCheck, Verticut
from swardbook.planning.clock import ClockState, seeding_clock
from swardbook.planning.cut_gaps import analyse_gaps, exposed_days
from swardbook.planning.heads import Reset
from tests.support.grounds import BOBBIN, MAY, look, mild_may, on, seasons, weather, zone

TWELVE = weather(date(2011, 1, 1), MAY, tmin=7.0, tmax=17.0)
"""Every day 12 °C on average, the clock's own temperature."""


def day(back: int) -> date:
    return MAY - timedelta(days=back)


@pytest.mark.parametrize(("clock", "exposed"), [(10, 1), (7, 4), (5, 6)])
def test_exposed_days_agree_with_the_sum_done_by_hand(clock: float, exposed: float) -> None:
    assert exposed_days([3, 3, 4, 5, 11, 3], clock) == exposed


def test_a_clock_without_heads_noted_has_not_started_and_says_so() -> None:
    clock = seeding_clock(look(on(day(4), Cut(8.0, True)), sky=TWELVE))
    assert clock.state is ClockState.NOT_STARTED
    assert clock.degree_days is None
    assert "No heads noted" in clock.because


def test_the_typical_start_by_warmth_is_a_hint_and_starts_nothing() -> None:
    clock = seeding_clock(look(sky=seasons(2009, MAY)))
    assert clock.hint is not None
    assert clock.hint.reached_on is not None
    assert clock.heads_began is None


def test_heads_of_last_year_do_not_start_this_years_clock() -> None:
    clock = seeding_clock(look(on(date(2010, 5, 1), Heads()), sky=TWELVE))
    assert clock.state is ClockState.NOT_STARTED


def test_out_of_season_the_clock_rests() -> None:
    today = date(2011, 1, 10)
    found = look(on(date(2010, 5, 1), Heads()), today=today, sky=seasons(2009, today))
    assert seeding_clock(found).state is ClockState.RESTING


def test_warmth_since_first_heads_is_added_up_above_nought() -> None:
    clock = seeding_clock(look(on(day(5), Heads()), sky=TWELVE))
    assert clock.degree_days == pytest.approx(60.0)
    assert clock.state is ClockState.NEAR


def test_the_flush_works_to_seven_days_and_the_default_of_ten_is_shown_beside() -> None:
    clock = seeding_clock(look(on(day(2), Heads()), sky=TWELVE))
    assert (clock.working.degree_days, clock.longest.degree_days) == (84, 120)
    later = date(2011, 8, 20)
    clock = seeding_clock(look(on(day(2), Heads()), today=later, sky=mild_may(later)))
    assert clock.working.degree_days == 120


def test_days_past_the_clock_are_counted_from_the_day_it_ran_out() -> None:
    clock = seeding_clock(look(on(day(12), Heads()), sky=TWELVE))
    assert clock.state is ClockState.PAST
    assert clock.days_past == 5


@pytest.mark.parametrize(
    "lift", [Verticut(1.0), Brush("rake"), Brush("drag brush", lifted_heads=True)]
)
def test_a_boxed_cut_straight_after_lifting_resets_in_full(lift: Verticut | Brush) -> None:
    sit = look(on(day(20), Heads()), on(day(2), lift), on(day(2), Cut(8.0, True)), sky=TWELVE)
    clock = seeding_clock(sit)
    assert clock.last_left is not None
    assert (clock.last_left.reset, clock.last_left.day) == (Reset.FULL, day(2))
    assert clock.state is ClockState.IN_HAND


def test_a_boxed_cut_alone_resets_in_part_by_an_unknown_share() -> None:
    clock = seeding_clock(look(on(day(20), Heads()), on(day(2), Cut(8.0, True)), sky=TWELVE))
    assert clock.last_left is not None
    assert (clock.last_left.reset, clock.last_left.share) == (Reset.PARTIAL, None)
    assert clock.degree_days_full == pytest.approx(240)
    assert "not known" in clock.because


def test_a_check_that_finds_no_heads_makes_the_reset_full_and_one_that_does_gives_the_share() -> (
    None
):
    cut = (on(day(20), Heads()), on(day(2), Cut(8.0, True)))
    full = seeding_clock(look(*cut, on(day(1), TuftCheck(20, 0)), sky=TWELVE)).last_left
    part = seeding_clock(look(*cut, on(day(1), TuftCheck(20, 5)), sky=TWELVE)).last_left
    assert full is not None
    assert part is not None
    assert (full.reset, part.reset, part.share) == (Reset.FULL, Reset.PARTIAL, 0.75)


def test_an_unboxed_cut_never_resets() -> None:
    sit = look(on(day(12), Heads()), on(day(2), Verticut(1.0)), on(day(2), Cut(8.0, False)),
               sky=TWELVE)  # fmt: skip
    clock = seeding_clock(sit)
    assert clock.state is ClockState.PAST
    assert clock.last_left is not None
    assert clock.last_left.reset is Reset.NONE


def test_a_cut_that_does_not_say_whether_it_was_boxed_resets_nothing() -> None:
    clock = seeding_clock(look(on(day(12), Heads()), on(day(2), Cut(8.0)), sky=TWELVE))
    assert clock.days_past == 5


def test_a_warm_week_runs_the_clock_faster_than_a_cool_one() -> None:
    warm = weather(date(2011, 1, 1), MAY, tmin=14.0, tmax=24.0)
    cool = weather(date(2011, 1, 1), MAY, tmin=2.0, tmax=12.0)
    heads = on(day(8), Heads())
    fast, slow = seeding_clock(look(heads, sky=warm)), seeding_clock(look(heads, sky=cool))
    assert (fast.state, slow.state) == (ClockState.PAST, ClockState.IN_HAND)


def test_days_without_weather_run_at_the_clocks_own_temperature_and_are_said() -> None:
    clock = seeding_clock(look(on(day(5), Heads())))
    assert clock.degree_days == 60
    assert clock.days_without_weather == 5
    assert any("without weather" in each for each in clock.workings.assumptions)


def test_the_worked_example_of_may_gives_its_gaps_and_every_clocks_answer() -> None:
    entries = [on(date(2011, 5, 2), Cut(8.0, True))]
    entries += [on(date(2011, 5, each), Cut(8.0, each != 12)) for each in (5, 8, 12, 17, 28, 31)]
    today = date(2011, 6, 20)
    found = analyse_gaps(look(*entries, today=today), date(2011, 5, 2), date(2011, 5, 31))
    assert [gap.days for gap in found.gaps] == [3, 3, 4, 5, 11, 3]
    assert [each.exposed_days for each in found.what_if] == [1, 4, 6]
    assert (found.boxed, found.cuts) == (6, 7)


def test_undated_cuts_make_their_month_incomplete_and_no_dates_are_made_up() -> None:
    july = [on(date(2011, 7, each), Cut(8.0, True)) for each in (2, 5, 8, 25, 28)]
    loose = on(date(2011, 7, 11), Cut(8.0, True), last=date(2011, 7, 20), number=5)
    sit = look(*july, loose, today=date(2011, 8, 1))
    month = analyse_gaps(sit, date(2011, 7, 1), date(2011, 7, 31))
    assert month.verdict == "not enough data"
    assert month.incomplete_months == ("July",)
    assert "5 cuts have no day" in month.reason
    assert month.what_if == ()
    season = analyse_gaps(sit, date(2011, 6, 1), date(2011, 8, 1))
    assert not season.verdict
    assert "left out" in season.reason
    assert [gap.is_certain for gap in season.gaps] == [True, True, False, True, True]


def test_too_few_days_covered_is_not_enough_data() -> None:
    loose = on(date(2011, 5, 3), Cut(8.0, True), last=date(2011, 5, 24), number=6)
    sit = look(on(date(2011, 5, 1), Cut(8.0, True)), on(date(2011, 5, 2), Cut(8.0, True)), loose)
    assert analyse_gaps(sit, date(2011, 5, 1), MAY).verdict == "not enough data"


def test_boxing_missing_on_more_than_a_third_of_cuts_is_not_enough_data() -> None:
    boxed = [on(day(back), Cut(8.0, True)) for back in (20, 16, 12)]
    unsaid = [on(day(back), Cut(8.0)) for back in (8, 4)]
    found = analyse_gaps(look(*boxed, *unsaid), day(20), MAY)
    assert found.verdict == "not enough data"
    assert "box" in found.reason


def test_the_workings_hold_inputs_formula_and_arithmetic() -> None:
    told = seeding_clock(look(on(day(5), Heads()), sky=TWELVE)).workings
    assert told.formula
    assert {each.name for each in told.inputs} >= {"heads last left", "clock days"}
    assert "60 °C d" in told.arithmetic[0]
    assert any("rule of thumb" in each for each in told.assumptions)


def test_a_zone_of_any_lot_or_mower_has_a_clock() -> None:
    sit = look(on(day(5), Heads()), sky=TWELVE, of=zone(mower=Mower(has_box=False)), lots=(BOBBIN,))
    assert seeding_clock(sit).box_works is False


def test_exposed_days_by_boxed_cuts_alone_stand_beside_those_of_all_cuts() -> None:
    entries = [on(day(back), Cut(8.0, back != 8)) for back in (16, 8, 0)]
    found = analyse_gaps(look(*entries), day(16), MAY)
    assert [each.exposed_days for each in found.what_if] == [0, 2, 6]
    assert [each.exposed_days for each in found.what_if_boxed] == [6, 9, 11]


def test_a_cut_well_above_the_zones_height_resets_only_in_part() -> None:
    sit = look(on(day(20), Heads()), on(day(2), Verticut(1.0)), on(day(2), Cut(14.0, True)),
               sky=TWELVE)  # fmt: skip
    left = seeding_clock(sit).last_left
    assert left is not None
    assert left.reset is Reset.PARTIAL
    assert "above the zone's" in left.because
