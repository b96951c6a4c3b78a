"""One place counted: points hit or plants found."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

from swardbook.foundation.errors import BadInputError, OutOfRangeError
from swardbook.handbook.species import key_of


class Method(StrEnum):
    """How a place was counted; results of different methods are never mixed."""

    POINTS = "points"
    """Crossings of a strung frame."""
    PLANTS = "plants"
    """Plants in a frame of known area."""
    BY_EYE = "by eye"
    """Cover by eye, to the nearest 5; layers may overlap."""


@dataclass(frozen=True, slots=True)
class PlaceCount:
    """What was counted at one place on one occasion.

    Parameters
    ----------
    place : str
        Name of the peg, plot or honest square.
    method : Method
        Points, plants, or cover by eye.
    found : mapping of str to float
        Species key, ``sown``, ``bare``, ``moss`` or ``cannot tell`` to points hit, plants, or
        percent by eye. A kind that was looked for and not found is 0; one not looked for is absent.
    looked : float
        Points in the frame, or area of the frame [m²], or 100 by eye.
    counter : str
        Who counted.
    placement : int
        Which of several placements of the frame at this place, from 1.
    """

    place: str
    method: Method
    found: Mapping[str, float]
    looked: float
    counter: str = ""
    placement: int = 1

    def __post_init__(self) -> None:
        if not self.looked > 0:
            raise OutOfRangeError("what was looked at", self.looked, "above 0", "")
        for kind, number in self.found.items():
            if not number >= 0:
                raise OutOfRangeError(f"count of {kind}", number, "0 or more", "")
        total = sum(self.found.values())
        if self.method is Method.POINTS and total > self.looked:
            raise BadInputError(
                f"the count at {self.place}",
                f"{total:g} of {self.looked:g}",
                f"at most {self.looked:g} crossings in this frame",
                f"You have {total:g}. Recount, or drop to {self.looked:g}?",
            )


def by_key(places: Iterable[PlaceCount]) -> tuple[PlaceCount, ...]:
    """Call every kind by its one name, whichever of its names it was counted under.

    Parameters
    ----------
    places : iterable of PlaceCount
        Places as they were written down.

    Returns
    -------
    tuple of PlaceCount
        The same; one kind under two names at a place is added up.
    """
    return tuple(_by_key(place) for place in places)


def _by_key(place: PlaceCount) -> PlaceCount:
    if all(kind == key_of(kind) for kind in place.found):
        return place
    found: dict[str, float] = {}
    for kind, number in place.found.items():
        found[key_of(kind)] = found.get(key_of(kind), 0.0) + number
    return replace(place, found=found)
