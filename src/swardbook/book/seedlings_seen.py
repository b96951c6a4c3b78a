"""Seedlings as they were recorded: first seen and counted, by component, after a sowing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from swardbook.foundation.errors import UnknownNameError
from swardbook.handbook.species import Kind, find_species
from swardbook.husbandry.ground import Ground, Zone
from swardbook.husbandry.happenings import Cut, Seedlings, Sow


@dataclass(frozen=True, slots=True)
class Sighting:
    """Seedlings that somebody saw.

    Parameters
    ----------
    day : date
        When.
    species : str
        Key of the species they were named as; empty where nobody named them.
    is_weed : bool
        Whether they were named as a weed grass.
    """

    day: date
    species: str
    is_weed: bool = False


@dataclass(frozen=True, slots=True)
class OwnSowing:
    """How an earlier sowing of one's own came on.

    Parameters
    ----------
    zone : str
        Where.
    day : date
        The day of sowing.
    sow : Sow
        What was sown.
    seen : tuple of tuple of str and int
        Each component that was first seen, and after how many days. [d]
    cut_after : int or None
        Days to the first cut that was recorded. [d]
    """

    zone: str
    day: date
    sow: Sow
    seen: tuple[tuple[str, int], ...]
    cut_after: int | None


def sightings(ground: Ground, zone: str, first: date, last: date) -> tuple[Sighting, ...]:
    """List what was seen coming up in a zone between two days; frames that held none are left out.

    Parameters
    ----------
    ground : Ground
        The ground with its diary.
    zone : str
        The zone.
    first, last : date
        The day of sowing, and the last day read.
    """
    found = []
    for entry in ground.entries(zone, Seedlings.kind):
        what = entry.what
        if not isinstance(what, Seedlings) or not first < entry.day <= last:
            continue
        if what.first_seen or (what.per_m2 or 0.0) > 0:
            found.append(Sighting(entry.day, *_named(what.species)))
    return tuple(sorted(found, key=lambda each: each.day))


def own_sowings(
    ground: Ground, species: Sequence[str], before: date, follow: int, until: date | None = None
) -> tuple[OwnSowing, ...]:
    """List one's own sowings of any of some species that were seen to come up, the latest first.

    Parameters
    ----------
    ground : Ground
        The ground with its diary.
    species : sequence of str
        Keys of the components asked about.
    before : date
        Sowings from this day on are left out.
    follow : int
        Days after a sowing in which what is seen is taken as its own. [d]
    until : date, optional
        Last day read; `before` if not given.
    """
    found = []
    for zone in ground.zones:
        sown = [each for each in _sown_in(ground, zone) if each[0] < before]
        for day, sow in sown:
            after = min((other for other, _ in sown if other > day), default=date.max)
            end = min(date.fromordinal(day.toordinal() + follow), after, until or before)
            made = _came_on(ground, zone, day, sow, end)
            if any(name in species for name, _ in made.seen):
                found.append(made)
    return tuple(sorted(found, key=lambda each: each.day, reverse=True))


def _sown_in(ground: Ground, zone: Zone) -> list[tuple[date, Sow]]:
    return sorted(
        ((entry.day, entry.what) for entry in ground.entries(zone.name, Sow.kind)
         if isinstance(entry.what, Sow) and entry.what.lot and entry.zone == zone.name),
        key=lambda each: each[0],
    )  # fmt: skip


def _came_on(ground: Ground, zone: Zone, day: date, sow: Sow, end: date) -> OwnSowing:
    parts = {find_species(part.species).key for part in ground.lot(sow.lot).parts
             if part.species != "others"}  # fmt: skip
    seen: dict[str, int] = {}
    for each in sightings(ground, zone.name, day, end):
        if each.species in parts:
            seen.setdefault(each.species, (each.day - day).days)
    cuts = [
        (entry.day - day).days
        for entry in ground.entries(zone.name, Cut.kind)
        if day < entry.day <= end
    ]
    return OwnSowing(zone.name, day, sow, tuple(seen.items()), min(cuts, default=None))


def _named(name: str) -> tuple[str, bool]:
    """Give the key of a species as typed, and whether it is a weed; empty where it is none."""
    try:
        species = find_species(name)
    except UnknownNameError:
        return "", False
    return species.key, species.kind is Kind.WEED_GRASS
