"""Back after a breakdown or three months away: five lines, and no scolding."""

from __future__ import annotations

import re
from datetime import date, timedelta

import pytest

from swardbook.foundation.errors import BadInputError, NotEnoughDataError
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.happenings import Closure, Cut, Heads, Pull, Refill, Sow
from swardbook.planning.catch_up import catch_up, last_record
from swardbook.planning.situation import Situation
from tests.support.grounds import look, on, seasons

TODAY = date(2011, 11, 10)
LEFT = date(2011, 8, 10)
SOWN = on(date(2009, 9, 4), Sow("BB-0417", 30.0))
SKY = seasons(2003, TODAY)


def away(*more: DiaryEntry, today: date = TODAY) -> Situation:
    return look(SOWN, on(LEFT, Cut(8.0, True, True)), *more, today=today, sky=SKY)


def test_five_lines_say_what_changed_lapsed_and_passed() -> None:
    found = catch_up(
        away(on(LEFT - timedelta(days=3), Refill("BB-0417", 20, 60)),
             on(LEFT - timedelta(days=20), Closure(date(2011, 9, 1), "play")),
             on(LEFT - timedelta(days=1), Pull(plants=40, pass_name="A")))
    )  # fmt: skip
    assert found.since == LEFT
    assert len(found.lines) == 5
    assert found.changed.startswith("92 days since Wed 10 August 2011, rain ")
    lapsed = " ".join(found.lapsed)
    assert "refills of 7 August wanted a look on 18 September" in lapsed
    assert "closure to play ended 1 September" in lapsed
    assert "the pair is broken" in lapsed
    late = " ".join(found.too_late)
    assert "sowing Chewings fescue" in late
    assert "verticut" in late
    assert "an ordinary feed" in late
    told = " ".join(found.lines)
    assert not re.search(r"should|forgot|overdue|must have|neglect", told)


def test_high_grass_comes_down_in_steps_of_a_third_and_the_clock_is_reset_in_part() -> None:
    heads = on(LEFT - timedelta(days=30), Heads(True))
    found = catch_up(away(heads, today=date(2011, 9, 30)), grass_mm=60)
    cuts = [each.cut_mm for each in found.down]
    assert cuts[0] == pytest.approx(40)
    assert cuts[-1] == pytest.approx(8)
    assert all(each.cut_mm >= each.grass_mm * 2 / 3 - 1e-6 for each in found.down
               if not each.is_over_third)  # fmt: skip
    assert "boxed and taken off" in found.mowing
    assert "resets it only in part, until back at 8 mm" in found.clock
    assert found.days_past > 0


def test_a_week_away_has_nothing_lapsed_and_one_cut_does() -> None:
    today = LEFT + timedelta(days=7)
    sky = seasons(2003, today)
    sit = look(SOWN, on(LEFT, Cut(8.0, True)), today=today, sky=sky)
    found = catch_up(sit, grass_mm=11)
    assert found.lapsed == ()
    assert found.too_late == ()
    assert "one cut to 8 mm does it" in found.mowing
    assert "nothing has passed" in found.lines[2]


def test_the_last_day_there_is_the_last_record_or_as_told() -> None:
    assert last_record(away()) == LEFT
    told = catch_up(away(), date(2011, 9, 1))
    assert told.since == date(2011, 9, 1)
    with pytest.raises(BadInputError, match="before Thu 10 November 2011"):
        catch_up(away(), TODAY)
    with pytest.raises(NotEnoughDataError, match="an entry from before today"):
        catch_up(look(today=TODAY, sky=SKY))


def test_without_weather_or_height_it_asks_for_a_measure() -> None:
    found = catch_up(look(on(LEFT, Cut(8.0)), today=TODAY))
    assert "weather of them is wanting" in found.changed
    assert "measure the grass and say its height" in found.mowing
