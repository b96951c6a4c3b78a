"""Numbers by key: parameters, thresholds and limits, read from ``data/parameters/*.csv``."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib.resources import files

from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.foundation.provenance import Grade, Sourced
from swardbook.foundation.tables import read_csv_table

COLUMNS = ("key", "value", "low", "high", "unit", "grade", "source", "where", "shape", "note")


@cache
def parameters() -> Mapping[str, Sourced]:
    """Read every number, by key.

    Raises
    ------
    BadInputError
        If a key stands twice, a cell is no number, a grade is unknown, or a range does not hold
        its value.
    """
    found: dict[str, Sourced] = {}
    folder = files("swardbook.handbook") / "data" / "parameters"
    for file in sorted(folder.iterdir(), key=lambda entry: entry.name):
        if not file.name.endswith(".csv"):
            continue
        for where, row in read_csv_table(file, COLUMNS):
            if row["key"] in found:
                raise BadInputError(where, row["key"], "a key that stands nowhere else")
            found[row["key"]] = _sourced(where, row)
    return found


def parameter(key: str) -> Sourced:
    """Find one number with all that is known of it.

    Raises
    ------
    UnknownNameError
        If no table has the key.
    """
    try:
        return parameters()[key]
    except KeyError:
        raise UnknownNameError("handbook number", key, parameters()) from None


def value(key: str) -> float:
    """Find the plain value of one number, in the unit its row states."""
    return parameter(key).value


def _sourced(where: str, row: dict[str, str]) -> Sourced:
    try:
        middle = float(row["value"])
        low, high = float(row["low"] or middle), float(row["high"] or middle)
        grade = Grade(row["grade"])
    except ValueError as slip:
        raise BadInputError(where, row, "numbers and one of the five grades", str(slip)) from slip
    if not low <= middle <= high:
        raise BadInputError(where, row, "low <= value <= high")
    text = {name: row[name] for name in ("key", "unit", "source", "where", "note", "shape")}
    return Sourced(value=middle, low=low, high=high, grade=grade, **text)
