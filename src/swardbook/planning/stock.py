"""Seed in hand: which lot for a zone, and how much of it is left by the book."""

from __future__ import annotations

from dataclasses import dataclass

from swardbook.husbandry.happenings import Refill, Sow
from swardbook.planning.situation import Situation
from swardbook.planning.sowings import sowings
from swardbook.seed.lot import SeedLot


@dataclass(frozen=True, slots=True)
class Stock:
    """A lot for a zone.

    Parameters
    ----------
    lot : SeedLot
        The lot.
    left_g : float or None
        Weight left by the book; None where the weight bought is not known. [g]
    is_same : bool
        Whether the zone was last sown with this very lot.
    sown_before : str
        The lot the zone was last sown with; empty if none.
    """

    lot: SeedLot
    left_g: float | None
    is_same: bool
    sown_before: str


def lot_for(sit: Situation) -> Stock | None:
    """Choose the lot for a zone: its own while there is any, else the newest of the same mixture.

    A lot of another mixture is never offered for a zone that has its own; a lot tested after
    today was not there yet.
    """
    lots = [lot for lot in sit.ground.lots if not lot.tested_on or lot.tested_on <= sit.today]
    sown = [each for each in sowings(sit) if each.code]
    own = next((each.lot for each in reversed(sown) if each.lot is not None), None)
    before = sown[-1].code if sown else ""
    if own is not None:
        left = left_of(sit, own)
        if left is None or left > 0:
            return Stock(own, left, True, before)
        alike = [lot for lot in lots if lot.mixture == own.mixture and lot is not own]
        for lot in reversed(alike):
            other = left_of(sit, lot)
            if other is None or other > 0:
                return Stock(lot, other, False, before)
        return Stock(own, left, True, before)
    if before or not lots:
        return None
    biggest = max(lots, key=lambda lot: left_of(sit, lot) or 0.0)
    return Stock(biggest, left_of(sit, biggest), False, "")


def left_of(sit: Situation, lot: SeedLot) -> float | None:
    """Weight of a lot left after every sowing and refill of the site.

    Returns
    -------
    float or None
        What is left, never below 0; None where the weight bought is not known. [g]
    """
    if lot.bought_g is None:
        return None
    used = 0.0
    for entry in sit.ground.diary:
        what = entry.what
        if isinstance(what, Sow | Refill) and what.lot.casefold() == lot.code.casefold():
            used += _used(sit, what, entry.zone)
    return max(lot.bought_g - used, 0.0)


def _used(sit: Situation, what: Sow | Refill, zone: str) -> float:
    if what.used_g is not None:
        return what.used_g
    if isinstance(what, Sow) and what.rate_g_m2 is not None:
        area = what.area_m2
        if area is None and zone:
            area = sit.ground.zone(zone).area_m2
        return what.rate_g_m2 * (area or 0.0)
    return 0.0
