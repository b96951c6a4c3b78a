"""Lawns shared out over days: within the hours, what is urgent first, nothing dropped."""

import random
from datetime import date, timedelta

from swardbook.husbandry.positions import Position
from swardbook.planning.days_out import Visit, days_out
from swardbook.planning.travel import Stop

YARD = Position(52.0, 0.1)
MONDAY = date(2011, 10, 10)
DAYS = [MONDAY + timedelta(days=n) for n in range(5)]


def visits(many: int) -> list[Visit]:
    chance = random.Random(2)
    return [
        Visit(
            Stop(f"lawn {n}", Position(52 + chance.uniform(-0.1, 0.1), chance.uniform(0, 0.2)),
                 chance.uniform(0.5, 2.0)),
            is_urgent=n in {3, 7},
            shut=frozenset({0, 1}) if n == 7 else frozenset(),
        )
        for n in range(many)
    ]  # fmt: skip


def test_each_day_stays_within_its_hours_and_nothing_is_lost() -> None:
    wanted = visits(16)
    days, left = days_out(wanted, DAYS, 6.0, YARD, 7.5)
    assert all(each.hours <= 6.0 + 1e-6 for each in days)
    out = [leg.stop.name for each in days for leg in each.way.legs]
    assert sorted([*out, *(each.stop.name for each in left)]) == sorted(
        each.stop.name for each in wanted
    )
    assert len(out) > 10


def test_what_cannot_wait_goes_out_on_the_first_day_that_it_can() -> None:
    days, _ = days_out(visits(16), DAYS, 6.0, YARD, 7.5)
    on = {leg.stop.name: each.day for each in days for leg in each.way.legs}
    assert on["lawn 3"] == MONDAY
    assert on["lawn 7"] == MONDAY + timedelta(days=2)


def test_what_fits_in_no_day_is_given_back() -> None:
    long = Visit(Stop("long", YARD, 9.0))
    shut = Visit(Stop("shut", YARD, 1.0), shut=frozenset(range(7)))
    closed = Visit(Stop("closed", YARD, 1.0, opens=5.0, closes=6.0))
    days, left = days_out([long, shut, closed], DAYS, 8.0, YARD, 7.5)
    assert {each.stop.name for each in left} == {"long", "shut", "closed"}
    assert [each.hours for each in days] == [0.0] * 5
