"""The rota on paper: strips with plants and hours, and boxes to tally in; one A4 page."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from swardbook.figures.paper import paper_pages, paper_pdf


@dataclass(frozen=True, slots=True)
class StripRow:
    """One strip in words: where, area, plants a square metre, plants in all, hours."""

    where: str
    area: str
    per_m2: str
    plants: str
    hours: str


@dataclass(frozen=True, slots=True)
class RotaSheet:
    """What stands on the sheet.

    Parameters
    ----------
    zone, about : str
        The zone, and what the strips rest on.
    rows : tuple of StripRow
        The strips.
    mind : tuple of str
        Cautions of the work.
    note : str
        What stands at the foot.
    """

    zone: str
    about: str
    rows: tuple[StripRow, ...]
    mind: tuple[str, ...]
    note: str = ""


def rota_pdf(sheet: RotaSheet) -> bytes:
    """Set the sheet as a tagged PDF of one A4 page."""
    return paper_pdf("rota", _data(sheet))


def rota_pages(sheet: RotaSheet, dots_per_inch: float = 100) -> list[bytes]:
    """Set the sheet as pictures of its pages, one PNG each.

    Parameters
    ----------
    sheet : RotaSheet
        What stands on it.
    dots_per_inch : float
        How fine. [in⁻¹]
    """
    return paper_pages("rota", _data(sheet), dots_per_inch)


def _data(sheet: RotaSheet) -> dict[str, Any]:
    return {
        "title": f"Pulling rota: {sheet.zone}", "zone": sheet.zone, "about": sheet.about,
        "rows": [[r.where, r.area, r.per_m2, r.plants, r.hours] for r in sheet.rows],
        "mind": list(sheet.mind), "note": sheet.note,
    }  # fmt: skip
