"""Which grass a name means: the two weed grasses, and the groups that are sown alike."""

from __future__ import annotations

from functools import cache

from swardbook.foundation.errors import UnknownNameError
from swardbook.handbook.species import (
    ANNUAL_MEADOW_GRASS,
    YORKSHIRE_FOG,
    Species,
    find_species,
    key_of,
)
from swardbook.husbandry.ground import Ground
from swardbook.seed.lot import SeedLot

FINE = ("fine fescue", "bent")


@cache
def known_species(name: str) -> Species | None:
    """Find a species by any of its names; None for a name the handbook does not have."""
    try:
        return find_species(name)
    except UnknownNameError:
        return None


def is_annual_meadow_grass(name: str) -> bool:
    """Tell whether a name means annual meadow-grass."""
    return key_of(name) == ANNUAL_MEADOW_GRASS


def is_yorkshire_fog(name: str) -> bool:
    """Tell whether a name means Yorkshire fog."""
    return key_of(name) == YORKSHIRE_FOG


def lot_of(ground: Ground, code: str) -> SeedLot | None:
    """Find a lot by its code; None if the book does not have it."""
    wanted = code.strip().casefold()
    return next((lot for lot in ground.lots if lot.code.casefold() == wanted), None)


def components(lot: SeedLot) -> list[Species]:
    """List the species of a lot that the handbook knows, each once, in the order of the label."""
    found: list[Species] = []
    for part in lot.parts:
        species = known_species(part.species)
        if species is not None and species not in found:
            found.append(species)
    return found


def slowest(lot: SeedLot) -> Species | None:
    """Find the component that comes last: the one to tug, and the one that sets last dates."""
    known = [each for each in components(lot) if each.first_seen_10c_days is not None]
    return max(
        known,
        key=lambda each: each.first_seen_10c_days.high if each.first_seen_10c_days else 0.0,
        default=None,
    )


def has_fine(lot: SeedLot) -> bool:
    """Tell whether bent or fine fescue is in a lot."""
    return any(each.group in FINE for each in components(lot))


def is_pure_ryegrass(lot: SeedLot) -> bool:
    """Tell whether a lot holds nothing but ryegrass."""
    return bool(lot.parts) and all(each.group == "ryegrass" for each in components(lot))
