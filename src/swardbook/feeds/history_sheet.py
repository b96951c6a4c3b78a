"""Old spreadsheets of work, saved as CSV: every row by what its cells mean."""

from __future__ import annotations

import csv
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from swardbook.feeds.csv_rows import cells_of
from swardbook.feeds.history_columns import (
    MEASURED,
    KindOf,
    OldColumn,
    is_heading,
    read_headings,
)
from swardbook.feeds.history_dates import DITTO, settle_dates
from swardbook.foundation.errors import BadInputError
from swardbook.foundation.quantities import known_unit

HEADING_WITHIN = 20
"""Lines looked through for the heading; a title may stand above it."""


@dataclass(frozen=True, slots=True)
class OldRow:
    """One row of an old spreadsheet or one line of a notebook.

    Parameters
    ----------
    line : int
        Line of the file.
    as_it_came : str
        The line.
    said : mapping of str to str
        What was said, by meaning; a number carries the unit of its heading.
    guessed : tuple of str
        What was filled in or settled, in words.
    left : mapping of str to str
        Cells under headings that mean nothing here, by heading.
    """

    line: int
    as_it_came: str
    said: Mapping[str, str]
    guessed: tuple[str, ...] = ()
    left: Mapping[str, str] | None = None


@dataclass(frozen=True, slots=True)
class OldFile:
    """An old file read: its rows, and how the whole was read."""

    name: str
    rows: tuple[OldRow, ...]
    notes: tuple[str, ...]


def read_old_sheet(text: str, name: str, kind_of: KindOf) -> OldFile | None:
    """Read a spreadsheet saved as CSV; None if it has no heading that makes sense.

    Parameters
    ----------
    text : str
        The whole file.
    name : str
        The file, for messages.
    kind_of : callable
        Gives the key of what is counted under a heading; empty for another.

    Raises
    ------
    BadInputError
        If a quote is not closed.
    """
    lines = text.splitlines()
    found = _find_heading(lines, kind_of)
    if found is None:
        return None
    at, delimiter, columns = found
    try:
        whole = [_with_ditto(line, delimiter, len(columns)) for line in lines[at + 1 :]]
        reader = csv.reader((f"{line}\n" for line in whole), delimiter=delimiter)
        rows = [(at + 1 + reader.line_num, cells) for cells in reader]
    except csv.Error as slip:
        raise BadInputError(name, str(slip), "a CSV file", "A quote that is not closed?") from slip
    read: list[OldRow] = []
    for number, cells in rows:
        if any(cell.strip() for cell in cells):
            above = read[-1].said if read else {}
            read.append(_read_cells(number, cells, columns, above, delimiter))
    dated, notes = settle_dates([each.said.get("date", "") for each in read], name)
    told = [*_column_notes(columns), *notes]
    return OldFile(name, tuple(_with_date(*each) for each in zip(read, dated, strict=True)),
                   tuple(told))  # fmt: skip


def _find_heading(
    lines: Sequence[str], kind_of: KindOf
) -> tuple[int, str, tuple[OldColumn, ...]] | None:
    best: tuple[int, int, str, tuple[OldColumn, ...]] | None = None
    for at, line in enumerate(lines[:HEADING_WITHIN]):
        for delimiter in (";", "\t", ","):
            cells = cells_of(line, delimiter)
            columns = read_headings(cells, kind_of)
            score = sum(bool(column.meaning) for column in columns)
            if is_heading(columns) and (best is None or score > best[0]):
                best = (score, at, delimiter, columns)
    return None if best is None else best[1:]


def _with_ditto(line: str, delimiter: str, width: int) -> str:
    """Write out a ditto mark that would otherwise open a quote over the cells after it."""
    part = re.escape(delimiter)
    spelled = re.sub(rf'(?<![^{part}])\s*"\s*(?=$|{part})', "ditto", line)
    plain, told = (len(cells_of(each, delimiter)) for each in (line, spelled))  # fmt: skip
    return spelled if plain < told <= width else line


def _read_cells(
    number: int, cells: Sequence[str], columns: Sequence[OldColumn], above: Mapping[str, str],
    delimiter: str,
) -> OldRow:  # fmt: skip
    said: dict[str, str] = {}
    left: dict[str, str] = {}
    guessed: list[str] = []
    for column, cell in zip(columns, cells, strict=False):
        text = cell.strip()
        if not column.meaning:
            if text:
                left[column.heading or f"cell {column.place + 1}"] = text
            continue
        if text.casefold() in DITTO and column.meaning in above:
            said[column.meaning] = above[column.meaning]
            guessed.append(f"{column.heading}: as in the row above, {above[column.meaning]}")
        elif column.meaning == "date" and not text and "date" in above:
            said["date"] = above["date"]
            guessed.append(f"{column.heading}: blank, read as that of the row above")
        elif text:
            said[column.meaning] = _with_unit(text, column)
    unit = said.pop("unit", "")
    if unit and known_unit(unit):
        said = {name: _joined(text, unit) if name in MEASURED - {"hours"} else text
                for name, text in said.items()}  # fmt: skip
    over = [cell.strip() for cell in cells[len(columns) :] if cell.strip()]
    if over:
        left[f"cell {len(columns) + 1}"] = delimiter.join(over)
    return OldRow(number, delimiter.join(cells), said, tuple(guessed), left)


def _with_unit(text: str, column: OldColumn) -> str:
    if column.meaning.startswith("found "):
        return f"{text.removesuffix('%').strip()} %" if column.unit == "%" else text
    return _joined(text, column.unit) if column.unit else text


def _joined(text: str, unit: str) -> str:
    return f"{text} {unit}" if re.fullmatch(r"[\d.,/ ]*\d", text) else text


def _with_date(row: OldRow, dated: tuple[str, str]) -> OldRow:
    text, guess = dated
    said = {**row.said, "date": text} if text else row.said
    return replace(row, said=said, guessed=(*row.guessed, guess) if guess else row.guessed)


def _column_notes(columns: Sequence[OldColumn]) -> list[str]:
    known = [
        f"{column.heading}: {column.meaning}{f' in {column.unit}' if column.unit else ''}"
        for column in columns
        if column.meaning
    ]
    unused = [column.heading for column in columns if not column.meaning and column.heading]
    notes = [f"Columns understood: {'; '.join(known)}."]
    if unused:
        notes.append(f"Columns kept in the note: {', '.join(unused)}.")
    return notes
