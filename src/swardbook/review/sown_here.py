"""Grasses counted where, by the records, nobody sowed them."""

from __future__ import annotations

from collections.abc import Sequence

from swardbook.foundation.errors import UnknownNameError
from swardbook.handbook.species import Kind, Species, find_species
from swardbook.husbandry.ground import Ground
from swardbook.husbandry.happenings import Count, Refill, Sow
from swardbook.observations.counts import PlaceCount, by_key


def not_sown_here(ground: Ground, zone: str, places: Sequence[PlaceCount]) -> tuple[str, ...]:
    """Ask about a lawn grass that is in no lot sown in the zone and was never counted there.

    Without a recorded sowing, or with a lot whose label is not known, there is nothing to hold
    the count against, and nothing is asked.

    Parameters
    ----------
    ground : Ground
        The ground before this count.
    zone : str
        The zone.
    places : sequence of PlaceCount
        What was counted.

    Returns
    -------
    tuple of str
        One question a grass.
    """
    sown = _sown(ground, zone)
    if not sown:
        return ()
    known = sown | _counted(ground, zone)
    found = {kind for each in by_key(places) for kind, number in each.found.items() if number > 0}
    strangers = (_lawn_grass(kind) for kind in sorted(found - known))
    return tuple(
        f"{each.english} was not sown here. Sure, probably or cannot tell?"
        for each in strangers
        if each is not None
    )


def _sown(ground: Ground, zone: str) -> set[str]:
    """Species keys of every lot sown in the zone; empty if one of them is not known."""
    lots = {lot.code.casefold(): lot for lot in ground.lots}
    named: set[str] = set()
    for entry in ground.entries(zone):
        if not isinstance(entry.what, Sow | Refill):
            continue
        lot = lots.get(entry.what.lot.casefold())
        if lot is None or not lot.parts:
            return set()
        named |= {part.species for part in lot.parts}
    return {grass.key for grass in map(_named, named) if grass is not None}


def _counted(ground: Ground, zone: str) -> set[str]:
    counts = [entry.what for entry in ground.entries(zone) if isinstance(entry.what, Count)]
    return {
        kind
        for count in counts
        for place in by_key(count.places)
        for kind, number in place.found.items()
        if number > 0
    }


def _lawn_grass(kind: str) -> Species | None:
    species = _named(kind)
    return species if species is not None and species.kind is Kind.SOWN_GRASS else None


def _named(kind: str) -> Species | None:
    try:
        return find_species(kind)
    except UnknownNameError:
        return None
