"""The answers a book has kept: what each is used for, and whether it still holds."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from swardbook.book.opening import Book
from swardbook.book.plan import situations
from swardbook.planning.kept import Kept, KeptState, kept_answers, kept_words


@dataclass(frozen=True, slots=True)
class KeptRow:
    """One kept answer as it stands today.

    Parameters
    ----------
    about : str
        The question.
    zone : str
        The zone; empty for the whole site.
    day : date
        The day it was kept for.
    entry : str
        Id of the diary entry.
    state : str
        ``in use``, ``aged``, ``past`` or ``done``.
    words : str
        What it says to the plan today, or why it no longer holds.
    used_for : str
        What it is used for.
    again : str
        The command that works it out again.
    changed : tuple of str
        Facts it rests on that changed since.
    """

    about: str
    zone: str
    day: date
    entry: str
    state: str
    words: str
    used_for: str
    again: str
    changed: tuple[str, ...]


def kept_in(book: Book, zone: str = "") -> tuple[KeptRow, ...]:
    """List the last kept answer to each question, zone by zone, the site's own once.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        Only this zone's, and the whole site's; empty for all.

    Raises
    ------
    UnknownNameError
        If there is no such zone.
    """
    if not book.ground().zones:
        return ()
    found: dict[str, KeptRow] = {}
    for sit in situations(book, zone):
        for kept in kept_answers(sit):
            told = f"{kept.ended}." if kept.ended else kept_words(sit, kept)
            found.setdefault(str(kept.entry.id), _row(kept, told))
    return tuple(found.values())


def aged_in(book: Book, zone: str = "") -> tuple[KeptRow, ...]:
    """List the kept answers whose facts have changed since."""
    return tuple(each for each in kept_in(book, zone) if each.state == KeptState.AGED.value)


def _row(kept: Kept, words: str) -> KeptRow:
    return KeptRow(
        kept.what.about, kept.entry.zone, kept.day, str(kept.entry.id), kept.state.value,
        f"{words[0].upper()}{words[1:]}", kept.question.used_for, kept.again, kept.changed,
    )  # fmt: skip
