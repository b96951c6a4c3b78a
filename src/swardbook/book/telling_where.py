"""Read where something is, as typed or sent: on the plan, by two tapes, by a side, by a phone."""

from __future__ import annotations

import re
from collections.abc import Mapping
from math import dist

from swardbook.book.plan_frames import Frame, fixed_points, frames, plan_of
from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.foundation.quantities import read_number, read_quantity
from swardbook.handbook.parameters import value
from swardbook.husbandry.areas import Point
from swardbook.husbandry.ground import Ground
from swardbook.husbandry.places import (
    bearing,
    compass_word,
    from_phone,
    from_side,
    from_tapes,
    is_inside,
)
from swardbook.husbandry.positions import Position
from swardbook.husbandry.where import By, Tape, Where

SUCH_AS = (
    "'4.2, 3.1' east and north of the zone's south-west corner, 'tape 12.4 gate post, 8.2 shed',"
    " 'side 1 2 4.0 1.2' or 'phone 52.1234 -0.5678 6'"
)
_SIDES = {"north": (0, 1), "south": (0, -1), "east": (1, 0), "west": (-1, 0)}


def read_where(ground: Ground, zone: str, text: str, what: str = "where it is") -> Where:
    """Read where something is in a zone.

    Parameters
    ----------
    ground : Ground
        The ground.
    zone : str
        The zone by name; empty for the site at large.
    text : str
        ``4.2, 3.1`` (also ``plan 4.2 3.1``): metres east and north of the zone's south-west
        corner; ``site 40.1 12.3`` from the site's own. ``tape 12.4 gate post, 8.2 shed, east``:
        two tapes from two fixed points, and on which side of their line, where that is not clear.
        ``side 1 2 4.0 1.2``: from corner 1 towards corner 2, and in from that side.
        ``phone 52.1234 -0.5678 6``: latitude, longitude, and how near in metres.
    what : str
        What is read, for the message.

    Raises
    ------
    BadInputError
        If it cannot be read, or tells two places.
    UnknownNameError
        If there is no such zone or fixed point.
    """
    plain = re.sub(r"[−–]", "-", text.strip())
    word = plain.split(" ", 1)[0].casefold() if plain else ""
    found = frames(ground)
    name = ground.zone(zone).name if zone.strip() else ""
    frame = found.get(name)
    if word == By.TAPE:
        return _by_tapes(ground, found, frame, plain[4:].strip(), what)
    if word == "side":
        return _by_side(frame, plain[4:].strip(), what)
    if word == By.PHONE:
        return _by_phone(ground, frame, plain[5:].strip(), what)
    if word == "site":
        place = read_pair(plain[4:].strip(), what)
        east, north = frame.in_zone(place) if frame is not None else place
        return Where(round(east, 3), round(north, 3), By.PLAN)
    return _on_plan(plain.removeprefix("plan").strip(), what)


def far_from(where: Where, frame: Frame) -> str:
    """Say so where a place does not lie in its zone; empty where it does."""
    if is_inside(where.point, frame.outline.rings):
        return ""
    ring = frame.outline.corners
    off = min(_to_side(where.point, a, b) for a, b in zip(ring, (*ring[1:], ring[0]), strict=True))
    slack = max(where.within_m or 0.0, value("plan.touch_reads"))
    return "" if off <= slack else f"It lies {off:.1f} m outside the zone as drawn."


def _on_plan(text: str, what: str) -> Where:
    east, north = read_pair(text, what)
    return Where(east, north, By.PLAN)


def read_pair(text: str, what: str) -> tuple[float, float]:
    """Read metres east and north; bare numbers are metres [m]."""
    parts = re.split(r"\s*;\s*|,\s+|\s+", text) if re.search(r"[;\s]", text) else text.split(",")
    numbers = [_metres(part, what) for part in parts if part]
    if len(numbers) != 2:
        raise BadInputError(what, text, SUCH_AS)
    return numbers[0], numbers[1]


def _metres(text: str, what: str) -> float:
    sign = -1 if text.startswith("-") else 1
    try:
        return sign * read_quantity(text.lstrip("-+"), "m", what).value / 1000
    except BadInputError as slip:
        raise BadInputError(what, text, SUCH_AS) from slip


def _by_tapes(
    ground: Ground, found: Mapping[str, Frame], frame: Frame | None, text: str, what: str
) -> Where:
    apart = ";" if ";" in text else r",\s+|\band\b"
    parts = [part.strip() for part in re.split(apart, text) if part.strip()]
    side = parts.pop().casefold().removesuffix(" side") if len(parts) == 3 else ""
    if len(parts) != 2 or (side and side not in {"left", "right", *_SIDES}):
        raise BadInputError(what, f"tape {text}", SUCH_AS)
    tapes = tuple(_tape(part, what) for part in parts)
    known = fixed_points(ground, found)
    names = {name.casefold(): name for name in known}
    for each in tapes:
        if each.start.casefold() not in names:
            raise UnknownNameError("fixed point", each.start, known)
    tapes = tuple(Tape(names[each.start.casefold()], each.length_m) for each in tapes)
    one, other = (known[each.start] for each in tapes)
    met = from_tapes(one, tapes[0].length_m, other, tapes[1].length_m)
    place = _chosen((one, other), (met.left, met.right), frame, side, what)
    here = frame.in_zone(place) if frame is not None else place
    return Where(round(here[0], 3), round(here[1], 3), By.TAPE, round(met.within_m, 3), tapes)


def _tape(text: str, what: str) -> Tape:
    found = re.fullmatch(r"(\d[\d.,]*\s*(?:m|cm|mm|ft|yd)?)\s+(?:m\s+)?(?:from\s+)?(\S.*)", text)
    if found is None:
        raise BadInputError(what, f"tape {text}", SUCH_AS)
    return Tape(found[2].strip(), read_quantity(found[1], "m", what).value / 1000)


def _chosen(
    line: tuple[Point, Point], places: tuple[Point, Point], frame: Frame | None, side: str,
    what: str,
) -> Point:  # fmt: skip
    left, right = places
    if dist(left, right) <= 2 * value("plan.tape_reads") / 1000:
        return left
    if side in {"left", "right"}:
        return left if side == "left" else right
    if side:
        x, y = _SIDES[side]
        return max(places, key=lambda each: each[0] * x + each[1] * y)
    inside = [each for each in places if frame and is_inside(each, frame.outline.on_site)]
    if len(inside) == 1:
        return inside[0]
    wind, off = (compass_word(bearing(a, b)) for a, b in ((left, right), (right, left)))
    raise BadInputError(
        what, f"two tapes that meet in two places {dist(left, right):.1f} m apart",
        "on which side too: north, south, east or west",
        f"One is to the {off}, the other to the {wind}.",
    )  # fmt: skip


def _by_side(frame: Frame | None, text: str, what: str) -> Where:
    found = re.fullmatch(r"(\d+)\s*(?:-|to|\s)\s*(\d+)\s+(\S+)\s+(\S+)", text)
    if found is None or frame is None:
        raise BadInputError(what, f"side {text}", SUCH_AS)
    ring = frame.outline.corners
    first, second = int(found[1]), int(found[2])
    if not (1 <= first <= len(ring) and 1 <= second <= len(ring)):
        raise BadInputError(what, f"side {first} to {second}", f"corners 1 to {len(ring)}")
    start, end = ring[first - 1], ring[second - 1]
    along, off = _metres(found[3], what), _metres(found[4], what)
    places = [from_side(start, end, along, each) for each in (off, -off)]
    inside = [each for each in places if is_inside(each, frame.outline.rings)]
    east, north = (inside or places)[0]
    return Where(round(east, 3), round(north, 3), By.TAPE, value("plan.tape_reads") / 1000)


def _by_phone(ground: Ground, frame: Frame | None, text: str, what: str) -> Where:
    parts = [read_number(part.rstrip("°m,")) for part in re.split(r"[;\s]+", text) if part]
    if len(parts) not in {2, 3} or None in parts:
        raise BadInputError(what, f"phone {text}", SUCH_AS)
    latitude, longitude, *rest = (float(part or 0.0) for part in parts)
    plan = plan_of(ground)
    if plan.latitude is None or plan.longitude is None:
        raise BadInputError(
            what, f"phone {text}", "a plan that is tied to the globe",
            "Stand at its corner once: `swardbook plan globe LATITUDE LONGITUDE`.",
        )  # fmt: skip
    origin = Position(plan.latitude, plan.longitude)
    place = from_phone(origin, Position(latitude, longitude), plan.north_deg)
    east, north = frame.in_zone(place) if frame is not None else place
    within = rest[0] if rest else value("track_accuracy_m")
    return Where(round(east, 3), round(north, 3), By.PHONE, within)


def _to_side(place: Point, a: Point, b: Point) -> float:
    dx, dy = b[0] - a[0], b[1] - a[1]
    long = dx * dx + dy * dy
    share = ((place[0] - a[0]) * dx + (place[1] - a[1]) * dy) / long if long else 0.0
    share = min(max(share, 0.0), 1.0)
    return dist(place, (a[0] + share * dx, a[1] + share * dy))
