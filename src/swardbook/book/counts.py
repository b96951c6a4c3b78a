"""Record counts, and show what each occasion says."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from swardbook.book.count_sheet import Understood
from swardbook.book.diary import read_past, write
from swardbook.book.opening import Book
from swardbook.book.parking import park
from swardbook.foundation.dates import When, read_when
from swardbook.foundation.errors import BadInputError
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground
from swardbook.husbandry.happenings import Count
from swardbook.husbandry.looks import Doubt
from swardbook.husbandry.parked import Parked
from swardbook.observations.counts import PlaceCount
from swardbook.observations.estimating import KindEstimate, estimate_kind
from swardbook.observations.occasions import Occasion
from swardbook.observations.odd_counts import odd_about
from swardbook.review.places_here import counted_before, places_not_here
from swardbook.review.records import occasions_of, treated, untreated
from swardbook.review.sown_here import not_sown_here


@dataclass(frozen=True, slots=True)
class OccasionShown:
    """What one occasion says.

    Parameters
    ----------
    zone : str
        Name of the zone.
    day : date
        The day of the count.
    where : str
        ``zone`` or ``honest squares``.
    label : str
        What the occasion is called.
    counters : tuple of str
        Who counted.
    estimates : tuple of KindEstimate
        One for each kind and method.
    break_before : str
        Why this occasion does not follow on from the one before; empty if it does.
    """

    zone: str
    day: date
    where: str
    label: str
    counters: tuple[str, ...]
    estimates: tuple[KindEstimate, ...]
    break_before: str = ""


@dataclass(frozen=True, slots=True)
class CountKept:
    """What became of a count.

    Parameters
    ----------
    entry : DiaryEntry or None
        The count as kept; None if no row of it was good and new.
    asked : tuple of Doubt
        What looked odd about it.
    parked : tuple of DiaryEntry
        Rows that could not be taken, each kept whole.
    already : tuple of str
        Places of a sheet that stood in the diary exactly so; they were not added again.
    """

    entry: DiaryEntry | None
    asked: tuple[Doubt, ...]
    parked: tuple[DiaryEntry, ...]
    already: tuple[str, ...]


def record_count(
    book: Book,
    understood: Sequence[Understood],
    when_words: str,
    occasion: str,
    about: Mapping[str, Any],
) -> CountKept:
    """Write a count in the diary: good rows are kept, bad ones parked whole, all or none.

    Parameters
    ----------
    book : Book
        The opened book.
    understood : sequence of Understood
        The places; a row where nothing was counted is left out and never 0.
    when_words : str
        The day of the count as typed; one that has not come yet parks every row.
    occasion : str
        What it is called, if anything.
    about : mapping
        What any entry can carry: zone, who, hours, money, note.

    Raises
    ------
    BadInputError
        If nothing was counted at all, or the day cannot be read.
    UnknownNameError
        If there is no such zone.
    """
    if all(each.place is None and each.slip is None for each in understood):
        raise BadInputError(
            "the count", "nothing", "at least one kind counted at one place",
            "Blank is kept as not counted. If you looked and found none, put 0.",
        )  # fmt: skip
    typed = str(about.get("zone", ""))
    zone = book.ground().zone(typed).name if typed.strip() else ""
    when, late = _day_of(book, when_words)
    good = () if late else tuple(each.place for each in understood if each.place is not None)
    slips = [_slip_of(each, late) for each in understood if late or each.slip is not None]
    fresh, alike = _not_there_yet(
        book, zone, when, good, any(each.row and each.row.line for each in understood)
    )
    said = {"occasion": occasion, "zone": zone}
    once = {} if good else {name: str(about[name]) for name in ("hours", "money", "note")
                             if about.get(name) not in (None, "")}  # fmt: skip
    rows = _carrying([each for each in slips if each is not None], said, once)
    entry: DiaryEntry | None = None
    asked: tuple[Doubt, ...] = ()
    with book.store.together():
        if fresh:
            asked = count_doubts(book, zone, when, fresh, bool(alike))
            note = _with_notes(str(about.get("note") or ""), understood, fresh)
            whole = {**about, "zone": zone, "note": note}
            entry = write(book, Count(fresh, occasion), when, asked=asked, **whole)
        parked = park(book, rows, when, zone, str(about.get("who", "")))
    return CountKept(entry, asked, parked, tuple(each.place for each in alike))


def _carrying(
    rows: Sequence[Parked], said: Mapping[str, str], once: Mapping[str, str]
) -> list[Parked]:
    """Give rows what was said beside them; hours, money and the note go with the first alone."""
    carrying = []
    for place, row in enumerate(rows):
        about = {**{name: text for name, text in said.items() if text}, **row.about}
        if place == 0:
            notes = [once.get("note", ""), row.about.get("note", "")]
            about |= once
            about |= {"note": ". ".join(filter(None, notes))} if any(notes) else {}
        carrying.append(replace(row, about=about))
    return carrying


def _with_notes(note: str, understood: Sequence[Understood], kept: tuple[PlaceCount, ...]) -> str:
    """Put the words that stood beside the kept places after the note."""
    beside = [
        f"{each.place.place}: {each.row.about['note']}"
        for each in understood
        if each.place in kept and each.place and each.row and each.row.about.get("note")
    ]
    return ". ".join([*filter(None, [note.removesuffix(".")]), *beside]) if beside else note


def _day_of(book: Book, words: str) -> tuple[When, Parked | None]:
    """Read the day; one that has not come yet is a slip, kept for the day of typing."""
    if read_when(words, book.today).first <= book.today:
        return read_past(words, book.today), None
    try:
        return read_past(words, book.today), None
    except BadInputError as slip:
        late = Parked(column="when", read=words, allowed=slip.allowed, likely=slip.hint,
                      about={"when": words})  # fmt: skip
        return When.on(book.today), late


def _slip_of(row: Understood, late: Parked | None) -> Parked | None:
    """Give the row as it is parked; a day that has not come yet goes before its other slips."""
    if late is None:
        return row.slip
    if row.row is None or (row.place is None and row.slip is None):
        return None
    return replace(row.row, column=late.column, read=late.read, allowed=late.allowed,
                   likely=late.likely, about={**row.row.about, **late.about})  # fmt: skip


def _not_there_yet(
    book: Book, zone: str, when: When, places: tuple[PlaceCount, ...], is_sheet: bool
) -> tuple[tuple[PlaceCount, ...], tuple[PlaceCount, ...]]:
    """Leave out rows of a sheet that stand in the diary exactly so; what is typed is kept."""
    if not is_sheet or not when.is_dated:
        return places, ()
    alike, _ = counted_before(book.ground(), zone, when.day, places)
    return tuple(each for each in places if each not in alike), alike


def count_doubts(
    book: Book, zone: str, when: When, places: Sequence[PlaceCount], is_sheet: bool = False
) -> tuple[Doubt, ...]:
    """Ask about what is odd in a count: its numbers, its places, and what is there already.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        Name of the zone; empty for the whole site.
    when : When
        The day of the count.
    places : sequence of PlaceCount
        What was counted.
    is_sheet : bool
        Whether counts that stand in the diary exactly so were left out before.
    """
    ground = book.ground()
    asked = [Doubt(text) for text in (*odd_about(places), *not_sown_here(ground, zone, places))]
    asked += places_not_here(ground, zone, places)
    alike, other = counted_before(ground, zone, when.day, places) if when.is_dated else ((), ())
    twice = list(dict.fromkeys([*other, *(() if is_sheet else (each.place for each in alike))]))
    if twice:
        names = ", ".join(twice[:5]) + (" and others" if len(twice) > 5 else "")
        verb = "was" if len(twice) == 1 else "were"
        asked.append(Doubt(f"{names} {verb} counted that day already. Two frames, or typed twice?"))
    return tuple(asked)


def show_counts(
    book: Book, zone: str = "", kind: str = "", on: date | None = None
) -> tuple[OccasionShown, ...]:
    """Estimate what was counted on each occasion, zone by zone, in order.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        Only this zone; empty for all.
    kind : str
        Only this kind, by key; empty for all.
    on : date or None
        Only this day.

    Raises
    ------
    UnknownNameError
        If there is no such zone.
    """
    ground = book.ground()
    names = [ground.zone(zone).name] if zone else [each.name for each in ground.zones]
    return tuple(
        shown for name in names for shown in _shown(ground, name, kind) if on in (None, shown.day)
    )


def _shown(ground: Ground, zone: str, kind: str) -> list[OccasionShown]:
    shown: list[OccasionShown] = []
    last: dict[str, tuple[str, ...]] = {}
    for occasion in occasions_of(ground, zone):
        for where, part in (
            ("zone", treated(ground, zone, occasion)),
            ("honest squares", untreated(ground, zone, occasion)),
        ):
            estimates = _estimates(part, kind)
            if not estimates:
                continue
            broken = _break(last.get(where, ()), part.counters)
            last[where] = part.counters or last.get(where, ())
            shown.append(
                OccasionShown(zone, part.day, where, part.label, part.counters, estimates, broken)
            )
    return shown


def _estimates(occasion: Occasion, kind: str) -> tuple[KindEstimate, ...]:
    kinds = sorted({name for place in occasion.places for name in place.found})
    wanted = [name for name in kinds if not kind or name == kind]
    return tuple(estimate for name in wanted for estimate in estimate_kind(occasion.places, name))


def _break(before: tuple[str, ...], now: tuple[str, ...]) -> str:
    if not before or not now or set(before) & set(now):
        return ""
    return f"The counter changed from {', '.join(before)} to {', '.join(now)}: a break here."
