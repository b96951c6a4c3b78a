"""How far a zone has come since it was last cleared or sown."""

from __future__ import annotations

from datetime import date
from enum import StrEnum

from swardbook.handbook.parameters import value
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground, Zone
from swardbook.husbandry.happenings import Count, Seedlings, Sow, Strip
from swardbook.observations.counts import Method

_INTO_SWARD = ("broadcast on sward", "slit")


class Stage(StrEnum):
    """A zone's stage."""

    SURVEYED = "surveyed"
    CLEARED = "cleared"
    SOWN = "sown"
    SHOWING = "showing"
    KNITTING = "knitting"
    SETTLED = "settled"
    SLIPPING = "slipping"


def stage(ground: Ground, zone: Zone, today: date) -> Stage:
    """Tell a zone's stage from its diary.

    Parameters
    ----------
    ground : Ground
        The ground.
    zone : Zone
        The zone.
    today : date
        The day it is told for; later entries are not read.

    Returns
    -------
    Stage
        Sown until seedlings are seen, showing until the first cut, knitting until a count finds
        no more bare ground than is fine there, then settled; slipping once a later count finds
        more again.
    """
    past = [entry for entry in ground.entries(zone.name) if entry.when.first <= today]
    sown = [entry.day for entry in past if _is_whole_sowing(entry, zone)]
    cleared = [entry.day for entry in past if entry.what.kind in {"strip", "scarify"}]
    if not sown or (cleared and max(cleared) > max(sown)):
        return Stage.CLEARED if cleared else Stage.SURVEYED
    since = [entry for entry in past if entry.day > max(sown)]
    was_fine = False
    for share in (found for entry in since if (found := bare_share(entry)) is not None):
        if share <= zone.tolerance.bare:
            was_fine = True
        elif was_fine:
            return Stage.SLIPPING
    if was_fine:
        return Stage.SETTLED
    if any(entry.what.kind == "cut" for entry in since):
        return Stage.KNITTING
    seen = any(isinstance(entry.what, Seedlings) for entry in since)
    return Stage.SHOWING if seen else Stage.SOWN


def is_oversowing(entry: DiaryEntry, ground: Ground) -> bool:
    """Tell whether a sowing went into a standing sward that is kept cut.

    A seedbed does not, nor does a sward scarified open, nor ground that was stripped.

    Parameters
    ----------
    entry : DiaryEntry
        The sowing.
    ground : Ground
        The ground it was sown in.
    """
    if not isinstance(entry.what, Sow) or entry.what.method not in _INTO_SWARD:
        return False
    cleared = sown = date.min
    for each in ground.entries(entry.zone):
        if each.day < entry.day and isinstance(each.what, Strip):
            cleared = max(cleared, each.day)
        elif each.day < entry.day and isinstance(each.what, Sow):
            sown = max(sown, each.day)
    return cleared <= sown


def bare_share(entry: DiaryEntry) -> float | None:
    """Give the bare share [-] that a count found; None where it was not looked for."""
    if not isinstance(entry.what, Count):
        return None
    looked = [
        place
        for place in entry.what.places
        if "bare" in place.found and place.method in {Method.POINTS, Method.BY_EYE}
    ]
    points = sum(place.looked for place in looked)
    return sum(place.found["bare"] for place in looked) / points if points else None


def _is_whole_sowing(entry: DiaryEntry, zone: Zone) -> bool:
    if not isinstance(entry.what, Sow):
        return False
    area = entry.what.area_m2
    return area is None or area > value("seedling_zone_share") * zone.area_m2
