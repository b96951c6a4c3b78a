"""Check that all that is kept is what was written."""

from __future__ import annotations

from dataclasses import dataclass

from swardbook.book.opening import Book
from swardbook.foundation.errors import DamagedBookError
from swardbook.records.chain import Damage
from swardbook.records.damaged import remember_damage

REMEDY = (
    "Nothing was changed. Keep a copy of the book; then bring back your last good copy, or write"
    " this one out as it is with `swardbook export --with-damage`."
)


@dataclass(frozen=True, slots=True)
class Checked:
    """What a check of the whole book found.

    Parameters
    ----------
    entries : int
        Entries in the diary, corrected ones too.
    damage : tuple of Damage
        Each place that is not what was written; empty if all is whole.
    """

    entries: int
    damage: tuple[Damage, ...]


def check_book(book: Book, *, pages: bool = True) -> Checked:
    """Recompute the checksum of every entry, of the ground and of the weather.

    Where something is damaged, the book is only read from then on, here and wherever it is opened.

    Parameters
    ----------
    book : Book
        The opened book.
    pages : bool
        Whether to go through the file's pages too; once is enough for all its grounds.

    Raises
    ------
    DamagedBookError
        If the file cannot be read at all.
    """
    damage = book.store.check(pages=pages)
    if not book.settings.database and (damage or len(book.store.grounds()) == 1):
        remember_damage(book.settings.book_file, damage)
    if damage and not book.store.damage:
        book.store.damage = f"{damage[0].where}: {damage[0].found}"
    return Checked(_entries(book), damage)


def _entries(book: Book) -> int:
    """Count what can be read."""
    try:
        return len(book.store.chain())
    except DamagedBookError:
        return 0


def only_read(book: Book) -> str:
    """Say that an opened book is only read, since it is damaged; empty where it is whole."""
    if not book.store.damage:
        return ""
    return f"This book is damaged, so it is only read and nothing is written: {book.store.damage}."
