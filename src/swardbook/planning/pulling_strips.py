"""A zone cut into strips for pulling: plants and hours of each, and which to take first."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from swardbook.evidence.counts import density
from swardbook.husbandry.happenings import Count
from swardbook.observations.counts import Method, PlaceCount
from swardbook.planning.kinds import is_annual_meadow_grass
from swardbook.planning.pulling import Hours, plant_density, pulling_hours
from swardbook.planning.resetting import since_reset
from swardbook.planning.situation import Situation


@dataclass(frozen=True, slots=True)
class PullingStrip:
    """One strip of a zone.

    Parameters
    ----------
    number : int
        From 1, along the long side.
    begins_m, ends_m : float or None
        Where it begins and ends along that side; None where the zone is not drawn. [m]
    area_m2 : float
        Its area. [m²]
    frames : int
        Frames counted in it.
    per_m2 : float
        Plants; the zone's own figure where it has fewer than two frames. [plants m⁻²]
    low, high : float or None
        The 95 % range; None where the strip has fewer than two frames. [plants m⁻²]
    hours : Hours
        One pass over it, as a range.
    """

    number: int
    begins_m: float | None
    ends_m: float | None
    area_m2: float
    frames: int
    per_m2: float
    low: float | None
    high: float | None
    hours: Hours

    @property
    def plants(self) -> float:
        """Plants in it [plants]."""
        return self.per_m2 * self.area_m2


@dataclass(frozen=True, slots=True)
class PullingStrips:
    """A zone's strips, those with most plants an hour first, by the count of a day.

    Parameters
    ----------
    strips : tuple of PullingStrip
        The strips.
    counted_on : date
        The day of the count.
    along : str
        Which way they are numbered; empty where the zone is not drawn.
    hours : Hours
        One pass over the whole zone: narrower than its strips' ranges put together.
    """

    strips: tuple[PullingStrip, ...]
    counted_on: date
    along: str
    hours: Hours


def pulling_strips(sit: Situation, number: int) -> PullingStrips | None:
    """Cut a zone into strips of one width; None where its plants were never counted.

    Parameters
    ----------
    sit : Situation
        The zone on its day.
    number : int
        How many strips.
    """
    mean, day = plant_density(sit)
    if mean is None or day is None:
        return None
    area = sit.zone.area_m2 / number
    span = _span(sit)
    frames = _frames(sit, day)
    strips = []
    for n in range(number):
        begins = ends = None
        here: list[PlaceCount] = []
        if span is not None:
            start, length, is_east = span
            begins, ends = length * n / number, length * (n + 1) / number
            is_last = n == number - 1
            here = [
                place for place, east, north in frames
                if begins <= (east if is_east else north) - start < ends
                or (is_last and (east if is_east else north) - start >= ends)
            ]  # fmt: skip
        per_m2, low, high = _density(here, mean)
        hours = pulling_hours(sit, area, per_m2 * area)
        strips.append(PullingStrip(n + 1, begins, ends, area, len(here), per_m2, low, high, hours))
    strips.sort(key=lambda each: (-_worth(each), each.number))
    along = "" if span is None else "from the west" if span[2] else "from the south"
    whole = pulling_hours(sit, sit.zone.area_m2, mean * sit.zone.area_m2)
    return PullingStrips(tuple(strips), day, along, whole)


def _worth(strip: PullingStrip) -> float:
    """Plants that an hour takes, by the middle of the hours."""
    middle = (strip.hours.low + strip.hours.high) / 2
    return strip.plants / middle if middle > 0 else 0.0


def _span(sit: Situation) -> tuple[float, float, bool] | None:
    """Give where the long side begins, how long it is, and whether it runs east."""
    outline = sit.zone.outline
    if outline is None:
        return None
    easts, norths = zip(*outline.corners, strict=True)
    wide, long = max(easts) - min(easts), max(norths) - min(norths)
    return (min(easts), wide, True) if wide >= long else (min(norths), long, False)


def _frames(sit: Situation, day: date) -> list[tuple[PlaceCount, float, float]]:
    placed = {
        peg.name.casefold(): peg.at for peg in sit.ground.pegs
        if peg.zone == sit.zone.name and peg.at is not None
    }  # fmt: skip
    found = []
    for each in since_reset(sit, Count):
        if each.day != day:
            continue
        for place in each.what.places:
            at = placed.get(place.place.casefold())
            if at is not None and place.method is Method.PLANTS:
                found.append((place, at.east_m, at.north_m))
    return found


def _density(
    here: list[PlaceCount], mean: float
) -> tuple[float, float | None, float | None]:  # fmt: skip
    if len(here) < 2:
        return mean, None, None
    counts = [
        float(sum(n for kind, n in place.found.items() if is_annual_meadow_grass(kind)))
        for place in here
    ]
    made = density(counts, [place.looked for place in here])
    low, high = made.interval()
    return made.per_m2, low, high
