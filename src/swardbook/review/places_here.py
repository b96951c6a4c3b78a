"""Whether counted places are places of the zone, and whether they stand in the diary already."""

from __future__ import annotations

import shlex
from collections.abc import Iterator, Sequence
from datetime import date

from swardbook.foundation.errors import UnknownNameError
from swardbook.husbandry.doubt import Doubt
from swardbook.husbandry.ground import Ground, HonestSquare, Peg, Plot
from swardbook.husbandry.happenings import Count
from swardbook.observations.counts import PlaceCount

_MOST_NAMED = 5


def places_not_here(ground: Ground, zone: str, places: Sequence[PlaceCount]) -> Iterator[Doubt]:
    """Ask about counted places that are no peg, plot or honest square of the zone.

    Parameters
    ----------
    ground : Ground
        The ground.
    zone : str
        Name of the zone; empty for the whole site.
    places : sequence of PlaceCount
        What was counted; all of it is kept.
    """
    homes = _homes(ground)
    own = {name for name, zones in homes.items() if not zone or zone.casefold() in zones}
    strange = [each.place for each in places if each.place.strip().casefold() not in own]
    elsewhere: dict[str, list[str]] = {}
    unknown = []
    for name in dict.fromkeys(strange):
        of = homes.get(name.strip().casefold())
        if of:
            elsewhere.setdefault(sorted(of)[0], []).append(name)
        else:
            unknown.append(name)
    for other, names in elsewhere.items():
        home = ground.zone(other).name
        told = f"{_listed(names)} {_be(names)} of {home}, not of {zone}. Another zone?"
        whole = len(set(strange)) == len({each.place for each in places}) == len(names)
        yield Doubt(told, f"zone={home}" if whole else "")
    if unknown:
        pegs = [each.name for each in ground.pegs if each.name.strip().casefold() in own]
        near = UnknownNameError("peg", unknown[0], pegs).nearest if len(unknown) == 1 else ()
        told = _no_peg(unknown, zone, near, bool(own))
        yield Doubt(told, f"place {unknown[0]}={near[0]}" if near else "")


def counted_before(
    ground: Ground, zone: str, day: date, places: Sequence[PlaceCount]
) -> tuple[tuple[PlaceCount, ...], tuple[str, ...]]:
    """Find which counts stand in the diary already, alike or with other numbers.

    Parameters
    ----------
    ground : Ground
        The ground.
    zone : str
        Name of the zone; empty for the whole site.
    day : date
        The day of the count.
    places : sequence of PlaceCount
        What is to be kept.

    Returns
    -------
    tuple
        Places that stand there exactly so, and names of those that stand there otherwise.
    """
    there = [
        place
        for entry in ground.diary
        if isinstance(entry.what, Count) and entry.when.is_dated and entry.day == day
        if entry.zone.casefold() == zone.casefold()
        for place in entry.what.places
    ]
    alike = tuple(each for each in places if each in there)
    keys = {_key(each) for each in there}
    other = [each.place for each in places if each not in there and _key(each) in keys]
    return alike, tuple(dict.fromkeys(other))


def _key(place: PlaceCount) -> tuple[str, str, int, str]:
    return place.place.casefold(), place.counter.casefold(), place.placement, place.method.value


def _homes(ground: Ground) -> dict[str, set[str]]:
    homes: dict[str, set[str]] = {}
    placed: tuple[Peg | HonestSquare | Plot, ...] = (*ground.pegs, *ground.squares, *ground.plots)
    for each in placed:
        homes.setdefault(each.name.strip().casefold(), set()).add(each.zone.casefold())
    return homes


def _no_peg(names: Sequence[str], zone: str, near: Sequence[str], any_here: bool) -> str:
    where = zone or "The ground"
    put_in = f"swardbook peg add {shlex.quote(names[0])}"
    put_in += f" --zone {shlex.quote(zone)}" if zone else " --zone ..."
    if not any_here:
        told = f"{where} has no peg yet: {_listed(names)} cannot be come back to."
        return f"{told} Put pegs in: `{put_in}`."
    meant = f" Did you mean {' or '.join(near)}?" if near else ""
    told = f"{where} has no peg, plot or honest square called {_listed(names)}.{meant}"
    return f"{told} A place of its own? Then `{put_in}`."


def _listed(names: Sequence[str]) -> str:
    shown = list(names[:_MOST_NAMED])
    left = len(names) - len(shown)
    return ", ".join(shown) + (f" and {left} more" if left else "")


def _be(names: Sequence[str]) -> str:
    return "is a place" if len(names) == 1 else "are places"
