"""What was written down without signal, and sent later: kept once, and never refused."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from uuid import UUID

from swardbook.book.diary import read_alike, read_past, withdraw, write
from swardbook.book.fields import read_kind, with_fields
from swardbook.book.opening import Book
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
from swardbook.husbandry.happenings import Note

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
    zone, when, who, note : str
        As typed.
    said_on : date or None
        The day it was typed on, from which ``today`` and ``yesterday`` are counted.
    """

    id: UUID
    kind: str
    fields: Mapping[str, str] = field(default_factory=dict)
    zone: str = ""
    when: str = "today"
    who: str = ""
    note: str = ""
    said_on: date | None = None


@dataclass(frozen=True, slots=True)
class Taken:
    """What became of it.

    Parameters
    ----------
    entry : DiaryEntry
        The entry as it is kept.
    was_there : bool
        Whether it had come before, so that nothing was written now.
    """

    entry: DiaryEntry
    was_there: bool


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
    texts = {name: str(plain.get(name) or "")[:_MOST] for name in ("kind", "zone", "who", "note")}
    return Sent(
        id=made, fields={str(name): str(text)[:_MOST] for name, text in fields.items()},
        when=str(plain.get("when") or "today")[:_MOST], said_on=_day(plain.get("said_on")), **texts,
    )  # fmt: skip


def take_in(book: Book, sent: Sent) -> Taken:
    """Keep what was sent; what cannot be read is kept as a note that needs a look.

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
    there = next((each for each in book.store.whole_diary() if each.id == sent.id), None)
    if there is not None:
        return Taken(there, True)
    said_on = min(sent.said_on or book.today, book.today)
    try:
        what = with_fields(read_kind(sent.kind)(), sent.fields, said_on)
        number, words = read_alike(sent.when)
        entry = write(
            book, what, read_past(words, said_on), zone=sent.zone, who=sent.who, note=sent.note,
            number=number, id=sent.id,
        )  # fmt: skip
    except (BadInputError, OutOfRangeError, UnknownNameError, NotEnoughDataError) as refusal:
        entry = _as_a_note(book, sent, said_on, refusal)
    return Taken(entry, False)


def take_back(book: Book, sent_id: UUID) -> DiaryEntry:
    """Take back what was sent; it stays in the diary as taken back."""
    return withdraw(book, sent_id, "Taken back on the phone where it was written.")


def _as_a_note(book: Book, sent: Sent, said_on: date, refusal: SwardbookError) -> DiaryEntry:
    typed = ", ".join(f"{name} {text!r}" for name, text in sent.fields.items() if text)
    where = f" at {sent.zone!r}" if sent.zone else ""
    told = f"Sent from a phone{where}, when {sent.when!r}: {sent.kind} {typed} {sent.note}".strip()
    known = {each.name for each in book.ground().zones}
    return write(
        book, Note(told), When.on(said_on), zone=sent.zone if sent.zone in known else "",
        who=sent.who, id=sent.id, asked=(Doubt(f"Not understood: {refusal}"),),
    )  # fmt: skip


def _day(text: object) -> date | None:
    try:
        return date.fromisoformat(str(text)) if text else None
    except ValueError:
        return None
