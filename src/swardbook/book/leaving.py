"""When somebody leaves: access ends at once; what still waits on their phone is not lost."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import datetime
from hashlib import sha256
from pathlib import Path
from typing import Any
from uuid import UUID

from swardbook.book.letting_days import LEFT_BEHIND, days
from swardbook.book.opening import Book
from swardbook.book.people import writing_as
from swardbook.book.sent import read_sent, take_back, take_in
from swardbook.book.sent_files import read_about, take_file_in
from swardbook.foundation.errors import RefusedError, StorageError
from swardbook.records.files import make_private_folder
from swardbook.records.leaving import LEFT_OUT, TAKEN_IN, LeftBehind
from swardbook.records.person import Person

MOST = 2_000
"""Entries and files that are kept of one person who has left; a phone holds far fewer."""
_FOLDER = "left-behind"


@dataclass(frozen=True, slots=True)
class Waiting:
    """What somebody left behind, as it is shown to who decides.

    Parameters
    ----------
    left : LeftBehind
        As it is kept.
    kind : str
        What it is: a kind of entry, ``picture or voice note``, or ``taking back``.
    words : tuple of (str, str)
        What was typed, by field.
    """

    left: LeftBehind
    kind: str
    words: tuple[tuple[str, str], ...]


def until(book: Book, now: datetime) -> datetime:
    """Give until when what waits on the phone of who leaves now is taken."""
    return now + days(book, LEFT_BEHIND)


def sends_until(book: Book, person: int, now: datetime) -> datetime | None:
    """Tell until when somebody who has left this ground may still send; None: not any more."""
    return book.store.people().leaving().until(person, now)


def leave_entry(book: Book, person: int, plain: object, now: datetime) -> UUID:
    """Keep an entry that came from somebody who has left, as it was sent, for an owner to decide.

    Raises
    ------
    BadInputError
        If it has no id, or there are too many.
    """
    made = read_sent(plain).id
    _put(book, person, json.dumps(plain, ensure_ascii=False, sort_keys=True), "", now)
    return made


def leave_taking_back(book: Book, person: int, entry: UUID, now: datetime) -> None:
    """Keep the wish to take an entry back, for an owner to decide."""
    _put(book, person, json.dumps({"id": str(entry), "take_back": True}), "", now)


def leave_file(
    book: Book, person: int, held: bytes, name: str, plain: object, now: datetime
) -> UUID:
    """Keep a picture or voice note that came from somebody who has left, as it was sent.

    Raises
    ------
    BadInputError
        If it has no id, or there are too many.
    StorageError
        If the disk would not take it; the phone keeps it and sends it again.
    """
    made = UUID(str(read_about(plain).id))
    told = {"about": plain, "name": Path(name).name[:200]}
    kept = f"{sha256(held).hexdigest()}.sent"
    folder = book.settings.home / _FOLDER
    try:
        make_private_folder(folder)
        part = folder / f".{kept}.part"
        part.write_bytes(held)
        part.chmod(0o600)
        part.replace(folder / kept)
    except OSError as slip:
        raise StorageError(str(folder), slip.strerror or str(slip)) from slip
    _put(book, person, json.dumps(told, ensure_ascii=False, sort_keys=True), kept, now)
    return made


def _put(book: Book, person: int, text: str, file: str, now: datetime) -> None:
    there = book.store.people()
    with there.together():
        if there.leaving().count(person) >= MOST:
            raise RefusedError(
                "Nothing was kept", f"{MOST} entries came since this person has left.",
                "They wait on the phone; an owner can let the person in again.",
            )  # fmt: skip
        if there.leaving().put(person, text, file, now):
            there.record().add("sent after leaving", person)


def left_behind(book: Book) -> tuple[Waiting, ...]:
    """List what came from people who have left and nobody has decided about."""
    return tuple(_shown(each) for each in book.store.people().leaving().waiting())


def decided_lately(book: Book, most: int = 50) -> tuple[Waiting, ...]:
    """List what was decided about, the latest first."""
    return tuple(_shown(each) for each in book.store.people().leaving().decided(most))


def take_left_in(book: Book, key: int, now: datetime) -> LeftBehind:
    """Take in what somebody left behind, under their initials; a second time changes nothing.

    Raises
    ------
    UnknownNameError
        If there is none of that number.
    RefusedError
        If it was decided about already, or a file cannot be taken in.
    """
    left = _open(book, key)
    sent = json.loads(left.text)
    with writing_as(left.initials):
        if left.file:
            held = (book.settings.home / _FOLDER / left.file).read_bytes()
            taken = take_file_in(book, held, sent["name"], read_about(sent["about"]))
            if taken.entry is None:
                raise RefusedError("It was not taken in", taken.words)
        elif sent.get("take_back"):
            take_back(book, UUID(sent["id"]))
        else:
            take_in(book, read_sent(sent))
    _decide(book, left, TAKEN_IN, now)
    return left


def leave_out(book: Book, key: int, now: datetime) -> LeftBehind:
    """Leave out what somebody left behind; it stays as it was sent, outside the diary.

    Raises
    ------
    UnknownNameError
        If there is none of that number.
    RefusedError
        If it was decided about already.
    """
    left = _open(book, key)
    _decide(book, left, LEFT_OUT, now)
    return left


def forget_name(book: Book, name: str) -> Person:
    """Take the name of somebody who has left out of the book; initials stay in the diary.

    Raises
    ------
    UnknownNameError
        If there is nobody of that name.
    BadInputError
        If they still have access to a ground.
    """
    there = book.store.people()
    person = there.named(name)
    there.forget_name(person)
    return person


def gone_people(book: Book) -> tuple[Person, ...]:
    """List those who have no access to any ground any more and whose names still stand here."""
    return book.store.people().all_gone()


def _open(book: Book, key: int) -> LeftBehind:
    left = book.store.people().leaving().one(key)
    if left.decided:
        raise RefusedError("Nothing was changed", f"it was {left.decided} before.")
    return left


def _decide(book: Book, left: LeftBehind, decided: str, now: datetime) -> None:
    there = book.store.people()
    with there.together():
        there.leaving().decide(left.key, decided, now)
        there.record().add(f"left behind: {decided}", about=left.initials)


def _shown(left: LeftBehind) -> Waiting:
    sent: dict[str, Any] = json.loads(left.text)
    if left.file:
        about = sent["about"]
        return Waiting(
            left, "picture or voice note", _words(about, ("zone", "plot", "peg", "note"))
        )
    if sent.get("take_back"):
        return Waiting(left, "taking back", (("entry", str(sent["id"])[:8]),))
    typed = sent.get("fields")
    fields = typed if isinstance(typed, dict) else {}
    said = _words(sent, ("zone", "when", "said_on", "who", "note"))
    told = tuple((str(name).replace("_", " "), str(text)) for name, text in fields.items() if text)
    return Waiting(left, str(sent.get("kind", "")), (*said, *told))


def _words(sent: dict[str, Any], names: tuple[str, ...]) -> tuple[tuple[str, str], ...]:
    return tuple((name.replace("_", " "), str(sent[name])) for name in names if sent.get(name))
