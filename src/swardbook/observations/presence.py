"""Places that hold a kind, and what one look misses, from looks at the same places."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from swardbook.evidence import Interval, wilson
from swardbook.evidence.repeat_visits import Abundance, Occupancy, abundance, occupancy
from swardbook.evidence.sampling import true_share
from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError
from swardbook.handbook.parameters import value
from swardbook.observations.counts import Method
from swardbook.observations.occasions import Occasion

LEVEL = 0.95
Looks = Mapping[str, Sequence[float]]
"""Name of each place, and what every look at it found."""


@dataclass(frozen=True, slots=True)
class Presence:
    """Share of places that hold a kind.

    Parameters
    ----------
    first, last : date
        First and last day of the looks.
    places : int
        Places looked at.
    noted : int
        Places where any look saw it.
    apparent : Interval
        Range of the share of places where it was noted. [-]
    corrected : Interval or None
        The same, put right by a chance to see it that was said. [-]
    looked_twice : int
        Places looked at twice or more.
    occupancy : Occupancy or None
        Share and detection from the looks themselves.
    abundance : Abundance or None
        Plants to a place; counts of plants only.
    refusal : str
        Why there is no occupancy; empty if there is.
    """

    first: date
    last: date
    places: int
    noted: int
    apparent: Interval
    corrected: Interval | None
    looked_twice: int
    occupancy: Occupancy | None
    abundance: Abundance | None
    refusal: str


def presence(
    occasions: Sequence[Occasion],
    kind: str,
    method: Method,
    sees: float | None = None,
    spares: float = 1.0,
) -> Presence:
    """Give the share of places that hold a kind, from looks close together in time.

    Parameters
    ----------
    occasions : sequence of Occasion
        Occasions in order; those too long before the last are left out.
    kind : str
        Species key, or ``bare``, ``sown`` ...
    method : Method
        How it was counted; never mixed.
    sees : float or None
        Chance to note it where it is, if it is known otherwise. [-]
    spares : float
        Chance not to note it where it is not. [-]

    Raises
    ------
    NotEnoughDataError
        If no place was looked at.
    """
    days = value("count_plan.same_plants_days")
    counted = [
        each for each in occasions
        if any(place.method is method and kind in place.found for place in each.places)
    ]  # fmt: skip
    if not counted:
        raise NotEnoughDataError(f"places that hold {kind}", "a dated count of it", "none")
    last = counted[-1].day
    near = [each for each in counted if (last - each.day).days <= days]
    looks = looks_at_places(near, kind, method)
    noted = sum(any(each) for each in looks.values())
    apparent = wilson(noted, len(looks), LEVEL)
    twice = sum(len(each) > 1 for each in looks.values())
    held, refusal = _occupancy(looks, twice)
    return Presence(
        near[0].day, last, len(looks), noted, apparent,
        None if sees is None else true_share(apparent, sees, spares),
        twice, held, _abundance(looks) if held and method is Method.PLANTS else None, refusal,
    )  # fmt: skip


def looks_at_places(occasions: Sequence[Occasion], kind: str, method: Method) -> Looks:
    """Give what each look found: one look is one counter on one day, all placements together."""
    sums: dict[str, dict[tuple[date, str], float]] = defaultdict(dict)
    for occasion in occasions:
        for each in occasion.places:
            if each.method is method and kind in each.found:
                look = (occasion.day, each.counter)
                at = sums[each.place]
                at[look] = at.get(look, 0.0) + each.found[kind]
    return {place: tuple(found.values()) for place, found in sorted(sums.items())}


def _occupancy(looks: Looks, twice: int) -> tuple[Occupancy | None, str]:
    least = value("count_plan.places_least")
    try:
        if twice < least:
            raise NotEnoughDataError(
                "what a look misses", f"{least:g} places looked at twice, by two counters or "
                "within three weeks", f"{twice}",
            )  # fmt: skip
        seen = [sum(found > 0 for found in each) for each in looks.values()]
        return occupancy(seen, [len(each) for each in looks.values()], LEVEL), ""
    except NotEnoughDataError as lack:
        return None, str(lack)


def _abundance(looks: Looks) -> Abundance | None:
    try:
        return abundance([[round(found) for found in each] for each in looks.values()])
    except (NotEnoughDataError, OutOfRangeError):
        return None
