"""The order of a day's lawns: against every order there is, and what a wash and a window do."""

import random
from itertools import permutations
from math import pi

import pytest

from swardbook.handbook.parameters import value
from swardbook.husbandry.positions import Position
from swardbook.planning.travel import (
    EARTH_KM,
    Stop,
    Way,
    apart_km,
    best_way,
    cost_of,
    follow,
    is_wash_due,
    road_km,
)

YARD = Position(52.0, 0.1)


def drawn(chance: random.Random, many: int) -> list[Stop]:
    """Draw a day: some with hours, some weedy, some nobody counted, some without machines."""
    found = []
    for n in range(many):
        opens = chance.uniform(8, 12) if chance.random() < 0.3 else None
        share = chance.uniform(0, 0.3) if chance.random() < 0.8 else None
        found.append(Stop(
            f"lawn {n}",
            Position(52 + chance.uniform(-0.2, 0.2), 0.1 + chance.uniform(-0.3, 0.3)),
            chance.uniform(0.3, 1.5), opens, None if opens is None else opens + 3, share, share,
            chance.random() < 0.8,
        ))  # fmt: skip
    return found


def of_all_orders(stops: list[Stop]) -> Way:
    return min((follow(each, YARD, 8.0) for each in permutations(stops)), key=cost_of)


def test_small_days_come_out_as_by_trying_every_order() -> None:
    chance = random.Random(3)
    found = []
    for many in (1, 2, 3, 4, 4, 5, 5, 5, 6):
        stops = drawn(chance, many)
        got, best = best_way(stops, YARD, 8.0), of_all_orders(stops)
        assert cost_of(got) >= cost_of(best)
        found.append(cost_of(got) == cost_of(best))
    assert all(found)


@pytest.mark.long
def test_days_of_up_to_eight_are_mostly_the_best_and_never_much_longer() -> None:
    chance = random.Random(5)
    best, hours = 0, []
    for n in range(40):
        stops = drawn(chance, 8 if n % 8 == 0 else 7)
        got, least = best_way(stops, YARD, 8.0), of_all_orders(stops)
        best += cost_of(got) == cost_of(least)
        hours.append(got.ends - least.ends)
        assert got.late <= least.late + 0.25
    assert best >= 36
    assert max(hours) < 0.5


def test_an_order_is_priced_the_same_by_the_search_and_by_following_it() -> None:
    from swardbook.planning.travel import _Table

    stops = drawn(random.Random(8), 9)
    way = follow(stops, YARD, 7.5)
    assert _Table(stops, YARD, 7.5).cost(range(9)) == cost_of(way)


def test_great_circles_are_those_of_a_globe() -> None:
    assert apart_km(Position(0, 0), Position(0, 90)) == pytest.approx(pi * EARTH_KM / 2)
    assert apart_km(Position(-60, 179), Position(-60, -179)) == pytest.approx(
        apart_km(Position(60, 1), Position(60, -1))
    )
    assert apart_km(YARD, YARD) == 0
    winding = value("road_winding")
    assert road_km(Position(0, 0), Position(0, 1)) == pytest.approx(EARTH_KM * pi / 180 * winding)
    assert road_km(YARD, None) is None


def test_a_cleaner_lawn_comes_first_where_it_is_hardly_further() -> None:
    clean = Stop("clean", Position(52.0, 0.14), 1.0, cleanest=0.01, weediest=0.01)
    weedy = Stop("weedy", Position(52.0, 0.13), 1.0, cleanest=0.3, weediest=0.3)
    way = best_way([weedy, clean], YARD, 8.0)
    assert [leg.stop.name for leg in way.legs] == ["clean", "weedy"]
    assert way.wash_h == 0


def test_a_wash_is_told_where_the_way_round_costs_more() -> None:
    weedy = Stop("weedy", Position(52.0, 0.11), 1.0, 8.0, 9.5, 0.3, 0.3)
    clean = Stop("clean", Position(52.0, 0.5), 1.0, 11.0, 15.0, 0.01, 0.01)
    way = best_way([clean, weedy], YARD, 8.0)
    assert [(leg.stop.name, leg.wash) for leg in way.legs] == [("weedy", ""), ("clean", "weedy")]
    assert way.wash_h == pytest.approx(value("wash_between_lawns_min") / 60)


def test_a_lawn_that_nobody_counted_is_taken_as_weedy_and_hands_carry_nothing() -> None:
    clean = Stop("a", YARD, 1.0, cleanest=0.0, weediest=0.0)
    unknown = Stop("b", YARD, 1.0)
    assert is_wash_due(unknown, clean)
    assert not is_wash_due(clean, unknown)
    assert not is_wash_due(Stop("c", YARD, 1.0, has_machines=False), clean)


def test_hours_are_kept_and_waiting_and_lateness_are_told() -> None:
    early = Stop("opens late", YARD, 1.0, opens=10.0, closes=12.0)
    way = follow([early], YARD, 8.0)
    assert (way.legs[0].waits, way.legs[0].leaves, way.late) == (2.0, 11.0, 0.0)
    assert follow([early], YARD, 11.5).late == pytest.approx(0.5)


def test_lawns_without_a_place_come_last_and_their_way_is_not_made_up() -> None:
    lost = Stop("lost", None, 1.0)
    known = [Stop(f"known {n}", Position(52.0, 0.1 + n / 10), 1.0) for n in (1, 2)]
    way = best_way([lost, *known], YARD, 8.0)
    assert way.legs[-1].stop is lost
    assert way.legs[-1].km is None
    assert way.km == pytest.approx(best_way(known, YARD, 8.0).km)


def test_a_day_without_a_stop_ends_where_it_begins() -> None:
    way = best_way([], YARD, 8.0)
    assert (way.legs, way.ends, way.km) == ((), 8.0, 0.0)
