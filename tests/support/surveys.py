"""Surveys worked out apart from this code, and the numbers they gave."""

from __future__ import annotations

import csv
import json
import os
from functools import cache
from pathlib import Path
from typing import Any

import pytest

FOLDER = Path(__file__).parents[1] / "data" / "surveys"


@cache
def _cases() -> dict[str, Any]:
    found: dict[str, Any] = json.loads((FOLDER / "reference.json").read_text(encoding="utf-8"))
    return found


def expected(case: str) -> Any:
    """Give what is expected of one case."""
    return _cases()[case]["expected"]


def data_of(case: str) -> Any:
    """Give the counts that stand in the case itself."""
    return _cases()[case]["data"]


def tolerance(case: str) -> dict[str, float]:
    """Give the tolerance of one case."""
    found: dict[str, float] = _cases()[case]["tolerance"]
    return found


def outside_rows(case: str) -> list[dict[str, str]]:
    """Read a table that only other packages ship, from the folder SWARDBOOK_REFERENCE names."""
    name, folder = data_of(case), os.environ.get("SWARDBOOK_REFERENCE", "")
    if not folder or not (Path(folder) / name).exists():
        pytest.skip(f"{name} is not kept here; SWARDBOOK_REFERENCE names no folder with it")
    with (Path(folder) / name).open(encoding="utf-8") as file:
        return list(csv.DictReader(file))
