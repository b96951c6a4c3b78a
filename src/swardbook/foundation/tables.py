"""Read a data table that ships with the package; errors name file and line."""

from __future__ import annotations

import csv
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from importlib.resources.abc import Traversable
from typing import Any

from swardbook.foundation.errors import BadInputError


def read_csv_table(
    file: Traversable, columns: Sequence[str]
) -> Iterator[tuple[str, dict[str, str]]]:
    """Yield each row of a CSV table with the place it stands.

    Parameters
    ----------
    file : Traversable
        The table; its first line names the columns, lines that begin with ``#`` are remarks.
    columns : sequence of str
        The columns it must have, in any order.

    Yields
    ------
    tuple of str and dict
        ``file:line`` and the row, each cell stripped.

    Raises
    ------
    BadInputError
        If a column is missing or a row has too many or too few cells.
    """
    with file.open(encoding="utf-8") as handle:
        lines = [(n, line) for n, line in enumerate(handle, 1) if line.strip() and line[0] != "#"]
    reader = csv.reader(line for _, line in lines)
    header = next(reader)
    if set(header) != set(columns):
        raise BadInputError(f"the heading of {file.name}", header, f"the columns {list(columns)}")
    for cells, (number, _) in zip(reader, lines[1:], strict=True):
        where = f"{file.name}:{number}"
        if len(cells) != len(header):
            raise BadInputError(where, cells, f"{len(header)} cells")
        yield where, dict(zip(header, (cell.strip() for cell in cells), strict=True))


def read_toml_table(file: Traversable) -> Mapping[str, Any]:
    """Read a TOML file into plain values.

    Raises
    ------
    BadInputError
        If it is no TOML; the message carries the line.
    """
    try:
        return tomllib.loads(file.read_text(encoding="utf-8"))
    except tomllib.TOMLDecodeError as slip:
        raise BadInputError(file.name, str(slip), "a TOML table") from slip
