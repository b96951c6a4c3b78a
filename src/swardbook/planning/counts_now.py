"""What the last counts say of a zone, against what is fine there."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from swardbook.handbook.parameters import value
from swardbook.husbandry.ground import Use
from swardbook.husbandry.happenings import Count
from swardbook.observations.counts import Method
from swardbook.planning.clumps import clumps_standing
from swardbook.planning.kinds import is_annual_meadow_grass
from swardbook.planning.pulling import plant_density
from swardbook.planning.refills import bare_counted
from swardbook.planning.resetting import since_reset
from swardbook.planning.situation import Situation


@dataclass(frozen=True, slots=True)
class AgainstTolerance:
    """The last counts against the zone's tolerance; None where nothing was counted.

    Parameters
    ----------
    annual_meadow_grass, bare : float or None
        Share of ground by the last count. [-]
    clumps : int or None
        Clumps standing by the last count of them, less those dug since.
    counted_on : date or None
        The day of the count of annual meadow-grass.
    weed_beyond, bare_beyond, clumps_beyond : bool or None
        Whether it is more than is fine; None where it was not counted, or bare ground at too few
        places to say so.
    """

    annual_meadow_grass: float | None
    bare: float | None
    clumps: int | None
    counted_on: date | None
    weed_beyond: bool | None
    bare_beyond: bool | None
    clumps_beyond: bool | None


def against_tolerance(sit: Situation) -> AgainstTolerance:
    """Set the last counts of a zone beside what is fine there."""
    fine = sit.zone.tolerance
    weed, counted = weed_share(sit)
    bare, _, places = bare_counted(sit)
    is_more = None if bare is None else round(100 * bare) > round(100 * fine.bare)
    clumps = clumps_standing(sit).standing
    return AgainstTolerance(
        weed,
        bare,
        clumps,
        counted,
        None if weed is None else weed > fine.annual_meadow_grass,
        None if is_more and places < value("bare_least_places") else is_more,
        None if clumps is None else clumps > fine.clumps,
    )


def weed_share(sit: Situation) -> tuple[float | None, date | None]:
    """Share of annual meadow-grass by the last count [-] and its day; plants by tuft size.

    A count before the zone was stripped or became a new seedbed says nothing of it.
    """
    squares = {square.name.casefold() for square in sit.ground.squares}
    for each in reversed(since_reset(sit, Count)):
        shares = [
            found / place.looked
            for place in each.what.places
            if place.method is not Method.PLANTS
            and place.place.casefold() not in squares
            and (found := _found(place.found)) is not None
        ]
        if shares:
            return sum(shares) / len(shares), each.day
    density, counted = plant_density(sit)
    return (None if density is None else density * value("plant_cover")), counted


def is_cared_for(sit: Situation) -> bool:
    """Tell whether weed work belongs here: not in a trial, a nursery or out of play."""
    return sit.zone.use not in {Use.TRIAL, Use.NURSERY}


def _found(found: object) -> float | None:
    assert hasattr(found, "items")
    hits = [number for kind, number in found.items() if is_annual_meadow_grass(kind)]
    return float(sum(hits)) if hits else None
