"""Planning a verticut, and setting out strips that tell what verticutting does here."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from zlib import crc32

from swardbook.book.comparing import StripsCompared, compare_strips
from swardbook.book.diary import read_past
from swardbook.book.ground import add_peg
from swardbook.book.machines import VERTICUT, Machine, machine_of, walking
from swardbook.book.mowing import Going, go_over, one_zone, sides_of
from swardbook.book.opening import Book
from swardbook.book.pictures import note_of
from swardbook.book.plan import situations
from swardbook.book.worked_out import Answer, require_answer
from swardbook.figures.picture import Picture
from swardbook.figures.strips_set_out import picture_of_strips
from swardbook.foundation.errors import BadInputError
from swardbook.foundation.quantities import require
from swardbook.handbook.cautions import Caution
from swardbook.handbook.parameters import value
from swardbook.husbandry.happenings import Verticut
from swardbook.husbandry.passes import between_lines
from swardbook.husbandry.slits import slit_share, slit_volume_l_m2, strike_pitch_mm
from swardbook.observations.samples import Smallest
from swardbook.planning.how import cautions_of
from swardbook.planning.situation import Situation
from swardbook.planning.strip_trial import Piece, SetOut, Shows, set_out, what_it_shows
from swardbook.planning.verticutting import BELOW_SURFACE, VerticutPlan, plan_verticut

STRIPS = "verticut strips"
"""The name under which a set-out is kept."""


@dataclass(frozen=True, slots=True)
class Slices:
    """What the blades do to a surface.

    Parameters
    ----------
    blade_mm, spacing_mm : float
        Thickness of a blade, and from blade to blade. [mm]
    are_measured : bool
        Whether both are the machine's own.
    share : float
        Share of the surface that blades pass over; not what they bare. [-]
    spoil_l : float or None
        What the slits held, as it lay; None where the tips stay out of the soil and what comes up
        is leaf and shoots, which nobody has measured. [L]
    barrows : float or None
        The same, loose, in barrows. [-]
    pitch_mm : float or None
        From strike to strike along a line; None where turns and tips are not known. [mm]
    """

    blade_mm: float
    spacing_mm: float
    are_measured: bool
    share: float
    spoil_l: float | None
    barrows: float | None
    pitch_mm: float | None


@dataclass(frozen=True, slots=True)
class VerticutAnswer:
    """A verticut planned, with the machine's part."""

    plan: VerticutPlan
    area_m2: float
    slices: Slices
    going: Going
    cautions: tuple[Caution, ...]


@dataclass(frozen=True, slots=True)
class TrialAsked:
    """What is asked of a set-out.

    Parameters
    ----------
    sides : str
        Sides of the ground; none takes those of the zone's last plan kept.
    pairs : int
        Pairs of strips or squares.
    way : str
        Strips along, strips across or squares; none takes what has room.
    letter : str
        What names begin with.
    seed : int or None
        Seed of the coin tosses; None takes one made from the zone, the day and the pairs.
    difference, spread : float or None
        Difference to be shown, and spread within pairs. [points]
    shares : tuple of float
        Shares of tufts with heads, untreated and treated. [-]
    """

    sides: str = ""
    pairs: int = 8
    way: str = ""
    letter: str = "S"
    seed: int | None = None
    difference: float | None = None
    spread: float | None = None
    shares: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class TrialSetOut:
    """Strips or squares set out in a zone.

    Parameters
    ----------
    zone : str
        Name of the zone.
    laid : SetOut
        Where they lie, and which are treated.
    shows : Shows
        What they can show.
    seed : int
        Seed of the coin tosses.
    offset_mm : float
        How far to offset lines within strips, half the spacing of the blades. [mm]
    """

    zone: str
    laid: SetOut
    shows: Shows
    seed: int
    offset_mm: float


def answer_verticut(
    book: Book, zone: str, depth_mm: float | None, datum: str, passes: int, sides: str = "",
    typed: Mapping[str, str] | None = None,
) -> VerticutAnswer:  # fmt: skip
    """Plan a verticut of a zone.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        The zone by name; none where there is only one.
    depth_mm : float or None
        Depth; None takes the usual. [mm]
    datum : str
        What it is told from; empty for the usual one.
    passes : int
        Passes, each on a line of its own. [-]
    sides : str
        Sides of the zone if it is an oblong.
    typed : mapping of str to str
        Facts of the unit for this once.
    """
    name = one_zone(book, zone)
    sit = situations(book, name)[0]
    plan = plan_verticut(sit, depth_mm, datum, passes)
    machine = _unit(sit, typed)
    line = plan.line_deg if plan.line_deg is not None else 0.0
    going = go_over(sit.ground, sit.zone, machine, line, sides_of(sit.ground, name, sides), passes)
    job = "scarify" if plan.depth.datum == BELOW_SURFACE else "verticut"
    return VerticutAnswer(
        plan, sit.zone.area_m2, _slices(machine, plan, sit.zone.area_m2), going,
        cautions_of(sit, job),
    )  # fmt: skip


def retraces(book: Book, zone: str, line_deg: float | None, day: date) -> str:
    """Say so where a line lies along the last one before a day; empty where it crosses it.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        The zone by name; without one nothing is said.
    line_deg : float or None
        The line against the long side. [°]
    day : date
        The day of the pass.
    """
    if not zone or line_deg is None:
        return ""
    ground = book.ground()
    before = [
        (entry.day, entry.what.line_deg)
        for entry in ground.entries(ground.zone(zone).name, Verticut.kind)
        if isinstance(entry.what, Verticut) and entry.day < day and entry.what.line_deg is not None
    ]
    if not before:
        return ""
    on, last = before[-1]
    if between_lines(line_deg, last) >= value("verticut_cross_deg"):
        return ""
    return (
        f"Along the last line ({last:g}° on {on.day} {on:%B}): slits fall where they fell and lift"
        f" less. Cross it by {value('verticut_cross_deg'):.0f}° and more, or in strips offset it."
    )


def verticut_to_keep(answer: VerticutAnswer, given: Mapping[str, str]) -> Answer:
    """Make the answer under which the plan of a verticut is kept."""
    plan = answer.plan
    found = {"depth_mm": plan.depth.depth_mm, "opened_share": plan.opened.value,
             "hours_h": answer.going.hours}  # fmt: skip
    if plan.line_deg is not None:
        found["line_deg"] = plan.line_deg
    if plan.recovers_days is not None:
        found["recovers_d"] = round(plan.recovers_days.value, 1)
    words = f"{plan.depth.depth_mm:g} mm {plan.depth.datum}, {plan.fit.overall.value} that day"
    return Answer("verticut plan", words, given, found, {"datum": plan.depth.datum})


def set_out_strips(book: Book, zone: str, asked: TrialAsked) -> TrialSetOut:
    """Set out pairs of treated and untreated strips or squares in a zone.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        The zone by name; none where there is only one.
    asked : TrialAsked
        What is asked.

    Raises
    ------
    BadInputError
        If the sides are not known, or there is no room.
    """
    from numpy.random import default_rng

    name = one_zone(book, zone)
    sit = situations(book, name)[0]
    sides = sides_of(sit.ground, name, asked.sides)
    if sides is None:
        raise BadInputError("the sides of the ground", "none", "--sides, such as 32x25.6")
    least = round(value("compare_strips_least"))
    require("pairs", asked.pairs, least, 60, "-", "Fewer say nothing, whatever they show.")
    machine = _unit(sit, None)
    walk = walking(machine, sit.zone)
    seed = (
        crc32(f"{name}|{book.today}|{asked.pairs}".encode()) if asked.seed is None else asked.seed
    )
    coins = [bool(toss) for toss in default_rng(seed).integers(0, 2, asked.pairs)]
    laid = set_out(sides, walk.width_m, walk.overlap_m, coins, asked.way, asked.letter)
    shares = asked.shares or _usual_shares()
    difference = value("compare_cover_points") if asked.difference is None else asked.difference
    shows = what_it_shows(asked.pairs, difference, asked.spread, shares)
    spacing = machine.spacing_mm or value("verticut.spacing")
    return TrialSetOut(name, laid, shows, seed, spacing / 2)


def keep_strips(book: Book, found: TrialSetOut, when: str = "today") -> Answer:
    """Put a peg in each strip or square, and make the answer under which they are kept.

    The day is read first, so that no peg is put in for an answer that cannot be kept.
    """
    read_past(when, book.today)
    with book.store.together():
        for piece in found.laid.pieces:
            add_peg(book, piece.name, found.zone, where_words(piece))
    sides = "x".join(f"{each:g}" for each in found.laid.sides_m)
    named = {"way": found.laid.way, "treated": ",".join(found.laid.treated),
             "untreated": ",".join(found.laid.untreated)}  # fmt: skip
    numbers = {"seed": float(found.seed), "pairs": float(found.shows.pairs),
               "width_m": found.laid.width_m}  # fmt: skip
    words = f"{found.shows.pairs} pairs of {found.laid.way}, sides by coin toss"
    return Answer(STRIPS, words, {"sides": sides}, numbers, named)


def draw_strips(book: Book, found: TrialSetOut) -> Picture:
    """Draw the strips or squares that were set out."""
    return picture_of_strips(found.zone, found.laid, found.seed, note_of(book))


def where_words(piece: Piece) -> str:
    """Tell where a strip or square lies, by two tape lengths."""
    (x, y), (long, across) = piece.corner_m, piece.size_m
    return (
        f"{x:.2f} to {x + long:.2f} m along, {y:.2f} to {y + across:.2f} m across;"
        " count in its middle"
    )


def read_strips(book: Book, zone: str, kind: str, smallest: Smallest) -> StripsCompared:
    """Compare the treated strips or squares of the last set-out with the untreated ones.

    Raises
    ------
    BadInputError
        If no set-out is kept in the zone.
    NotEnoughDataError
        If they were never counted on one day.
    """
    name = one_zone(book, zone)
    kept = require_answer(book.ground(), STRIPS, name, "swardbook verticut strips").answer
    treated, untreated = (tuple(kept.named[each].split(",")) for each in ("treated", "untreated"))
    return compare_strips(book, name, kind, smallest, treated, untreated)


def _unit(sit: Situation, typed: Mapping[str, str] | None) -> Machine:
    unit = machine_of(sit.ground, VERTICUT, sit.zone.name, typed)
    usual = value("mowing.speed") / value("verticut_slower")
    return replace(unit, speed_m_s=unit.speed_m_s or usual)


def _slices(machine: Machine, plan: VerticutPlan, area_m2: float) -> Slices:
    blade = machine.blade_mm or value("verticut.blade")
    spacing = machine.spacing_mm or value("verticut.spacing")
    in_soil = max(-plan.depth.above_soil_mm, 0.0)
    spoil = barrows = pitch = None
    if in_soil > 0:
        spoil = slit_volume_l_m2(blade, spacing, in_soil) * area_m2 * plan.passes
        barrows = spoil * (1 + value("spoil_bulks")) / value("barrow_litres")
    if machine.turns_min and machine.blades and machine.speed_m_s:
        pitch = strike_pitch_mm(machine.speed_m_s, machine.turns_min, round(machine.blades))
    measured = machine.blade_mm is not None and machine.spacing_mm is not None
    share = slit_share(blade, spacing, plan.passes)
    return Slices(blade, spacing, measured, share, spoil, barrows, pitch)


def _usual_shares() -> tuple[float, float]:
    """Tufts with heads after a cut, and after one that followed a lifting."""
    below = 1 - value("heads_above_blade")
    return below, below * (1 - value("model.annual_meadow_grass.lift"))
