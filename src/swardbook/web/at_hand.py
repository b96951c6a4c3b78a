"""What pages ask of the book again and again: read once while it stands as it is."""

from __future__ import annotations

from swardbook.book.opening import Book
from swardbook.book.units import shown_in
from swardbook.foundation.units import Units
from swardbook.husbandry.ground import Ground
from swardbook.web.remembering import remembered


def the_ground() -> Ground:
    """Give the ground that is asked for, as it stands on the book's today."""
    return remembered("ground", lambda book: book.ground())


def zone_names() -> list[str]:
    """Give the names of its zones."""
    return [zone.name for zone in the_ground().zones]


def short_name() -> str:
    """Give its short name, which it has since its site was written."""
    return remembered("short name", lambda book: book.store.slug())


def the_units() -> Units:
    """Give what quantities are shown in."""
    return remembered("units", _units)


def _units(book: Book) -> Units:
    return shown_in(book.settings, book)
