"""Clumps of Yorkshire fog: how many stand, when they are dug, and what came back after digging."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from math import pi

from swardbook.foundation.dates import say
from swardbook.handbook.parameters import parameter, value
from swardbook.husbandry.happenings import ClumpCheck, DigClumps
from swardbook.planning.kinds import is_yorkshire_fog
from swardbook.planning.refills import seed_for_holes
from swardbook.planning.resetting import reset_on
from swardbook.planning.situation import Happened, Situation
from swardbook.planning.sowing import Answer, sowing_answer
from swardbook.planning.states import Condition, Rank, State
from swardbook.planning.stock import lot_for

DIG = "dig clumps"
SEASON = "season of digging"


@dataclass(frozen=True, slots=True)
class Clumps:
    """Clumps standing in a zone.

    Parameters
    ----------
    standing : int or None
        By the last count, less those dug since; None where nobody counted, or dug unknown numbers.
    counted_on : date or None
        The day of that count.
    """

    standing: int | None
    counted_on: date | None


def clumps_standing(sit: Situation) -> Clumps:
    """Tell how many clumps of Yorkshire fog stand by the book."""
    left: int | None = None
    counted: date | None = None
    cleared = reset_on(sit)
    for entry in sit.ground.entries(sit.zone.name):
        what = entry.what
        if cleared is not None and entry.when.first <= cleared:
            continue
        if isinstance(what, ClumpCheck) and _is_fog(what) and what.standing is not None:
            left, counted = what.standing, entry.day
        elif isinstance(what, DigClumps) and _is_fog(what) and left is not None:
            left = None if what.clumps is None else max(left - what.clumps, 0)
    return Clumps(left, counted)


def dig_season(sit: Situation) -> Condition:
    """Tell whether it is early autumn or spring, when a clump comes out whole and a hole heals."""
    source = f"season, {say(sit.today)}"
    if sit.is_between(value("clump_autumn_from"), value("clump_autumn_to")):
        return Condition(SEASON, State.MET, "early autumn", source, "clump_autumn_from")
    if sit.is_between(value("clump_spring_from"), value("clump_spring_to")):
        return Condition(SEASON, State.MET, "spring", source, "clump_spring_from")
    if sit.is_between(value("clump_spring_to"), value("clump_autumn_from")):
        told = "summer: joints snap in dry ground, and the hole goes to annual meadow-grass"
        return _season(told, source, "clump_autumn_from", "early autumn", Rank.HEADS)
    told = "late autumn or winter: nothing closes the hole"
    return _season(told, source, "clump_spring_from", "a moist spring", Rank.GROUND)


def what_came_back(sit: Situation) -> str:
    """Say how many dug clumps came back here, with the full margin and with less; may be empty."""
    full: list[Happened[ClumpCheck]] = []
    less: list[Happened[ClumpCheck]] = []
    for each in sit.happened(ClumpCheck):
        if not _is_fog(each.what) or not each.what.looked or each.what.margin_mm is None:
            continue
        (full if each.what.margin_mm >= value("clump_margin") else less).append(each)
    told = [
        f"{sum(each.what.regrown for each in checks)} of"
        f" {sum(each.what.looked for each in checks)} {how}"
        for checks, how in (
            (full, "dug with the margin"),
            (less, "with less" if full else "dug with less"),
        )
        if checks
    ]
    return f"Came back here: {', '.join(told)}." if told else ""


def what_it_takes(sit: Situation, clumps: int) -> tuple[str, ...]:
    """List what digging takes: how deep and wide, and what fills the holes.

    Parameters
    ----------
    sit : Situation
        The zone on its day.
    clumps : int
        Clumps to dig.
    """
    depth, margin = parameter("clump_depth"), value("clump_margin")
    hole = 2 * margin + value("hole_extra_mm")
    stock = lot_for(sit)
    answer = sowing_answer(sit, stock.lot).answer if stock else Answer.UNKNOWN
    cold = sit.lately.soil is not None and sit.lately.soil < value("refill_soil")
    turf = clumps * pi / 4 * (hole / 1000) ** 2
    fill = "or weed-seed-free soil and the same lot"
    if cold or answer is Answer.TOO_LATE:
        fill = "or clean soil to the brim: keep the seed, its time is over"
    elif stock is not None:
        fill += f", {stock.lot.code}, about {seed_for_holes(clumps, hole):.0f} g"
    return (
        f"{depth.low:.0f} to {depth.high:.0f} mm deep, {margin:.0f} mm beyond the last rooted node",
        f"holes of about {hole:.0f} mm: {turf:.1f} m² of turf from the nursery, {fill}",
    )


def _is_fog(what: ClumpCheck | DigClumps) -> bool:
    return is_yorkshire_fog(what.species)


def _season(told: str, source: str, key: str, until: str, rank: Rank) -> Condition:
    return Condition(SEASON, State.NOT_MET, told, source, key, rank, until=until)
