"""Write in the diary, read it, and put an entry right; nothing is written over."""

from __future__ import annotations

import re
import shlex
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Any, cast
from uuid import UUID, uuid4

from swardbook.book.fields import (
    in_canonical_unit,
    quantity,
    read_money,
    renamed_places,
    with_fields,
    with_known_species,
)
from swardbook.book.opening import Book
from swardbook.foundation.dates import When, read_when, say
from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.foundation.quantities import require
from swardbook.husbandry.codec import readers
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.doubt import refuse_below_nothing
from swardbook.husbandry.ground import Ground
from swardbook.husbandry.happenings import Happening, Note, Water
from swardbook.husbandry.looks import Doubt, doubts
from swardbook.husbandry.watering import depth_mm
from swardbook.husbandry.where import Where
from swardbook.records.for_others import is_private
from swardbook.records.standing import last_word, place_of

_ENTRY_FIELDS = ("zone", "when", "who", "hours", "money", "note", "number", "private")
_NUMBERS = {
    "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8,
    "nine": 9, "ten": 10, "eleven": 11, "twelve": 12,
}  # fmt: skip
SHORT = 8
"""Letters of an id that are shown."""


@dataclass(frozen=True, slots=True)
class Standing:
    """One entry as the diary shows it.

    Parameters
    ----------
    entry : DiaryEntry
        The entry.
    corrected_by : UUID or None
        The entry that corrects it; None while it stands.
    """

    entry: DiaryEntry
    corrected_by: UUID | None


def write(
    book: Book,
    what: Happening,
    when: When,
    *,
    zone: str = "",
    who: str = "",
    hours: float | None = None,
    money: Decimal | None = None,
    note: str = "",
    number: int = 1,
    id: UUID | None = None,  # noqa: A002
    asked: Sequence[Doubt] = (),
    at: Sequence[Where] = (),
) -> DiaryEntry:
    """Write one entry in the diary; what looks odd is kept and parked for a second look.

    Parameters
    ----------
    book : Book
        The opened book.
    what : Happening
        What was done or seen.
    when : When
        The day or span.
    zone : str
        Zone by name; empty for the whole site.
    who, note : str
        As typed.
    hours : float or None
        All people together. [h]
    money : Decimal or None
        What it cost.
    number : int
        How many alike, for an undated entry.
    id : UUID or None
        Made on the device that wrote it; None makes one.
    asked : sequence of Doubt
        What looked odd already while it was typed.
    at : sequence of Where
        Where in its zone.

    Raises
    ------
    UnknownNameError
        If there is no such zone, lot or species; offers the nearest names.
    StorageError
        If the disk would not take it; nothing was changed.
    """
    if hours is not None:
        require("hours", hours, 0, 10_000, "h")
    ground = book.store.ground()
    what, typed = in_canonical_unit(what)
    entry = DiaryEntry(
        id=id or uuid4(),
        when=when,
        what=_with_known_names(what, ground),
        zone=ground.zone(zone).name if zone.strip() else "",
        who=who,
        hours=hours,
        money=money,
        note=f"{note} {typed}".strip() if typed else note,
        number=number,
        written_on=book.written_on,
        at=tuple(at),
        private=is_private(),
    )
    return _kept(book, entry, ground, asked)


def put_right(
    book: Book, entry_id: str | UUID, changes: Mapping[str, str], reason: str
) -> DiaryEntry:
    """Correct an entry: the old one is kept, the new one takes its place.

    Parameters
    ----------
    book : Book
        The opened book.
    entry_id : str or UUID
        The id, or its beginning.
    changes : mapping of str to str
        Fields and their new values as typed; none of them says that it is right as it stands.
    reason : str
        Why; kept with the correction.

    Raises
    ------
    BadInputError
        If there is no reason, or a value cannot be read.
    UnknownNameError
        If there is no such entry or field.
    """
    _need(reason)
    ground = book.store.ground()
    old = latest(book, find(book, entry_id))
    about = {name: text for name, text in changes.items() if name in _ENTRY_FIELDS}
    what, of_kind = renamed_places(
        old.what, {name: text for name, text in changes.items() if name not in about}
    )
    unknown = [name for name in of_kind if name not in readers(type(old.what))]
    if unknown:
        known = [*readers(type(old.what)), *_ENTRY_FIELDS]
        raise UnknownNameError(f"field of a {old.what.kind} entry", unknown[0], known)
    said, typed = in_canonical_unit(with_fields(what, of_kind, book.today))
    reason = f"{reason} {typed}".strip()
    stood, beside = place_of(book.store.whole_diary(), old)
    fresh = replace(
        _with_entry_fields(old, about, ground, book.today),
        id=uuid4(),
        what=_with_known_names(said, ground),
        corrects=stood,
        also_corrects=beside,
        written_on=book.written_on,
        needs_a_look="",
    )
    fresh = replace(fresh, note=_with_reason(fresh.note, reason))
    if not changes:
        return book.store.add([fresh])[0]
    return _kept(book, fresh, ground, ())


def withdraw(book: Book, entry_id: str | UUID, reason: str) -> DiaryEntry:
    """Take an entry out of every answer; it stays in the diary, with the reason.

    Raises
    ------
    BadInputError
        If there is no reason.
    UnknownNameError
        If there is no such entry.
    """
    _need(reason)
    old = latest(book, find(book, entry_id))
    note = Note(f"Withdrawn: {old.what.kind} of {say(old.day)}. {reason}")
    stood, beside = place_of(book.store.whole_diary(), old)
    fresh = DiaryEntry(
        id=uuid4(), when=old.when, what=note, zone=old.zone, who=old.who, corrects=stood,
        written_on=book.written_on, private=old.private, also_corrects=beside,
    )  # fmt: skip
    return book.store.add([fresh])[0]


def find(book: Book, entry_id: str | UUID) -> DiaryEntry:
    """Find an entry by its id or the beginning of it.

    Raises
    ------
    UnknownNameError
        If there is none.
    BadInputError
        If several ids begin so.
    """
    wanted = str(entry_id).strip().casefold()
    diary = book.store.whole_diary()
    found = [each for each in diary if str(each.id).startswith(wanted)] if wanted else []
    if not found:
        recent = [str(each.id)[:SHORT] for each in diary[-5:]]
        raise UnknownNameError("entry", str(entry_id), recent)
    if len(found) > 1:
        raise BadInputError(
            "the entry's id", wanted, "more letters of it",
            f"It is one of {', '.join(str(each.id)[:13] for each in found[:5])}.",
        )  # fmt: skip
    return found[0]


def latest(book: Book, entry: DiaryEntry) -> DiaryEntry:
    """Follow an entry to its latest correction, so that no correction is undone by the next."""
    return last_word(book.store.whole_diary(), entry)


def show(
    book: Book, *, zone: str = "", kind: str = "", with_corrected: bool = False,
    only_to_look_at: bool = False,
) -> tuple[Standing, ...]:  # fmt: skip
    """Give the diary in the order in which things happened, as far as the book's today.

    Parameters
    ----------
    book : Book
        The opened book.
    zone, kind : str
        Only these; empty for all.
    with_corrected : bool
        Whether entries that were corrected are shown too.
    only_to_look_at : bool
        Whether only those that need a look are shown.
    """
    if zone:
        zone = book.ground().zone(zone).name
    whole = [each for each in book.store.whole_diary() if each.when.first <= book.today]
    corrected = {gone: each.id for each in whole for gone in each.replaces}
    standing = {each.id: each for each in book.ground().diary}
    chosen = [
        Standing(each, corrected.get(each.id))
        for each in (standing.get(entry.id, entry) for entry in whole)
        if (with_corrected or each.id in standing)
        and (not zone or not each.zone or each.zone.casefold() == zone.casefold())
        and (not kind or each.what.kind == kind)
        and (not only_to_look_at or each.needs_a_look)
    ]
    return tuple(sorted(chosen, key=lambda each: each.entry.when.first))


def fixes(book: Book, entry: DiaryEntry, asked: Sequence[Doubt] = ()) -> tuple[str, ...]:
    """Give the likely fix of each thing that needs a look, as a command ready to run."""
    short = str(entry.id)[:SHORT]
    found = [*asked, *doubts(entry, book.store.ground())] if entry.needs_a_look else []
    ready = [
        f"swardbook put-right {short} --set {shlex.quote(doubt.change)} --reason 'typed wrong'"
        for doubt in found
        if doubt.change
    ]
    if entry.needs_a_look:
        ready.append(f"swardbook put-right {short} --as-it-stands --reason 'looked again'")
    return tuple(dict.fromkeys(ready))


def _kept(book: Book, entry: DiaryEntry, ground: Ground, asked: Sequence[Doubt]) -> DiaryEntry:
    refuse_below_nothing(entry.what)
    found = [*asked, *doubts(entry, ground)]
    told = " ".join(dict.fromkeys(doubt.text for doubt in found))
    return book.store.add([replace(entry, needs_a_look=told)])[0]


def _with_known_names(what: Happening, ground: Ground) -> Happening:
    code = getattr(what, "lot", "")
    if code:
        _is_no_mixture(code, ground)
        what = replace(cast("Any", what), lot=ground.lot(code).code)
    return with_known_species(what)


def _is_no_mixture(code: str, ground: Ground) -> None:
    """Say so if the name of a mixture was given where a lot is asked for."""
    lots = [lot.code for lot in ground.lots if lot.mixture.casefold() == code.strip().casefold()]
    if lots and code.strip().casefold() not in {lot.code.casefold() for lot in ground.lots}:
        raise BadInputError(
            "the lot", code, f"a lot's code: {', '.join(lots)}",
            "That is the name. The lot is usually a code near the bar code or stitched label.",
        )  # fmt: skip


def _with_entry_fields(
    old: DiaryEntry, about: Mapping[str, str], ground: Ground, today: date
) -> DiaryEntry:
    read: dict[str, object] = {}
    for name, text in about.items():
        if name == "zone":
            read[name] = ground.zone(text).name if text else ""
        elif name == "when":
            read[name] = read_past(text, today)
        elif name == "hours":
            read[name] = quantity(text, "h", "hours") if text else None
        elif name == "money":
            read[name] = read_money(text)
        elif name == "number":
            if not text.isdigit() or not int(text):
                raise BadInputError("number", text, "a whole number from 1")
            read[name] = int(text)
        elif name == "private":
            if text not in {"yes", "no"}:
                raise BadInputError(name, text, "yes or no")
            read[name] = text == "yes"
        else:
            read[name] = text
    return replace(old, **read)  # type: ignore[arg-type]


def read_past(words: str, today: date) -> When:
    """Read a day or span that is not in the future.

    Raises
    ------
    BadInputError
        If it is; the likely slip is the year.
    """
    when = read_when(words, today)
    if when.first > today:
        day = when.first
        earlier = day.replace(year=day.year - 1, day=min(day.day, 28 if day.month == 2 else 31))
        raise BadInputError(
            "the date", words, f"a day up to today, {say(today)}",
            f"Use {say(earlier)}?"
            if earlier <= today
            else "Is the year right? A diary holds what has happened.",
        )  # fmt: skip
    return when


def _with_reason(note: str, reason: str) -> str:
    return f"{note} Put right: {reason}".strip()


def _need(reason: str) -> None:
    if not reason.strip():
        raise BadInputError("--reason", reason, "why it is put right, in your own words")


def read_alike(words: str) -> tuple[int, str]:
    """Take "about five in" off the front of "about five in mid-July".

    Returns
    -------
    tuple of int and str
        How many alike, 1 if not said, and the words that say when.
    """
    found = re.fullmatch(
        r"\s*(?:about |around |some )?(\w+) (?:times )?(?:in |during |over )(?P<when>.+)",
        words,
        re.I,
    )
    if found is None:
        return 1, words
    number = int(found[1]) if found[1].isdigit() else _NUMBERS.get(found[1].casefold(), 0)
    return (number, found["when"]) if number else (1, words)


def water_depth(book: Book, entry: DiaryEntry) -> float | None:
    """Give the depth of a watering; None where it cannot be known.

    Returns
    -------
    float or None
        Spread evenly over its zone. [mm]
    """
    if not isinstance(entry.what, Water):
        return None
    ground = book.store.ground()
    zone = ground.zone(entry.zone) if entry.zone else None
    return depth_mm(entry.what, zone, ground.site)
