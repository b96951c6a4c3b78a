"""Planning the mowing of a zone: when, how low, along which line, how long, with what blades."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path

from swardbook.book.diary import read_past, write
from swardbook.book.forecast import forecast_of
from swardbook.book.machines import (
    Machine,
    Vibration,
    Walking,
    machine_of,
    mower_name,
    read_sides,
    vibration_of,
    walking,
)
from swardbook.book.opening import Book
from swardbook.book.pictures import note_of
from swardbook.book.plan import situations
from swardbook.book.survey_facts import AREA
from swardbook.book.worked_out import Answer, last_answer
from swardbook.figures.mowing_lines import LinesDrawn, picture_of_lines
from swardbook.figures.picture import Picture
from swardbook.foundation.errors import BadInputError, NotEnoughDataError, UnknownNameError
from swardbook.foundation.quantities import height_hint, require
from swardbook.handbook.cautions import Caution
from swardbook.handbook.parameters import value
from swardbook.husbandry.cylinder import (
    Clip,
    clip_against_height,
    clip_mm,
    clips_a_turn,
    cuts_per_metre,
    effective_height_mm,
    fastest_m_s,
    ground_driven_clip_mm,
)
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground, Zone
from swardbook.husbandry.happenings import Changed, Reading
from swardbook.husbandry.passes import Mown, hours_for, over_area, over_oblong
from swardbook.husbandry.places import oblong_sides
from swardbook.planning.blades import PAPER, SETS, BladeCare, blade_care, blade_thing
from swardbook.planning.how import cautions_of
from swardbook.planning.mowing import NextCut, Wish, next_cut

_PAPER_HINT = "Count the places along the bottom blade where paper was cut clean."
NEXT_CUT = "next cut"
"""The name under which the plan of a cut is kept."""


@dataclass(frozen=True, slots=True)
class ClipAnswer:
    """The clip of a cylinder mower against the height it cuts at.

    Parameters
    ----------
    clip_mm, cuts_m : float
        Clip [mm], and cuts per metre [m⁻¹].
    height_mm : float
        Height of cut as the grass gets it. [mm]
    height_from : str
        What that height was taken from.
    against : Clip
        Good, watch, or ribs.
    fastest_m_s : float or None
        Speed up to which it cuts cleanly; None where speed changes nothing. [m s⁻¹]
    """

    clip_mm: float
    cuts_m: float
    height_mm: float
    height_from: str
    against: Clip
    fastest_m_s: float | None


@dataclass(frozen=True, slots=True)
class Going:
    """Going over a zone with a machine.

    Parameters
    ----------
    mown : Mown
        Passes, distance and turns.
    walking : Walking
        Width, overlap, speed and time of a turn.
    line_deg : float
        Direction against the long side. [°]
    sides_m : tuple of float or None
        Long and short side; None where the zone was taken for a square. [m]
    hours : float
        Time of all that, without emptying the box. [h]
    vibration : Vibration or None
        What hands get of it; None where the machine's vibration is not known.
    times : int
        How often it is gone over.
    """

    mown: Mown
    walking: Walking
    line_deg: float
    sides_m: tuple[float, float] | None
    hours: float
    vibration: Vibration | None
    times: int = 1


@dataclass(frozen=True, slots=True)
class CutPlan:
    """The plan of the next cut of a zone, with everything it takes.

    Parameters
    ----------
    zone : Zone
        The zone.
    next : NextCut
        When and why.
    going : Going
        Lines, distance and time.
    clip : ClipAnswer or None
        The clip; None for a rotary mower or where blades and turns are not known.
    blades : BladeCare
        How the blades stand.
    cautions : tuple of Caution
        What to mind.
    """

    zone: Zone
    next: NextCut
    going: Going
    clip: ClipAnswer | None
    blades: BladeCare
    cautions: tuple[Caution, ...]


def one_zone(book: Book, zone: str) -> str:
    """Give the zone that is meant, or the only one there is.

    Raises
    ------
    BadInputError
        If none is named and there are several.
    UnknownNameError
        If there is no such zone.
    """
    ground = book.ground()
    if zone or len(ground.zones) == 1:
        return ground.zone(zone or ground.zones[0].name).name
    raise BadInputError("the zone", "none", ", ".join(each.name for each in ground.zones))


def plan_cut(
    book: Book, zone: str, wish: Wish, sides: str = "", line_deg: float | None = None,
    typed: Mapping[str, str] | None = None, forecast: Path | None = None,
) -> CutPlan:  # fmt: skip
    """Plan the next cut of a zone.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        The zone by name; none where there is only one.
    wish : Wish
        What is said about the cut.
    sides : str
        Sides of the zone if it is an oblong; else those of the last plan kept.
    line_deg : float or None
        Direction wanted; None takes the next one. [°]
    typed : mapping of str to str
        Facts of the machine for this once, by the fields of `Machine`.
    forecast : Path or None
        A file of forecast days; None takes what the book has after today.
    """
    name = one_zone(book, zone)
    sit = situations(book, name)[0]
    for what, height in (("height of cut", wish.cut_mm), ("height wanted", wish.wanted_mm)):
        if height is not None:
            require(what, height, 2, 150, "mm", height_hint(height))
    if wish.grass_mm is not None:
        require("height of the grass", wish.grass_mm, 2, 1500, "mm")
    found = next_cut(sit, wish, forecast_of(book, forecast))
    machine = machine_of(sit.ground, mower_name(sit.zone.mower.kind), name, typed)
    set_ = machine if wish.cut_mm is None else replace(machine, bench_mm=None)
    line = found.line.line_deg if line_deg is None else line_deg
    going = go_over(sit.ground, sit.zone, machine, line, sides_of(sit.ground, name, sides))
    return CutPlan(
        sit.zone, found, going, clip_of(set_, sit.zone, found.cut_mm),
        blade_care(sit.ground, sit.zone, book.today), cautions_of(sit, "cut"),
    )  # fmt: skip


def go_over(
    ground: Ground, zone: Zone, machine: Machine, line_deg: float,
    sides_m: tuple[float, float] | None, times: int = 1,
) -> Going:  # fmt: skip
    """Go over a zone with a machine, along one line.

    Parameters
    ----------
    ground : Ground
        The book as it stands.
    zone : Zone
        The zone.
    machine : Machine
        What is known of the machine.
    line_deg : float
        Direction against the long side. [°]
    sides_m : tuple of float or None
        Long and short side; None takes the zone for a square. [m]
    times : int
        How often it is gone over; hours count all of them. [-]
    """
    walk = walking(machine, zone)
    if sides_m is None:
        mown = over_area(zone.area_m2, walk.width_m, walk.overlap_m)
    else:
        laps = int(value("mowing.laps"))
        mown = over_oblong(sides_m, walk.width_m, walk.overlap_m, line_deg, laps)
    hours = times * hours_for(mown, walk.speed_m_s, walk.turn_s)
    return Going(mown, walk, line_deg, sides_m, hours, vibration_of(machine, hours), times)


def sides_of(ground: Ground, zone: str, typed: str) -> tuple[float, float] | None:
    """Give the sides of a zone: as typed, taped, of the last plan kept, surveyed or as drawn.

    Sides of another shape, or of an area that the zone no longer has, are passed over.

    Raises
    ------
    BadInputError
        If typed sides make another area than the book has.
    """
    place = ground.zone(zone)
    area = place.area_m2
    if typed:
        sides = read_sides(typed)
        if abs(sides[0] * sides[1] - area) > 0.1 * area:
            raise BadInputError(
                "--sides", typed, f"sides that make about the zone's {area:g} m²",
                f"{sides[0]:g} by {sides[1]:g} m make {sides[0] * sides[1]:.0f} m².",
            )  # fmt: skip
        return sides
    kept = [last_answer(ground, about, zone) for about in (NEXT_CUT, AREA)]
    found = []
    for told in (place.sides, *(each.answer.given.get("sides", "") for each in kept if each)):
        with suppress(BadInputError):
            found.append(read_sides(told))
    if place.outline is not None and not place.outline.holes:
        found.append(oblong_sides(place.outline.corners) or (0.0, 0.0))
    fitting = (sides for sides in found if abs(sides[0] * sides[1] - area) <= 0.1 * area)
    return next(fitting, None)


def clip_of(machine: Machine, zone: Zone | None, height_mm: float | None) -> ClipAnswer | None:
    """Give the clip of a cylinder mower; None where it cannot be told.

    Parameters
    ----------
    machine : Machine
        The machine: blades with turns and speed, or with gears and wheel.
    zone : Zone or None
        The zone; a rotary mower has no clip.
    height_mm : float or None
        Height of cut set, where no bench height is known. [mm]
    """
    if machine.blades is None or (zone is not None and zone.mower.kind == "rotary"):
        return None
    height, told = height_mm, "the height of cut"
    if machine.bench_mm is not None:
        sinks = machine.sinks_mm or 0.0
        height = effective_height_mm(machine.bench_mm, sinks)
        told = f"bench {machine.bench_mm:g} mm less {sinks:g} mm that the rollers sink"
    if height is None:
        return None
    blades, fastest = round(machine.blades), None
    if machine.wheel_mm and machine.wheel_teeth and machine.cylinder_teeth:
        each_turn = clips_a_turn(machine.wheel_teeth, machine.cylinder_teeth, blades)
        clip = ground_driven_clip_mm(machine.wheel_mm, each_turn)
    elif machine.turns_min:
        clip = clip_mm(machine.speed_m_s or value("mowing.speed"), machine.turns_min, blades)
        fastest = fastest_m_s(height, machine.turns_min, blades)
    else:
        return None
    return ClipAnswer(
        clip, cuts_per_metre(clip), height, told, clip_against_height(clip, height), fastest
    )


def cut_to_keep(plan: CutPlan, given: Mapping[str, str]) -> Answer:
    """Make the answer under which the plan of a cut is kept."""
    told = plan.next
    found = {"cut_mm": told.cut_mm, "line_deg": plan.going.line_deg, "hours_h": plan.going.hours}
    if told.growth is not None:
        found["growth_mm_d"] = round(told.growth.rate, 2)
    on = "not yet" if told.cut_on is None else told.cut_on.isoformat()
    words = f"next cut {on} at {told.cut_mm:g} mm"
    return Answer(NEXT_CUT, words, dict(given), found, {"cut on": on, "decides": told.decides})


def draw_lines(book: Book, zone: str, going: Going, last_deg: float | None) -> Picture:
    """Draw the lines to follow over a zone.

    Raises
    ------
    NotEnoughDataError
        If the zone's sides are not known.
    """
    if going.sides_m is None:
        raise NotEnoughDataError(
            "lines to follow", "the sides of an oblong: --sides 32x25.6", "none"
        )
    drawn = LinesDrawn(
        zone, going.sides_m, going.mown.passes, going.walking.width_m, going.line_deg,
        going.mown.laps, last_deg,
    )  # fmt: skip
    return picture_of_lines(drawn, note_of(book))


def blades_of(book: Book, zone: str) -> BladeCare:
    """Look at the blades of the mower that cuts a zone."""
    ground = book.ground()
    return blade_care(ground, ground.zone(one_zone(book, zone)), book.today)


def note_blades(
    book: Book, zone: str, did: str, paper: float | None, *, when: str = "today", who: str = "",
    note: str = "",
) -> list[DiaryEntry]:  # fmt: skip
    """Note work on the blades of the mower that cuts a zone, or a paper test.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        A zone that it cuts.
    did : str
        One of ``ground``, ``back-lapped``, ``sharpened``, ``replaced`` and ``set``; or nothing.
    paper : float or None
        Places along the bottom blade that cut paper clean.
    when, who, note : str
        The day, who did it, anything else.

    Raises
    ------
    UnknownNameError
        If it is no work on blades.
    """
    if did and did not in SETS:
        raise UnknownNameError("work on blades", did, SETS)
    kind = book.ground().zone(one_zone(book, zone)).mower.kind
    places = int(value("mowing.paper_places"))
    kept = []
    if paper is not None:
        require("paper cut clean", paper, 0, places, f"of {places} places", _PAPER_HINT)
    if did:
        what = Changed(blade_thing(kind), "", did)
        kept.append(write(book, what, read_past(when, book.today), who=who, note=note))
    if paper is not None:
        tried = Reading(f"{PAPER}, {kind}", paper, f"of {places}")
        kept.append(write(book, tried, read_past(when, book.today), who=who, note=note))
    return kept
