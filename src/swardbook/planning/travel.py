"""In which order to drive from lawn to lawn: an own small search, and what each way costs.

Distances are great circles made longer by the winding of roads. Machines and boots carry seed, so
going from a weedier lawn to a cleaner one costs a wash, which the search weighs against the way
round; so a cleaner lawn comes first wherever that is not much further.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import asin, cos, radians, sin, sqrt

from swardbook.handbook.parameters import value
from swardbook.husbandry.positions import Position

EARTH_KM = 6371.0088
"""Mean radius of the ellipsoid of the Geodetic Reference System 1980 (Moritz 2000). [km]"""
LONGEST_PIECE = 3
"""Stops that are moved together at most."""
MOST_BEGINNINGS = 4
"""First stops from which the search is begun."""


@dataclass(frozen=True, slots=True)
class Stop:
    """One lawn on a day's way.

    Parameters
    ----------
    name : str
        Which.
    position : Position or None
        Where; None where it is not known.
    hours : float
        Work there. [h]
    opens, closes : float or None
        From when and until when somebody may be there, as hours of the day. [h]
    cleanest, weediest : float or None
        Share of annual meadow-grass in the zone that has least and most of it; None where nobody
        counted, which is taken as weedy. [-]
    has_machines : bool
        Whether a machine works there.
    """

    name: str
    position: Position | None
    hours: float
    opens: float | None = None
    closes: float | None = None
    cleanest: float | None = None
    weediest: float | None = None
    has_machines: bool = True


@dataclass(frozen=True, slots=True)
class Leg:
    """One stop as it comes.

    Parameters
    ----------
    stop : Stop
        The lawn.
    km : float or None
        Way there by road; None where a position is not known. [km]
    arrives, leaves : float
        Hours of the day. [h]
    waits : float
        Time before it opens. [h]
    late : float
        Time after it closes. [h]
    wash : str
        The weedier lawn after which machines, box and boots are washed first; empty for none.
    """

    stop: Stop
    km: float | None
    arrives: float
    leaves: float
    waits: float
    late: float
    wash: str


@dataclass(frozen=True, slots=True)
class Way:
    """A day's way from the yard and back.

    Parameters
    ----------
    legs : tuple of Leg
        The stops in order; those without a position last.
    begins, ends : float
        Hours of the day at the yard. [h]
    km : float
        Way of all legs that are known, with the way back. [km]
    drive_h, wash_h : float
        Time on the road and for washing. [h]
    """

    legs: tuple[Leg, ...]
    begins: float
    ends: float
    km: float
    drive_h: float
    wash_h: float

    @property
    def late(self) -> float:
        """Time after closing, of all stops [h]."""
        return sum(leg.late for leg in self.legs)

    @property
    def work_h(self) -> float:
        """Work at the stops [h]."""
        return sum(leg.stop.hours for leg in self.legs)


def apart_km(here: Position, there: Position) -> float:
    """Measure a great circle by the haversine.

    Parameters
    ----------
    here, there : Position
        Two places.

    Returns
    -------
    float
        How far apart they are. [km]
    """
    lat, other = radians(here.latitude), radians(there.latitude)
    east = radians(there.longitude - here.longitude)
    half = sin((other - lat) / 2) ** 2 + cos(lat) * cos(other) * sin(east / 2) ** 2
    return 2 * EARTH_KM * asin(min(1.0, sqrt(half)))


def road_km(here: Position | None, there: Position | None) -> float | None:
    """Make a great circle longer by the winding of roads; None where a place is not known.

    Parameters
    ----------
    here, there : Position or None
        Two places.

    Returns
    -------
    float or None
        The way by road. [km]
    """
    if here is None or there is None:
        return None
    return apart_km(here, there) * value("road_winding")


def is_wash_due(before: Stop, after: Stop) -> bool:
    """Tell whether machines must be washed between two lawns: from weedier to cleaner.

    A lawn that nobody counted is taken as weedy, so that it comes after one that is known clean.
    """
    if not (before.has_machines and after.has_machines) or after.cleanest is None:
        return False
    return before.weediest is None or before.weediest - after.cleanest >= value(
        "clean_down_differs"
    )


def follow(order: Sequence[Stop], yard: Position | None, begins: float) -> Way:
    """Work out a way stop by stop.

    Parameters
    ----------
    order : sequence of Stop
        The stops in order.
    yard : Position or None
        Where it begins and ends.
    begins : float
        When, as hours of the day. [h]
    """
    speed, washing_h = value("road_speed_km_h"), value("wash_between_lawns_min") / 60
    legs: list[Leg] = []
    now, where, before = begins, yard, None
    whole = washed = 0.0
    for stop in order:
        km = road_km(where, stop.position)
        wash = washing_h if before is not None and is_wash_due(before, stop) else 0.0
        arrives = now + wash + (km or 0.0) / speed
        waits = max((stop.opens or 0.0) - arrives, 0.0)
        now = arrives + waits + stop.hours
        late = max(now - stop.closes, 0.0) if stop.closes is not None else 0.0
        after = before.name if wash and before is not None else ""
        legs.append(Leg(stop, km, arrives, now, waits, late, after))
        whole, washed = whole + (km or 0.0), washed + wash
        where, before = stop.position or where, stop
    back = (road_km(where, yard) or 0.0) if legs else 0.0
    return Way(
        tuple(legs), begins, now + back / speed, whole + back, (whole + back) / speed, washed
    )


def best_way(stops: Sequence[Stop], yard: Position | None, begins: float) -> Way:
    """Search for a short way: nearest next, then turned and moved pieces until nothing is better.

    Less lateness comes first, then an earlier end, then fewer kilometres. Stops without a position
    come last, in the order given. A small day mostly comes out as by trying every order; a larger
    one is good and not proved to be best.

    Parameters
    ----------
    stops : sequence of Stop
        The day's stops.
    yard : Position or None
        Where it begins and ends.
    begins : float
        When, as hours of the day. [h]
    """
    placed = [each for each in stops if each.position is not None]
    last = [each for each in stops if each.position is None]
    table = _Table([*placed, *last], yard, begins)
    found = [_improved(each, table) for each in _beginnings(len(placed), table)]
    order = min(found, key=table.cost, default=[])
    return follow([*(placed[n] for n in order), *last], yard, begins)


def cost_of(way: Way) -> tuple[float, float, float]:
    """Give what is made small, in order: lateness [h], the end [h], the way [km]."""
    return round(way.late, 9), round(way.ends, 9), round(way.km, 9)


class _Table:
    """Ways and washes between all stops, so that an order is priced by adding up."""

    def __init__(self, stops: Sequence[Stop], yard: Position | None, begins: float) -> None:
        speed, wash = value("road_speed_km_h"), value("wash_between_lawns_min") / 60
        self.stops, self.begins, self.speed = stops, begins, speed
        self.out = [road_km(yard, each.position) or 0.0 for each in stops]
        self.km = [[road_km(a.position, b.position) or 0.0 for b in stops] for a in stops]
        self.wash = [[wash * is_wash_due(a, b) for b in stops] for a in stops]
        self.placed = sum(each.position is not None for each in stops)

    def hours_to(self, before: int | None, after: int) -> float:
        """Give the time from one stop, or the yard, to another, with a wash if one is due [h]."""
        if before is None:
            return self.out[after] / self.speed
        return self.km[before][after] / self.speed + self.wash[before][after]

    def cost(self, order: Sequence[int]) -> tuple[float, float, float]:
        """Price an order as `cost_of` does; those without a position come after it."""
        now, late, km = self.begins, 0.0, 0.0
        before, placed = None, None
        for n in (*order, *range(self.placed, len(self.stops))):
            stop = self.stops[n]
            if n < self.placed:
                way = self.out[n] if placed is None else self.km[placed][n]
                placed = n
            else:
                way = 0.0
            wash = self.wash[before][n] if before is not None else 0.0
            now += wash + way / self.speed
            if stop.opens is not None and stop.opens > now:
                now = stop.opens
            now += stop.hours
            if stop.closes is not None and now > stop.closes:
                late += now - stop.closes
            km, before = km + way, n
        back = 0.0 if placed is None else self.out[placed]
        return round(late, 9), round(now + back / self.speed, 9), round(km + back, 9)


def _beginnings(many: int, table: _Table) -> list[list[int]]:
    """Give orders to begin the search from: nearest next from some first stops, and by closing."""
    every = range(many)
    if not many:
        return []
    first = sorted(every, key=lambda n: (table.hours_to(None, n), n))[:MOST_BEGINNINGS]
    found = [_nearest_next(n, many, table) for n in first]
    found.append(sorted(every, key=lambda n: (table.stops[n].closes or 24.0, n)))
    found.append(sorted(every, key=lambda n: (_weedy(table.stops[n]), n)))
    return found


def _weedy(stop: Stop) -> float:
    return 1.0 if stop.weediest is None else stop.weediest


def _nearest_next(first: int, many: int, table: _Table) -> list[int]:
    order, left = [first], [n for n in range(many) if n != first]
    while left:
        nearest = min(left, key=lambda n: (table.hours_to(order[-1], n), n))
        order.append(nearest)
        left.remove(nearest)
    return order


def _improved(order: list[int], table: _Table) -> list[int]:
    """Take the best turned or moved piece, as long as one makes it better."""
    best, cost = order, table.cost(order)
    while True:
        found = min(_near(best), key=table.cost, default=best)
        priced = table.cost(found)
        if priced >= cost:
            return best
        best, cost = found, priced


def _near(order: Sequence[int]) -> Iterator[list[int]]:
    """Give each order that one turned piece, or one piece put elsewhere, makes of it."""
    many = len(order)
    for i in range(many - 1):
        for j in range(i + 2, many + 1):
            yield [*order[:i], *reversed(order[i:j]), *order[j:]]
    for long in range(1, LONGEST_PIECE + 1):
        for i in range(many - long + 1):
            piece, rest = order[i : i + long], [*order[:i], *order[i + long :]]
            for to in range(len(rest) + 1):
                if to != i:
                    yield [*rest[:to], *piece, *rest[to:]]
                if long > 1:
                    yield [*rest[:to], *reversed(piece), *rest[to:]]
