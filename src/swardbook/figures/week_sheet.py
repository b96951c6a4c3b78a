"""Somebody's week on paper: a page a day, lawns in order, with room for the hours it took."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from swardbook.figures.paper import paper_pages, paper_pdf


@dataclass(frozen=True, slots=True)
class LawnRow:
    """One lawn of a day in words.

    Parameters
    ----------
    name, way : str
        Which, and when and how far.
    wash : str
        The wash that comes first; empty for none.
    jobs : tuple of (str, str)
        Mark and words of each job.
    takes : str
        What is taken along for them.
    """

    name: str
    way: str
    wash: str
    jobs: tuple[tuple[str, str], ...]
    takes: str


@dataclass(frozen=True, slots=True)
class SheetDay:
    """One day in words: its date, its length, its lawns, and what to mind."""

    head: str
    about: str
    lawns: tuple[LawnRow, ...]
    mind: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WeekSheet:
    """What stands on the sheet.

    Parameters
    ----------
    who : str
        Whose it is.
    days : tuple of SheetDay
        Days out.
    beside : tuple of str
        What fits in no day, and what only waits.
    notes : tuple of str
        What it rests on.
    note : str
        What stands at the foot.
    """

    who: str
    days: tuple[SheetDay, ...]
    beside: tuple[str, ...]
    notes: tuple[str, ...]
    note: str = ""


def week_pdf(sheet: WeekSheet) -> bytes:
    """Set the sheet as a tagged PDF, a page for each day."""
    return paper_pdf("week", _data(sheet))


def week_pages(sheet: WeekSheet, dots_per_inch: float = 100) -> list[bytes]:
    """Set the sheet as pictures of its pages, one PNG each.

    Parameters
    ----------
    sheet : WeekSheet
        What stands on it.
    dots_per_inch : float
        How fine. [in⁻¹]
    """
    return paper_pages("week", _data(sheet), dots_per_inch)


def _data(sheet: WeekSheet) -> dict[str, Any]:
    return {
        "title": f"The week of {sheet.who}",
        "days": [
            {
                "head": day.head, "about": day.about, "mind": list(day.mind),
                "lawns": [
                    {"name": each.name, "way": each.way, "wash": each.wash, "takes": each.takes,
                     "jobs": [list(job) for job in each.jobs]}
                    for each in day.lawns
                ],
            }
            for day in sheet.days
        ],
        "beside": list(sheet.beside), "notes": list(sheet.notes), "note": sheet.note,
    }  # fmt: skip
