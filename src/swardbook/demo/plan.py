"""The made-up ground as drawn: a walled garden, metres east and north of its south-west corner."""

from __future__ import annotations

from dataclasses import replace
from math import dist

from swardbook.demo.names import APRON, LIME_WALK, MAIN, NURSERY, SHORT, SURROUND, TRIAL
from swardbook.husbandry.ground import HonestSquare, Peg, Zone
from swardbook.husbandry.places import from_side
from swardbook.husbandry.where import By, FixedPoint, Outline, Ring, SitePlan, Where


def _oblong(east: float, north: float) -> Ring:
    return (0.0, 0.0), (east, 0.0), (east, north), (0.0, north)


OUTLINES = {
    MAIN: Outline(_oblong(25.6, 32.0), 34.0, 11.0),
    SHORT: Outline(_oblong(24.0, 19.2), 3.0, 2.0),
    SURROUND: Outline(_oblong(31.6, 38.0), 31.0, 8.0,
                      (((3.0, 3.0), (28.6, 3.0), (28.6, 35.0), (3.0, 35.0)),)),
    APRON: Outline(_oblong(14.0, 4.5), 14.5, 39.5),
    LIME_WALK: Outline(_oblong(30.0, 6.0), 31.5, 1.0),
    TRIAL: Outline(_oblong(9.5, 20.25), 2.0, 25.0),
    NURSERY: Outline(_oblong(8.0, 6.0), 17.0, 28.0),
}  # fmt: skip
"""The main court and the trial run up the slope, from the wet south end to the dry north end."""

SITE_PLAN = SitePlan(
    (
        FixedPoint("gate post", 29.0, 0.0),
        FixedPoint("pavilion west corner", 14.5, 44.0),
        FixedPoint("pavilion east corner", 28.5, 44.0),
        FixedPoint("tap", 64.0, 30.0),
        FixedPoint("north wall west end", 0.0, 48.0),
    )
)
_ALONG_EAST = {SHORT, APRON, LIME_WALK}
"""Zones whose tape along the long side runs east; in the main court it runs north."""
_WITHIN_M = 0.1
_STEP_EAST, _STEP_NORTH = 0.7548776662466927, 0.5698402909980532
"""Steps of a sequence that spreads evenly over a square (additive recurrence)."""


def placed(thing: Peg, along: float, across: float) -> Peg:
    """Place a peg from the two lengths of its sketch."""
    return replace(thing, at=_where(thing.zone, along, across))


def placed_square(thing: HonestSquare, along: float, across: float) -> HonestSquare:
    """Place a square from the two lengths of its sketch."""
    return replace(thing, at=_where(thing.zone, along, across))


def outlined(zone: Zone) -> Zone:
    """Give a zone with its outline."""
    return replace(zone, outline=OUTLINES[zone.name])


def clump_places(first: int, number: int) -> tuple[Where, ...]:
    """Scatter clumps over the main court; made up, and the same each time.

    Parameters
    ----------
    first, number : int
        Which ones of the sequence.
    """
    places = (
        (0.5 + 24.6 * (n * _STEP_EAST % 1), 0.5 + 31.0 * (n * _STEP_NORTH % 1))
        for n in range(first, first + number)
    )
    return tuple(
        Where(round(east, 2), round(north, 2), By.TAPE, _WITHIN_M) for east, north in places
    )


def _where(zone: str, along: float, across: float) -> Where:
    if zone == SURROUND:
        east, north = _round_the_court(along, across)
    elif zone in _ALONG_EAST:
        east, north = along, across
    else:
        east, north = across, along
    return Where(round(east, 3), round(north, 3), By.TAPE, _WITHIN_M)


def _round_the_court(along: float, inwards: float) -> tuple[float, float]:
    """Walk the outer edge east, north, west and south, and step inwards."""
    wide, deep = OUTLINES[SURROUND].corners[2]
    corners = OUTLINES[SURROUND].corners
    left = along
    for start, end in zip(corners, (*corners[1:], corners[0]), strict=True):
        long = dist(start, end)
        if left <= long:
            break
        left -= long
    east, north = from_side(start, end, left, inwards)
    return min(max(east, inwards), wide - inwards), min(max(north, inwards), deep - inwards)


WITH_MARGIN, CUT_FLUSH, TAGGED = clump_places(1, 40), clump_places(41, 18), clump_places(100, 60)
"""Clumps of Yorkshire fog by how they were dug, and tagged holes of annual meadow-grass."""
