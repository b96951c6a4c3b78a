"""What in a whole book needs a look, each with what it would change; nothing is altered."""

from __future__ import annotations

import shlex
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from uuid import UUID

from swardbook.foundation.dates import say
from swardbook.handbook.parameters import value
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground
from swardbook.husbandry.happenings import Closure, Count, Sow
from swardbook.husbandry.looks import doubts
from swardbook.husbandry.parked import Parked
from swardbook.observations.counts import Method
from swardbook.review.places_here import places_not_here

CHANGES = {
    "sow": "the age of the sward, what is left in the bag, and where a look-ahead begins",
    "cut": "the seeding clock, the one-third rule and the cuts a look-ahead grows through",
    "verticut": "the line of the next pass, and the gaps a look-ahead opens",
    "scarify": "the gaps a look-ahead opens, and when the ground is fit again",
    "count": "every estimate of that day, the comparisons it is part of, and the look-ahead",
    "pull": "the hours a pass takes, and the plants that are left",
    "refill": "what is left in the bag, and the holes that are open",
    "feed": "the nitrogen of the year, and when the next feed is due",
    "water": "the water in seedbed and root zone",
    "closure": "what is fit on those days",
    "reading": "what leans on that reading",
    "treatment": "the record alone",
    "frost": "what is fit that day",
}
_OF_A_ZONE = {"sow", "cut", "verticut", "scarify", "tine", "dress", "feed", "pull", "refill"}
_MACHINES = {"cut", "verticut", "scarify", "tine", "roll"}
_ONCE_A_DAY = {"cut", "verticut", "feed", "sow"}
_LOOKED = "swardbook put-right {} --as-it-stands --reason 'looked again'"


@dataclass(frozen=True, slots=True)
class ToLookAt:
    """One thing that needs a look.

    Parameters
    ----------
    about : str
        ``damage``, ``parked``, ``future``, ``weights``, ``weather``, ``no zone``, ``no lot``,
        ``place``, ``same work``, ``closed``, ``odd``, ``mix-up`` or ``aged``.
    what : str
        What was found, in words.
    changes : str
        What it would change if it were otherwise.
    ways : tuple of str
        Commands that put it right.
    zone : str
        The zone; empty for the whole site.
    day : date or None
        The day it is about.
    entry : UUID or None
        The diary entry.
    """

    about: str
    what: str
    changes: str
    ways: tuple[str, ...]
    zone: str = ""
    day: date | None = None
    entry: UUID | None = None


def look_over_ground(ground: Ground, today: date) -> tuple[ToLookAt, ...]:
    """List what needs a look in the ground and its standing diary.

    Parameters
    ----------
    ground : Ground
        The ground with every standing entry, also those dated after today.
    today : date
        The day it is looked over.
    """
    checks = (_future, _weights, _no_lot, _no_zone, _places, _same_work, _closed, _odd)
    standing = [each for each in ground.diary if not isinstance(each.what, Parked)]
    known = [each for each in standing if each.when.first <= today]
    late = [each for each in standing if each.when.first > today]
    return tuple(item for check in checks for item in check(
        ground, late if check is _future else known
    ))  # fmt: skip


def short(entry: DiaryEntry) -> str:
    """Give the beginning of an id, enough to find it again."""
    return str(entry.id)[:8]


def changes_of(kind: str) -> str:
    """Say what leans on an entry of a kind."""
    return CHANGES.get(kind, "what the diary tells of that day")


def _item(entry: DiaryEntry, about: str, what: str, *ways: str, changes: str = "") -> ToLookAt:
    told = changes or changes_of(entry.what.kind)
    return ToLookAt(about, what, told, ways, entry.zone, entry.when.first, entry.id)


def _set(entry: DiaryEntry, change: str, reason: str = "typed wrong") -> str:
    return f"swardbook put-right {short(entry)} --set {shlex.quote(change)} --reason '{reason}'"


def _future(_ground: Ground, entries: Iterable[DiaryEntry]) -> Iterator[ToLookAt]:
    for each in entries:
        day = each.when.first
        earlier = day.replace(year=day.year - 1, day=min(day.day, 28 if day.month == 2 else 31))
        yield _item(
            each, "future", f"A {each.what.kind} dated {say(day)}, a day that has not come.",
            _set(each, f"when={earlier.isoformat()}", "year slip"),
            changes="nothing until then: it is not read before its day",
        )  # fmt: skip


def _weights(ground: Ground, entries: Iterable[DiaryEntry]) -> Iterator[ToLookAt]:
    used: dict[str, float] = {}
    for each in entries:
        what = each.what
        grams, reckoned = getattr(what, "used_g", None), _reckoned(ground, each)
        code = getattr(what, "lot", "").casefold()
        used[code] = used.get(code, 0.0) + (grams or reckoned or 0.0) * each.number
        if not isinstance(what, Sow) or not grams or not reckoned:
            continue
        if abs(grams / reckoned - 1) > value("look_weights_apart") and each.corrects is None:
            rate = (what.rate_g_m2 or 0.0) * grams / reckoned
            yield _item(
                each, "weights",
                f"{_weight(grams)} of seed used on {say(each.when.first)}, where rate and area make"
                f" {_weight(reckoned)}: a bay missed, another bag, or another area?",
                _set(each, f"rate_g_m2={rate:.3g}"), _set(each, f"used_g={reckoned:.0f}"),
                _LOOKED.format(short(each)),
                changes="the rate seedlings are held against, and what is left for refills",
            )  # fmt: skip
    for lot in ground.lots:
        gone = used.get(lot.code.casefold(), 0.0)
        if lot.bought_g is not None and gone > lot.bought_g * (1 + value("look_weights_apart")):
            told = (
                f"Lot {lot.code}: {_weight(gone)} used of {_weight(lot.bought_g)} bought."
                " Another bag among the sowings, or more bought?"
            )
            show = f"swardbook lot show {shlex.quote(lot.code)}"
            yield ToLookAt("weights", told, "which seed lies where, and what is left", (show,))


def _reckoned(ground: Ground, entry: DiaryEntry) -> float | None:
    what = entry.what
    if not isinstance(what, Sow) or what.rate_g_m2 is None:
        return None
    zones = {zone.name.casefold(): zone.area_m2 for zone in ground.zones}
    area = what.area_m2 or zones.get(entry.zone.casefold())
    return None if area is None else what.rate_g_m2 * area


def _no_lot(ground: Ground, entries: Iterable[DiaryEntry]) -> Iterator[ToLookAt]:
    codes = [lot.code for lot in ground.lots]
    for each in entries:
        if isinstance(each.what, Sow) and not each.what.lot:
            name = codes[0] if len(codes) == 1 else "..."
            yield _item(
                each, "no lot", f"Sown on {say(each.when.first)} without a lot.",
                _set(each, f"lot={name}", "found the label"),
                changes="the seed that refills get, the mixture a look-ahead grows",
            )  # fmt: skip


def _no_zone(ground: Ground, entries: Iterable[DiaryEntry]) -> Iterator[ToLookAt]:
    if len(ground.zones) < 2:
        return
    for each in entries:
        if not each.zone and each.what.kind in _OF_A_ZONE and each.corrects is None:
            yield _item(
                each, "no zone",
                f"A {each.what.kind} of {say(each.when.first)} without a zone: it counts for all"
                f" {len(ground.zones)} zones.",
                _set(each, "zone=...", "zone left out"), _LOOKED.format(short(each)),
            )  # fmt: skip


def _places(ground: Ground, entries: Iterable[DiaryEntry]) -> Iterator[ToLookAt]:
    most = value("frame_area_most_m2")
    for each in entries:
        if not isinstance(each.what, Count) or each.needs_a_look or each.corrects is not None:
            continue
        for doubt in places_not_here(ground, each.zone, each.what.places):
            ways = [_set(each, doubt.change)] if doubt.change else []
            told = f"Counted on {say(each.when.first)}: {doubt.text}"
            yield _item(each, "place", told, *ways, _LOOKED.format(short(each)))
        wide = [place for place in each.what.places
                if place.method is Method.PLANTS and place.looked > most]  # fmt: skip
        if wide:
            told = (
                f"Counted on {say(each.when.first)} in a frame of {wide[0].looked:g} m² at"
                f" {wide[0].place}: {wide[0].looked / 100:g} m², or its crossings?"
            )
            withdraw = f"swardbook put-right {short(each)} --withdraw --reason 'counted again'"
            yield _item(each, "place", told, withdraw, _LOOKED.format(short(each)))


def _same_work(ground: Ground, entries: Iterable[DiaryEntry]) -> Iterator[ToLookAt]:
    groups: dict[tuple[str, str, date], list[DiaryEntry]] = {}
    for each in entries:
        if each.what.kind in _ONCE_A_DAY and each.when.is_dated:
            key = (each.what.kind, each.zone.casefold(), each.when.first)
            groups.setdefault(key, []).append(each)
    for group in groups.values():
        seen = any(each.needs_a_look or each.corrects is not None for each in group)
        if len(group) < 2 or seen:
            continue
        last = group[-1]
        twice = [doubt for doubt in doubts(last, ground) if "another" in doubt.text]
        if twice:
            withdraw = f"swardbook put-right {short(last)} --withdraw --reason 'entered twice'"
            told = f"{say(last.when.first)}: {twice[0].text}"
            yield _item(last, "same work", told, withdraw, _LOOKED.format(short(last)))


def _closed(ground: Ground, entries: Iterable[DiaryEntry]) -> Iterator[ToLookAt]:
    known = list(entries)
    closures = [(each, each.what) for each in known
                if isinstance(each.what, Closure) and each.what.what in {"machines", "feet"}
                and each.what.until is not None]  # fmt: skip
    for each in known:
        if each.what.kind not in _MACHINES or each.corrects is not None or each.needs_a_look:
            continue
        for closure, what in closures:
            same = not closure.zone or closure.zone.casefold() == each.zone.casefold()
            until = what.until
            if same and until and closure.when.first <= each.when.first <= until:
                yield _item(
                    each, "closed",
                    f"A {each.what.kind} on {say(each.when.first)}, closed to {what.what} until"
                    f" {say(until)}. Another day, or did the closure end sooner?",
                    _set(each, "when=..."), _set(closure, f"until={each.when.first.isoformat()}"),
                    _LOOKED.format(short(each)),
                )  # fmt: skip
                break


def _odd(ground: Ground, entries: Iterable[DiaryEntry]) -> Iterator[ToLookAt]:
    for each in entries:
        if each.needs_a_look:
            ready = [_set(each, doubt.change) for doubt in doubts(each, ground) if doubt.change]
            told = f"{each.what.kind.capitalize()} of {say(each.when.first)}: {each.needs_a_look}"
            yield _item(each, "odd", told, *dict.fromkeys(ready), _LOOKED.format(short(each)))


def _weight(grams: float) -> str:
    return f"{grams / 1000:.3g} kg" if grams >= 1000 else f"{grams:.3g} g"
