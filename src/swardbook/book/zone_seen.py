"""What the diary holds of a zone that a look-ahead can learn from, and which weeds it names."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, timedelta

from swardbook.handbook.parameters import value
from swardbook.handbook.species import key_of, model_name_of, species_of_model
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground, Zone
from swardbook.husbandry.happenings import (
    ClumpCheck,
    DigClumps,
    Heads,
    Pull,
    TuftCheck,
    WalkNoneFound,
)
from swardbook.model.parameters import known_weeds
from swardbook.model.seen import MEADOW_GRASS, Seen
from swardbook.model.state import USUAL_WEEDS
from swardbook.observations.counts import Method
from swardbook.observations.occasions import Occasion
from swardbook.planning.named import names_kept
from swardbook.review.records import occasions_of, treated

_NAMES_A_WEED = (Pull, DigClumps, ClumpCheck, Heads)


def seen_in(
    ground: Ground, zone: Zone, entries: Sequence[DiaryEntry], today: date, weeds: Sequence[str]
) -> list[Seen]:
    """Gather what was seen in a zone up to today, in order.

    Left out are undated entries, counts by eye, and the second of two passes that tell no catch
    rate: more than seven parts in ten of the first pass, so that newcomers came between. Tufts and
    heads are read beside something counted, never alone.

    Parameters
    ----------
    ground : Ground
        The ground as it stands.
    zone : Zone
        The zone.
    entries : sequence of DiaryEntry
        Its entries up to today.
    today : date
        The day the answer is for.
    weeds : sequence of str
        Weed grasses that the model runs there, as the handbook's keys name them.
    """
    kinds = [species_of_model(weed).key for weed in weeds]
    counted = [
        Seen(occasion.day, places=treated(ground, zone.name, occasion).places)
        for occasion in occasions_of(ground, zone.name)
        if occasion.day <= today and _speaks_of_zone(ground, zone, occasion)
    ]
    useful = [each for each in counted if _counts_a_kind(each, [*kinds, "bare"])]
    dated = [entry for entry in entries if entry.when.is_dated]
    found = [*useful, *_pulls(dated), *_digs(dated), *_looks(dated)]
    kept = [each for each in found if each.species in kinds]
    if not any(_is_counted(each) for each in kept):
        return []
    return sorted(kept, key=lambda each: each.order)


def weeds_named(entries: Iterable[DiaryEntry], counts: Iterable[Occasion], sown: Iterable[str]) -> (
    tuple[str, ...]
):  # fmt: skip
    """Tell which weed grasses a zone runs: the usual two, and others that its diary names.

    Parameters
    ----------
    entries : iterable of DiaryEntry
        The zone's entries.
    counts : iterable of Occasion
        Its counts.
    sown : iterable of str
        Species sown there; what was sown is no weed.

    Returns
    -------
    tuple of str
        As the handbook's keys name them.
    """
    listed = tuple(entries)
    names = {entry.what.species for entry in listed if isinstance(entry.what, _NAMES_A_WEED)}
    names |= names_kept(listed)
    names |= {
        kind
        for occasion in counts
        for place in occasion.places
        for kind, number in place.found.items()
        if number > 0
    }
    named = {model_name_of(name) for name in names} - {model_name_of(name) for name in sown}
    others = (weed for weed in known_weeds() if weed in named and weed not in USUAL_WEEDS)
    return (*USUAL_WEEDS, *others)


def _is_counted(seen: Seen) -> bool:
    return seen.tufts is None and seen.regrown is None


def _speaks_of_zone(ground: Ground, zone: Zone, occasion: Occasion) -> bool:
    """Leave out counts of test strips where the zone has pegs that stand for all of it."""
    pegs = [peg.name for peg in ground.pegs if peg.zone.casefold() == zone.name.casefold()]
    return not pegs or bool(occasion.only(pegs).places)


def _counts_a_kind(seen: Seen, kinds: Sequence[str]) -> bool:
    return any(
        kind in place.found
        for place in seen.places
        if place.method is not Method.BY_EYE
        for kind in kinds
    )


def _pulls(entries: Sequence[DiaryEntry]) -> list[Seen]:
    found: list[Seen] = []
    for entry in entries:
        what = entry.what
        if isinstance(what, Pull) and what.plants is not None:
            seen = Seen(entry.day, pulled=float(what.plants), species=key_of(what.species))
            if not _tells_no_catch(found, seen):
                found.append(seen)
    return found


def _tells_no_catch(before: Sequence[Seen], seen: Seen) -> bool:
    """Tell whether a pass follows another closely and found nearly as much as it."""
    near = seen.day - timedelta(days=value("pull_pass_days"))
    first = next(
        (each for each in reversed(before) if each.species == seen.species and each.day >= near),
        None,
    )
    if first is None or not first.pulled or seen.pulled is None:
        return False
    return 1 - seen.pulled / first.pulled < value("pull_catch_least")


def _digs(entries: Sequence[DiaryEntry]) -> list[Seen]:
    """Gather clumps dug; days of one round of digging are one pass."""
    found: list[Seen] = []
    for entry in entries:
        what = entry.what
        if not isinstance(what, DigClumps) or what.clumps is None:
            continue
        seen = Seen(
            entry.day, dug=float(what.clumps), hours=entry.hours, species=key_of(what.species)
        )
        last = found[-1] if found else None
        if last and _same_round(last, seen):
            known = last.hours is not None and seen.hours is not None
            hours = (last.hours or 0.0) + (seen.hours or 0.0) if known else None
            found[-1] = replace(last, dug=(last.dug or 0.0) + float(what.clumps), hours=hours)
        else:
            found.append(seen)
    return found


def _same_round(last: Seen, seen: Seen) -> bool:
    days = timedelta(days=value("pull_pass_days"))
    return last.species == seen.species and seen.day - last.day <= days


def _looks(entries: Sequence[DiaryEntry]) -> list[Seen]:
    found: list[Seen] = []
    for entry in entries:
        day, what = entry.day, entry.what
        match what:
            case WalkNoneFound() if what.area_m2:
                found.append(Seen(day, walked_m2=what.area_m2, species=key_of(what.species)))
            case TuftCheck() if what.tufts:
                tufts = (float(what.with_heads), float(what.tufts))
                found.append(Seen(day, tufts=tufts, species=MEADOW_GRASS))
            case Heads():
                found.append(Seen(day, tufts=_heads(what), species=key_of(what.species)))
            case ClumpCheck():
                found += _clumps(day, what)
            case _:
                pass
    return found


def _heads(what: Heads) -> tuple[float | None, float]:
    """Turn a note of heads into tufts; None with heads: at least one."""
    round_about = value("count.heads_tufts")
    if not what.seen:
        return 0.0, round_about
    share = what.share_of_tufts
    return (None if share is None else share * round_about), round_about


def _clumps(day: date, what: ClumpCheck) -> list[Seen]:
    species, found = key_of(what.species), []
    if what.standing is not None:
        found.append(Seen(day, clumps=float(what.standing), species=species))
    whole = what.margin_mm is not None and what.margin_mm >= value("clump_margin")
    if what.looked and whole:
        grown = (float(what.regrown), float(what.looked))
        found.append(Seen(day, regrown=grown, species=species))
    return found
