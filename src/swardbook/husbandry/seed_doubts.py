"""Doubts about seed: another lot in a hole, a rate too thick, heads on the own heap."""

from __future__ import annotations

from collections.abc import Iterator

from swardbook.foundation.errors import UnknownNameError, plain_number
from swardbook.handbook.parameters import value
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.doubt import Doubt
from swardbook.husbandry.ground import Ground, Zone
from swardbook.husbandry.happenings import CleanDown, DigClumps, Refill, Sow, Strip
from swardbook.seed.lot import SeedLot
from swardbook.seed.rates import Method, usual_rate

_OWN_HEAP = ("compost", "own heap", "muck heap")


def own_heap(entry: DiaryEntry, _ground: Ground) -> Iterator[Doubt]:
    """Ask about heads or roots of weed grass that went to the site's own heap."""
    what = entry.what
    went = {DigClumps: "spoil_to", CleanDown: "heads_to"}.get(type(what))
    if went and any(heap in getattr(what, went).casefold() for heap in _OWN_HEAP):
        yield Doubt(
            "The site's own heap kills neither the seed nor the roots of weed grass. Off the site?",
            f"{went}=off site",
        )


def other_seed(entry: DiaryEntry, ground: Ground, zone: Zone) -> Iterator[Doubt]:
    """Ask about a hole refilled with another mixture than stands around it."""
    if isinstance(entry.what, Refill) and entry.what.lot:
        told, own = not_sown_here(entry.what.lot, ground, zone)
        if told:
            yield Doubt(f"{told} Kept as a different seed.", f"lot={own}" if own else "")


def not_sown_here(code: str, ground: Ground, zone: Zone) -> tuple[str, str]:
    """Say that a lot is no mixture sown in a zone, and which lot is; both empty where it is.

    Parameters
    ----------
    code : str
        The lot for the holes.
    ground : Ground
        The book as it stands.
    zone : Zone
        The zone.
    """
    stripped = [each.day for each in ground.entries(zone.name) if isinstance(each.what, Strip)]
    since = max(stripped, default=None)
    sown = [
        each.what.lot
        for each in ground.entries(zone.name)
        if isinstance(each.what, Sow) and each.what.lot and (since is None or each.day >= since)
    ]
    lot, known = _lot(code, ground), [_lot(each, ground) for each in sown]
    own = [each for each in known if each is not None]
    if lot is None or not own or lot.mixture in {each.mixture for each in own}:
        return "", ""
    here = ", ".join(dict.fromkeys(f"{each.mixture} {each.code}" for each in own))
    return (
        f"{lot.mixture} ({lot.code}) was not sown here, but {here}: another mixture shows for"
        " years."
    ), own[-1].code


def thick(entry: DiaryEntry, ground: Ground, _zone: Zone) -> Iterator[Doubt]:
    """Ask about a rate far above what its mixture takes: crowded seedlings damp off."""
    if not isinstance(entry.what, Sow) or not entry.what.rate_g_m2:
        return
    lot = _lot(entry.what.lot, ground)
    rate = entry.what.rate_g_m2
    if lot is None or not lot.parts or rate > value("look_seed_rate_g_m2"):
        return
    usual = usual_rate(lot.parts, Method.SEEDBED)
    if rate > value("look_rate_thick") * usual.high:
        yield Doubt(
            f"{plain_number(rate)} g/m² of {lot.mixture}, which takes {usual.low:.0f} to"
            f" {usual.high:.0f}: crowded seedlings are weak and damp off. Typed right?"
        )


def _lot(code: str, ground: Ground) -> SeedLot | None:
    try:
        return ground.lot(code) if code else None
    except UnknownNameError:
        return None
