"""The sheet of four cards for photographs, as one A4 page that prints black and white."""

from __future__ import annotations

import json
from importlib.resources import files
from typing import Any

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
    return _typeset(format="pdf", timestamp=0)


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
    return _typeset(format="png", ppi=dots_per_inch)


def _typeset(**form: Any) -> bytes:
    import typst

    template = (files("swardbook.figures") / "sheets" / "cards.typ").read_bytes()
    data = {
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
    inputs = {"data": json.dumps(data, sort_keys=True)}
    made: Any = typst.compile(
        template, sys_inputs=inputs, ignore_system_fonts=True, font_paths=[], **form
    )
    page: bytes = made[0] if isinstance(made, list) else made
    return page
