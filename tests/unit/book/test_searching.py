"""The search for a programme, on the made-up ground."""

from functools import cache
from itertools import pairwise

import numpy as np

from swardbook.book.look_ahead import Asked
from swardbook.book.searching import ZoneSearch, zone_search
from swardbook.demo.scenario import TODAY, made_up_ground, made_up_weather
from tests.support.model import kernel


@cache
def found(zone: str, threads: int = 1) -> ZoneSearch:
    asked = Asked(made_up_ground(), made_up_weather(), TODAY, 128)
    return zone_search(asked, zone, kernel(), threads=threads)


def test_threads_change_no_bit() -> None:
    one, two = found("Surround").curve, found("Surround", threads=2).curve
    assert [each.best.plan for each in one.points] == [each.best.plan for each in two.points]
    for mine, theirs in zip(one.points, two.points, strict=True):
        np.testing.assert_array_equal(mine.best.weed, theirs.best.weed)
        assert mine.best.hours_week == theirs.best.hours_week


def test_more_hours_never_leave_more_on_the_same_draws() -> None:
    means = [each.best.mean for each in found("Surround").curve.points]
    assert all(more <= fewer for fewer, more in pairwise(means))


def test_where_plants_are_few_a_few_hours_suffice_and_where_many_hardly_any_do() -> None:
    few, many = found("Short court").curve, found("Surround").curve
    assert few.enough_hours is not None
    assert many.enough_hours is None or many.enough_hours > few.enough_hours


def test_the_best_is_within_the_hours_of_the_site_and_held_against_the_way_recorded() -> None:
    told = found("Surround")
    assert told.asked is not None
    assert told.hours == 9
    assert told.asked.best.hours_week <= 9
    assert told.against_recorded is not None
    assert told.against_recorded.difference <= 0
