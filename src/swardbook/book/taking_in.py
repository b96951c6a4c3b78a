"""Put a parked row right and take it in; the row as it came is kept beside it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from uuid import UUID, uuid4

from swardbook.book.count_sheet import choose_frame, read_row
from swardbook.book.counts import count_doubts
from swardbook.book.diary import find, latest, read_past
from swardbook.book.fields import read_money
from swardbook.book.history_in import taken_in
from swardbook.book.opening import Book
from swardbook.book.parking import changed_row
from swardbook.book.plots_parked import MEANT
from swardbook.book.plots_taken_in import reading_taken_in
from swardbook.feeds.history_sheet import OldRow
from swardbook.foundation.errors import BadInputError
from swardbook.foundation.quantities import read_number
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.doubt import Doubt
from swardbook.husbandry.happenings import Count
from swardbook.husbandry.looks import doubts
from swardbook.husbandry.parked import Parked


def take_in(
    book: Book, entry_id: str | UUID, changes: Mapping[str, str], reason: str
) -> tuple[DiaryEntry, tuple[Doubt, ...]]:
    """Put a parked row right and take it in; the row as it came is kept beside it.

    Parameters
    ----------
    book : Book
        The opened book.
    entry_id : str or UUID
        The parked row, or the beginning of its id.
    changes : mapping of str to str
        Columns and their right values; also when, zone, counter, method and looked.
    reason : str
        Why; kept with the entry.

    Returns
    -------
    tuple
        The entry as kept, and what looks odd about it.

    Raises
    ------
    BadInputError
        If it is no parked row, no reason is given, or the row is still not right.
    UnknownNameError
        If there is no such entry or column.
    """
    if not reason.strip():
        raise BadInputError("--reason", reason, "what was wrong, in your own words")
    old = latest(book, find(book, entry_id))
    if not isinstance(old.what, Parked):
        raise BadInputError(
            "the parked row", str(entry_id), "a row that is parked",
            f"It is a {old.what.kind}: `swardbook put-right {str(old.id)[:8]}` corrects it.",
        )  # fmt: skip
    row = changed_row(old.what, changes)
    if row.meant == "history":
        came = OldRow(row.line or 0, row.about.get("as_it_came", ""), row.cells)
        fresh = taken_in(book, old, came, row.source, reason)
        return book.store.add([fresh])[0], ()
    if row.meant == MEANT:
        return book.store.add([reading_taken_in(book, old, row, reason)])[0], ()
    return _count_in(book, old, row, reason)


def _count_in(
    book: Book, old: DiaryEntry, row: Parked, reason: str
) -> tuple[DiaryEntry, tuple[Doubt, ...]]:
    about, ground = row.about, book.store.ground()
    looked = read_number(about.get("looked", "")) or 0
    points = about.get("method", "") == "points"
    frame = choose_frame(about.get("method", ""), int(looked) if points else None, looked)
    read = read_row(row, frame, about.get("counter", ""))
    if read.slip is not None:
        slip = read.slip
        raise BadInputError(slip.column, slip.read, slip.allowed, f"{slip.likely} Still parked.")
    if read.place is None:
        raise BadInputError(row.where, "nothing", "at least one kind counted")
    when = read_past(about["when"], book.today) if about.get("when") else old.when
    named = about.get("zone", old.zone)
    zone = ground.zone(named).name if named else ""
    asked = count_doubts(book, zone, when, (read.place,))
    note = f"{about.get('note', '')} Was parked: {row.where}. Put right: {reason}".strip()
    fresh = DiaryEntry(
        id=uuid4(), when=when, what=Count((read.place,), about.get("occasion", "")), zone=zone,
        who=old.who, hours=read_number(about.get("hours", "")),
        money=read_money(about.get("money", "")), note=note, corrects=old.id,
        written_on=book.written_on,
    )  # fmt: skip
    told = [each.text for each in (*asked, *doubts(fresh, ground))]
    return book.store.add([replace(fresh, needs_a_look=" ".join(told))])[0], asked
