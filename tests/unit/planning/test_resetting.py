"""Stripped ground or a new seedbed: what was counted and seen before it says nothing of it."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.happenings import (
    ClumpCheck,
    Count,
    DigClumps,
    Disease,
    Happening,
    Heads,
    Pull,
    Sow,
    Strip,
)
from swardbook.observations.counts import Method, PlaceCount
from swardbook.planning.checks_sward import active_diseases
from swardbook.planning.clean_down import clean_and_weedy
from swardbook.planning.clock import ClockState, seeding_clock
from swardbook.planning.clumps import clumps_standing
from swardbook.planning.counts_now import against_tolerance, weed_share
from swardbook.planning.pulling import plant_density, pulling
from swardbook.planning.refills import open_holes, small_holes
from swardbook.planning.resetting import reset_on
from swardbook.planning.week import plan_week
from tests.support.grounds import MAY, look, mild_may, on

BEFORE = MAY - timedelta(days=20)
RESETS = [
    pytest.param(Strip(15.0), id="stripped"),
    pytest.param(Sow("BB-0417", 30.0), id="new seedbed"),
]


def counted(day: date, share: float) -> DiaryEntry:
    points = PlaceCount("P1", Method.POINTS, {"poa annua": 100 * share, "bare": 4.0}, 100.0)
    plants = PlaceCount("P1", Method.PLANTS, {"poa annua": 200 * share}, 1.0)
    return on(day, Count((points, plants)))


@pytest.mark.parametrize("reset", RESETS)
def test_counts_before_a_resetting_day_are_not_used(reset: Happening) -> None:
    old = look(counted(BEFORE, 0.4), today=MAY, sky=mild_may())
    assert weed_share(old) == (0.4, BEFORE)
    sit = look(counted(BEFORE, 0.4), on(MAY - timedelta(days=6), reset), sky=mild_may())
    assert reset_on(sit) == MAY - timedelta(days=6)
    assert weed_share(sit) == (None, None)
    assert plant_density(sit) == (None, None)
    assert pulling(sit).plants is None
    fine = against_tolerance(sit)
    assert (fine.weed_beyond, fine.bare_beyond) == (None, None)
    assert clean_and_weedy([sit]).order[0].weed_share is None


@pytest.mark.parametrize("reset", RESETS)
def test_a_count_after_it_is_the_one_that_holds(reset: Happening) -> None:
    sit = look(counted(BEFORE, 0.4), on(MAY - timedelta(days=12), reset), counted(MAY, 0.02),
               sky=mild_may())  # fmt: skip
    share, counted_on = weed_share(sit)
    assert (share, counted_on) == (0.02, MAY)


@pytest.mark.parametrize("reset", RESETS)
def test_clumps_heads_holes_and_disease_go_with_the_turf(reset: Happening) -> None:
    seen = (
        on(BEFORE, ClumpCheck(standing=7)), on(BEFORE, Heads()), on(BEFORE, Disease("red thread")),
        on(BEFORE, DigClumps(clumps=3)), on(BEFORE + timedelta(days=1), Pull(plants=40)),
    )  # fmt: skip
    old = look(*seen, sky=mild_may())
    assert clumps_standing(old).standing == 4
    assert seeding_clock(old).is_running
    assert active_diseases(old)
    assert open_holes(old)[0] == 3
    assert small_holes(old)[0] == 40
    sit = look(*seen, on(MAY - timedelta(days=6), reset), sky=mild_may())
    assert clumps_standing(sit).standing is None
    assert seeding_clock(sit).state is ClockState.NOT_STARTED
    assert not active_diseases(sit)
    assert open_holes(sit) == (None, None)
    assert small_holes(sit) == (0, None)


def test_the_week_pulls_and_verticuts_nothing_that_was_stripped_off() -> None:
    jobs = {"pull", "verticut", "dig clumps", "cut"}
    seen = (counted(BEFORE, 0.4), on(BEFORE, ClumpCheck(standing=7)), on(BEFORE, Heads()))
    fresh = look(*seen, on(MAY - timedelta(days=6), Strip(15.0)),
                 on(MAY - timedelta(days=2), Sow("BB-0417", 30.0)), sky=mild_may())  # fmt: skip
    assert jobs & {task.job for task in plan_week([look(*seen, sky=mild_may())]).tasks}
    assert not jobs & {task.job for task in plan_week([fresh]).tasks}


def test_oversowing_and_a_small_seedbed_leave_counts_standing() -> None:
    for sown in (Sow("BB-0417", 15.0, method="broadcast on sward"),
                 Sow("BB-0417", 30.0, area_m2=20.0)):  # fmt: skip
        sit = look(counted(BEFORE, 0.4), on(MAY - timedelta(days=6), sown), sky=mild_may())
        assert reset_on(sit) is None
        assert weed_share(sit) == (0.4, BEFORE)


def test_plots_sown_on_one_day_count_together() -> None:
    day = MAY - timedelta(days=6)
    plots = [on(day, Sow("BB-0417", 30.0, area_m2=60.0, used_g=float(n))) for n in range(5)]
    assert reset_on(look(*plots[:3], sky=mild_may())) is None
    assert reset_on(look(*plots, sky=mild_may())) == day
