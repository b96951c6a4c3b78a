"""The sheet of four cards for photographs, as one A4 page that prints black and white."""

from __future__ import annotations

from typing import Any

from swardbook.figures.paper import paper_pages, paper_pdf
from swardbook.photos.card_shape import (
    BITS,
    CARD_MM,
    CELLS,
    LETTERS,
    MARKER_AT_MM,
    MARKER_MM,
    PATCHES,
)


def card_sheet_pdf() -> bytes:
    """Set the sheet of cards; it is the same, to the byte, each time.

    Returns
    -------
    bytes
        A PDF of one A4 page.
    """
    return paper_pdf("cards", _data())


def card_sheet_page(dots_per_inch: float = 100) -> bytes:
    """Set the sheet of cards as a picture, to be looked at.

    Parameters
    ----------
    dots_per_inch : float
        How fine. [in⁻¹]

    Returns
    -------
    bytes
        A PNG.
    """
    return paper_pages("cards", _data(), dots_per_inch)[0]


def _data() -> dict[str, Any]:
    return {
        "title": "Cards for photographs of a plot",
        "letters": list(LETTERS),
        "bits": [list(rows) for rows in BITS],
        "card": list(CARD_MM),
        "marker_at": list(MARKER_AT_MM),
        "cell": MARKER_MM / CELLS,
        "marker": MARKER_MM,
        "patches": [
            {"name": each.name, "x": each.x_mm, "y": each.y_mm, "wide": each.wide_mm,
             "high": each.high_mm, "grey": round(100 * each.grey)}
            for each in PATCHES
        ],
    }  # fmt: skip
