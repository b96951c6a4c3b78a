"""Facts that kept answers rest on: as they stood when an answer was kept, and as they stand now."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date
from zlib import crc32

from swardbook.foundation.dates import say
from swardbook.handbook.kept_answers import kept_questions
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground, Zone
from swardbook.husbandry.happenings import (
    Closure,
    Count,
    DigClumps,
    Feed,
    Reading,
    Seedlings,
    Sow,
)
from swardbook.husbandry.worked_out import WorkedOut

NONE = "none"
"""What stands for a fact that the book does not have."""
_ID = 8
_TESTS = ("soil ", "ph", "n", "p", "k", "mg", "ca")
_HEIGHTS = ("sward height", "grass height", "height of grass", "height")
Fact = Callable[[Ground, Zone, Sequence[DiaryEntry]], str]


def facts_under(ground: Ground, zone: str, what: WorkedOut) -> dict[str, str]:
    """Give the facts that an answer rests on as they stand now.

    Parameters
    ----------
    ground : Ground
        The book as it stands.
    zone : str
        The zone; empty for the whole site.
    what : WorkedOut
        The answer.

    Returns
    -------
    dict of str to str
        Each fact by name: in words, or the day and id of the last entry about it; empty where
        the question has none or no zone is meant.
    """
    question = kept_questions().get(what.about)
    if question is None or not zone:
        return {}
    place, entries = ground.zone(zone), ground.entries(zone)
    found = {name: FACTS[name](ground, place, entries) for name in question.rests_on
             if name in FACTS}  # fmt: skip
    if "lot" in question.rests_on and (lot := _lot(ground, what)):
        found["lot"] = lot
    return found


def facts_then(ground: Ground, zone: str, kept: DiaryEntry) -> Mapping[str, str]:
    """Give the facts a kept answer rested on: as kept with it, else what the diary held before it.

    Parameters
    ----------
    ground : Ground
        The book as it stands.
    zone : str
        The zone.
    kept : DiaryEntry
        The kept answer.
    """
    assert isinstance(kept.what, WorkedOut)
    if kept.what.rests_on or not zone:
        return kept.what.rests_on
    held = ground.diary[: ground.diary.index(kept)] if kept in ground.diary else ground.diary
    before = facts_under(replace(ground, diary=held), zone, kept.what)
    return {name: fact for name, fact in before.items() if name in _DATED}


def changed_facts(then: Mapping[str, str], now: Mapping[str, str]) -> tuple[str, ...]:
    """Say which facts changed, each in a few words."""
    return tuple(
        _change(name, then[name], fact)
        for name, fact in now.items()
        if name in then and then[name] != fact
    )


def _change(name: str, then: str, now: str) -> str:
    if name == "lot":
        return _lot_change(then, now)
    if name not in _DATED:
        return f"{name} was {then}, now {now}"
    word = _DATED[name]
    if now == NONE:
        return f"{word} of {_day(then)} withdrawn since"
    if then != NONE and then[:10] == now[:10]:
        return f"{word} of {_day(now)} put right or added to since"
    return f"{word} of {_day(now)}, after it was kept"


def _lot_change(then: str, now: str) -> str:
    (code, kg, _), (other, now_kg, _) = then.split("|"), now.split("|")
    if now_kg == "gone" or code != other:
        return f"lot {code} is no longer in the book"
    if kg != now_kg:
        return f"lot {code} was {kg}, now {now_kg}"
    return f"the label of lot {code} was put right"


def _day(fact: str) -> str:
    return say(date.fromisoformat(fact[:10]))


def _last(entries: Iterable[DiaryEntry]) -> str:
    found = list(entries)
    return f"{found[-1].day.isoformat()} {str(found[-1].id)[:_ID]}" if found else NONE


def _of_kind(kind: type) -> Fact:
    return lambda _, __, entries: _last(each for each in entries if isinstance(each.what, kind))


def _readings(*names: str) -> Fact:
    def read(_: Ground, __: Zone, entries: Sequence[DiaryEntry]) -> str:
        return _last(
            each for each in entries
            if isinstance(each.what, Reading) and each.zone
            and each.what.quantity.strip().casefold().startswith(names)
        )  # fmt: skip

    return read


def _tests(_: Ground, __: Zone, entries: Sequence[DiaryEntry]) -> str:
    return _last(
        each for each in entries
        if isinstance(each.what, Reading)
        and (each.what.quantity.casefold() in _TESTS[1:]
             or each.what.quantity.casefold().startswith(_TESTS[0]))
    )  # fmt: skip


def _answered(*abouts: str) -> Fact:
    return lambda _, __, entries: _last(
        each for each in entries if isinstance(each.what, WorkedOut) and each.what.about in abouts
    )


def _lot(ground: Ground, what: WorkedOut) -> str:
    """Give the lot an answer is about, with its weight and its label; empty where it names none."""
    said = what.given.get("sown", "")
    code = what.named.get("lot", "") or (said.rpartition(", lot ")[2] if ", lot " in said else "")
    if not code:
        return ""
    for lot in ground.lots:
        if lot.code.casefold() == code.casefold():
            kg = "of unknown weight" if lot.bought_g is None else f"{lot.bought_g / 1000:g} kg"
            return f"{lot.code}|{kg}|{crc32(repr(lot.parts).encode()):08x}"
    return f"{code}|gone|"


def _mower(_: Ground, zone: Zone, __: Sequence[DiaryEntry]) -> str:
    box = "with a box" if zone.mower.has_box else "no box"
    return f"{zone.mower.kind} {zone.mower.width_mm:g} mm, {box}"


def _hose(_: Ground, __: Zone, entries: Sequence[DiaryEntry]) -> str:
    return _last(
        each for each in entries if isinstance(each.what, Closure) and each.what.what == "hose"
    )


FACTS: Mapping[str, Fact] = {
    "area": lambda _, zone, __: f"{zone.area_m2:g} m²",
    "height of cut": lambda _, zone, __: f"{zone.height_of_cut_mm:g} mm",
    "use": lambda _, zone, __: zone.use.value,
    "mower": _mower,
    "water at the tap": lambda ground, _, __: (
        "not measured" if ground.site.hose_l_min is None else f"{ground.site.hose_l_min:g} L/min"
    ),
    "lots": lambda ground, _, __: ", ".join(lot.code for lot in ground.lots) or NONE,
    "count": _of_kind(Count),
    "sowing": _of_kind(Sow),
    "seedlings": _of_kind(Seedlings),
    "feed": _of_kind(Feed),
    "clumps dug": _of_kind(DigClumps),
    "hose": _hose,
    "rings": _readings("infiltration"),
    "thatch": _readings("thatch"),
    "grass height": _readings(*_HEIGHTS),
    "soil test": _tests,
    "shade": _answered("shade"),
    "slope": _answered("slope"),
    "tins": _answered("tins"),
    "mower facts": _answered("mower, cylinder", "mower, rotary"),
    "verticut facts": _answered("verticut unit"),
}
"""Each fact by name, as it stands in the book."""
_DATED: Mapping[str, str] = {
    "count": "count", "sowing": "sowing", "seedlings": "count of seedlings", "feed": "feed",
    "clumps dug": "digging", "hose": "hose restriction", "rings": "ring test",
    "thatch": "thatch cores", "grass height": "height measured", "soil test": "soil test",
    "shade": "shade", "slope": "slope", "tins": "tins", "mower facts": "facts of the mower",
    "verticut facts": "facts of the verticut unit",
}  # fmt: skip
"""Facts that are the last entry of their kind, and how it is spoken of."""
