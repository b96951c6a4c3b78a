"""Spots: each found weed plant or clump and its refill, put together from entries with a place."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from enum import StrEnum
from math import dist
from uuid import UUID

from swardbook.handbook.parameters import value
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.happenings import (
    ClumpCheck,
    DigClumps,
    Happening,
    Pull,
    Refill,
    RefillCheck,
)
from swardbook.husbandry.where import Where


class SpotState(StrEnum):
    """How a spot stands."""

    FOUND = "found"
    DUG = "dug"
    SOWN = "sown"
    LOOK_AGAIN = "look again"
    LOOKED_AT = "looked at"
    """Looked at among others: which of them took is not told."""
    TAKEN = "taken"
    FAILED = "failed"


@dataclass(frozen=True, slots=True)
class Step:
    """One thing that was done or seen at a spot.

    Parameters
    ----------
    day : date
        When.
    kind : str
        Kind of the entry.
    says : str
        What it comes to, in a few words.
    entry : UUID
        The entry.
    """

    day: date
    kind: str
    says: str
    entry: UUID


@dataclass(frozen=True, slots=True)
class Spot:
    """One spot with all that happened there.

    Parameters
    ----------
    name : str
        As noted; else ``spot 3``, counted in its zone.
    zone : str
        Its zone; empty for the site at large.
    at : Where
        Where, as last told.
    species : str
        The weed, if it was said.
    lot : str
        What it was last refilled with; empty if it was not or was not said.
    state : SpotState
        How it stands.
    due_on : date or None
        When a look is due; None where none is.
    steps : tuple of Step
        What happened, oldest first.
    """

    name: str
    zone: str
    at: Where
    species: str
    lot: str
    state: SpotState
    due_on: date | None
    steps: tuple[Step, ...]


_OF_SPOTS = (DigClumps, ClumpCheck, Pull, Refill, RefillCheck)


def spots(diary: Sequence[DiaryEntry], today: date, zone: str = "") -> tuple[Spot, ...]:
    """Put spots together from the entries that say where.

    Entries are about one spot where they carry its name, or lie as near as the handbook says.

    Parameters
    ----------
    diary : sequence of DiaryEntry
        Standing entries, in the order in which things happened.
    today : date
        The day it is told for.
    zone : str
        Only this zone; empty for all.
    """
    found: dict[str, list[Spot]] = {}
    wanted = zone.casefold()
    for entry in diary:
        if not isinstance(entry.what, _OF_SPOTS) or entry.day > today:
            continue
        if wanted and entry.zone.casefold() != wanted:
            continue
        here = found.setdefault(entry.zone, [])
        for where in entry.at:
            _put(here, entry, where)
    return tuple(_as_it_stands(spot, today) for here in found.values() for spot in here)


def spot_at(found: Iterable[Spot], zone: str, east_m: float, north_m: float) -> Spot | None:
    """Give the spot of a zone at a place, if there is one as near as the handbook says.

    Parameters
    ----------
    found : iterable of Spot
        The spots there are.
    zone : str
        The zone.
    east_m, north_m : float
        In the zone's frame. [m]
    """
    near = [(dist(each.at.point, (east_m, north_m)), n, each)
            for n, each in enumerate(found) if each.zone.casefold() == zone.casefold()]  # fmt: skip
    best = min(near, default=None)
    return best[2] if best is not None and best[0] <= value("plan.same_spot") else None


def _put(here: list[Spot], entry: DiaryEntry, where: Where) -> None:
    place = str(getattr(entry.what, "place", "")).strip() if len(entry.at) == 1 else ""
    old = _same(here, place, where)
    state, says, due = _stands(entry.what, entry.day, old)
    step = Step(entry.day, entry.what.kind, says, entry.id)
    if old is None:
        lot = str(getattr(entry.what, "lot", ""))
        species = str(getattr(entry.what, "species", ""))
        name = place or f"spot {len(here) + 1}"
        here.append(Spot(name, entry.zone, where, species, lot, state, due, (step,)))
        return
    here[here.index(old)] = replace(
        old, at=where, state=state, due_on=due, steps=(*old.steps, step),
        name=place or old.name,
        lot=str(getattr(entry.what, "lot", "")) or old.lot,
        species=str(getattr(entry.what, "species", "")) or old.species,
    )  # fmt: skip


def _same(here: Sequence[Spot], place: str, where: Where) -> Spot | None:
    named = [each for each in here if place and each.name.casefold() == place.casefold()]
    return named[0] if named else spot_at(here, here[0].zone, *where.point) if here else None


def _stands(
    what: Happening, day: date, old: Spot | None
) -> tuple[SpotState, str, date | None]:  # fmt: skip
    match what:
        case Refill():
            lot = f" with {what.lot}" if what.lot else ""
            return SpotState.SOWN, f"refilled{lot}", _after(day, "refill_check_days")
        case RefillCheck(looked=looked, taken=taken):
            return _looked(looked, taken, SpotState.TAKEN, SpotState.FAILED, "taken")
        case ClumpCheck(looked=looked, regrown=regrown) if looked:
            good = SpotState.DUG if old is None or not old.lot else SpotState.SOWN
            return _looked(looked, looked - regrown, good, SpotState.FOUND, "not grown again")
        case ClumpCheck():
            return SpotState.FOUND, "seen standing", None
        case DigClumps(margin_mm=margin):
            told = "" if margin is None else f" with a margin of {margin:.0f} mm"
            return SpotState.DUG, f"dug out{told}", _after(day, "clump_check_days")
        case _:
            return SpotState.DUG, "pulled", None


def _looked(
    looked: int, good: int, when_good: SpotState, when_not: SpotState, word: str
) -> tuple[SpotState, str, date | None]:  # fmt: skip
    state = SpotState.LOOKED_AT
    if good == looked:
        state = when_good
    elif good == 0:
        state = when_not
    return state, f"looked at, {good} of {looked} {word}", None


def _after(day: date, key: str) -> date:
    return day + timedelta(days=value(key))


def _as_it_stands(spot: Spot, today: date) -> Spot:
    is_due = spot.due_on is not None and spot.due_on <= today
    return replace(spot, state=SpotState.LOOK_AGAIN) if is_due else spot
