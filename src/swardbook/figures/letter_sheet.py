"""The letter on paper: sections, a table of costs, ranges drawn as bars; black on white."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from math import ceil, floor, log10
from typing import Any

from swardbook.figures.paper import paper_pages, paper_pdf


@dataclass(frozen=True, slots=True)
class SheetTable:
    """A table: heads, rows of text, and how it is laid.

    Parameters
    ----------
    heads : tuple of str
        Heads of the columns.
    rows : tuple of tuple of str
        The rows.
    shape : str
        ``money`` sets numbers to the right, in two halves side by side.
    has_total : bool
        Whether the last row adds up the others.
    """

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    shape: str = ""
    has_total: bool = False


@dataclass(frozen=True, slots=True)
class Section:
    """A section: paragraphs, points, a table.

    Parameters
    ----------
    head : str
        Its heading.
    texts, points : tuple of str
        Paragraphs, and points under them.
    table : SheetTable or None
        Its table.
    is_pictured : bool
        Whether the pictures stand in it.
    """

    head: str
    texts: tuple[str, ...] = ()
    points: tuple[str, ...] = ()
    table: SheetTable | None = None
    is_pictured: bool = False

    def said(self, in_words: Callable[[str], str]) -> Section:
        """Put every text of it into other words, such as other units."""
        table = self.table
        if table is not None and table.shape != "money":
            rows = tuple(tuple(in_words(cell) for cell in row) for row in table.rows)
            table = replace(table, rows=rows)
        texts, points = tuple(map(in_words, self.texts)), tuple(map(in_words, self.points))
        return replace(self, texts=texts, points=points, table=table)


@dataclass(frozen=True, slots=True)
class RangeBar:
    """One number with its range, drawn as a bar with a mark.

    Parameters
    ----------
    zone, name : str
        Where, and what it is called there.
    value, low, high : float
        The number and its range. [`unit`]
    is_filled : bool
        A filled mark; else an open one.
    unit : str
        ``%`` or ``plants/m2``.
    words : str
        The same in words.
    """

    zone: str
    name: str
    value: float
    low: float
    high: float
    is_filled: bool
    unit: str
    words: str


@dataclass(frozen=True, slots=True)
class RangePicture:
    """A few numbers under one another on one scale."""

    title: str
    bars: tuple[RangeBar, ...]

    @property
    def alt(self) -> str:
        """The picture in words."""
        told = "; ".join(f"{each.zone}, {each.name}: {each.words}" for each in self.bars)
        return f"{self.title}. {told}."


@dataclass(frozen=True, slots=True)
class LetterSheet:
    """A letter as it is set.

    Parameters
    ----------
    title, covers : str
        What it is, and the days it covers.
    sections : tuple of Section
        Its sections in order.
    pictures : tuple of RangePicture
        Its pictures.
    note : str
        What stands at the foot of each page.
    points : float
        Size of the letters, at least 11. [pt]
    """

    title: str
    covers: str
    sections: tuple[Section, ...]
    pictures: tuple[RangePicture, ...]
    note: str
    points: float = 11.0


def letter_pdf(sheet: LetterSheet) -> bytes:
    """Set a letter as a tagged PDF of A4 pages."""
    return paper_pdf("letter", _data(sheet))


def letter_pages(sheet: LetterSheet, dots_per_inch: float = 100) -> list[bytes]:
    """Set a letter as pictures of its pages, one PNG each.

    Parameters
    ----------
    sheet : LetterSheet
        The letter.
    dots_per_inch : float
        How fine. [in⁻¹]
    """
    return paper_pages("letter", _data(sheet), dots_per_inch)


def pages_of(pdf: bytes) -> int:
    """Read how many pages a PDF of the typesetter has, from its own account of itself."""
    found = re.search(rb"<xmpTPg:NPages>(\d+)</xmpTPg:NPages>", pdf)
    return int(found[1]) if found else 0


def _data(sheet: LetterSheet) -> dict[str, Any]:
    return {
        "title": sheet.title, "covers": sheet.covers, "note": sheet.note,
        "points": max(sheet.points, 11.0),
        "sections": [_section(each) for each in sheet.sections],
        "pictures": [_picture(each) for each in sheet.pictures],
    }  # fmt: skip


def _section(each: Section) -> dict[str, Any]:
    table = each.table
    return {
        "head": each.head, "texts": list(each.texts), "points": list(each.points),
        "pictured": each.is_pictured,
        "table": None if table is None else {
            "heads": list(table.heads), "rows": [list(row) for row in table.rows],
            "money": table.shape == "money", "total": table.has_total,
        },
    }  # fmt: skip


def _picture(each: RangePicture) -> dict[str, Any]:
    step = _step(max(bar.high for bar in each.bars))
    end = step * max(ceil(max(bar.high for bar in each.bars) / step), 1)
    marks = [step * n for n in range(round(end / step) + 1)]
    return {
        "title": each.title, "alt": each.alt, "end": end,
        "marks": [{"at": mark, "told": f"{mark:g}"} for mark in marks],
        "bars": [
            {"zone": bar.zone if not n or each.bars[n - 1].zone != bar.zone else "",
             "name": bar.name, "value": bar.value, "low": bar.low, "high": bar.high,
             "filled": bar.is_filled}
            for n, bar in enumerate(each.bars)
        ],
    }  # fmt: skip


def _step(most: float) -> float:
    """Choose a round step that parts a scale into about four."""
    if most <= 0:
        return 1.0
    raw = most / 4
    power = 10.0 ** floor(log10(raw))
    return next((power * n for n in (1, 2, 5) if power * n >= raw), power * 10)
