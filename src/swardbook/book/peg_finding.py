"""Find a peg again: its sketch, two tapes from points that stay, and its last picture."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from itertools import combinations
from math import dist

from swardbook.book.opening import Book
from swardbook.book.plan_edits import find_place
from swardbook.book.plan_frames import Frame, fixed_points, frames, plan_of
from swardbook.handbook.parameters import value
from swardbook.husbandry.areas import Point
from swardbook.husbandry.attachments import PICTURE, Attachment
from swardbook.husbandry.ground import Ground, HonestSquare, Peg
from swardbook.husbandry.happenings import Photograph
from swardbook.husbandry.places import bearing, compass_word, from_tapes, nearest

_NEAREST = 8
"""Points from which pairs of tapes are tried."""


@dataclass(frozen=True, slots=True)
class TapeTo:
    """One tape to a peg.

    Parameters
    ----------
    start : str
        The fixed point.
    length_m : float
        Length of the tape. [m]
    bearing_deg : float
        Direction of the peg from there, clockwise from north. [°]
    wind : str
        The same as one of eight winds.
    """

    start: str
    length_m: float
    bearing_deg: float
    wind: str


@dataclass(frozen=True, slots=True)
class PegFound:
    """How to find a peg.

    Parameters
    ----------
    name, zone : str
        The peg or square, and its zone.
    sketch : str
        As it was written down; empty if it was not.
    tapes : tuple of TapeTo
        Two tapes; none where it was never placed or there is nothing to tape from.
    within_m : float or None
        Radius that holds about two in three of what those tapes find. [m]
    near : str
        The nearest other peg of the zone with its distance; empty where there is none.
    picture, picture_on : str, date or None
        SHA-256 of its last picture's file, and its day; empty and None where there is none.
    missing : tuple of str
        What would make it easier to find.
    """

    name: str
    zone: str
    sketch: str
    tapes: tuple[TapeTo, ...]
    within_m: float | None
    near: str
    picture: str
    picture_on: date | None
    missing: tuple[str, ...]


def find_peg(book: Book, name: str) -> PegFound:
    """Tell how to find a peg or an honest square again.

    Raises
    ------
    UnknownNameError
        If there is none of that name.
    """
    ground = book.ground()
    return _found(ground, find_place(ground, name), _Known.of(ground))


def find_pegs(book: Book) -> tuple[PegFound, ...]:
    """Tell how to find each peg and each honest square."""
    ground = book.ground()
    known = _Known.of(ground)
    every: tuple[Peg | HonestSquare, ...] = (*ground.pegs, *ground.squares)
    return tuple(_found(ground, each, known) for each in every)


@dataclass(frozen=True, slots=True)
class _Known:
    """What every peg of a ground is found by.

    Parameters
    ----------
    where : mapping
        Where zones lie.
    points : mapping
        Points that tapes may start from, and where they are on the site. [m]
    """

    where: Mapping[str, Frame]
    points: Mapping[str, Point]

    @classmethod
    def of(cls, ground: Ground) -> _Known:
        where = frames(ground)
        return cls(where, fixed_points(ground, where))


def _found(ground: Ground, thing: Peg | HonestSquare, known: _Known) -> PegFound:
    tapes: tuple[TapeTo, ...] = ()
    within, near, missing = None, "", []
    if thing.at is None:
        missing.append("It has no place on the plan yet.")
    else:
        place = known.where[thing.zone].on_site(thing.at.point)
        tapes, within = _tapes(ground, thing, place, known.points)
        near = _near(ground, thing)
        if not tapes:
            missing.append("There are no two fixed points to tape from.")
    picture, day = _last_picture(ground, thing.name)
    if not picture:
        missing.append("It has no picture yet.")
    return PegFound(thing.name, thing.zone, thing.sketch, tapes, within, near, picture, day,
                    tuple(missing))  # fmt: skip


def _tapes(
    ground: Ground, thing: Peg | HonestSquare, place: Point, known: Mapping[str, Point]
) -> tuple[tuple[TapeTo, ...], float | None]:
    """Take the tapes it was placed by; else the two that cross best and are not too long."""
    assert thing.at is not None
    own = [each.start for each in thing.at.tapes if each.start in known]
    stays = {each.name for each in plan_of(ground).points}
    if len(own) == 2:
        chosen: tuple[str, ...] = tuple(own)
    else:
        corners = [name for name in known if name.startswith(f"{thing.zone} ") and "-" in name]
        places = sorted((dist(known[name], place), name) for name in {*stays, *corners})
        near = [name for far, name in places if far >= value("plan.tape_reads") / 1000][:_NEAREST]
        pairs = [
            pair for pair in combinations(near, 2) if dist(known[pair[0]], known[pair[1]]) >= 1
        ]
        if not pairs:
            return (), None
        chosen = min(pairs, key=lambda pair: _cost(pair, known, place, stays))
    north = plan_of(ground).north_deg
    tapes = []
    for name in chosen:
        turn = bearing(known[name], place, north)
        tapes.append(TapeTo(name, dist(known[name], place), turn, compass_word(turn)))
    return tuple(tapes), _within(chosen, known, place)


def _within(pair: tuple[str, ...], known: Mapping[str, Point], place: Point) -> float:
    one, other = (known[name] for name in pair)
    return from_tapes(one, dist(one, place), other, dist(other, place)).within_m


def _cost(
    pair: tuple[str, ...], known: Mapping[str, Point], place: Point, stays: set[str]
) -> tuple[float, tuple[str, ...]]:
    """Weigh how well two tapes cross, how long they are, and whether their starts stay put."""
    long = 1 + sum(dist(known[name], place) for name in pair) / value("plan.tape_long")
    corners = 1 + 0.25 * sum(name not in stays for name in pair)
    return _within(pair, known, place) * long * corners, pair


def _near(ground: Ground, thing: Peg | HonestSquare) -> str:
    assert thing.at is not None
    others = [
        (peg.name, peg.at.point) for peg in ground.pegs
        if peg.at is not None and peg.zone == thing.zone and peg.name != thing.name
    ]  # fmt: skip
    found = nearest(thing.at.point, others)
    if found is None:
        return ""
    name, far = found
    wind = compass_word(bearing(dict(others)[name], thing.at.point, plan_of(ground).north_deg))
    return f"{far:.1f} m {wind} of {name}"


def _last_picture(ground: Ground, name: str) -> tuple[str, date | None]:
    wanted = name.casefold()
    for entry in reversed(ground.diary):
        what = entry.what
        if isinstance(what, Attachment) and what.what == PICTURE and what.peg.casefold() == wanted:
            return what.file, entry.day
        if isinstance(what, Photograph) and what.plot.casefold() == wanted and what.picture:
            return what.picture, entry.day
    return "", None
