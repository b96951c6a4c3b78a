"""What took of earlier refills, by season, is used for the next ones."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from swardbook.evidence.proportions import wilson
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.happenings import ClumpCheck, DigClumps, Refill, RefillCheck
from swardbook.planning.morning import morning_look
from swardbook.planning.take_rate import take_rate
from swardbook.planning.week import plan_week
from tests.support.grounds import grown, look, on, seasons, site

SEPTEMBER = date(2011, 9, 20)
SPRING, AUTUMN = date(2011, 4, 5), date(2010, 9, 20)


def looked(day: date, holes: int, taken: int) -> tuple[DiaryEntry, DiaryEntry]:
    check = RefillCheck(looked=holes, taken=taken, sown_on=day)
    return on(day, Refill("BB-0417", holes, 90.0)), on(day + timedelta(days=42), check)


def test_the_season_of_today_goes_before_the_others() -> None:
    both = (*looked(SPRING, 20, 8), *looked(AUTUMN, 20, 15))
    autumn = take_rate(look(*both, today=SEPTEMBER))
    assert autumn is not None
    assert (autumn.season, autumn.taken, autumn.looked) == ("autumn", 15, 20)
    assert autumn.interval == wilson(15, 20)
    assert autumn.words == "15 of 20 filled in autumn took here (53 to 89 %)"
    spring = take_rate(look(*both, today=date(2012, 4, 20)))
    assert spring is not None
    assert (spring.season, spring.taken) == ("spring", 8)


def test_without_a_look_of_this_season_all_seasons_do_and_that_is_said() -> None:
    found = take_rate(look(*looked(SPRING, 20, 8), today=SEPTEMBER))
    assert found is not None
    assert (found.season, found.now) == ("", "autumn")
    assert found.words == "8 of 20 of all seasons, none of autumn took here (22 to 61 %)"


def test_refills_nobody_looked_at_again_tell_no_rate() -> None:
    assert take_rate(look(on(SPRING, Refill("BB-0417", 20, 90.0)), today=SEPTEMBER)) is None
    assert take_rate(look(today=SEPTEMBER)) is None


def test_seasons_are_those_of_the_hemisphere() -> None:
    south = site(latitude=-43.0)
    found = take_rate(look(*looked(date(2011, 4, 5), 12, 9), today=date(2012, 4, 1), at=south))
    assert found is not None
    assert found.season == "autumn"


def test_the_week_and_the_morning_tell_it_beside_holes_to_fill() -> None:
    seen = (*looked(AUTUMN, 20, 15), on(SEPTEMBER, ClumpCheck(standing=9)),
            on(SEPTEMBER - timedelta(days=3), DigClumps(clumps=4, margin_mm=100)))  # fmt: skip
    sit = look(*grown(SEPTEMBER), *seen, today=SEPTEMBER, sky=seasons(2005, SEPTEMBER))
    [dig] = [task for task in plan_week([sit]).tasks if task.job == "dig clumps"]
    told = "15 of 20 filled in autumn took here (53 to 89 %)"
    assert any(told in each for each in dig.materials)
    gaps = morning_look([sit]).section("gaps")
    assert gaps is not None
    assert told in gaps.lines[0].text
    assert gaps.lines[0].values["refills_taken"] == pytest.approx(15)
