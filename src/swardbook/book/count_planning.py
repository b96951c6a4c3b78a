"""Plan a count before it is made, and say which places hold a kind."""

from __future__ import annotations

import re
from dataclasses import dataclass

from swardbook.book.opening import Book
from swardbook.foundation.errors import BadInputError, NotEnoughDataError
from swardbook.husbandry.ground import Ground
from swardbook.observations.count_plans import Asked, PastCount, PlantsPlan, plan_plants
from swardbook.observations.counts import Method
from swardbook.observations.occasions import methods_used, place_figures
from swardbook.observations.point_plans import PointsPlan, plan_points
from swardbook.observations.presence import Presence, presence
from swardbook.review.records import occasions_of, treated


@dataclass(frozen=True, slots=True)
class CountPlan:
    """A count of one kind in one zone, planned.

    Parameters
    ----------
    zone : str
        Name of the zone.
    kind : str
        Species key.
    plants : PlantsPlan or None
        For plants in frames of known area.
    points : PointsPlan or None
        For cover by points.
    """

    zone: str
    kind: str
    plants: PlantsPlan | None
    points: PointsPlan | None


@dataclass(frozen=True, slots=True)
class PresenceShown:
    """Which places of a zone hold a kind.

    Parameters
    ----------
    zone : str
        Name of the zone.
    kind : str
        Species key.
    method : Method
        How it was counted.
    made : Presence
        What the looks say.
    """

    zone: str
    kind: str
    method: Method
    made: Presence


def ask_of_plants(so_far: str = "", **said: float | None) -> Asked:
    """Read what is wanted of a count of plants.

    Parameters
    ----------
    so_far : str
        Plants in the first frames, with commas, semicolons or blanks between. [plants]
    **said : float or None
        Frame and densities as in `Asked`; ``precision``, ``share`` and ``sees`` in percent, and
        ``change`` as a multiple. [-]

    Raises
    ------
    BadInputError
        If a frame is no whole number, or a percentage not above 0.
    """
    counts = []
    for word in re.split(r"[\s,;]+", so_far.strip()):
        if word and not word.isdecimal():
            raise BadInputError("--so-far", so_far, "whole numbers of plants, such as 3,0,1,5")
        counts += [int(word)] if word else []
    parts = {name: said.pop(name, None) for name in ("precision", "share", "sees")}
    for name, percent in parts.items():
        if percent is not None and not 0 < percent <= 100:
            raise BadInputError(f"--{name}", f"{percent:g}", "above 0, at most 100 %")
    error, share, sees = (each if each is None else each / 100 for each in parts.values())
    ratio = said.pop("change", None)
    return Asked(**said, relative_error=error, ratio=ratio, share_ruled_out=share, sees=sees,
                 so_far=tuple(counts))  # fmt: skip


def plan_count(
    book: Book, zone: str, kind: str, asked: Asked, method: str = "",
    half_width: float | None = None,
) -> CountPlan:  # fmt: skip
    """Plan a count with the zone's own past counts, or with the handbook's customary numbers.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        Name of the zone.
    kind : str
        Species key.
    asked : Asked
        What is wanted of a count of plants.
    method : str
        ``plants`` or ``points``; empty for what the zone was last counted by, plants if never.
    half_width : float or None
        Half the length of the range wanted of cover. [points]

    Raises
    ------
    UnknownNameError
        If there is no such zone.
    BadInputError
        If the method is neither, or plants were asked for in a plan for points.
    """
    ground = book.ground()
    name = ground.zone(zone).name
    chosen = _method(ground, name, kind, method, asked, half_width)
    past = _past(ground, name, kind, chosen)
    if chosen is Method.PLANTS:
        return CountPlan(name, kind, plan_plants(past, asked), None)
    return CountPlan(name, kind, None, plan_points(past, half_width))


def show_presence(
    book: Book, zone: str, kind: str, sees: float | None = None, spares: float = 1.0
) -> PresenceShown:
    """Show which places of a zone hold a kind, with what a look misses.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        Name of the zone.
    kind : str
        Species key.
    sees, spares : float
        Chance to note it where it is, and not to where it is not, if they are known. [-]

    Raises
    ------
    UnknownNameError
        If there is no such zone.
    NotEnoughDataError
        If it was never counted there.
    """
    ground = book.ground()
    name = ground.zone(zone).name
    occasions = [treated(ground, name, each) for each in occasions_of(ground, name)]
    last = _last_method(ground, name, kind)
    if last is None:
        raise NotEnoughDataError("places that hold it", "a dated count of it", "none")
    return PresenceShown(name, kind, last, presence(occasions, kind, last, sees, spares))


def _method(
    ground: Ground, zone: str, kind: str, method: str, asked: Asked, half_width: float | None
) -> Method:
    wants_plants = asked != Asked()
    if method not in ("", "plants", "points"):
        raise BadInputError("--method", method, "plants or points")
    if half_width is not None and (wants_plants or method == "plants"):
        raise BadInputError("--half-width", f"{half_width:g}", "a plan for points alone")
    if method == "points" and wants_plants:
        raise BadInputError(
            "--method", method, "plants, with what was asked", "Only --half-width goes with points."
        )
    if method or wants_plants or half_width is not None:
        return Method.POINTS if method == "points" or half_width is not None else Method.PLANTS
    last = _last_method(ground, zone, kind)
    return Method.POINTS if last is Method.POINTS else Method.PLANTS


def _last_method(ground: Ground, zone: str, kind: str) -> Method | None:
    for occasion in reversed(occasions_of(ground, zone)):
        used = methods_used(treated(ground, zone, occasion).places, kind)
        if used:
            return used[0]
    return None


def _past(ground: Ground, zone: str, kind: str, method: Method) -> list[PastCount]:
    found: list[PastCount] = []
    for occasion in occasions_of(ground, zone):
        figures = place_figures(treated(ground, zone, occasion).places, kind, method)
        if figures:
            found.append((occasion.day, tuple(figures.values())))
    return found
