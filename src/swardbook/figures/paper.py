"""Set a sheet of paper: one call for all of them, so that all are tagged, titled and repeatable.

Every PDF is made to PDF/UA-1 (ISO 14289-1), with the fonts that the typesetter carries and no clock
read: the same facts give the same bytes.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from importlib.resources import files
from typing import Any

COMMON = "common.typ"


def paper_pdf(sheet: str, data: Mapping[str, Any]) -> bytes:
    """Set a sheet as a tagged PDF.

    Parameters
    ----------
    sheet : str
        Name of the sheet, without its ending.
    data : mapping of str
        What stands on it: text, numbers, lists.
    """
    import typst

    made: Any = typst.compile(
        _source(sheet), sys_inputs=_inputs(data), format="pdf", pdf_standards="ua-1",
        ignore_system_fonts=True, font_paths=[], timestamp=0,
    )  # fmt: skip
    whole: bytes = made[0] if isinstance(made, list) else made
    return whole


def paper_pages(sheet: str, data: Mapping[str, Any], dots_per_inch: float = 100) -> list[bytes]:
    """Set a sheet as pictures of its pages, to be looked at; one PNG a page.

    Parameters
    ----------
    sheet : str
        Name of the sheet, without its ending.
    data : mapping of str
        What stands on it.
    dots_per_inch : float
        How fine. [in⁻¹]
    """
    import typst

    made: Any = typst.compile(
        _source(sheet), sys_inputs=_inputs(data), format="png", ppi=dots_per_inch,
        ignore_system_fonts=True, font_paths=[],
    )  # fmt: skip
    pages: list[bytes] = made if isinstance(made, list) else [made]
    return pages


def _source(sheet: str) -> bytes:
    """Put what all sheets share before the sheet: text alone cannot include another file."""
    folder = files("swardbook.figures") / "sheets"
    return b"\n".join((folder / name).read_bytes() for name in (COMMON, f"{sheet}.typ"))


def _inputs(data: Mapping[str, Any]) -> dict[str, str]:
    return {"data": json.dumps(data, ensure_ascii=False, sort_keys=True)}
