"""Check that all that is kept is what was written."""

from __future__ import annotations

from dataclasses import dataclass

from swardbook.book.opening import Book
from swardbook.records.chain import Damage

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


def check_book(book: Book) -> Checked:
    """Recompute the checksum of every entry, of the ground and of the weather.

    Raises
    ------
    DamagedBookError
        If the file cannot be read at all.
    """
    return Checked(len(book.store.chain()), book.store.check())
