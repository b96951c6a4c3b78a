"""What was written down without signal, and sent later: kept once, and never refused."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any
from uuid import UUID

from swardbook.book.diary import find, read_alike, read_past, withdraw, write
from swardbook.book.fields import quantity, read_kind, with_fields
from swardbook.book.open_day_guesses import SENT_AS, keep_sent_guesses
from swardbook.book.opening import Book, privately
from swardbook.book.tallies import count_of, is_tally, seedlings_of
from swardbook.book.telling_where import read_where
from swardbook.foundation.dates import When
from swardbook.foundation.errors import (
    BadInputError,
    NotEnoughDataError,
    OutOfRangeError,
    SwardbookError,
    UnknownNameError,
)
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.doubt import Doubt
from swardbook.husbandry.happenings import Note, Seedlings
from swardbook.records.signing import whoever_sends
from swardbook.records.standing import later_words

_TAKEN_BACK = "Taken back on the phone where it was written."
_MOST = 4_000
"""Letters of a field that are read; the phone's forms hold far fewer."""


@dataclass(frozen=True, slots=True)
class Sent:
    """One entry as a phone sends it.

    Parameters
    ----------
    id : UUID
        Made on the phone.
    kind : str
        Kind of entry.
    fields : mapping of str to str
        What was typed, by field.
    zone, when, who, note, hours : str
        As typed; bare hours are hours.
    at : str
        Where in its zone; see `telling_where.read_where`.
    said_on : date or None
        The day it was typed on, from which ``today`` and ``yesterday`` are counted.
    private : bool
        Whether its words are for owners and workers alone.
    """

    id: UUID
    kind: str
    fields: Mapping[str, str] = field(default_factory=dict)
    zone: str = ""
    when: str = "today"
    who: str = ""
    note: str = ""
    hours: str = ""
    at: str = ""
    said_on: date | None = None
    private: bool = False


@dataclass(frozen=True, slots=True)
class Taken:
    """What became of it.

    Parameters
    ----------
    entry : DiaryEntry
        The entry as it is kept.
    was_there : bool
        Whether it had come before, so that nothing was written now.
    has_clashed : bool
        Whether its id was taken by an entry with another content; then both are kept.
    """

    entry: DiaryEntry
    was_there: bool
    has_clashed: bool = False


def read_sent(plain: object) -> Sent:
    """Read one entry from what came over the wire.

    Raises
    ------
    BadInputError
        If it is no such object, or has no id to keep it by.
    """
    if not isinstance(plain, dict):
        raise BadInputError("the entry sent", type(plain).__name__, "an object")
    try:
        made = UUID(str(plain.get("id", "")))
    except ValueError:
        raise BadInputError("the id", str(plain.get("id")), "the id the phone gave it") from None
    fields = plain.get("fields", {})
    if not isinstance(fields, dict):
        raise BadInputError("the fields", type(fields).__name__, "an object of field and text")
    names = ("kind", "zone", "who", "note", "hours", "at")
    texts = {name: str(plain.get(name) or "")[:_MOST] for name in names}
    return Sent(
        id=made, fields={str(name): str(text)[:_MOST] for name, text in fields.items()},
        when=str(plain.get("when") or "today")[:_MOST], said_on=_day(plain.get("said_on")),
        private=plain.get("private") is True, **texts,
    )  # fmt: skip


def take_in(book: Book, sent: Sent) -> Taken:
    """Keep what was sent; what cannot be read is kept as a note that needs a look.

    The same entry sent again is kept once. Another content under an id that is taken is kept
    beside what is there, under an id of its own, and marked for a look.

    Parameters
    ----------
    book : Book
        The opened book.
    sent : Sent
        What a phone sent.

    Raises
    ------
    StorageError
        If the disk would not take it; the phone keeps it and sends it again.
    """
    before = {each.id: each for each in book.store.whole_diary()}
    there = before.get(sent.id)
    if there is not None and there.what == Note(_typed(sent)):
        return Taken(there, True)  # not understood then, however it would be read now
    said_on = min(sent.said_on or book.today, book.today)
    with privately(sent.private), whoever_sends():
        try:
            entry = _as_read(book, sent, said_on, there)
        except (BadInputError, OutOfRangeError, UnknownNameError, NotEnoughDataError) as refusal:
            entry = _as_a_note(book, sent, said_on, refusal)
    return Taken(entry, entry.id in before, entry.id != sent.id)


def take_back(book: Book, sent_id: UUID) -> DiaryEntry:
    """Take back what was sent; it stays in the diary as taken back. A second time changes nothing.

    Raises
    ------
    UnknownNameError
        If it never came.
    """
    for each in later_words(book.store.whole_diary(), find(book, sent_id)):
        if isinstance(each.what, Note) and each.what.text.endswith(_TAKEN_BACK):
            return each
    return withdraw(book, sent_id, _TAKEN_BACK)


def _as_read(book: Book, sent: Sent, said_on: date, there: DiaryEntry | None) -> DiaryEntry:
    number, words = read_alike(sent.when)
    when = _same_day_as(there, sent) or read_past(words, said_on)
    if sent.kind == SENT_AS:
        day = when.first.isoformat()
        return keep_sent_guesses(book, sent.zone, sent.fields, day, sent.id, there)
    about: dict[str, Any] = {"zone": sent.zone, "who": sent.who, "note": sent.note, "id": sent.id}
    if sent.hours:
        about["hours"] = quantity(sent.hours, "h", "hours")
    made = read_kind(sent.kind)
    if not is_tally(made, sent.fields):
        about |= _at(book, sent) if sent.at.strip() else {}
        return write(book, with_fields(made(), sent.fields, said_on), when, number=number, **about)
    if made is Seedlings:
        what, told = seedlings_of(sent.fields)
        about["note"] = f"{told} {sent.note}".strip()
        return write(book, what, when, **about)
    return count_of(book, sent.fields, when, about)


def _at(book: Book, sent: Sent) -> dict[str, Any]:
    """Give where it is; where that is not understood, the words are kept and asked about."""
    try:
        return {"at": (read_where(book.store.ground(), sent.zone, sent.at),)}
    except (BadInputError, OutOfRangeError, UnknownNameError) as refusal:
        note = f"{sent.note} Place as sent: {sent.at}".strip()
        return {"note": note, "asked": (Doubt(f"Where it is was not understood: {refusal}"),)}


def _same_day_as(there: DiaryEntry | None, sent: Sent) -> When | None:
    """Give the day that was kept before, where a phone's clock is ahead of the book's or not told.

    Such an entry is kept for the day it came on; come again a day later it is still the same.
    """
    if there is None or there.written_on is None:
        return None
    return there.when if sent.said_on is None or sent.said_on > there.written_on else None


def _as_a_note(book: Book, sent: Sent, said_on: date, refusal: SwardbookError) -> DiaryEntry:
    known = {each.name for each in book.ground().zones}
    return write(
        book, Note(_typed(sent)), When.on(said_on), zone=sent.zone if sent.zone in known else "",
        who=sent.who, id=sent.id, asked=(Doubt(f"Not understood: {refusal}"),),
    )  # fmt: skip


def _typed(sent: Sent) -> str:
    """Tell all that was typed, for a note."""
    typed = ", ".join(f"{name} {text!r}" for name, text in sent.fields.items() if text)
    where = f" at {sent.zone!r}" if sent.zone else ""
    beside = "".join(f", {name} {text!r}" for name, text in
                     (("hours", sent.hours), ("place", sent.at)) if text)  # fmt: skip
    told = f"Sent from a phone{where}, when {sent.when!r}{beside}: {sent.kind} {typed} {sent.note}"
    return told.strip()


def _day(text: object) -> date | None:
    try:
        return date.fromisoformat(str(text)) if text else None
    except ValueError:
        return None
