"""Rows that could not be taken: kept whole and listed; nothing is lost."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from uuid import UUID, uuid5

from swardbook.book.count_sheet import ABOUT, COLUMNS, read_kind
from swardbook.book.opening import Book
from swardbook.feeds.history_columns import FOUND, NAMES
from swardbook.foundation.dates import When
from swardbook.foundation.errors import UnknownNameError
from swardbook.husbandry.codec import to_plain
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.parked import Parked

_OURS = UUID("f2a4c1de-1d36-4a53-9f0e-0b6f6a1f7a55")
"""Namespace of the ids made here, so that the same row parked twice is kept once."""
_CARRIED = ("hours", "money", "note")


def park(
    book: Book, rows: Sequence[Parked], when: When, zone: str, who: str
) -> tuple[DiaryEntry, ...]:
    """Keep rows that could not be taken; the same row parked again is kept once.

    Parameters
    ----------
    book : Book
        The opened book.
    rows : sequence of Parked
        The rows, each with what is wrong.
    when : When
        The day they are for, or that of parking where it is not known.
    zone, who : str
        As said beside the rows.
    """
    entries = [
        DiaryEntry(
            id=uuid5(_OURS, repr((to_plain(row), zone.casefold()))), when=when, what=row,
            zone=zone, who=who, written_on=book.written_on, needs_a_look=row.words,
        )
        for row in rows
    ]  # fmt: skip
    return book.store.add(entries)


def parked_rows(book: Book, zone: str = "") -> tuple[DiaryEntry, ...]:
    """Give the rows that still wait, in the order of days.

    Raises
    ------
    UnknownNameError
        If there is no such zone.
    """
    ground = book.ground()
    wanted = ground.zone(zone).name if zone else ""
    return tuple(
        entry
        for entry in ground.diary
        if isinstance(entry.what, Parked) and (not wanted or entry.zone == wanted)
    )


def ways_out(entry: DiaryEntry) -> tuple[str, ...]:
    """Give the commands that put a parked row right, or leave it out for good."""
    short = str(entry.id)[:8]
    row = entry.what
    column = row.column if isinstance(row, Parked) and row.column in row.cells else ""
    if isinstance(row, Parked) and not column:
        own = "date" if row.meant == "history" else "when"
        kinds = next(iter(_kinds_of(row)), own)
        column = own if row.column in {"when", "date"} else kinds
        column = row.column if row.column in {*NAMES, *COLUMNS} else column
        column = "looked" if row.column == "the frame" else column
    quoted = f"'{column}=...'"
    return (
        f"swardbook parked take-in {short} --set {quoted} --reason '...'",
        f"swardbook put-right {short} --withdraw --reason '...'",
    )


def changed_row(row: Parked, changes: Mapping[str, str]) -> Parked:
    """Give a parked row with some cells, or what was said beside it, put right.

    Raises
    ------
    UnknownNameError
        If there is no such column.
    """
    cells, about = dict(row.cells), dict(row.about)
    for name, text in changes.items():
        plain = " ".join(name.replace("_", " ").split()).casefold()
        column = next((each for each in cells if each.casefold() in {plain, name.casefold()}), "")
        if column:
            cells[column] = text
        elif name in (*ABOUT, *_CARRIED):
            about[name] = text
        elif row.meant == "history" and (name in NAMES or name.startswith(FOUND)):
            cells[name] = text
        elif row.meant == "count":
            cells[name if name in {"points", "area_m2", "placement"} else read_kind(plain)] = text
        else:
            raise UnknownNameError("column of the row", name, [*cells, *NAMES])
    over = [name for name in cells if name.startswith("cell ") and name == row.column]
    for name in over:
        cells.pop(name)
    return replace(row, column="", read="", allowed="", likely="", cells=cells, about=about)


def _kinds_of(row: Parked) -> list[str]:
    if row.meant == "history":
        return [name for name in row.cells if name.startswith(FOUND)]
    return [name for name in row.cells if name not in COLUMNS]
