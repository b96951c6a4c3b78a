"""The waterproof page on paper: one A5 sheet, tallies on the front, the plants on the back."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from swardbook.figures.paper import paper_pages, paper_pdf


@dataclass(frozen=True, slots=True)
class PlaceRow:
    """A place to count: its name, how to find it, what was found there last."""

    name: str
    find: str
    last: str


@dataclass(frozen=True, slots=True)
class PlantSigns:
    """A plant of the key: its names, whether it is sown or a weed, and its signs."""

    english: str
    latin: str
    kind: str
    signs: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class WaterproofSheet:
    """What stands on the sheet.

    Parameters
    ----------
    zone, about : str
        The zone, and a line about it.
    facts : tuple of str
        Today's facts.
    places : tuple of PlaceRow
        Pegs and honest squares.
    last_day : str
        Day of the last count; empty without one.
    kinds : tuple of str
        Kinds with a tally box at each place.
    plants : tuple of PlantSigns
        The key on the back.
    note : str
        What stands at the foot.
    """

    zone: str
    about: str
    facts: tuple[str, ...]
    places: tuple[PlaceRow, ...]
    last_day: str
    kinds: tuple[str, ...]
    plants: tuple[PlantSigns, ...]
    note: str = ""


def waterproof_pdf(sheet: WaterproofSheet) -> bytes:
    """Set the sheet as a tagged PDF of two A5 sides."""
    return paper_pdf("waterproof", _data(sheet))


def waterproof_pages(sheet: WaterproofSheet, dots_per_inch: float = 100) -> list[bytes]:
    """Set the sheet as pictures of its sides, one PNG each.

    Parameters
    ----------
    sheet : WaterproofSheet
        What stands on it.
    dots_per_inch : float
        How fine. [in⁻¹]
    """
    return paper_pages("waterproof", _data(sheet), dots_per_inch)


def _data(sheet: WaterproofSheet) -> dict[str, Any]:
    return {
        "title": f"Waterproof page: {sheet.zone}", "zone": sheet.zone, "about": sheet.about,
        "facts": list(sheet.facts), "last": sheet.last_day, "note": sheet.note,
        "kinds": list(sheet.kinds),
        "places": [[each.name, each.find, each.last] for each in sheet.places],
        "plants": [
            {"english": each.english, "latin": each.latin, "kind": each.kind,
             "signs": [list(sign) for sign in each.signs]}
            for each in sheet.plants
        ],
    }  # fmt: skip
