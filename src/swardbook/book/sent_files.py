"""A picture or voice note as a phone sends it: kept once, and never refused for what was typed."""

from __future__ import annotations

from dataclasses import replace
from typing import Any
from uuid import UUID

from swardbook.book.opening import Book, privately
from swardbook.book.pictures_in import AboutSent, State, TakenIn, take_in
from swardbook.foundation.errors import BadInputError, UnknownNameError

_MOST = 4_000


def read_about(plain: object) -> AboutSent:
    """Read what was said of a file from what came over the wire.

    Raises
    ------
    BadInputError
        If it is no such object, or has no id to keep the file by.
    """
    if not isinstance(plain, dict):
        raise BadInputError("what is said of the file", type(plain).__name__, "an object")
    made = _id_of(plain.get("id"), "the id")
    if made is None:
        raise BadInputError("the id", "nothing", "the id the phone gave it")
    names = ("zone", "plot", "peg", "when", "who", "note")
    texts: dict[str, Any] = {name: str(plain.get(name) or "")[:_MOST] for name in names}
    return AboutSent(
        id=made, of=_id_of(plain.get("of"), "the entry it belongs to"),
        measure=plain.get("measure") is True, private=plain.get("private") is True, **texts,
    )  # fmt: skip


def take_file_in(book: Book, held: bytes, name: str, about: AboutSent) -> TakenIn:
    """Keep a file that a phone sent; a place or day that the book does not know goes in the note.

    Parameters
    ----------
    book : Book
        The opened book.
    held : bytes
        The file.
    name : str
        Its name, for the message.
    about : AboutSent
        What was said of it, with its id.

    Returns
    -------
    TakenIn
        What became of it; only a file that is no picture and no voice note is refused.

    Raises
    ------
    RefusedError
        If the libraries that read pictures are not installed.
    StorageError
        If the disk would not take it; the phone keeps it and sends it again.
    """
    for entry in book.store.whole_diary():
        if entry.id == about.id:
            return TakenIn(State.THERE, entry=entry)
    with privately(about.private):
        return _taken_in(book, held, name, about)


def _taken_in(book: Book, held: bytes, name: str, about: AboutSent) -> TakenIn:
    try:
        taken = take_in(book, held, name, about)
    except (BadInputError, UnknownNameError) as refusal:
        taken = take_in(book, held, name, _without_places(about, str(refusal)))
    if taken.state is State.ASKED:  # a day is asked for where a plot is read: keep it as it is
        words = f"It was to be read for cover and colour: {taken.words}"
        taken = take_in(book, held, name, replace(_without_places(about, words), zone=about.zone))
    return taken


def _without_places(about: AboutSent, words: str) -> AboutSent:
    said = {"zone": about.zone, "plot": about.plot, "peg": about.peg, "when": about.when}
    typed = ", ".join(f"{name} {text!r}" for name, text in said.items() if text)
    note = f"{about.note} Sent with {typed or 'no place'}. Not understood: {words}".strip()
    return replace(about, zone="", plot="", peg="", when="", measure=False, note=note)


def _id_of(said: object, what: str) -> UUID | None:
    if said in (None, ""):
        return None
    try:
        return UUID(str(said))
    except ValueError:
        raise BadInputError(what, str(said), "the id the phone gave it") from None
