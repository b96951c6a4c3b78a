"""Where each zone lies on the plan: as drawn, or laid out in rows until somebody draws it."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from functools import partial
from math import dist, sqrt

from swardbook.book.shapes import read_shape
from swardbook.foundation.errors import BadInputError
from swardbook.husbandry.areas import Point
from swardbook.husbandry.ground import Ground, Zone
from swardbook.husbandry.places import box_of, is_inside
from swardbook.husbandry.where import Outline, Ring, SitePlan

_WINDS = {"south-west": (-1, -1), "south-east": (1, -1), "north-east": (1, 1),
          "north-west": (-1, 1)}  # fmt: skip
_APART_M = 2.0
_WIDER = 1.5
"""A zone of known area and unknown shape is laid out so many times as wide as deep."""


@dataclass(frozen=True, slots=True)
class Frame:
    """Where a zone lies.

    Parameters
    ----------
    outline : Outline
        Its outline on the site.
    how : str
        ``drawn``, ``by its sides`` or ``by its area``.
    """

    outline: Outline
    how: str

    @property
    def is_drawn(self) -> bool:
        """Whether somebody drew it."""
        return self.how == "drawn"

    def on_site(self, place: Point) -> Point:
        """Turn a place in the zone into one on the site [m]."""
        return place[0] + self.outline.east_m, place[1] + self.outline.north_m

    def in_zone(self, place: Point) -> Point:
        """Turn a place on the site into one in the zone [m]."""
        return place[0] - self.outline.east_m, place[1] - self.outline.north_m


def frames(ground: Ground) -> Mapping[str, Frame]:
    """Tell where every zone lies: as drawn; the others in rows below, so that the plan works.

    Parameters
    ----------
    ground : Ground
        The ground.

    Returns
    -------
    mapping of str to Frame
        By the zone's name, in the order of the book.
    """
    drawn = {zone.name: Frame(zone.outline, "drawn") for zone in ground.zones if zone.outline}
    rest = [(zone.name, *_shape(zone)) for zone in ground.zones if zone.outline is None]
    sizes = [box_of([corners]) for _, corners, _ in rest]
    total = sum((e - w) * (n - s) for w, s, e, n in sizes)
    reach = max([sqrt(total) * _WIDER, *(e - w for w, _, e, _ in sizes)], default=0.0)
    west = south = 0.0
    if drawn:
        west, south, east, _ = box_of(r for each in drawn.values() for r in each.outline.on_site)
        reach = max(reach, east - west)
    x, top, deep = west, south - (_APART_M if drawn else 0.0), 0.0
    for (name, corners, how), (w, s, e, n) in zip(rest, sizes, strict=True):
        if x > west and x + e - w > west + reach + 1e-6:
            x, top, deep = west, top - deep - _APART_M, 0.0
        drawn[name] = Frame(Outline(corners, x - w, top - n), how)
        x, deep = x + e - w + _APART_M, max(deep, n - s)
    return {zone.name: drawn[zone.name] for zone in ground.zones}


def plan_of(ground: Ground) -> SitePlan:
    """Give what the plan of the site has beyond its zones."""
    return ground.site.plan or SitePlan()


def zone_at(found: Mapping[str, Frame], place: Point) -> str:
    """Name the zone at a place of the site; empty where there is none."""
    return next(
        (name for name, each in found.items() if is_inside(place, each.outline.on_site)), ""
    )


def fixed_points(ground: Ground, found: Mapping[str, Frame]) -> dict[str, Point]:
    """List the points that tapes may start from: fixed points, placed pegs, corners of drawn zones.

    Parameters
    ----------
    ground : Ground
        The ground.
    found : mapping
        Where zones lie.

    Returns
    -------
    dict of str to tuple
        Names and places on the site. [m]
    """
    points = {each.name: (each.east_m, each.north_m) for each in plan_of(ground).points}
    for peg in ground.pegs:
        if peg.at is not None and peg.zone in found:
            points.setdefault(peg.name, found[peg.zone].on_site(peg.at.point))
    for name, frame in found.items():
        if frame.is_drawn:
            for number, corner in enumerate(frame.outline.on_site[0], 1):
                points.setdefault(f"{name} {number}", corner)
            for wind, corner in _winds(frame.outline.on_site[0]).items():
                points.setdefault(f"{name} {wind}", corner)
    return points


def nearest_corner(found: Mapping[str, Frame], place: Point, within_m: float) -> Point | None:
    """Give the corner of a drawn zone that is nearest to a place, if it is near enough.

    Parameters
    ----------
    found : mapping
        Where zones lie.
    place : tuple of float
        On the site. [m]
    within_m : float
        How near. [m]
    """
    corners = [
        corner for frame in found.values() if frame.is_drawn
        for ring in frame.outline.on_site for corner in ring
    ]  # fmt: skip
    best = min(corners, key=lambda each: dist(each, place), default=None)
    return best if best is not None and dist(best, place) <= within_m else None


def _winds(ring: Ring) -> dict[str, Point]:
    """Name the corners that lie farthest out, where one alone does."""
    found = {}
    for wind, (x, y) in _WINDS.items():
        far = sorted(ring, key=partial(_inward, (x, y)))
        if len(far) > 1 and far[0] != far[1]:
            found[wind] = far[0]
    return found


def _inward(way: Point, place: Point) -> float:
    return -(place[0] * way[0] + place[1] * way[1])


def _shape(zone: Zone) -> tuple[Ring, str]:
    if zone.sides:
        with suppress(BadInputError):
            return _to_corner(read_shape(zone.sides).corners), "by its sides"
    deep = sqrt(zone.area_m2 / _WIDER)
    wide = zone.area_m2 / deep
    return ((0.0, 0.0), (wide, 0.0), (wide, deep), (0.0, deep)), "by its area"


def _to_corner(ring: Ring) -> Ring:
    west, south, _, _ = box_of([ring])
    return tuple((x - west, y - south) for x, y in ring)
