"""Rows and cells of a CSV file; what cannot be one is refused by its line."""

from __future__ import annotations

import csv
from collections.abc import Iterable

from swardbook.foundation.errors import BadInputError


def read_rows(lines: Iterable[str], delimiter: str, name: str) -> list[list[str]]:
    """Read rows.

    Parameters
    ----------
    lines : iterable of str
        Lines of a file.
    delimiter : str
        What stands between cells.
    name : str
        The file, for the message.

    Raises
    ------
    BadInputError
        If a cell is longer than any cell can be, or a quote is not closed.
    """
    reader = csv.reader(lines, delimiter=delimiter)
    try:
        return list(reader)
    except csv.Error as slip:
        place = f"line {reader.line_num} of {name}"
        raise BadInputError(place, str(slip), "a CSV file", "A quote that is not closed?") from slip


def cells_of(line: str, delimiter: str) -> list[str]:
    """Read one line's cells; none where it is no line of a CSV file."""
    try:
        return next(csv.reader([line], delimiter=delimiter), [])
    except csv.Error:  # a cell too long to be one
        return []
