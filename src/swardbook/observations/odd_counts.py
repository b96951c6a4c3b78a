"""What looks odd about a count: it is kept as it came and asked about."""

from __future__ import annotations

from collections.abc import Sequence

from swardbook.handbook.parameters import value
from swardbook.observations.counts import Method, PlaceCount


def odd_about(places: Sequence[PlaceCount]) -> tuple[str, ...]:
    """Ask about counts that look filled in, copied, added up over 100, or shared out unseen.

    Parameters
    ----------
    places : sequence of PlaceCount
        What was counted on the occasion.

    Returns
    -------
    tuple of str
        One question each; empty where nothing is odd.
    """
    return tuple(
        told
        for check in (_all_nought, _all_alike, _overlapping, _two_counters, _standing_twice)
        for told in check(places)
    )


def to_nearest_step(percent: float) -> float:
    """Round cover by eye [%] to the step an eye can see."""
    step = value("by_eye_step")
    return step * int(percent / step + 0.5)


def _all_nought(places: Sequence[PlaceCount]) -> list[str]:
    counted = [each for each in places if each.found]
    if len(counted) < value("all_zero_places"):
        return []
    if any(found for each in counted for found in each.found.values()):
        return []
    return [f"{len(counted)} places and nothing found anywhere. Looked, or filled?"]


def _all_alike(places: Sequence[PlaceCount]) -> list[str]:
    seen: dict[tuple[object, ...], set[str]] = {}
    for each in places:
        if any(each.found.values()):
            key = (each.method, each.looked, tuple(sorted(each.found.items())))
            seen.setdefault(key, set()).add(each.place)
    most = max((len(names) for names in seen.values()), default=0)
    if most < value("alike_places"):
        return []
    return [f"{most} places exactly alike; keep and mark for recount?"]


def _overlapping(places: Sequence[PlaceCount]) -> list[str]:
    over = [
        each for each in places if each.method is Method.BY_EYE and sum(each.found.values()) > 100
    ]
    if not over:
        return []
    total = sum(over[0].found.values())
    return [
        f"{over[0].place} adds up to {total:g} %. Seen by layers, or points? Kept as"
        " by eye, overlapping, and not mixed with points."
    ]


def _two_counters(places: Sequence[PlaceCount]) -> list[str]:
    by_place: dict[str, set[str]] = {}
    for each in places:
        if each.counter:
            by_place.setdefault(each.place, set()).add(each.counter)
    names = sorted({name for counters in by_place.values() for name in counters})
    twice = sum(len(counters) > 1 for counters in by_place.values())
    wanted = int(value("two_counters_places"))
    if len(names) < 2 or twice >= wanted:
        return []
    return [
        f"{' and '.join(names)} counted, {twice or 'no'} place{'' if twice == 1 else 's'} both."
        f" Let both count {wanted} places, so that the difference shows?"
    ]


def _standing_twice(places: Sequence[PlaceCount]) -> list[str]:
    keys = [
        (each.place.casefold(), each.counter.casefold(), each.placement, each.method)
        for each in places
    ]
    twice = {place.place: None for place, key in zip(places, keys, strict=True)
             if keys.count(key) > 1}  # fmt: skip
    if not twice:
        return []
    names = list(twice)
    told = f"{', '.join(names[:5])}{' and others' if len(names) > 5 else ''}"
    verb = "stands" if len(names) == 1 else "stand"
    return [
        f"{told} {verb} twice in this count. Two frames there? Then say which in a column called"
        " placement; if not, one of the two is another place."
    ]
