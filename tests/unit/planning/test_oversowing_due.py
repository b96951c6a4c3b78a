"""Oversowing is due on enough evidence, and at a time when something would come up."""

from __future__ import annotations

from datetime import date

import pytest

from swardbook.husbandry.ground import Site
from swardbook.husbandry.happenings import Count
from swardbook.observations.counts import Method, PlaceCount
from swardbook.planning.counts_now import against_tolerance
from swardbook.planning.sections import gaps
from swardbook.planning.situation import Situation
from swardbook.planning.week import plan_week
from tests.support.grounds import look, mild_may, on, site


def counted(day: date, places: int, bare: int, at: Site | None = None) -> Situation:
    """Look at a lawn that was counted on a day, where no past years tell of the season."""
    found = tuple(
        PlaceCount(f"P{n}", Method.POINTS, {"sown": 25 - bare, "bare": bare}, 25.0)
        for n in range(1, places + 1)
    )
    return look(on(day, Count(found)), today=day, sky=mild_may(day), at=at)


def oversows(sit: Situation) -> bool:
    return any("Oversow" in task.name for task in plan_week([sit]).tasks)


def gaps_told(sit: Situation) -> str:
    return " ".join(line.text for line in gaps([sit]))


def test_one_frame_is_too_little_to_oversow_a_zone_by() -> None:
    autumn = date(2011, 9, 1)
    one = counted(autumn, places=1, bare=5)
    assert against_tolerance(one).bare_beyond is None
    assert not oversows(one)
    assert "one place" in gaps_told(one)
    assert "too few places" in gaps_told(one)
    assert oversows(counted(autumn, places=5, bare=5))


def test_one_frame_where_nothing_is_bare_may_be_said_to_be_fine() -> None:
    assert against_tolerance(counted(date(2011, 9, 1), places=1, bare=0)).bare_beyond is False


@pytest.mark.parametrize("day", [date(2011, 11, 26), date(2011, 12, 20), date(2011, 7, 15)])
def test_nothing_is_oversown_when_nothing_would_grow(day: date) -> None:
    assert not oversows(counted(day, places=12, bare=5))


@pytest.mark.parametrize(("day", "is_due"), [(date(2011, 5, 26), False), (date(2011, 3, 10), True)])
def test_the_south_is_half_a_year_away(day: date, is_due: bool) -> None:
    assert oversows(counted(day, places=12, bare=5, at=site(latitude=-43.0))) is is_due
