"""Grass worth keeping: what a count says of the grass that a renovation would leave standing."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from swardbook.evidence import Estimate
from swardbook.foundation.dates import say
from swardbook.foundation.errors import NotEnoughDataError, UnknownNameError
from swardbook.handbook.parameters import value
from swardbook.handbook.species import Kind, Species, find_species
from swardbook.husbandry.ground import Ground
from swardbook.observations.counts import Method, PlaceCount
from swardbook.observations.estimating import estimate_kind
from swardbook.observations.occasions import Occasion
from swardbook.review.records import RENOVATIONS, occasions_of, treated

KIND = "grass worth keeping"
CREEPERS = ("creeping bent", "rough-stalked meadow-grass", "couch", "creeping soft-grass")
"""Creeping perennials that come again from what a scarifier leaves."""
QUESTION = "the share of grass worth keeping"


@dataclass(frozen=True, slots=True)
class Keepers:
    """Grass worth keeping in a zone.

    Parameters
    ----------
    day : date
        Day of the count.
    method : Method
        How it was counted.
    estimate : Estimate
        Its share of the ground with its range. [%]
    creeping_places : int
        Places where a creeping perennial was found.
    places : int
        Places counted.
    """

    day: date
    method: Method
    estimate: Estimate
    creeping_places: int
    places: int

    @property
    def creeping_share(self) -> float:
        """Share of places with a creeping perennial [-]."""
        return self.creeping_places / self.places


def grass_worth_keeping(ground: Ground, zone: str, today: date) -> Keepers:
    """Read the share of grass worth keeping from the last count that tells it.

    Sown grasses (``sown``, or species that are sown, creeping ones left out) count together at each
    place. A place where none of them was looked for is left out, never 0. A count before the
    zone was last sown, scarified or stripped says nothing of what stands there.

    Parameters
    ----------
    ground : Ground
        The ground.
    zone : str
        The zone by name.
    today : date
        Only counts up to here.

    Raises
    ------
    NotEnoughDataError
        If there is no such count, or it looked at too few places.
    """
    least = int(value("route_places_least"))
    needed = f"points at {least} places or more, with the grass worth keeping counted"
    told = "no count of it"
    worked = [
        entry.day
        for entry in ground.entries(zone)
        if isinstance(entry.what, RENOVATIONS) and entry.when.first <= today
    ]
    for occasion in reversed(occasions_of(ground, zone)):
        if occasion.day > today or (today - occasion.day).days > value("route_count_days"):
            continue
        if worked and occasion.day < max(worked):
            told = f"a count of {say(occasion.day)}, before the ground was worked"
            break
        found, lack = _of_occasion(treated(ground, zone, occasion), least)
        if found is not None:
            return found
        told = lack or told
    raise NotEnoughDataError(QUESTION, needed, told)


def _of_occasion(occasion: Occasion, least: int) -> tuple[Keepers | None, str]:
    places = list(_with_keepers(occasion.places))
    names = {place.place for place in places}
    if not places:
        return None, ""
    estimates = [each for each in estimate_kind(places, KIND) if each.method is not Method.PLANTS]
    if not estimates:
        return None, f"a count of {say(occasion.day)} of plants, which tells no share"
    if len(names) < least:
        return None, f"a count of {say(occasion.day)} at {len(names)} places"
    best = min(estimates, key=lambda each: each.method is not Method.POINTS)
    if best.estimate is None:
        return None, f"a count of {say(occasion.day)} at {len(names)} places"
    creeping = {place.place for place in occasion.places if _creeps(place)}
    return Keepers(occasion.day, best.method, best.estimate, len(creeping & names),
                   len(names)), ""  # fmt: skip


def _with_keepers(places: Sequence[PlaceCount]) -> Iterable[PlaceCount]:
    for place in places:
        kept = [number for kind, number in place.found.items() if is_worth_keeping(kind)]
        if kept:
            total = min(sum(kept), place.looked)
            yield replace(place, found={KIND: total})


def is_worth_keeping(kind: str) -> bool:
    """Tell whether what was counted is a grass that is sown and stays in place."""
    if kind == "sown":
        return True
    species = _species(kind)
    return species is not None and species.kind is Kind.SOWN_GRASS and species.key not in CREEPERS


def _creeps(place: PlaceCount) -> bool:
    for kind, number in place.found.items():
        species = _species(kind)
        if number > 0 and species is not None and species.key in CREEPERS:
            return True
    return False


def _species(kind: str) -> Species | None:
    try:
        return find_species(kind)
    except UnknownNameError:
        return None
