"""One's own sowings: read from the diary, and what they do to the draws."""

from datetime import date, timedelta

import numpy as np
import pytest

from swardbook.book.own_emergence import NONE, OwnEmergence, _likelihood
from swardbook.book.seedlings_seen import own_sowings, sightings
from swardbook.book.sowing_days import event_of
from swardbook.husbandry.happenings import Cut, Seedlings, Sow
from swardbook.model.from_seed import NEVER
from tests.support.grounds import BOBBIN, RYE, ZONE, ground, on

DAY = date(2010, 9, 4)
HELD = ground(
    on(DAY, Sow("BB-0417", 30.0)),
    on(DAY + timedelta(days=9), Seedlings("annual meadow-grass", first_seen=True)),
    on(DAY + timedelta(days=11), Seedlings("chewings fescue", first_seen=True)),
    on(DAY + timedelta(days=14), Seedlings("chewings fescue", per_m2=900.0)),
    on(DAY + timedelta(days=15), Seedlings("browntop bent", per_m2=0.0)),
    on(DAY + timedelta(days=24), Cut(25.0)),
    on(DAY + timedelta(days=30), Sow("GP-2240", 30.0)),
    on(DAY + timedelta(days=38), Seedlings("perennial ryegrass", first_seen=True)),
    on(DAY + timedelta(days=39), Seedlings("browntop bent", first_seen=True)),
    lots=(BOBBIN, RYE),
)


def test_a_sowing_is_followed_until_the_next_and_only_its_own_grasses_count() -> None:
    found = own_sowings(HELD, ["chewings fescue", "browntop bent"], date(2011, 8, 1), 60)
    assert [(each.day, each.seen, each.cut_after) for each in found] == [
        (DAY, (("chewings fescue", 11),), 24)
    ]
    rye = own_sowings(HELD, ["perennial ryegrass"], date(2011, 8, 1), 60)
    assert rye[0].seen == (("perennial ryegrass", 8),)


def test_what_came_after_the_day_asked_is_not_read() -> None:
    early = own_sowings(HELD, ["chewings fescue"], DAY + timedelta(days=10), 60)
    assert early == ()


def test_frames_that_held_none_are_no_sighting_and_weeds_are_marked() -> None:
    found = sightings(HELD, ZONE, DAY, DAY + timedelta(days=20))
    assert [each.species for each in found] == [
        "annual meadow-grass", "chewings fescue", "chewings fescue",
    ]  # fmt: skip
    assert [each.is_weed for each in found] == [True, False, False]


def test_a_draw_that_foretold_the_day_weighs_most_and_none_weighs_nothing() -> None:
    weights = _likelihood(np.array([11, 14, 40, NEVER]), 11)
    assert weights[0] > weights[1] > weights[2] > 0
    assert weights[2] == pytest.approx(weights[3], rel=1e-6)


def test_weights_move_the_chance_and_the_days_and_without_any_all_count_alike() -> None:
    days = np.array([5, 10, 15, 20] * 64)
    even = event_of("emergence", days, 12, NONE.of(["browntop bent"], len(days)))
    assert even.by == pytest.approx(0.5)
    own = OwnEmergence(weights={"bent": np.where(days > 12, 9.0, 1.0)})
    late = event_of("emergence", days, 12, own.of(["browntop bent"], len(days)))
    assert late.by == pytest.approx(0.1)
    assert late.middle in {15, 20}
    other = event_of("emergence", days, 12, own.of(["perennial ryegrass"], len(days)))
    assert other == even
