"""Lawns shared out over the days of somebody's week: what is urgent first, near ones together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from swardbook.husbandry.positions import Position
from swardbook.planning.travel import Stop, Way, best_way, follow

NEAREST = 10
"""Lawns that are tried beside those of a day at each step."""
_A_LITTLE = 1e-6


@dataclass(frozen=True, slots=True)
class Visit:
    """One visit that is wanted in a week.

    Parameters
    ----------
    stop : Stop
        Where, and how much work.
    is_urgent : bool
        Whether something there cannot wait.
    shut : frozenset of int
        Weekdays on which nothing can be done there, Monday 0.
    """

    stop: Stop
    is_urgent: bool = False
    shut: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class DayOut:
    """One day of somebody's week.

    Parameters
    ----------
    day : date
        The day.
    way : Way
        The stops in order; none on a day that is left free.
    limit : float
        Hours out of the yard there may be. [h]
    """

    day: date
    way: Way
    limit: float

    @property
    def hours(self) -> float:
        """Hours out of the yard, with driving, washing and waiting [h]."""
        return self.way.ends - self.way.begins if self.way.legs else 0.0


def days_out(
    visits: Sequence[Visit], days: Sequence[date], limit: float, yard: Position | None,
    begins: float,
) -> tuple[tuple[DayOut, ...], tuple[Visit, ...]]:  # fmt: skip
    """Share visits out over days, each within its hours, and put each day in order.

    A day begins with what cannot wait, else with the first in the order given; then comes whatever
    adds least to it and still fits. What fits in no day is given back.

    Parameters
    ----------
    visits : sequence of Visit
        Those wanted, the most wanted first.
    days : sequence of date
        The days there are, in order.
    limit : float
        Hours out of the yard on each. [h]
    yard : Position or None
        Where each day begins and ends.
    begins : float
        When, as hours of the day. [h]

    Returns
    -------
    tuple
        The days, and the visits that fit in none.
    """
    left = sorted(visits, key=lambda each: not each.is_urgent)
    found = []
    for day in days:
        chosen = _day(left, day, limit, yard, begins)
        left = [each for each in left if each not in chosen]
        found.append(DayOut(day, best_way([each.stop for each in chosen], yard, begins), limit))
    return tuple(found), tuple(left)


def _day(
    left: Sequence[Visit], day: date, limit: float, yard: Position | None, begins: float
) -> list[Visit]:
    may = [each for each in left if day.weekday() not in each.shut]
    chosen: list[Visit] = []
    order: list[Stop] = []
    while may:
        urgent = [each for each in may if each.is_urgent] or may
        priced = [_put_in(each, order, yard, begins) for each in _near(urgent, order)]
        way, visit = min(priced, key=lambda each: (each[0].late, each[0].ends))
        if not order:  # the most wanted, wherever it is
            way, visit = _put_in(urgent[0], order, yard, begins)
        may.remove(visit)
        if way.ends - way.begins > limit + _A_LITTLE or way.late > _A_LITTLE:
            continue
        chosen.append(visit)
        order = [leg.stop for leg in way.legs]
    return chosen


def _near(visits: Sequence[Visit], order: Sequence[Stop]) -> Sequence[Visit]:
    """Give the visits nearest to those of a day; those without a position last."""
    there = [each.position for each in order if each.position is not None]
    if not there:
        return visits[:NEAREST]

    def how_near(visit: Visit) -> float:
        here = visit.stop.position
        if here is None:
            return float("inf")
        return min(
            (here.latitude - each.latitude) ** 2 + (here.longitude - each.longitude) ** 2 / 2
            for each in there
        )

    return sorted(visits, key=how_near)[:NEAREST]


def _put_in(
    visit: Visit, order: Sequence[Stop], yard: Position | None, begins: float
) -> tuple[Way, Visit]:
    """Put a visit where it adds least to an order."""
    places = range(len(order) + 1) if visit.stop.position is not None else [len(order)]
    ways = [follow([*order[:n], visit.stop, *order[n:]], yard, begins) for n in places]
    return min(ways, key=lambda way: (way.late, way.ends)), visit
