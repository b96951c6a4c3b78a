"""Take a parked cell of a plot sheet in, once it is put right."""

from __future__ import annotations

from uuid import uuid4

from swardbook.book.opening import Book
from swardbook.book.plot_records import reader_of
from swardbook.book.plots_parked import PLOT
from swardbook.foundation.errors import BadInputError
from swardbook.handbook.traits import find_trait
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.happenings import PlotReadings
from swardbook.husbandry.parked import Parked


def reading_taken_in(book: Book, old: DiaryEntry, row: Parked, reason: str) -> DiaryEntry:
    """Make the reading that a parked cell is once it was put right; it stands on its own day.

    Parameters
    ----------
    book : Book
        The opened book.
    old : DiaryEntry
        The parked entry.
    row : Parked
        The row, its cells put right.
    reason : str
        Why; kept with the entry.

    Raises
    ------
    BadInputError
        If it is still not right.
    """
    trait = find_trait(row.about["trait"])
    reader = reader_of(book.ground(), old.zone, row.about.get("counter", ""))
    made, told = reader.cell(row.cells.get(PLOT, ""), trait, row.cells[trait.english], row.cells)
    if made.value is None:
        allowed = f"{trait.lowest:g} to {trait.highest:g}, on a plot of the trial"
        raise BadInputError(row.where or trait.english, told, allowed, "Still parked.")
    note = f"{row.about.get('note', '')} Was parked: {row.where}. Put right: {reason}".strip()
    what = PlotReadings(trait.key, trait.unit, row.about.get("occasion", ""), (made,))
    return DiaryEntry(
        id=uuid4(), when=old.when, what=what, zone=old.zone, who=old.who, note=note,
        corrects=old.id, written_on=book.written_on,
    )  # fmt: skip
