"""Registers of clumps and refills, what came back and what took, and clean zones before weedy."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swardbook.evidence.verdicts import Verdict
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground
from swardbook.husbandry.happenings import (
    CleanDown,
    ClumpCheck,
    Count,
    Cut,
    DigClumps,
    Refill,
    RefillCheck,
    Sow,
)
from swardbook.observations.counts import Method, PlaceCount
from swardbook.planning.clean_down import clean_and_weedy
from swardbook.planning.clump_register import Share, clump_register, compare_shares
from swardbook.planning.refill_register import refill_register, season_of
from swardbook.planning.situation import Situation, situation
from tests.support.grounds import look, mild_may, on, site, zone

AUGUST = date(2010, 8, 14)
FOG = "holcus lanatus"
TODAY = date(2011, 10, 8)


def dug(*more: DiaryEntry) -> Situation:
    return look(
        on(AUGUST, DigClumps(FOG, 40, 100.0, place="south end", spoil_to="skip")),
        on(AUGUST + timedelta(days=2), DigClumps(FOG, 18, 0.0)), *more, today=TODAY,
    )  # fmt: skip


def test_what_came_back_by_margin_agrees_with_the_hand_sum() -> None:
    """2 of 40 is 1 to 17 %, 7 of 18 is 20 to 61 %, and 34 points more (12 to 57)."""
    found = clump_register(
        dug(on(TODAY, ClumpCheck(FOG, 40, 2, 100.0)), on(TODAY, ClumpCheck(FOG, 18, 7, 0.0, 15)))
    )
    less, full = found.margins.one, found.margins.other
    assert full.interval is not None
    assert full.interval == pytest.approx((0.0138, 0.1650), abs=0.001)
    assert less.interval == pytest.approx((0.2031, 0.6138), abs=0.001)
    assert found.margins.difference == pytest.approx(0.339, abs=0.001)
    assert found.margins.interval == pytest.approx((0.12, 0.57), abs=0.006)
    assert found.margins.verdict is Verdict.CLEAR
    assert (found.standing, found.not_told) == (15, 1)


def test_a_look_belongs_to_its_place_else_to_its_margin() -> None:
    found = clump_register(dug(on(TODAY, ClumpCheck(FOG, 12, 1, None, place="South end"))))
    south, other = found.dug
    assert (south.looked, south.regrown, south.due_on) == (12, 1, None)
    assert other.checked_on is None
    assert other.due_on == AUGUST + timedelta(days=2 + 42)
    assert found.margins.verdict is Verdict.NOT_ENOUGH
    assert found.margins.other.looked == 12


def test_a_second_look_at_the_same_clumps_takes_the_place_of_the_first() -> None:
    found = clump_register(
        dug(
            on(TODAY - timedelta(days=200), ClumpCheck(FOG, 40, 0, 100.0)),
            on(TODAY, ClumpCheck(FOG, 40, 3, 100.0)),
        )
    )
    assert (found.margins.other.hits, found.margins.other.looked) == (3, 40)


@given(st.integers(0, 60), st.integers(1, 60), st.integers(0, 60), st.integers(1, 60))
def test_few_are_never_compared_and_equal_shares_are_never_clear(
    hits: int, looked: int, others: int, seen: int
) -> None:
    one = Share.of("one", min(hits, looked), looked)
    two = Share.of("two", min(others, seen), seen)
    found = compare_shares(one, two)
    assert (found.verdict is Verdict.NOT_ENOUGH) == (min(looked, seen) < 10)
    same = compare_shares(one, one)
    assert same.verdict is not Verdict.CLEAR


def test_refills_take_by_season_from_the_books_own_looks() -> None:
    """52 of 58 is 79 to 95 %, 31 of 60 is 39 to 64 %."""
    autumn, spring = date(2010, 9, 18), date(2011, 4, 23)
    sit = look(
        on(date(2010, 9, 3), Sow("BB-0417", 20.0)),
        on(autumn, Refill("BB-0417", 58, None, 267, 8.9, "fog holes")),
        on(date(2010, 10, 30), RefillCheck(58, 52, autumn)),
        on(spring, Refill("GP-2240", 60, 60, 21, 0.7, "tagged holes")),
        on(date(2011, 6, 4), RefillCheck(60, 31, None, "tagged holes")),
        on(date(2011, 8, 27), Refill("", 38, 55)),
        today=TODAY, sky=mild_may(TODAY),
    )  # fmt: skip
    found = refill_register(sit)
    assert [row.season for row in found.refills] == ["autumn", "spring", "autumn"]
    assert [row.is_same_lot for row in found.refills] == [True, False, None]
    assert found.refills[2].due_on == date(2011, 10, 8)
    by = {share.name: share for share in found.by_season}
    assert by["in autumn"].interval == pytest.approx((0.792, 0.952), abs=0.003)
    assert by["in spring"].interval == pytest.approx((0.393, 0.638), abs=0.003)
    assert found.seasons is not None
    assert found.seasons.verdict is Verdict.CLEAR
    closes, seeded, turf = found.sizes
    assert "closes itself" in closes.says
    assert "the same lot" in seeded.says
    assert "turf from the nursery" in turf.says


def test_seasons_of_refills_are_half_a_year_on_in_the_south() -> None:
    for day, season in ((date(2011, 4, 23), "spring"), (date(2011, 9, 18), "autumn"),
                        (date(2011, 6, 30), "summer"), (date(2011, 1, 5), "winter")):  # fmt: skip
        assert season_of(day, 52) == season
        assert season_of(day + timedelta(days=183), -43.5) == season


def counted(share: int, of: str, day: date) -> DiaryEntry:
    place = PlaceCount("P1", Method.POINTS, {"poa annua": share}, 25)
    return on(day, Count((place,)), zone=of)


def two_zones(*entries: DiaryEntry) -> list[Situation]:
    zones = (zone(name="Apron"), zone(name="Main court"), zone(name="Lime Walk"))
    diary = (
        counted(10, "Apron", TODAY - timedelta(days=80)),
        counted(1, "Main court", TODAY - timedelta(days=80)), *entries,
    )  # fmt: skip
    whole = Ground(site(), zones, diary=tuple(sorted(diary, key=lambda e: e.when.first)))
    return [situation(whole, each.name, None, TODAY) for each in zones]


def test_clean_zones_come_before_weedy_ones_and_unknown_ones_last() -> None:
    found = clean_and_weedy(two_zones())
    assert [each.zone for each in found.order] == ["Main court", "Apron", "Lime Walk"]
    assert found.last_on is None


def test_a_machine_that_went_from_weedy_to_clean_unwashed_is_told_once_a_day() -> None:
    day = TODAY - timedelta(days=10)
    visits = (on(day, Cut(), zone="Apron"), on(day + timedelta(days=1), Cut(), zone="Main court"))
    [carried] = clean_and_weedy(two_zones(*visits)).carried
    assert (carried.weedier, carried.cleaner) == ("Apron", "Main court")
    washed = on(day, CleanDown("mower", True, "off site"), zone="")
    found = clean_and_weedy(two_zones(*visits, washed))
    assert found.carried == ()
    assert found.last_on == day
    back = (on(day, Cut(), zone="Main court"), on(day + timedelta(days=1), Cut(), zone="Apron"))
    assert clean_and_weedy(two_zones(*back)).carried == ()
