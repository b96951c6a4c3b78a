from datetime import date

import pytest

from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground
from swardbook.husbandry.happenings import Count, Scarify, Seedlings, Sow, Strip
from swardbook.husbandry.stage import Stage, bare_share, stage
from swardbook.observations.counts import Method, PlaceCount
from tests.support.books import MAIN, SITE, entry

TODAY = date(2011, 12, 1)


def count(bare: int) -> Count:
    return Count((PlaceCount("P1", Method.POINTS, {"bare": bare, "sown": 20}, 25.0),))


COURSE = (
    (entry(1, Scarify(4), day=date(2011, 8, 1)), Stage.CLEARED),
    (entry(2, Sow(rate_g_m2=30), day=date(2011, 9, 7)), Stage.SOWN),
    (entry(3, Seedlings("browntop bent", True), day=date(2011, 9, 21)), Stage.SHOWING),
    (entry(4, day=date(2011, 10, 2)), Stage.KNITTING),
    (entry(5, count(4), day=date(2011, 10, 12)), Stage.KNITTING),
    (entry(6, count(0), day=date(2011, 11, 1)), Stage.SETTLED),
    (entry(7, count(3), day=date(2011, 11, 20)), Stage.SLIPPING),
)


def told(*diary: DiaryEntry, today: date = TODAY) -> Stage:
    return stage(Ground(SITE, (MAIN,), diary=diary), MAIN, today)


def test_a_zone_without_a_diary_is_surveyed() -> None:
    assert told() is Stage.SURVEYED


@pytest.mark.parametrize("upto", range(1, len(COURSE) + 1))
def test_a_zone_goes_from_cleared_to_settled_by_what_is_seen(upto: int) -> None:
    entries = [each for each, _ in COURSE[:upto]]
    assert told(*entries) is COURSE[upto - 1][1]
    every = [each for each, _ in COURSE]
    assert told(*every, today=entries[-1].day) is COURSE[upto - 1][1]


def test_stripping_after_a_sowing_begins_again_and_a_part_sowing_does_not() -> None:
    sown = COURSE[1][0]
    assert told(sown, entry(8, Strip(35), day=date(2011, 11, 1))) is Stage.CLEARED
    assert told(entry(8, Sow(area_m2=9.0))) is Stage.SURVEYED


def test_bare_ground_that_was_not_looked_for_is_not_read_as_none() -> None:
    assert bare_share(entry(1, count(5))) == pytest.approx(0.2)
    only_sown = Count((PlaceCount("P1", Method.POINTS, {"sown": 20}, 25.0),))
    assert bare_share(entry(1, only_sown)) is None
    assert bare_share(entry(1)) is None
