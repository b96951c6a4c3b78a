"""The next cut: the sooner of the one-third rule and the clock, its line, and the way down."""

from datetime import date, timedelta
from typing import Any

import pytest

from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.happenings import Cut, Feed, Happening, Heads, Reading, Sow, Verticut
from swardbook.planning.candidates import cut_task
from swardbook.planning.directions import next_line
from swardbook.planning.mowing import CLOCK, THIRD, NextCut, Wish, due_by_heights, next_cut
from tests.support.grounds import MAY, look, mild_may, on, zone

LAWN = zone(height_of_cut_mm=35.0)


def ago(number: int, what: Happening) -> DiaryEntry:
    return on(MAY - timedelta(days=number), what)


def planned(*entries: DiaryEntry, wish: Wish | None = None, **more: Any) -> NextCut:
    sky = mild_may(**more)
    return next_cut(look(*entries, sky=sky, of=LAWN), wish)


FED = ago(10, Feed("spring feed", 25.0, 12.0))


def test_the_one_third_rule_asks_first_where_grass_grows_and_no_heads_stand() -> None:
    told = planned(FED, ago(2, Cut(35.0, True)))
    assert told.decides == THIRD
    assert told.growth is not None
    assert told.grass is not None
    assert told.third is not None
    assert told.third.in_days is not None
    assert told.third.in_days == pytest.approx(
        (52.5 - told.grass.height_mm) / told.growth.rate, rel=1e-6
    )
    assert told.cut_on == MAY + timedelta(days=int(told.third.in_days))
    assert told.third.soonest is not None
    assert told.third.soonest <= told.third.in_days


def test_the_clock_asks_first_where_heads_have_stood_too_long() -> None:
    told = planned(ago(20, Heads(True)), ago(20, Cut(35.0, True)), tmin=6.0, tmax=12.0)
    assert told.decides == CLOCK
    assert told.cut_on == MAY
    assert told.because == told.clock.because


def test_where_grass_stands_still_and_no_heads_are_noted_no_cut_is_made_up() -> None:
    told = planned(ago(2, Cut(35.0, True)), tmin=-2.0, tmax=3.0)
    assert (told.cut_on, told.decides) == (None, "")
    assert "held back most by warmth" in told.because


def test_without_weather_it_says_what_is_missing() -> None:
    told = next_cut(look(ago(2, Cut(35.0, True)), of=LAWN))
    assert told.growth is None
    assert told.third is None
    assert any("weather" in each for each in told.not_known)


def test_a_cut_at_another_height_than_the_zones_is_taken_for_the_next_one() -> None:
    assert planned(ago(2, Cut(40.0, True))).cut_mm == 40
    assert planned().cut_mm == 35
    assert planned(ago(2, Cut(40.0, True)), wish=Wish(cut_mm=30)).cut_mm == 30


def test_a_height_measured_today_goes_before_what_is_reckoned() -> None:
    told = planned(FED, ago(10, Cut(35.0, True)), wish=Wish(grass_mm=90))
    assert told.grass is not None
    assert told.grass.height_mm == 90
    assert len(told.down) >= 3
    assert told.down[-1].cut_mm == 35
    noted = planned(FED, ago(10, Cut(35.0, True)), ago(0, Reading("sward height", 80, "mm")))
    assert noted.grass is not None
    assert (noted.grass.height_mm, noted.grass.because) == (80, "measured")


def test_below_twelve_millimetres_the_rule_warns_and_one_cut_may_do() -> None:
    court = zone(height_of_cut_mm=8.0)
    told = next_cut(look(ago(3, Cut(8.0, True)), sky=mild_may(), of=court), Wish(grass_mm=15))
    assert told.third is not None
    assert told.third.is_warning_only
    assert told.down == ()
    high = next_cut(look(sky=mild_may(), of=court), Wish(grass_mm=40))
    assert len(high.down) > 2


def lines(*degrees: float) -> list[DiaryEntry]:
    return [ago(3 * n, Cut(8.0, True, None, deg)) for n, deg in enumerate(degrees, 1)]


def test_the_next_line_is_never_the_last_and_the_one_left_longest() -> None:
    """Given latest first."""
    for done, expected in (
        ((0,), 90), ((90, 0), 45), ((45, 90, 0), -45), ((-45, 45, 90, 0), 0),
        ((0, -45, 45, 90), 90), ((10,), 90), ((180,), 90),
    ):  # fmt: skip
        found = next_line(look(*lines(*done)))
        assert found.line_deg == expected, done
        assert found.last_deg == done[0]


def test_a_verticut_line_counts_as_well() -> None:
    verticut = on(date(2011, 5, 23), Verticut(1.0, line_deg=0.0))
    assert next_line(look(*lines(90), verticut)).line_deg == 45


def test_with_no_line_noted_it_asks_for_one() -> None:
    found = next_line(look(ago(3, Cut(8.0))))
    assert found.last_deg is None
    assert "note it" in found.because


def test_seedlings_wait_for_their_first_cut_high_whatever_the_zone_is_cut_at() -> None:
    court = zone(height_of_cut_mm=8.0)
    sown = on(MAY - timedelta(days=40), Sow("BB-0417", 30.0))
    before = on(MAY - timedelta(days=60), Cut(8.0, True))
    told = next_cut(look(before, sown, sky=mild_may(), of=court))
    assert told.cut_mm == 25
    assert told.cut_on is None
    assert "at 35 mm of grass, down to 25 mm" in told.because
    heads = on(MAY - timedelta(days=30), Heads(True))
    assert next_cut(look(before, sown, heads, sky=mild_may(), of=court)).cut_on is None
    high = next_cut(look(before, sown, sky=mild_may(), of=court), Wish(grass_mm=37))
    assert high.cut_on == MAY
    assert high.down == ()
    assert "Tug a few seedlings" in high.because


def test_where_heights_are_measured_the_week_goes_by_them() -> None:
    sown = on(date(2010, 9, 4), Sow("BB-0417", 30.0))
    spells = [FED, sown, *(ago(n, Cut(35.0, True)) for n in (25, 18)),
              *(ago(n, Reading("sward height", 50, "mm")) for n in (20, 13))]  # fmt: skip
    low = look(*spells, ago(1, Cut(35.0, True)), sky=mild_may(), of=LAWN)
    due, _ = due_by_heights(low)
    assert due is False
    assert cut_task(low) == []
    high = look(*spells, ago(9, Cut(35.0, True)), sky=mild_may(), of=LAWN)
    due, words = due_by_heights(high)
    assert due is True
    assert "by heights measured here" in words
    assert words.strip() in cut_task(high)[0].why
    assert due_by_heights(look(FED, ago(9, Cut(35.0, True)), sky=mild_may(), of=LAWN)) == (None, "")
