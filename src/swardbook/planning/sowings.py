"""Sowings of a zone: which one sets its age, and how far it has come."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from math import pi

from swardbook.foundation.dates import season_day
from swardbook.handbook.parameters import value
from swardbook.husbandry.happenings import Cut, Refill, Sow, Strip, TugTest
from swardbook.husbandry.stage import is_oversowing
from swardbook.planning.kinds import has_fine, known_species, lot_of, slowest
from swardbook.planning.situation import Happened, Situation, months_before
from swardbook.planning.warmth import growing_weeks_since
from swardbook.seed.lot import SeedLot
from swardbook.weather.thermal import GrowingWeeks


@dataclass(frozen=True, slots=True)
class Sowing:
    """One day's sowing in a zone, refills included.

    Parameters
    ----------
    day : date
        The day.
    share : float
        Part of the zone it covers. [-]
    lot : SeedLot or None
        The lot, if the book has it.
    code : str
        Its code as written.
    is_oversowing : bool
        Whether it went into a living sward.
    """

    day: date
    share: float
    lot: SeedLot | None
    code: str
    is_oversowing: bool


def sowings(sit: Situation) -> list[Sowing]:
    """List the sowings and refills of a zone, oldest first."""
    found = [_from_sow(sit, each) for each in sit.happened(Sow)]
    found += [_from_refill(sit, each) for each in sit.happened(Refill)]
    return sorted(found, key=lambda each: each.day)


def setting_age(sit: Situation) -> Sowing | None:
    """Find the youngest sowing that covers more than 5 % of the zone; it sets the age."""
    enough = [each for each in sowings(sit) if each.share > value("seedling_zone_share")]
    return enough[-1] if enough else None


def small_and_young(sit: Situation) -> list[Sowing]:
    """List younger sowings too small to set the age: marked refills to miss."""
    return [
        each
        for each in sowings(sit)
        if each.share <= value("seedling_zone_share")
        and each.day > months_before(sit.today, value("scarify_months"))
    ]


def is_bare(sit: Situation) -> bool:
    """Tell whether the zone was stripped and not sown since."""
    stripped, sown = sit.latest(Strip), sit.latest(Sow)
    return stripped is not None and (sown is None or sown.day < stripped.day)


def cuts_since(sit: Situation, day: date) -> int:
    """Count cuts after a day, undated ones as many as they stand for."""
    return sum(cut.entry.number for cut in sit.happened(Cut) if cut.day > day)


def weeks_grown(sit: Situation, sowing: Sowing) -> GrowingWeeks:
    """Count growing weeks since a sowing, and weeks that are not known for want of weather."""
    return growing_weeks_since(sit, sowing.day)


def weeks_needed(sowing: Sowing) -> float:
    """Growing weeks before a light verticut: more with bent or fescue in the lot."""
    fine = sowing.lot is None or has_fine(sowing.lot)
    return value("verticut_growing_weeks_fine" if fine else "verticut_growing_weeks")


def tug_of(sit: Situation, sowing: Sowing) -> tuple[Happened[TugTest] | None, str]:
    """Find the last tug test since a sowing, and the slowest component if that was not tugged.

    A test that names no species is taken as made on the slowest.
    """
    tests = [test for test in sit.happened(TugTest) if test.day > sowing.day]
    if not tests:
        return None, ""
    last = tests[-1]
    wanted = slowest(sowing.lot) if sowing.lot else None
    tugged = known_species(last.what.species) if last.what.species else None
    if wanted is None or tugged is None or tugged.group == wanted.group:
        return last, ""
    return last, wanted.english


def is_next_season(sit: Situation, sowing: Sowing) -> bool:
    """Tell whether a sowing is 6 months old and the next sowing season has come."""
    if sowing.day > months_before(sit.today, value("scarify_months")):
        return False
    first = value("next_season_from")
    return first <= season_day(sit.today, sit.site.latitude) <= value("germination_autumn_to") or (
        sowing.day < months_before(sit.today, 12)
    )


def _from_sow(sit: Situation, each: Happened[Sow]) -> Sowing:
    area = each.what.area_m2 if each.what.area_m2 is not None else sit.zone.area_m2
    return Sowing(
        each.day,
        min(area / sit.zone.area_m2, 1.0),
        lot_of(sit.ground, each.what.lot),
        each.what.lot,
        is_oversowing(each.entry, sit.ground),
    )


def _from_refill(sit: Situation, each: Happened[Refill]) -> Sowing:
    area = each.what.area_m2
    if area is None and each.what.holes and each.what.hole_mm:
        area = each.what.holes * pi / 4 * (each.what.hole_mm / 1000) ** 2
    share = min((area or 0.0) / sit.zone.area_m2, 1.0)
    return Sowing(each.day, share, lot_of(sit.ground, each.what.lot), each.what.lot, True)
