"""Draw zones, place pegs, squares and fixed points; each edit can be undone, and none is lost."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from swardbook.book.opening import Book
from swardbook.book.plan_frames import frames, plan_of
from swardbook.book.telling_where import far_from, read_where
from swardbook.foundation.errors import BadInputError, RefusedError, UnknownNameError
from swardbook.foundation.quantities import require
from swardbook.handbook.parameters import value
from swardbook.husbandry.areas import Point
from swardbook.husbandry.codec import from_plain, to_plain
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground, HonestSquare, Peg, Site, Zone
from swardbook.husbandry.happenings import Changed
from swardbook.husbandry.places import drawn, to_globe
from swardbook.husbandry.positions import Position
from swardbook.husbandry.where import Backdrop, FixedPoint, Outline, Ring, SitePlan, Where

_OF_THE_PLAN = {"outline", "at", "plan"}
_UNDONE = "Undone on the plan: "


@dataclass(frozen=True, slots=True)
class ZoneDrawn:
    """A zone as drawn.

    Parameters
    ----------
    zone : Zone
        The zone, with its outline.
    area_m2 : float
        Area of the drawing. [m²]
    notes : tuple of str
        What to look at: an area that is not the book's, what lies outside now.
    """

    zone: Zone
    area_m2: float
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Placed:
    """A peg or square as placed.

    Parameters
    ----------
    thing : Peg or HonestSquare
        The peg or square.
    notes : tuple of str
        What to look at.
    """

    thing: Peg | HonestSquare
    notes: tuple[str, ...]


def draw_zone(
    book: Book, name: str, corners: Sequence[Point], holes: Sequence[Ring] = (), *,
    who: str = "", reason: str = "",
) -> ZoneDrawn:  # fmt: skip
    """Draw a zone: its corners in order, from the site's own corner.

    What lies in the zone stays where it was in it. The book's area is kept: a note says where the
    drawing has another.

    Parameters
    ----------
    book : Book
        The opened book.
    name : str
        The zone.
    corners : sequence of (float, float)
        In order round the edge; not closed again. [m]
    holes : sequence of tuple
        What is cut out. [m]
    who, reason : str
        Who drew it, and why.

    Raises
    ------
    BadInputError
        If the edge crosses itself or encloses nothing.
    UnknownNameError
        If there is no such zone.
    """
    zone = book.store.ground().zone(name)
    return _kept(book, zone, drawn(corners, holes, zone.outline), who, reason)


def move_corner(
    book: Book, name: str, number: int, to: Point, *, who: str = "", reason: str = ""
) -> ZoneDrawn:
    """Move one corner of a drawn zone.

    Parameters
    ----------
    book : Book
        The opened book.
    name : str
        The zone.
    number : int
        Its corner, from 1.
    to : tuple of float
        Where to, from the site's own corner. [m]
    who, reason : str
        Who moved it, and why.

    Raises
    ------
    BadInputError
        If the zone is not drawn, has no such corner, or its edge would cross itself.
    """
    zone, outline = _outlined(book, name)
    edge, *holes = outline.on_site
    if not 1 <= number <= len(edge):
        raise BadInputError("the corner", number, f"1 to {len(edge)}")
    corners = [to if n == number else corner for n, corner in enumerate(edge, 1)]
    return _kept(book, zone, drawn(corners, holes, outline), who, reason)


def move_zone(
    book: Book, name: str, east_m: float, north_m: float, *, who: str = "", reason: str = ""
) -> ZoneDrawn:
    """Move a whole drawn zone; what lies in it goes along.

    Parameters
    ----------
    book : Book
        The opened book.
    name : str
        The zone.
    east_m, north_m : float
        How far. [m]
    who, reason : str
        Who moved it, and why.
    """
    zone, outline = _outlined(book, name)
    moved = replace(outline, east_m=round(outline.east_m + east_m, 3),
                    north_m=round(outline.north_m + north_m, 3))  # fmt: skip
    return _kept(book, zone, moved, who, reason)


def place_peg(book: Book, name: str, where: str, *, who: str = "") -> Placed:
    """Place a peg or an honest square; see `telling_where.read_where` for how it may be told.

    A place in a zone that nobody has drawn is told from its own corner, and stays when it is drawn.

    Raises
    ------
    UnknownNameError
        If there is no peg or square of that name, or no such fixed point.
    BadInputError
        If it cannot be read, or tells two places.
    """
    ground = book.store.ground()
    thing = find_place(ground, name)
    at = read_where(ground, thing.zone, where)
    placed = replace(thing, at=at)
    if isinstance(placed, Peg):
        book.store.save_peg(placed, on=book.today, who=who, reason="Placed on the plan.")
    else:
        book.store.save_square(placed, on=book.today, who=who, reason="Placed on the plan.")
    odd = far_from(at, frames(ground)[thing.zone])
    return Placed(placed, (odd,) if odd else ())


def find_place(ground: Ground, name: str) -> Peg | HonestSquare:
    """Find a peg or an honest square by name, case-blind.

    Raises
    ------
    UnknownNameError
        If there is none; offers the nearest names.
    """
    every: tuple[Peg | HonestSquare, ...] = (*ground.pegs, *ground.squares)
    for each in every:
        if each.name.casefold() == name.strip().casefold():
            return each
    raise UnknownNameError("peg", name, [each.name for each in every])


def add_fixed_point(book: Book, name: str, place: Point, *, who: str = "") -> FixedPoint:
    """Put a fixed point on the plan, or move one that is there.

    Parameters
    ----------
    book : Book
        The opened book.
    name : str
        What it is called.
    place : tuple of float
        From the site's own corner. [m]
    who : str
        Who placed it.
    """
    point = FixedPoint(" ".join(name.split()), round(place[0], 3), round(place[1], 3))

    def with_point(plan: SitePlan) -> SitePlan:
        others = [each for each in plan.points if each.name.casefold() != point.name.casefold()]
        return replace(plan, points=(*others, point))

    _change_plan(book, with_point, who, f"{point.name} placed.")
    return point


def tie_to_globe(
    book: Book, latitude: float, longitude: float, north_deg: float = 0.0, at: Point = (0.0, 0.0),
    *, who: str = "",
) -> SitePlan:  # fmt: skip
    """Say where a place of the site lies on the globe, so that a phone's position has a place.

    Parameters
    ----------
    book : Book
        The opened book.
    latitude, longitude : float
        Of that place; south and west negative. [°]
    north_deg : float
        Where north lies, clockwise from the top of the plan. [°]
    at : tuple of float
        The place, from the site's own corner; that corner if not said. [m]
    who : str
        Who measured it.
    """
    require("latitude", latitude, -85, 85, "°", "Latitude and longitude swapped?")
    require("longitude", longitude, -180, 180, "°")
    require("north", north_deg, -360, 360, "°")
    corner = to_globe(Position(latitude, longitude), (-at[0], -at[1]), north_deg)
    latitude, longitude = round(corner.latitude, 8), round(corner.longitude, 8)

    def tied(plan: SitePlan) -> SitePlan:
        return replace(plan, latitude=latitude, longitude=longitude, north_deg=north_deg)

    return _change_plan(book, tied, who, "Tied to the globe.")


def set_backdrop(book: Book, backdrop: Backdrop | None, *, who: str = "") -> SitePlan:
    """Put a picture under the plan by two points that are known on both; None takes it away."""
    return _change_plan(
        book, lambda plan: replace(plan, backdrop=backdrop), who, "Backdrop changed."
    )


def last_edit(book: Book) -> DiaryEntry | None:
    """Give the last edit of the plan that is not undone; None where there is none."""
    undone: set[str] = set()
    for entry in reversed(book.store.whole_diary()):
        if not isinstance(entry.what, Changed) or not _is_of_the_plan(entry.what):
            continue
        if found := re.match(f"{_UNDONE}(\\w+)", entry.what.reason):
            undone.add(found[1])
        elif str(entry.id)[:8] not in undone:
            return entry
    return None


def undo_edit(book: Book, *, who: str = "") -> DiaryEntry:
    """Take the last edit of the plan back: what was before is written again; both are kept.

    Raises
    ------
    RefusedError
        If nothing was edited.
    """
    entry = last_edit(book)
    if entry is None:
        raise RefusedError("Nothing is undone", "the plan was not edited.")
    what = entry.what
    assert isinstance(what, Changed)
    kind, _, name = what.thing.partition(" ")
    before: Mapping[str, Any] = json.loads(what.before)
    about = {"on": book.today, "who": who, "reason": f"{_UNDONE}{str(entry.id)[:8]}"}
    ground, store = book.store.ground(), book.store
    if kind == "site":
        store.save_site(_as_before(Site, ground.site, before), **about)
    elif kind == "zone":
        store.save_zone(_as_before(Zone, ground.zone(name), before), **about)
    elif kind == "peg":
        store.save_peg(_as_before(Peg, _named(ground.pegs, name), before), **about)
    else:
        store.save_square(_as_before(HonestSquare, _named(ground.squares, name), before), **about)
    return entry


def _is_of_the_plan(what: Changed) -> bool:
    try:
        after = json.loads(what.after)
    except ValueError:  # written by hand, in words
        return False
    return isinstance(after, dict) and bool(_OF_THE_PLAN & set(after))


def _named(things: Sequence[Any], name: str) -> Any:
    return next(each for each in things if each.name.casefold() == name.casefold())


def _as_before(kind: type[Any], thing: Any, before: Mapping[str, Any]) -> Any:
    held = {name: was for name, was in before.items() if name in _OF_THE_PLAN}
    return from_plain(kind, {**to_plain(thing), **held}, "the plan")


def _outlined(book: Book, name: str) -> tuple[Zone, Outline]:
    zone = book.store.ground().zone(name)
    if zone.outline is None:
        raise BadInputError(
            "the corner", zone.name, "a zone that is drawn",
            f"Draw it first: `swardbook plan draw '{zone.name}' --corners ...`.",
        )  # fmt: skip
    return zone, zone.outline


def _kept(book: Book, zone: Zone, outline: Outline, who: str, reason: str) -> ZoneDrawn:
    fresh = replace(zone, outline=outline)
    if fresh != zone:
        book.store.save_zone(fresh, on=book.today, who=who, reason=reason or "Drawn on the plan.")
    area, notes = outline.area_m2, []
    if abs(area - zone.area_m2) > value("area_asked_about") * zone.area_m2:
        notes.append(
            f"The drawing has {area:.1f} m², the book {zone.area_m2:.1f} m². Which is right? If the"
            f" drawing: `swardbook zone set '{zone.name}' --area {area:.1f}`."
        )
    ground = book.store.ground()
    frame = frames(ground)[zone.name]
    placed = [(peg.name, peg.at) for peg in ground.pegs if peg.zone == zone.name]
    placed += [(each.name, each.at) for each in ground.squares if each.zone == zone.name]
    out = [name for name, at in placed if _is_out(at, frame)]
    if out:
        notes.append(f"Outside the drawing now: {', '.join(out)}.")
    return ZoneDrawn(fresh, area, tuple(notes))


def _is_out(at: Where | None, frame: Any) -> bool:
    return at is not None and bool(far_from(at, frame))


def _change_plan(
    book: Book, change: Callable[[SitePlan], SitePlan], who: str, reason: str
) -> SitePlan:  # fmt: skip
    site = book.store.ground().site
    plan = change(plan_of(book.store.ground()))
    book.store.save_site(replace(site, plan=plan), on=book.today, who=who, reason=reason)
    return plan
