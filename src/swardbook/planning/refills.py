"""Refills: open gaps by size, what fills each, and which refills are due for another look."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from math import pi

from swardbook.handbook.parameters import value
from swardbook.husbandry.happenings import ClumpCheck, Count, DigClumps, Pull, Refill, RefillCheck
from swardbook.planning.kinds import is_yorkshire_fog
from swardbook.planning.resetting import since_reset
from swardbook.planning.situation import Happened, Situation
from swardbook.planning.sowing import Answer, SowingAnswer, sowing_answer
from swardbook.planning.sowings import setting_age
from swardbook.planning.stock import Stock, lot_for
from swardbook.planning.warmth import growing_weeks_since

REFILLS, DUG = "refills", "dug clumps"


@dataclass(frozen=True, slots=True)
class HoleAdvice:
    """What to do with holes of one size."""

    size: str
    holes: int | None
    says: str
    seed_g: float | None
    """Seed for all of them. [g]"""


@dataclass(frozen=True, slots=True)
class DueCheck:
    """Something to be looked at again.

    Parameters
    ----------
    what : str
        ``refills`` or ``dug clumps``.
    since : date
        When it was done.
    due_on : date
        When the look is due.
    number : int or None
        How many.
    place : str
        Where, as noted.
    """

    what: str
    since: date
    due_on: date
    number: int | None
    place: str


@dataclass(frozen=True, slots=True)
class Refilling:
    """Open gaps and refills of one zone.

    Parameters
    ----------
    open_holes : int or None
        Holes made by pulling and digging and not refilled, by the book; None if never counted.
    bare_share : float or None
        Bare share of the last count. [-]
    counted_on : date or None
        The day of that count.
    advice : tuple of HoleAdvice
        By size.
    stock : Stock or None
        The lot to use.
    sowing : SowingAnswer or None
        Whether that lot can be sown today.
    keep_seed : bool
        Whether the soil is too cold: close holes with clean soil only.
    due : tuple of DueCheck
        Looks that are due or overdue.
    taken, looked : int
        Refills that took, of those looked at.
    """

    open_holes: int | None
    bare_share: float | None
    counted_on: date | None
    advice: tuple[HoleAdvice, ...]
    stock: Stock | None
    sowing: SowingAnswer | None
    keep_seed: bool
    due: tuple[DueCheck, ...]
    taken: int
    looked: int


def refilling(sit: Situation) -> Refilling:
    """Say which gaps are open in a zone, what fills each, and which refills want another look."""
    stock = lot_for(sit)
    answer = sowing_answer(sit, stock.lot) if stock else None
    soil = sit.lately.soil
    cold = soil is not None and soil < value("refill_soil")
    holes, hole_mm = open_holes(sit)
    bare, counted = bare_share(sit)
    checks = sit.happened(RefillCheck)
    return Refilling(
        holes, bare, counted, _advice(sit, holes, hole_mm, cold, answer), stock, answer, cold,
        due_checks(sit), sum(each.what.taken for each in checks),
        sum(each.what.looked for each in checks),
    )  # fmt: skip


def open_holes(sit: Situation) -> tuple[int | None, float | None]:
    """Count holes by the book: plants pulled and clumps dug, less holes refilled since.

    Only holes of the last season of growth count; small ones close themselves. Returns the
    number, and the size of the larger ones where it was noted [mm].
    """
    recent = [
        each for each in since_reset(sit, DigClumps) if sit.age(each.day) <= value("new_dig_days")
    ]
    made = sum(each.what.clumps or 0 for each in recent)
    first = min((each.day for each in recent), default=None)
    if first is None:
        return None, None
    filled = sum(
        each.what.holes or 0 for each in sit.happened(Refill) if each.day >= first
    )  # fmt: skip
    sizes = [2 * (each.what.margin_mm or 0) + value("hole_extra_mm") for each in recent]
    return max(made - filled, 0), max(sizes, default=None)


def small_holes(sit: Situation) -> tuple[int, date | None]:
    """Count plants pulled in the last month: small holes that mostly close themselves."""
    recent = [
        each for each in since_reset(sit, Pull) if sit.age(each.day) <= value("small_hole_days")
    ]
    pulled = sum(each.what.plants or 0 for each in recent)
    return pulled, recent[-1].day if recent else None


def bare_share(sit: Situation) -> tuple[float | None, date | None]:
    """Bare share of the last count that looked for it, mean of its places [-], and its day."""
    share, day, _ = bare_counted(sit)
    return share, day


def bare_counted(sit: Situation) -> tuple[float | None, date | None, int]:
    """Give the bare share of the last count that looked for it [-], its day, and its places."""
    sowing = setting_age(sit)
    for each in reversed(since_reset(sit, Count, value("bare_count_days"))):
        if sowing is not None and not sowing.is_oversowing and each.day <= sowing.day:
            continue
        if growing_weeks_since(sit, each.day).grown > value("count_stale_weeks"):
            continue
        shares = [
            place.found["bare"] / place.looked
            for place in each.what.places
            if "bare" in place.found and place.method != "plants"
        ]
        if shares:
            return sum(shares) / len(shares), each.day, len(shares)
    return None, None, 0


def due_checks(sit: Situation) -> tuple[DueCheck, ...]:
    """List refills and dug clumps that nobody has looked at again in time."""
    looks = sit.happened(RefillCheck)
    wait = timedelta(days=value("refill_check_days"))
    found = [
        _due(REFILLS, refill, wait, refill.what.holes, refill.what.place)
        for refill in since_reset(sit, Refill)
        if refill.day + wait <= sit.today and not _looked_again(refill, looks)
    ]
    wait = timedelta(days=value("clump_check_days"))
    days = [each.day for each in sit.happened(ClumpCheck)] + [each.day for each in looks]
    for dug in since_reset(sit, DigClumps):
        seen = any(day >= dug.day + wait / 2 for day in days)
        if is_yorkshire_fog(dug.what.species) and dug.day + wait <= sit.today and not seen:
            found.append(_due(DUG, dug, wait, dug.what.clumps, ""))
    return tuple(
        each for each in found if (sit.today - each.due_on).days <= value("check_overdue_days")
    )


def hole_advice(hole_mm: float, growing: bool, cold: bool, dry: bool) -> str:
    """Say what to do with a hole of one size.

    Parameters
    ----------
    hole_mm : float
        Its width. [mm]
    growing : bool
        Whether the sward grows.
    cold : bool
        Whether the soil's 11-day mean is too cold for seed.
    dry : bool
        Whether the weather is dry.
    """
    rate = value("refill_rate")
    if cold:
        return "keep the seed; close the hole with clean soil"
    if hole_mm <= value("hole_closes_mm"):
        if growing:
            return "closes itself; or one seed-and-dressing brush over the strip"
        return "one seed-and-dressing brush over the strip when it grows"
    if hole_mm >= value("refill_turf_mm") or dry:
        return "turf from the nursery, or weed-seed-free soil and the same lot with cans beside it"
    return f"weed-seed-free soil and the same lot, about {rate:.0f} g/m², one by one"


def seed_for_holes(holes: int, hole_mm: float) -> float:
    """Seed for round holes.

    Parameters
    ----------
    holes : int
        Number of holes.
    hole_mm : float
        Width of one. [mm]

    Returns
    -------
    float
        Seed of the same lot. [g]
    """
    return holes * pi / 4 * (hole_mm / 1000) ** 2 * value("refill_rate")


def _advice(
    sit: Situation, holes: int | None, hole_mm: float | None, cold: bool,
    answer: SowingAnswer | None,
) -> tuple[HoleAdvice, ...]:  # fmt: skip
    growing = (sit.lately.growth or 0.0) >= value("growing_now_potential")
    dry = bool(sit.lately.stress) and sit.lately.stress[-1] < value("no_stress")
    too_cold = cold or (answer is not None and answer.answer is Answer.TOO_LATE)
    found = []
    small, _ = small_holes(sit)
    limit = value("hole_closes_mm")
    if small:
        found.append(
            HoleAdvice(
                f"up to {limit:.0f} mm", small, hole_advice(limit, growing, too_cold, dry), None
            )
        )
    if holes and hole_mm:
        seed = None if too_cold else seed_for_holes(holes, hole_mm)
        told = hole_advice(hole_mm, growing, too_cold, dry)
        found.append(HoleAdvice(f"about {hole_mm:.0f} mm", holes, told, seed))
    return tuple(found)


def _looked_again(refill: Happened[Refill], looks: Sequence[Happened[RefillCheck]]) -> bool:
    half = timedelta(days=value("refill_check_days") / 2)
    return any(
        look.what.sown_on == refill.day
        or (look.what.sown_on is None and look.day >= refill.day + half)
        for look in looks
    )


def _due(
    what: str, done: Happened[Refill] | Happened[DigClumps], wait: timedelta, number: int | None,
    place: str,
) -> DueCheck:  # fmt: skip
    return DueCheck(what, done.day, done.day + wait, number, place)
