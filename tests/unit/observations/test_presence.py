"""Looks at the same places tell what one look misses."""

from datetime import date

import pytest

from swardbook.foundation.errors import NotEnoughDataError
from swardbook.observations.counts import Method
from swardbook.observations.presence import looks_at_places, presence
from tests.support.counted import WEED, occasion, plants

FIRST = [3, 0, 2, 0, 1, 4, 0, 0, 2, 0]
SECOND = [2, 1, 0, 0, 1, 5, 0, 2, 1, 0]


def test_two_counters_on_one_day_are_two_looks() -> None:
    day = occasion("2011-10-08", (*plants(FIRST), *plants(SECOND, counter="Odalys")))
    looks = looks_at_places([day], WEED, Method.PLANTS)
    assert list(looks["S02"]) == [0, 1]
    made = presence([day], WEED, Method.PLANTS)
    assert made.occupancy is not None
    assert made.noted == 7
    assert 0.7 < made.occupancy.share < 0.85
    assert 0.6 < made.occupancy.detection < 0.85
    assert made.abundance is not None


def test_looks_further_apart_than_three_weeks_are_not_of_the_same_plants() -> None:
    apart = [occasion("2011-09-01", plants(FIRST)), occasion("2011-10-08", plants(SECOND))]
    made = presence(apart, WEED, Method.PLANTS)
    assert made.first == made.last == date(2011, 10, 8)
    assert made.occupancy is None
    assert "8 places looked at twice" in made.refusal
    near = [occasion("2011-09-20", plants(FIRST)), apart[1]]
    assert presence(near, WEED, Method.PLANTS).looked_twice == 10


def test_a_known_chance_to_see_it_puts_the_share_right() -> None:
    day = occasion("2011-10-08", plants(FIRST))
    made = presence([day], WEED, Method.PLANTS, sees=0.8)
    assert made.corrected is not None
    assert made.corrected.low == pytest.approx(made.apparent.low / 0.8)


def test_more_plants_than_can_be_told_apart_leave_the_share_alone() -> None:
    many = [400, 0, 380, 0, 410, 300, 0, 0, 290, 0]
    day = occasion("2011-10-08", (*plants(many), *plants(many, counter="Odalys")))
    made = presence([day], WEED, Method.PLANTS)
    assert made.abundance is None
    assert made.occupancy is not None
    assert made.occupancy.share == pytest.approx(0.5, abs=1e-4)


def test_a_kind_that_was_never_counted_is_not_absent() -> None:
    with pytest.raises(NotEnoughDataError):
        presence([occasion("2011-10-08", plants(FIRST))], "yorkshire fog", Method.PLANTS)
