"""What was found where, as occurrence records that collections of such records read."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator

from swardbook.book.opening import Book, for_others
from swardbook.foundation.errors import UnknownNameError
from swardbook.handbook.species import find_species
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.happenings import Count, WalkNoneFound
from swardbook.observations.counts import Method, PlaceCount

COLUMNS = (
    "occurrenceID", "basisOfRecord", "occurrenceStatus", "scientificName", "vernacularName",
    "eventDate", "locality", "verbatimLatitude", "organismQuantity",
    "organismQuantityType", "sampleSizeValue", "sampleSizeUnit", "samplingProtocol", "recordedBy",
)  # fmt: skip
"""Terms of Darwin Core (Biodiversity Information Standards, 2009 and later)."""
_HOW = {
    Method.POINTS: ("points hit", "points", "points of a frame"),
    Method.PLANTS: ("individuals", "square metre", "plants in a frame"),
    Method.BY_EYE: ("percent cover", "percent", "cover by eye"),
}
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
"""What a spreadsheet would take for a formula at the beginning of a cell."""


@for_others()
def finds_csv(book: Book) -> str:
    """Write every count of a named plant as a row, those that were looked for and absent too.

    Parameters
    ----------
    book : Book
        The opened book.

    Returns
    -------
    str
        Comma-separated text with the terms of Darwin Core as heads. Only initials stand for
        people; the place is the site's latitude, which says little on purpose.

    References
    ----------
    Darwin Core, Biodiversity Information Standards (TDWG).
    """
    held = io.StringIO()
    writer = csv.writer(held, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for row in _rows(book):
        writer.writerow([_harmless(cell) for cell in row])
    return held.getvalue()


def _rows(book: Book) -> Iterator[tuple[str, ...]]:
    ground = book.ground()
    where = f"{ground.site.latitude:.1f}"
    for entry in ground.diary:
        if isinstance(entry.what, Count):
            for n, place in enumerate(entry.what.places):
                yield from _of_place(entry, place, n, where)
        elif isinstance(entry.what, WalkNoneFound) and (named := _named(entry.what.species)):
            area = entry.what.area_m2
            yield _row(
                entry, f"{entry.id}", named, 0.0, entry.zone, where,
                ("individuals", "square metre", "walk"), "" if area is None else f"{area:g}", "",
            )  # fmt: skip


def _of_place(
    entry: DiaryEntry, place: PlaceCount, number: int, where: str
) -> Iterator[tuple[str, ...]]:
    for kind, found in place.found.items():
        if (named := _named(kind)) is not None:
            locality = f"{entry.zone}, {place.place}".strip(", ")
            yield _row(
                entry, f"{entry.id}-{number}-{named[0].replace(' ', '-')}", named, found, locality,
                where, _HOW[place.method], f"{place.looked:g}", place.counter,
            )  # fmt: skip


def _row(
    entry: DiaryEntry, mark: str, named: tuple[str, str], found: float, locality: str, where: str,
    how: tuple[str, str, str], looked: str, who: str,
) -> tuple[str, ...]:  # fmt: skip
    first, last = entry.when.first.isoformat(), entry.when.last.isoformat()
    return (
        mark, "HumanObservation", "present" if found > 0 else "absent", *named,
        first if first == last else f"{first}/{last}", locality, where,
        f"{found:g}", how[0], looked, how[1] if looked else "", how[2], who or entry.who,
    )  # fmt: skip


def _named(kind: str) -> tuple[str, str] | None:
    """Give the Latin and the English name; none for bare ground, moss and what was sown."""
    try:
        species = find_species(kind)
    except UnknownNameError:
        return None
    return species.latin, species.english


def _harmless(cell: str) -> str:
    """Keep a spreadsheet from taking a text for a formula; numbers stay as they are."""
    is_number = cell.removeprefix("-").replace(".", "", 1).isdigit()
    return f"'{cell}" if cell.startswith(_FORMULA) and not is_number else cell
