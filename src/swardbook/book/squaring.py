"""Square up a sowing of the book: its bays or plots, and what is left of its lots."""

from __future__ import annotations

import shlex
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from swardbook.book.fields import quantity
from swardbook.book.opening import Book
from swardbook.book.worked_out import last_answer
from swardbook.foundation.dates import read_day, say
from swardbook.foundation.errors import (
    BadInputError,
    NotEnoughDataError,
    SwardbookError,
    UnknownNameError,
)
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground, Plot
from swardbook.husbandry.happenings import Sow
from swardbook.husbandry.worked_out import WorkedOut
from swardbook.planning.situation import situation
from swardbook.planning.stock import left_of
from swardbook.seed.squaring import SownBay, SquaredUp, WeighedBack, square_up

ABOUT = "square up"
BAGS = "seed bags"
"""The question under which bags by bay are kept."""


@dataclass(frozen=True, slots=True)
class SquareUpAnswer:
    """Whether a sowing's weights agree.

    Parameters
    ----------
    first, last : date
        The days of sowing.
    bays_from : str
        Where the bays came from.
    found : SquaredUp
        What agrees, what does not, and what a mix-up could explain.
    """

    first: date
    last: date
    bays_from: str
    found: SquaredUp


def square_up_sowing(
    book: Book, zone: str = "", sown: str = "", left: Sequence[str] = (), used: Sequence[str] = (),
    days: int = 0, as_sown: bool = False,
) -> SquareUpAnswer:  # fmt: skip
    """Set a sowing's used and left weights beside what was planned, and point at a mix-up.

    Bays are the plots of a trial, the bays that bags were kept for, or else each sowing as a whole.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        Only this zone's sowings; empty for all.
    sown : str
        The day of sowing; empty takes the last one.
    left : sequence of str
        ``lot=weight`` of each lot weighed back.
    used : sequence of str
        ``bay=weight`` of each bay whose bag was weighed before and after.
    days : int
        Days after `sown` that belong to the same sowing.
    as_sown : bool
        Whether plots count as they were really sown, once a mix-up was put right.

    Raises
    ------
    NotEnoughDataError
        If nothing was sown then, or nothing was weighed.
    UnknownNameError
        If a lot or bay is none of these.
    """
    ground = book.ground()
    entries, first, last = _sowings(ground, zone, sown, days, book.today)
    bays, source = _bays(ground, entries, as_sown)
    bays = _with_used(bays, used)
    back = [_weighed_back(ground, entries, last, text) for text in left]
    if not back and all(bay.used_g is None for bay in bays):
        raise NotEnoughDataError(
            f"whether the sowing of {say(first)} squares up",
            "a lot weighed back (--left LOT=WEIGHT) or a bay's bag weighed (--used BAY=WEIGHT)",
            "neither",
        )  # fmt: skip
    return SquareUpAnswer(first, last, source, square_up(bays, back))


@dataclass(frozen=True, slots=True)
class SowingOff:
    """A sowing whose weights do not agree as the book stands.

    Parameters
    ----------
    zone : str
        The zone; empty for several.
    day : date
        The day of the sowing.
    words : str
        What does not agree, and what a mix-up could explain.
    command : str
        The command that shows it.
    """

    zone: str
    day: date
    words: str
    command: str


def sowings_off(book: Book) -> tuple[SowingOff, ...]:
    """List sowings whose weights do not agree: as weighed back and kept, and by what bags lost.

    A kept squaring-up is worked out again as the book stands now, as planned and as sown, so it is
    listed until what it found is put right. Sowings of one day are squared up by the seed that
    their entries say was used, where two of them could have been exchanged.
    """
    ground, found = book.ground(), dict[tuple[date, str], SowingOff]()
    for entry in ground.diary:
        what = entry.what
        if isinstance(what, WorkedOut) and what.about == ABOUT and what.given.get("sown"):
            day = date.fromisoformat(what.given["sown"])
            off = _kept_off(book, entry.zone, day, what.given)
            found.pop((day, entry.zone), None)
            if off is not None:
                found[day, entry.zone] = off
    for day in sorted({entry.day for entry in ground.diary if isinstance(entry.what, Sow)}):
        sown = [entry for entry in ground.diary if isinstance(entry.what, Sow) and entry.day == day]
        looked_at = any(entry.corrects is not None for entry in sown)
        if len(sown) < 2 or looked_at or any(at == day for at, _ in found):
            continue
        answer = _squared(book, "", day, (), (), 0, as_sown=False)
        if answer is not None and answer.found.mix_ups:
            told = " ".join(each.told for each in answer.found.mix_ups)
            command = f"swardbook square-up --sown {day.isoformat()}"
            found[day, ""] = SowingOff("", day, told, command)
    return tuple(found.values())


def _kept_off(book: Book, zone: str, day: date, given: Mapping[str, str]) -> SowingOff | None:
    left, used = (
        tuple(each for each in given.get(name, "").split(", ") if each) for name in ("left", "used")
    )
    days = int(given.get("days", "0"))
    planned, sown = (
        _squared(book, zone, day, left, used, days, as_sown=as_sown) for as_sown in (False, True)
    )
    if planned is None or planned.found.is_square or (sown is not None and sown.found.is_square):
        return None
    told = " ".join(each.told for each in planned.found.mix_ups)
    parts = ["swardbook", "square-up", *(["--zone", zone] if zone else []),
             "--sown", day.isoformat(), *(["--days", str(days)] if days else []),
             *(part for each in left for part in ("--left", each)),
             *(part for each in used for part in ("--used", each))]  # fmt: skip
    told = told or "weights do not agree, and no two lots or bays explain it."
    return SowingOff(zone, day, told, shlex.join(parts))


def _squared(
    book: Book, zone: str, day: date, left: Sequence[str], used: Sequence[str], days: int, *,
    as_sown: bool,
) -> SquareUpAnswer | None:  # fmt: skip
    try:
        return square_up_sowing(book, zone, day.isoformat(), left, used, days, as_sown)
    except SwardbookError:
        return None


def _sowings(
    ground: Ground, zone: str, sown: str, days: int, today: date
) -> tuple[list[DiaryEntry], date, date]:
    name = ground.zone(zone).name if zone else ""
    every = [
        entry for entry in ground.diary
        if isinstance(entry.what, Sow) and entry.what.lot and (not name or entry.zone == name)
    ]  # fmt: skip
    if not every:
        raise NotEnoughDataError("whether a sowing squares up", "a sowing with its lot", "none")
    first = read_day(sown, today) if sown else max(entry.day for entry in every)
    last = first + timedelta(days=days)
    chosen = [entry for entry in every if first <= entry.day <= last]
    if not chosen:
        known = ", ".join(say(day) for day in sorted({entry.day for entry in every})[-5:])
        raise BadInputError("--sown", sown, f"a day of sowing: {known}")
    return chosen, first, last


def _bays(
    ground: Ground, entries: Sequence[DiaryEntry], as_sown: bool
) -> tuple[list[SownBay], str]:
    bays, sources = [], dict[str, None]()
    for entry in entries:
        what = entry.what
        assert isinstance(what, Sow)
        plots, mixture = _plots(ground, entry.zone, what.lot)
        planned = _planned(ground, entry.zone, what)
        got = sum(plot.mixture == mixture for plot in plots)
        if got and planned is not None:
            of = [p.name for p in plots if (p.mixture if as_sown else p.planned) == mixture]
            bays += [SownBay(name, what.lot, planned / got) for name in of]
            sources["plots as sown" if as_sown else "plots as planned"] = None
        elif kept := _kept_bags(ground, entry.zone, what.lot):
            bays += kept
            sources["bags kept for the bays"] = None
        elif planned is not None:
            bays.append(SownBay(f"{entry.zone or 'whole site'}", what.lot, planned, what.used_g))
            sources["each sowing as a whole"] = None
    if not bays:
        raise NotEnoughDataError("whether a sowing squares up", "its rate and area", "neither")
    return _told_apart(bays), ", ".join(sources)


def _told_apart(bays: list[SownBay]) -> list[SownBay]:
    names = [bay.name for bay in bays]
    return [
        replace(bay, name=f"{bay.name} {names[: at + 1].count(bay.name)}")
        if names.count(bay.name) > 1 else bay
        for at, bay in enumerate(bays)
    ]  # fmt: skip


def _plots(ground: Ground, zone: str, lot: str) -> tuple[list[Plot], str]:
    mixture = ground.lot(lot).mixture
    return [plot for plot in ground.plots if plot.zone == zone], mixture


def _planned(ground: Ground, zone: str, what: Sow) -> float | None:
    if what.rate_g_m2 is None:
        return None
    area = what.area_m2
    if area is None and zone:
        area = ground.zone(zone).area_m2
    return None if area is None else what.rate_g_m2 * area


def _kept_bags(ground: Ground, zone: str, lot: str) -> list[SownBay]:
    kept = last_answer(ground, BAGS, zone)
    if kept is None or kept.answer.named.get("lot", lot).casefold() != lot.casefold():
        return []
    end = " bag_g"
    return [
        SownBay(name.removesuffix(end), lot, weight)
        for name, weight in kept.answer.found.items() if name.endswith(end)
    ]  # fmt: skip


def _with_used(bays: list[SownBay], used: Sequence[str]) -> list[SownBay]:
    weights = {}
    for text in used:
        name, weight = _pair(text, "--used", "BAY=WEIGHT, such as north=8192 g")
        match = [bay.name for bay in bays if bay.name.casefold() == name.casefold()]
        if not match:
            raise UnknownNameError("bay of this sowing", name, [bay.name for bay in bays])
        weights[match[0]] = weight
    return [replace(bay, used_g=weights.get(bay.name, bay.used_g)) for bay in bays]


def _weighed_back(
    ground: Ground, entries: Sequence[DiaryEntry], last: date, text: str
) -> WeighedBack:
    name, weight = _pair(text, "--left", "LOT=WEIGHT, such as BB-0417=23.6 kg")
    lot = ground.lot(name)
    chosen = {entry.id for entry in entries}
    others = tuple(entry for entry in ground.diary if entry.id not in chosen and entry.day <= last)
    before = replace(ground, diary=others)
    left = left_of(situation(before, ground.zones[0].name, None, last), lot)
    if left is None:
        raise NotEnoughDataError(
            f"what should be left of {lot.code}", "the weight bought, on the lot's card", "none"
        )
    return WeighedBack(lot.code, left, weight)


def _pair(text: str, option: str, allowed: str) -> tuple[str, float]:
    name, found, weight = text.partition("=")
    if not found or not name.strip():
        raise BadInputError(option, text, allowed)
    return name.strip(), quantity(weight, "g", option)
