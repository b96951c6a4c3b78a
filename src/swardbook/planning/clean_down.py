"""Clean zones before weedy ones: the order of work, and what the diary says of cleaning down."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from swardbook.handbook.parameters import value
from swardbook.husbandry.happenings import (
    CleanDown,
    Cut,
    DigClumps,
    Scarify,
    Tine,
    Verticut,
)
from swardbook.planning.counts_now import weed_share
from swardbook.planning.pulling import plant_density
from swardbook.planning.situation import Situation
from swardbook.planning.sowings import setting_age

MACHINES = (Cut, Verticut, Scarify, Tine)


@dataclass(frozen=True, slots=True)
class ZoneInOrder:
    """A zone's place in the order of work.

    Parameters
    ----------
    zone : str
        The zone.
    weed_share : float or None
        Annual meadow-grass by the last count; None where nobody counted. [-]
    counted_on : date or None
        That day.
    """

    zone: str
    weed_share: float | None
    counted_on: date | None


@dataclass(frozen=True, slots=True)
class Carried:
    """Machines that went from a weedier zone to a cleaner one on a later day."""

    weedier: str
    cleaner: str
    on: date


@dataclass(frozen=True, slots=True)
class CleanAndWeedy:
    """Hygiene of a site, as far as the diary tells.

    Parameters
    ----------
    order : tuple of ZoneInOrder
        Cleanest first; zones nobody counted come last, as if weedy.
    last_on : date or None
        The last clean-down that says washed.
    box_on_site : int
        Clean-downs of a year that emptied the box on the site.
    carried : tuple of Carried
        Visits from weedier to cleaner zones since, with nothing washed between.
    not_told : int
        Diggings of a year that do not say where the clumps went.
    """

    order: tuple[ZoneInOrder, ...]
    last_on: date | None
    box_on_site: int
    carried: tuple[Carried, ...]
    not_told: int


def clean_and_weedy(zones: Sequence[Situation]) -> CleanAndWeedy:
    """Put zones in the order of work, and say what was carried from weedy to clean.

    The order of two zones cut on one day is not in the diary, so only days apart are told.

    Parameters
    ----------
    zones : sequence of Situation
        The zones of a site on one day.
    """
    found = [ZoneInOrder(sit.zone.name, *_share_now(sit)) for sit in zones]
    order = sorted(found, key=lambda each: (each.weed_share is None, each.weed_share or 0.0))
    downs = {
        each.entry.id: each for sit in zones for each in sit.happened(CleanDown, within_days=365)
    }
    washed = sorted(each.day for each in downs.values() if each.what.washed)
    digs = {
        each.entry.id: each.what
        for sit in zones for each in sit.happened(DigClumps, within_days=365)
    }  # fmt: skip
    return CleanAndWeedy(
        tuple(order), washed[-1] if washed else None,
        sum(each.what.box_emptied == "on site" for each in downs.values()),
        tuple(_carried(zones, {each.zone: each.weed_share for each in found}, washed)),
        sum(not each.spoil_to for each in digs.values()),
    )  # fmt: skip


def _share_now(sit: Situation) -> tuple[float | None, date | None]:
    """Weed share by the last count [-] that speaks of this sward, not of one sown over since."""
    sowing = setting_age(sit)
    since = sowing.day if sowing is not None and not sowing.is_oversowing else None
    share, counted = weed_share(sit)
    if counted is not None and (since is None or counted > since):
        return share, counted
    density, counted = plant_density(sit)
    if density is None or counted is None or (since is not None and counted <= since):
        return None, None
    return density * value("plant_cover"), counted


def _carried(
    zones: Sequence[Situation], shares: dict[str, float | None], washed: Sequence[date]
) -> list[Carried]:
    visits = sorted(
        (each.day, sit.zone.name)
        for sit in zones for kind in MACHINES
        for each in sit.happened(kind, within_days=value("clean_down_days"))
        if each.is_dated and each.entry.zone
    )  # fmt: skip
    found = []
    for at, (day, zone) in enumerate(visits):
        before = [(when, where) for when, where in visits[:at] if when < day]
        if not before:
            continue
        last = before[-1][0]
        there = {where for when, where in before if when == last and where != zone}
        here = shares[zone]
        for where in sorted(there):
            share = shares[where]
            if here is None or share is None or share - here < value("clean_down_differs"):
                continue
            if not any(last <= each <= day for each in washed):
                found.append(Carried(where, zone, day))
    return list(dict.fromkeys(found))
