"""Occasions of counting, read from the diary of a ground."""

from __future__ import annotations

from datetime import date
from itertools import groupby

from swardbook.foundation.errors import NotEnoughDataError
from swardbook.husbandry.ground import Ground
from swardbook.husbandry.happenings import (
    Count,
    DigClumps,
    Pull,
    Refill,
    Scarify,
    Sow,
    Strip,
    Tine,
    Verticut,
)
from swardbook.observations.counts import Method, PlaceCount, by_key
from swardbook.observations.occasions import Occasion
from swardbook.observations.overlap import Overlap, counters_overlap

RENOVATIONS = (Sow, Scarify, Strip)
WORKS_ON_WEEDS = (*RENOVATIONS, Verticut, Pull, DigClumps, Refill, Tine)


def occasions_of(ground: Ground, zone: str) -> tuple[Occasion, ...]:
    """Read a zone's counts, those of one day together, in order; undated ones are left out.

    A count entered for the whole site gives each zone the places that are its own.
    """
    own = _places_of(ground, zone)
    dated: list[tuple[date, str, tuple[PlaceCount, ...]]] = []
    for entry in ground.entries(zone, Count.kind):
        if isinstance(entry.what, Count) and entry.when.is_dated:
            places = tuple(
                place
                for place in by_key(entry.what.places)
                if entry.zone or place.place.casefold() in own
            )
            if places:
                dated.append((entry.day, entry.what.occasion, places))
    dated.sort(key=lambda each: each[0])
    return tuple(
        Occasion(day, tuple(place for _, _, places in same for place in places), same[0][1])
        for day, same in ((day, list(group)) for day, group in groupby(dated, lambda e: e[0]))
    )


def treated(ground: Ground, zone: str, occasion: Occasion) -> Occasion:
    """Keep what stands for the zone: its pegs if any were counted, never its honest squares."""
    pegs = [peg.name for peg in ground.pegs if _same(peg.zone, zone)]
    on_pegs = occasion.only(pegs)
    return on_pegs if on_pegs.places else occasion.without(square_names(ground, zone))


def untreated(ground: Ground, zone: str, occasion: Occasion) -> Occasion:
    """Keep what was counted in the zone's honest squares."""
    return occasion.only(square_names(ground, zone))


def square_names(ground: Ground, zone: str) -> tuple[str, ...]:
    """Give the names of a zone's honest squares."""
    return tuple(square.name for square in ground.squares if _same(square.zone, zone))


def renovated_between(ground: Ground, zone: str, first: date, last: date) -> bool:
    """Tell whether the zone was sown, scarified or stripped between two days."""
    return any(
        isinstance(entry.what, RENOVATIONS) and first < entry.day < last
        for entry in ground.entries(zone)
    )


def untouched_between(ground: Ground, zone: str, first: date, last: date) -> bool:
    """Tell whether nothing was sown, stirred, pulled or refilled in the zone between two days."""
    return not any(
        isinstance(entry.what, WORKS_ON_WEEDS) and first < entry.when.last and entry.day < last
        for entry in ground.entries(zone)
    )


def find_overlap(
    ground: Ground, kind: str, method: Method, first: str, second: str
) -> Overlap | None:
    """Find where two counters counted the same places; the latest with most of them."""
    found: list[Overlap] = []
    for zone in ground.zones:
        for occasion in occasions_of(ground, zone.name):
            if {first, second} <= set(occasion.counters):
                try:
                    found.append(counters_overlap(occasion.places, kind, method, first, second))
                except NotEnoughDataError:
                    continue
    return max(found, key=lambda overlap: overlap.n, default=None)


def _places_of(ground: Ground, zone: str) -> set[str]:
    named = [(peg.name, peg.zone) for peg in ground.pegs]
    named += [(square.name, square.zone) for square in ground.squares]
    named += [(plot.name, plot.zone) for plot in ground.plots]
    return {name.casefold() for name, its_zone in named if _same(its_zone, zone)}


def _same(one: str, two: str) -> bool:
    return one.casefold() == two.strip().casefold()
