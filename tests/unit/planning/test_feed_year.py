"""The year of feed: two splits, the ledger, clippings, what is left and what is due."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swardbook.foundation.dates import season_day
from swardbook.foundation.errors import OutOfRangeError
from swardbook.husbandry.happenings import Cut, Feed, Sow
from swardbook.husbandry.worked_out import WorkedOut
from swardbook.planning.feed_split import split_by_growth, split_for_spring
from swardbook.planning.feed_year import exported, feed_year, ledger, what_is_due
from swardbook.planning.feeding import feed_year_start, feeding
from tests.support.grounds import grown, look, mild_may, on, seasons, site, weather, zone

MAY = date(2011, 5, 24)
MEANS = (4.2, 4.4, 6.3, 8.6, 11.7, 14.6, 16.8, 16.5, 13.9, 10.4, 6.9, 4.5)
YEAR = tuple(range(1, 13))


@given(st.lists(st.floats(-10, 35), min_size=12, max_size=12).filter(lambda t: max(t) > 0),
       st.floats(0.5, 40))  # fmt: skip
def test_a_split_by_growth_adds_up_to_the_year(means: list[float], year: float) -> None:
    months = split_by_growth(means, year)
    assert sum(months) == pytest.approx(year)
    assert min(months) >= 0


@given(st.floats(0.5, 40), st.integers(0, 11))
def test_a_split_for_spring_adds_up_wherever_the_year_begins(year: float, start: int) -> None:
    months = [(start + n) % 12 + 1 for n in range(12)]
    split = dict(zip(months, split_for_spring(months, year), strict=True))
    assert sum(split.values()) == pytest.approx(year)
    assert split == pytest.approx(dict(zip(YEAR, split_for_spring(YEAR, year), strict=True)))
    assert split[9] <= 1 + 1e-9 >= split[10]
    assert split[11] == split[12] == split[1] == split[2] == 0


def test_spring_gets_more_than_warmth_alone_would_give_it() -> None:
    warm, spring = split_by_growth(MEANS, 10), split_for_spring(YEAR, 10)
    assert sum(spring[2:6]) > 2 * sum(warm[2:5])
    assert warm[6] == max(warm)
    assert spring[4] == max(spring)


def test_the_ledger_adds_up_as_elements_and_says_what_it_does_not_know() -> None:
    sit = look(
        *grown(), on(date(2011, 3, 30), Feed("spring 12-0-9", 25, 12, 0, 9)),
        on(date(2011, 4, 20), Feed("from a neighbour")),
        on(date(2011, 5, 9), Feed("10-10-10", 30, 10, 10, 10, 2)), sky=mild_may(),
    )  # fmt: skip
    first, unknown, last = ledger(sit, feed_year_start(sit))
    assert first.nitrogen == 3.0
    assert first.potassium == pytest.approx(25 * 0.09 * 0.8302)
    assert unknown.nitrogen is None
    assert last.phosphorus == pytest.approx(3 * 0.4364)
    assert last.iron == pytest.approx(0.6)
    assert last.so_far == pytest.approx(6.0)
    year = feed_year(sit)
    assert year.not_known == 1
    assert year.given == pytest.approx(6.0)
    assert year.left == pytest.approx(year.year_g_m2 - 6)


def test_boxed_clippings_take_nitrogen_and_unboxed_ones_none() -> None:
    days = [MAY - timedelta(days=3 * n) for n in range(10)]
    sky = mild_may()
    boxed = exported(look(*[on(day, Cut(8.0, True)) for day in days], sky=sky), date(2011, 3, 1))
    assert boxed is not None
    assert boxed.cuts == 9
    assert 0 < boxed.low < boxed.middle < boxed.high
    mixed = [on(day, Cut(8.0, n % 2 == 0)) for n, day in enumerate(days)]
    half = exported(look(*mixed, sky=sky), date(2011, 3, 1))
    assert half is not None
    assert half.middle < boxed.middle
    unsaid = [on(day, Cut(8.0, None)) for day in days]
    assert exported(look(*unsaid, sky=sky), date(2011, 3, 1)) is None


def test_boxed_growth_of_nine_three_day_gaps_agrees_with_the_sum_done_by_hand() -> None:
    days = [MAY - timedelta(days=3 * n) for n in range(10)]
    found = exported(look(*[on(day, Cut(8.0, True)) for day in days], sky=mild_may()), days[-1])
    assert found is not None
    # mean 13 °C: (13 - 3) / (14 - 3) of 3 mm a day over 27 days, 0.025 g a mm
    assert found.middle == pytest.approx(27 * 3 * 10 / 11 * 0.025)


def test_the_next_feed_waits_its_gap_and_keeps_to_one_dose() -> None:
    fed = on(MAY - timedelta(days=10), Feed("21-0-0", 5, 21))
    year = feed_year(look(*grown(), fed, sky=mild_may()))
    assert year.next_from == MAY + timedelta(days=11)
    assert year.next_to == MAY + timedelta(days=32)
    assert 0 < year.next_g_m2 <= 3
    assert "at most" in what_is_due(year)


def test_a_year_that_is_full_and_a_winter_day_get_none() -> None:
    full = feed_year(look(*grown(), on(MAY, Feed("x", 100, 12)), sky=mild_may()))
    assert full.next_from is None
    assert what_is_due(full) in {"Nothing is left of the year's nitrogen.",
                                 f"Hold off today: {full.now.fit.loses_to}."}  # fmt: skip
    december = date(2010, 12, 6)
    winter = feed_year(look(*grown(december), today=december, sky=seasons(2008, december)))
    assert winter.next_from is None


def test_no_iron_on_seedlings_nor_beside_paving() -> None:
    young = on(MAY - timedelta(days=40), Sow("BB-0417", 30.0))
    told = " ".join(feed_year(look(young, of=zone(iron_stains_near=True), sky=mild_may())).iron)
    assert "No iron now: seedlings of 5 weeks" in told
    assert "stains it for good" in told
    assert "no moss, disease or worm dose" in told
    old = " ".join(feed_year(look(*grown(), sky=mild_may())).iron)
    assert "seedlings" not in old


def test_without_a_year_of_weather_the_split_by_warmth_is_left_out() -> None:
    sky = weather(MAY - timedelta(days=100), MAY)
    assert all(each.by_growth is None for each in feed_year(look(*grown(), sky=sky)).months)


def test_south_of_the_equator_the_year_begins_and_peaks_half_a_year_on() -> None:
    south, today = site(latitude=-43.5), date(2011, 11, 24)

    def turned(day: date) -> float:
        middle = season_day(day, -43.5)
        return 10 - 6.5 * (1 if middle < 60 or middle > 330 else -1)

    sky = weather(today - timedelta(days=800), today, tmin=turned, tmax=turned)
    year = feed_year(look(*grown(today), today=today, at=south, sky=sky))
    assert year.since.month in {8, 9}
    most = max(year.months, key=lambda each: each.by_spring)
    assert most.first.month == 11
    assert all(each.by_spring == 0 for each in year.months if each.first.month in {5, 6, 7})


def test_a_year_far_above_any_use_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="100 kg/ha"):
        feed_year(look(*grown(), sky=mild_may()), 100)


def test_a_plan_kept_this_year_caps_what_is_due_and_last_years_does_not() -> None:
    fed = on(MAY - timedelta(days=40), Feed("21-0-0", 10, 21))
    kept = WorkedOut("feed plan", found={"year_g_m2": 3.0})
    now = feeding(look(*grown(), fed, on(MAY - timedelta(days=30), kept), sky=mild_may()))
    assert now.most == pytest.approx(0.9)
    assert "3 is planned" in now.told
    old = feeding(look(*grown(), fed, on(MAY - timedelta(days=200), kept), sky=mild_may()))
    assert old.most == pytest.approx(3.0)
