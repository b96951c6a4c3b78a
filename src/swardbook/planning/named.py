"""Plants that were named in a zone: which weeds it has, and what should be looked at again."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from swardbook.foundation.dates import say
from swardbook.handbook.parameters import parameter, value
from swardbook.handbook.plants import NO_GRASS, Plant, plants
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground
from swardbook.husbandry.happenings import Refill, Sow
from swardbook.husbandry.worked_out import WorkedOut
from swardbook.observations.naming import CANNOT_TELL
from swardbook.planning.how import caution_of
from swardbook.planning.kinds import components, lot_of
from swardbook.planning.resetting import since_reset
from swardbook.planning.situation import Happened, Situation
from swardbook.planning.tasks import HoursRange, Status, Task
from swardbook.planning.warmth import growing_weeks_since

ABOUT = "plant name"
"""What a kept name is kept under."""
JOB = "name plant"


@dataclass(frozen=True, slots=True)
class Named:
    """A plant that was named in a zone.

    Parameters
    ----------
    plant : Plant
        The plant.
    day : date
        The last day it was named.
    verdict : str
        ``sure`` or ``probably``.
    is_sown : bool
        Whether it was sown in the zone, so that it is no weed there.
    """

    plant: Plant
    day: date
    verdict: str
    is_sown: bool


def plants_named(sit: Situation) -> tuple[Named, ...]:
    """List the plants named in a zone, each by its last naming, oldest first."""
    sown = sown_here(sit.ground, sit.zone.name)
    found: dict[str, Named] = {}
    for each in _namings(sit):
        key, verdict = each.what.named.get("plant", ""), each.what.named.get("verdict", "")
        if key in plants() and verdict != CANNOT_TELL:
            found.pop(key, None)
            found[key] = Named(plants()[key], each.day, verdict, key in sown)
    return tuple(found.values())


def weeds_named(sit: Situation) -> tuple[str, ...]:
    """List the grasses named in a zone that were not sown there: the weed grasses it has."""
    return tuple(
        each.plant.key
        for each in plants_named(sit)
        if not each.is_sown and each.plant.kind != NO_GRASS
    )


def names_kept(entries: Iterable[DiaryEntry]) -> frozenset[str]:
    """Give the plants that entries name as sure or probable, by key."""
    return frozenset(
        entry.what.named["plant"]
        for entry in entries
        if isinstance(entry.what, WorkedOut)
        and entry.what.about == ABOUT
        and entry.what.named.get("verdict") != CANNOT_TELL
        and entry.what.named.get("plant") in plants()
    )


def sown_here(ground: Ground, zone: str) -> frozenset[str]:
    """Give the species of every lot that was sown or used for refills in a zone."""
    codes = {
        entry.what.lot
        for entry in ground.entries(zone)
        if isinstance(entry.what, Sow | Refill) and entry.what.lot
    }
    lots = (lot_of(ground, code) for code in codes)
    return frozenset(each.key for lot in lots if lot is not None for each in components(lot))


def name_again(sit: Situation) -> list[Task]:
    """Look again at a seedling that was too young to be named, once it has had time to grow."""
    namings = _namings(sit)
    if not namings or namings[-1].what.named.get("age") != "seedling":
        return []
    day, wanted = namings[-1].day, value("key.look_again_weeks")
    if growing_weeks_since(sit, day).grown < wanted:
        return []
    hours = parameter("check_hours")
    return [
        Task(
            "Look again at the seedlings that could not be named", JOB, (sit.zone.name,),
            Status.DUE, "this week", HoursRange(hours.low, hours.high),
            f"At one or two leaves on {say(day)} they could not be told apart; since then there"
            f" were {wanted:.0f} growing weeks, and at three leaves more can be seen.",
            "they were pulled, or named since and not written down", caution_of(sit, JOB), 2,
        )
    ]  # fmt: skip


def _namings(sit: Situation) -> list[Happened[WorkedOut]]:
    return [
        each
        for each in since_reset(sit, WorkedOut, value("key.named_memory_days"))
        if each.what.about == ABOUT
    ]
