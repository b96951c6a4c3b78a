"""Ways of working, and the days they fall on."""

from dataclasses import replace
from datetime import date
from itertools import pairwise

import numpy as np
import pytest

from swardbook.foundation.dates import days_between
from swardbook.foundation.errors import UnknownNameError
from swardbook.husbandry.ground import Mower, Tolerance, Use, Zone
from swardbook.husbandry.happenings import Cut, Feed, Happening, Pull, Verticut
from swardbook.model.programmes import (
    Box,
    Planned,
    as_recorded,
    expand,
    fit_to_zone,
    programme,
    programmes,
    work_hours,
)

COURT = Zone(
    "Court", 400.0, Use.COURT_OR_GREEN, Tolerance(0.1, 0.03, 0), 8.0, Mower("cylinder", 510)
)
YEAR = days_between(date(2011, 1, 1), date(2011, 12, 31))
GROWTH = np.array([0.4 if 3 <= day.month <= 10 else 0.02 for day in YEAR])
POA = "annual meadow-grass"


def jobs(name: str, zone: Zone = COURT) -> tuple[Planned, ...]:
    plan = fit_to_zone(programme(name), zone, [], None)
    return expand(plan, zone, YEAR, GROWTH, 52.0, POA)


def of(kind: type[Happening], found: tuple[Planned, ...]) -> list[date]:
    return [job.day for job in found if isinstance(job.what, kind)]


def test_every_programme_of_the_handbook_reads_and_is_found_by_name() -> None:
    assert {"cut_only", "cut_and_box", "dig_by_hand", "whole"} <= set(programmes())
    for each in programmes().values():
        assert programme(each.name.upper()) is each
    with pytest.raises(UnknownNameError, match="Whole programme"):
        programme("hole programme")


def test_nothing_is_cut_when_nothing_grows() -> None:
    months = {day.month for day in of(Cut, jobs("whole"))}
    assert months == set(range(3, 11))


def test_cuts_keep_the_rhythm_of_the_programme() -> None:
    days = of(Cut, jobs("Cut and box"))
    assert {(later - day).days for day, later in pairwise(days)} == {3}


def test_a_verticut_is_cut_straight_after_and_its_lines_cross() -> None:
    found = jobs("whole")
    for at, job in enumerate(found):
        if isinstance(job.what, Verticut):
            assert isinstance(found[at + 1].what, Cut)
            assert found[at + 1].day == job.day
    lines = [job.what.line_deg for job in found if isinstance(job.what, Verticut)]
    assert all(line != later for line, later in pairwise(lines))


def test_a_verticut_that_touches_soil_leaves_the_germination_flush_alone() -> None:
    deep = replace(programme("whole"), verticut_depth_mm=4.0)
    found = expand(deep, COURT, YEAR, GROWTH, 52.0, POA)
    assert not {day.month for day in of(Verticut, found)} & {3, 4, 9, 10}


def test_the_year_of_nitrogen_is_what_the_programme_says() -> None:
    given = sum(job.what.nitrogen_g_m2 or 0 for job in jobs("whole") if isinstance(job.what, Feed))
    assert given == pytest.approx(9.0)


def test_no_box_on_the_mower_means_no_box_in_the_programme_and_says_so() -> None:
    bare = replace(COURT, mower=Mower("rotary", 400, has_box=False))
    plan = fit_to_zone(programme("whole"), bare, [], None)
    assert plan.box is Box.NEVER
    assert any("no box" in reason for reason in plan.held_back)


def test_a_height_below_comfort_is_said_and_not_changed() -> None:
    plan = fit_to_zone(programme("whole"), COURT, [("perennial ryegrass", 10.0)], None)
    assert plan.height_of_cut_mm == 8.0
    assert plan.held_back == ("perennial ryegrass likes 10 mm and more, not 8",)


def test_pulling_never_takes_more_hours_than_there_are() -> None:
    plan = fit_to_zone(programme("dig by hand"), COURT, [], 2.0)
    assert plan.pull_hours_week == 2.0
    found = expand(plan, COURT, YEAR, GROWTH, 52.0, POA)
    assert {job.hours for job in found if isinstance(job.what, Pull)} == {2.0}


def test_hours_follow_the_number_of_passes() -> None:
    often, seldom = (
        work_hours(COURT, jobs("whole"), 1),
        work_hours(COURT, jobs("cut only"), 1),
    )
    assert often.low < often.middle < often.high
    assert often.middle > seldom.middle


def test_the_way_of_working_is_read_off_the_diary() -> None:
    diary: list[tuple[date, Happening, float | None]] = [
        (day, Cut(8.0, boxed=n % 4 != 0), 1.0) for n, day in enumerate(YEAR[90:270:3])
    ]
    diary += [
        (YEAR[150 + 21 * n], Verticut(1.0, line_deg=20.0 * (-1) ** n), None) for n in range(4)
    ]
    diary += [(YEAR[100], Feed("a", 25, 12), None), (YEAR[120], Pull(plants=300), 16.0)]
    found = as_recorded(diary, COURT, YEAR[60], YEAR[300])
    assert found is not None
    assert found.cut_days == (3.0, 3.0)
    assert found.box is Box.WITH_HEADS
    assert found.verticut_days == 21
    assert found.verticut_lines_deg == (20.0, -20.0)
    assert found.nitrogen_g_m2_year == 3.0
    assert found.pull_hours_week == pytest.approx(16 / (240 / 7), abs=0.06)


def test_a_diary_without_cuts_shows_no_way_of_working() -> None:
    assert as_recorded([], COURT, YEAR[0], YEAR[-1]) is None
