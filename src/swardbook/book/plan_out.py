"""The plan as GeoJSON, for maps: where the site is tied to the globe."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise
from typing import Any

from swardbook.book.opening import Book, for_others
from swardbook.book.plan_frames import Frame, frames, plan_of
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.husbandry.areas import Point
from swardbook.husbandry.places import to_globe
from swardbook.husbandry.positions import Position
from swardbook.husbandry.spots import spots
from swardbook.husbandry.where import Where

_DIGITS = 7
"""Digits of a degree: about a centimetre; a plan knows no more."""


@for_others()
def plan_geojson(book: Book) -> dict[str, Any]:
    """Give what is drawn of the ground as a feature collection.

    Parameters
    ----------
    book : Book
        The opened book.

    Returns
    -------
    dict
        As RFC 7946 has it: longitude before latitude on WGS 84, outer rings anticlockwise.
        Zones that nobody has drawn are left out.

    Raises
    ------
    NotEnoughDataError
        If nobody said where the site's own corner lies on the globe, or nothing is drawn.

    References
    ----------
    RFC 7946, The GeoJSON Format, 2016.
    """
    ground, where = book.ground(), frames(book.ground())
    plan = plan_of(ground)
    if plan.latitude is None or plan.longitude is None:
        raise NotEnoughDataError(
            "the plan for a map", "where the site's own corner lies on the globe", "not said"
        )
    origin = Position(plan.latitude, plan.longitude)

    def placed(place: Point) -> list[float]:
        found = to_globe(origin, place, plan.north_deg)
        return [round(found.longitude, _DIGITS), round(found.latitude, _DIGITS)]

    made = [
        _feature(
            "Polygon", [_ring([placed(p) for p in ring], not n)
                        for n, ring in enumerate(where[zone.name].outline.on_site)],
            name=zone.name, what="zone", use=zone.use.value,
        )
        for zone in ground.zones if where[zone.name].is_drawn
    ]  # fmt: skip
    for what, things in (("peg", ground.pegs), ("honest square", ground.squares)):
        made += [
            _feature("Point", placed(_on(where, each.zone, each.at)), name=each.name, what=what,
                     zone=each.zone)
            for each in things if each.at is not None
        ]  # fmt: skip
    made += [
        _feature("Point", placed(_on(where, each.zone, each.at)), name=each.name, what="spot",
                 zone=each.zone, state=each.state.value)
        for each in spots(ground.diary, book.today)
    ]  # fmt: skip
    if not made:
        raise NotEnoughDataError("the plan for a map", "a zone that is drawn", "none")
    return {"type": "FeatureCollection", "features": made}


def _on(where: Mapping[str, Frame], zone: str, at: Where) -> Point:
    return where[zone].on_site(at.point) if zone in where else at.point


def _feature(sort: str, place: Any, **told: str) -> dict[str, Any]:
    return {
        "type": "Feature", "geometry": {"type": sort, "coordinates": place}, "properties": told,
    }  # fmt: skip


def _ring(ring: list[list[float]], is_outer: bool) -> list[list[float]]:
    """Close a ring, and run it the way that the format asks."""
    closed = ring if ring[0] == ring[-1] else [*ring, ring[0]]
    twice = sum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise(closed))
    return closed if (twice > 0) == is_outer else closed[::-1]
