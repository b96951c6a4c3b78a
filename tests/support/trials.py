"""Trials printed in the literature, and what two programs that agreed made of them."""

from __future__ import annotations

import csv
import json
import os
from collections.abc import Callable, Sequence
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from swardbook.trials.plots import Array, Factor, PlotTable

FOLDER = Path(__file__).parents[1] / "data" / "trials"
Row = dict[str, str]


@cache
def reference() -> dict[str, Any]:
    """Read what is expected of each case, with its tolerance and its judges."""
    found: dict[str, Any] = json.loads((FOLDER / "reference.json").read_text(encoding="utf-8"))
    return found


def expected(case: str) -> Any:
    """Give what is expected of one case."""
    return reference()[case]["expected"]


def rows_of(name: str) -> list[Row]:
    """Read a table that is kept with the tests."""
    with (FOLDER / name).open(encoding="utf-8") as file:
        return list(csv.DictReader(file))


def outside_rows(name: str) -> list[Row]:
    """Read a table that only other packages ship, from the folder SWARDBOOK_REFERENCE names."""
    folder = os.environ.get("SWARDBOOK_REFERENCE", "")
    if not folder or not (Path(folder) / name).exists():
        pytest.skip(f"{name} is not kept here; SWARDBOOK_REFERENCE names no folder with it")
    with (Path(folder) / name).open(encoding="utf-8") as file:
        return list(csv.DictReader(file))


def column(rows: Sequence[Row], value: Callable[[Row], float]) -> Array:
    """Give a figure of each row."""
    return np.array([value(row) for row in rows])


def factor(rows: Sequence[Row], name: str) -> Factor:
    """Code one column."""
    return Factor.of(name, [row[name] for row in rows])


def table_of(
    rows: Sequence[Row], value: Callable[[Row], float], entry: str, block: str = ""
) -> PlotTable:
    """Make a table of plots."""
    return PlotTable(
        tuple(str(number) for number in range(len(rows))),
        factor(rows, entry),
        column(rows, value),
        factor(rows, block) if block else None,
    )


def immer() -> PlotTable:
    """Barley of Immer, Hayes and Powers 1934, mean of two years."""
    return table_of(
        rows_of("immer.csv"), lambda row: (float(row["Y1"]) + float(row["Y2"])) / 2, "Var", "Loc"
    )


def strawberry() -> PlotTable:
    """Strawberries of Mead, Curnow and Hasted."""
    return table_of(
        rows_of("strawberry_yield.csv"), lambda row: float(row["yield"]), "gen", "block"
    )
