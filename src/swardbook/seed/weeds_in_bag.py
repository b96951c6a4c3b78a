"""How many weed-grass seeds a sowing may bring along, by what certified seed is allowed to hold."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum

from swardbook.foundation.provenance import Sourced
from swardbook.foundation.quantities import require
from swardbook.handbook.parameters import parameters
from swardbook.handbook.species import find_species, thousand_seed_weight
from swardbook.seed.lot import LotPart
from swardbook.seed.mixture import OTHERS
from swardbook.seed.quality import Standard, slug

LOOKED_FOR = ("annual meadow-grass", "rough-stalked meadow-grass", "yorkshire fog", "couch")
COUNTED = "couch"
"""Has limits of its own, by number; the general limit by weight says nothing of it."""


@dataclass(frozen=True, slots=True)
class WeedLimit:
    """What one component of a mixture may hold of a weed grass.

    Parameters
    ----------
    species : str
        Key of the component.
    limit : Sourced
        Share of its weight, or seeds per gram of it. [- or seeds g⁻¹]
    standard : Standard
        Whose limit it is.
    seeds_m2 : float
        What that comes to at the rate sown. [seeds m⁻²]
    """

    species: str
    limit: Sourced
    standard: Standard
    seeds_m2: float


@dataclass(frozen=True, slots=True)
class WeedSeeds:
    """The most seeds of one weed grass that certified seed may bring.

    Parameters
    ----------
    species : str
        Key of the weed grass.
    seeds_m2 : float
        At most, from the components that have a limit. [seeds m⁻²]
    standard : Standard
        The weakest standard used for any component.
    limits : tuple of WeedLimit
        Component by component.
    without_limit : tuple of str
        Components for which no limit is listed; their part is unknown and not in the sum.
    """

    species: str
    seeds_m2: float
    standard: Standard
    limits: tuple[WeedLimit, ...]
    without_limit: tuple[str, ...]


def weed_seeds(
    parts: Sequence[LotPart], rate_g_m2: float, standard: Standard = Standard.STATUTORY
) -> tuple[WeedSeeds, ...]:
    """Work out the most weed-grass seeds that a sowing may bring.

    Each figure is an upper limit for that weed alone: the limits leave room for one of them at
    a time, and most lots hold far fewer.

    Parameters
    ----------
    parts : sequence of LotPart
        The label.
    rate_g_m2 : float
        Rate. [g m⁻²]
    standard : Standard
        What the seed was certified to. Where the voluntary one lists nothing for a component,
        the statutory limit is used.

    Returns
    -------
    tuple of WeedSeeds
        One for each weed grass that has a limit for some component and is not itself sown.

    Raises
    ------
    OutOfRangeError
        If the rate is negative.
    """
    require("rate", rate_g_m2, 0, 1000, "g/m2")
    named = [part for part in parts if part.species != OTHERS]
    sown = {find_species(part.species).key for part in named}
    found = (_one_weed(weed, named, rate_g_m2, standard) for weed in LOOKED_FOR if weed not in sown)
    return tuple(each for each in found if each.limits)


def _one_weed(
    weed: str, parts: Sequence[LotPart], rate_g_m2: float, standard: Standard
) -> WeedSeeds:
    limits, without = [], []
    for part in parts:
        component = find_species(part.species).key
        found = _limit(component, weed, standard)
        if found is None:
            without.append(component)
            continue
        limit, whose = found
        grams = rate_g_m2 * part.share_by_weight
        seeds = grams * limit.value
        if limit.unit == "-":
            seeds *= 1000 / thousand_seed_weight(find_species(weed)).value
        limits.append(WeedLimit(component, limit, whose, seeds))
    weakest = (
        Standard.VOLUNTARY
        if limits and all(each.standard is Standard.VOLUNTARY for each in limits)
        else Standard.STATUTORY
    )
    total = fsum(each.seeds_m2 for each in limits)
    return WeedSeeds(weed, total, weakest, tuple(limits), tuple(without))


def _limit(component: str, weed: str, standard: Standard) -> tuple[Sourced, Standard] | None:
    """Find the tightest limit that applies: its own, then that for any one other species."""
    start = f"weeds_in_{slug(component)}"
    if standard is Standard.VOLUNTARY:
        for key in (
            f"{start}_{slug(weed)}_voluntary",
            f"{start}_{slug(weed)}_per_g_voluntary",
            f"{start}_single_voluntary" if weed != COUNTED else "",
        ):
            if key in parameters():
                return parameters()[key], Standard.VOLUNTARY
    limit = None if weed == COUNTED else parameters().get(f"{start}_single")
    return None if limit is None else (limit, Standard.STATUTORY)
