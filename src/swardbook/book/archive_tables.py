"""Values as rows of an open table and back, without loss.

Nested fields are columns with a dot; what has many parts is JSON in its cell. An empty cell is
"not said". Text that a spreadsheet would take for a formula is written with an apostrophe before
it, which is taken off on the way back.
"""

from __future__ import annotations

import csv
import io
import json
import types
import typing
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import fields, is_dataclass
from datetime import date
from typing import Any, TypeVar

import numpy as np

from swardbook.foundation.errors import BadInputError
from swardbook.husbandry.codec import from_plain, plain_entry, to_plain
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.happenings import Count
from swardbook.records.chain import canonical
from swardbook.seed.lot import LotPart, SeedLot
from swardbook.weather.series import DailyWeather

Value = TypeVar("Value")
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠", "'")
_SERIES = ("tmin", "tmax", "rain", "radiation", "humidity", "wind", "et0_given")


def csv_text(heads: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """Write a table as RFC 4180 text."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(heads)
    writer.writerows(rows)
    return out.getvalue()


def csv_rows(text: str, name: str) -> list[dict[str, str]]:
    """Read a table.

    Raises
    ------
    BadInputError
        If a row has too many or too few cells.
    """
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    try:
        rows = list(reader)
    except csv.Error as slip:
        raise BadInputError(f"{name}, line {reader.line_num}", str(slip), "a CSV table") from slip
    if not rows:
        raise BadInputError(name, "nothing", "a CSV table with a heading")
    for number, row in enumerate(rows[1:], 2):
        if len(row) != len(rows[0]):
            raise BadInputError(f"{name}, row {number}", row, f"{len(rows[0])} cells")
    return [dict(zip(rows[0], row, strict=True)) for row in rows[1:]]


def guarded_text(text: str) -> str:
    """Write text so that no spreadsheet takes it for a formula."""
    return f"'{text}" if text.startswith(_FORMULA) else text


def plain_text(cell: str) -> str:
    """Take off what `guarded_text` put before a text."""
    return cell.removeprefix("'")


def table_of(kind: type, values: Sequence[Any], left_out: Sequence[str] = ()) -> str:
    """Write values of one class as a table; fields in `left_out` go elsewhere."""
    columns = [name for name in _columns(kind) if name.split(".")[0] not in left_out]
    rows = ([_cell(_at(to_plain(value), name)) for name in columns] for value in values)
    return csv_text(columns, rows)


def values_of(
    kind: type[Value], text: str, name: str, extra: Sequence[Mapping[str, Any]] = ()
) -> tuple[Value, ...]:
    """Read values of one class from a table.

    Parameters
    ----------
    kind : type
        The class.
    text : str
        The table.
    name : str
        Name of the file, for the message.
    extra : sequence of mapping
        For each row, plain values of fields that do not stand in the table.

    Raises
    ------
    BadInputError
        If a cell or column cannot be read.
    """
    known = _columns(kind)
    found = []
    for number, row in enumerate(csv_rows(text, name)):
        plain: dict[str, Any] = dict(extra[number]) if extra else {}
        for column, cell in row.items():
            if column not in known:
                raise BadInputError(f"a column of {name}", column, ", ".join(known))
            _put(plain, column, _read_cell(known[column], cell, f"{column} in {name}"))
        found.append(from_plain(kind, plain, f"row {number + 2} of {name}"))
    return tuple(found)


def diary_table(entries: Sequence[DiaryEntry], checksums: Sequence[str]) -> str:
    """Write the diary as a table to read; the loss-free form is the line-by-line one."""
    heads = (
        "id", "first_day", "last_day", "when_in_words", "zone", "kind", "fields", "who", "hours",
        "money", "note", "number", "corrects", "written_on", "needs_a_look", "private",
        "checksum",
    )  # fmt: skip
    rows = []
    for entry, checksum in zip(entries, checksums, strict=True):
        plain = plain_entry(entry)
        what = dict(plain["what"])
        kind = what.pop("kind")
        said = "; ".join(f"{name}={_cell(held)}" for name, held in what.items() if held is not None)
        cells = [
            plain["id"], plain["when"]["first"], plain["when"]["last"], plain["when"]["words"],
            plain["zone"], kind, "see counts.csv" if kind == "count" else said,
            *(plain.get(name) for name in heads[7:-2]), entry.private, checksum,
        ]  # fmt: skip
        rows.append([_cell(cell) for cell in cells])
    return csv_text(heads, rows)


def counts_table(entries: Sequence[DiaryEntry]) -> str:
    """Write what was counted, a row for each kind at each place."""
    heads = ("entry", "day", "zone", "occasion", "place", "method", "counter", "placement",
             "looked", "kind", "found")  # fmt: skip
    rows = [
        [_cell(cell) for cell in (
            str(entry.id), entry.day.isoformat(), entry.zone, entry.what.occasion, place.place,
            place.method.value, place.counter, place.placement, place.looked, kind, found)]
        for entry in entries
        if isinstance(entry.what, Count)
        for place in entry.what.places
        for kind, found in sorted(place.found.items())
    ]  # fmt: skip
    return csv_text(heads, rows)


def weather_table(weather: DailyWeather) -> str:
    """Write daily weather; an empty cell is not measured."""
    has = [name for name in _SERIES if getattr(weather, name) is not None]
    columns = [getattr(weather, name) for name in has]
    rows = (
        [str(day), str(int(weather.flags[n])),
         *("" if np.isnan(column[n]) else repr(float(column[n])) for column in columns)]
        for n, day in enumerate(weather.days)
    )  # fmt: skip
    return csv_text(("day", "flags", *has), rows)


def weather_of(text: str, name: str) -> DailyWeather:
    """Read daily weather as `weather_table` writes it.

    Raises
    ------
    BadInputError
        If a column is unknown or a cell is no number or day.
    """
    rows = csv_rows(text, name)
    heads = list(rows[0]) if rows else ["day", "flags", "tmin", "tmax", "rain"]
    unknown = [head for head in heads if head not in {"day", "flags", *_SERIES}]
    if unknown or not {"day", "flags", "tmin", "tmax", "rain"} <= set(heads):
        raise BadInputError(f"the heading of {name}", heads, f"day, flags, {', '.join(_SERIES)}")
    try:
        series: dict[str, Any] = {
            head: np.array([float(row[head] or "nan") for row in rows], dtype=np.float64)
            for head in heads
            if head not in {"day", "flags"}
        }
        days = np.array([date.fromisoformat(row["day"]) for row in rows], dtype="datetime64[D]")
        flags = np.array([int(row["flags"]) for row in rows], dtype=np.int64)
    except ValueError as slip:
        raise BadInputError(name, str(slip), "days and numbers") from slip
    return DailyWeather(days=days, flags=flags, **series)


def _columns(kind: type) -> dict[str, Any]:
    return dict(_each_column(kind, ""))


def _each_column(kind: Any, before: str) -> Iterator[tuple[str, Any]]:
    hints = typing.get_type_hints(kind)
    for entry in fields(kind):
        hint = hints[entry.name]
        if is_dataclass(hint):
            yield from _each_column(hint, f"{before}{entry.name}.")
        else:
            yield f"{before}{entry.name}", hint


def _at(plain: Mapping[str, Any], column: str) -> Any:
    for part in column.split("."):
        plain = plain[part]
    return plain


def _put(plain: dict[str, Any], column: str, held: Any) -> None:
    *parents, last = column.split(".")
    for part in parents:
        plain = plain.setdefault(part, {})
    plain[last] = held


def _cell(held: Any) -> str:
    if held is None:
        return ""
    if isinstance(held, bool):
        return "yes" if held else "no"
    if isinstance(held, int | float):
        return repr(held)
    if isinstance(held, dict | list):
        return canonical(held)
    return guarded_text(str(held))


def _read_cell(hint: Any, cell: str, where: str) -> Any:
    inner = typing.get_args(hint)
    if isinstance(hint, types.UnionType) and type(None) in inner:
        if not cell:
            return None
        hint = next(each for each in inner if each is not type(None))
    if hint is bool:
        if cell not in {"yes", "no"}:
            raise BadInputError(where, cell, "yes or no")
        return cell == "yes"
    if hint in {int, float}:
        try:
            return hint(cell)
        except ValueError as slip:
            raise BadInputError(where, cell, "a number") from slip
    if is_dataclass(hint) or typing.get_origin(hint) is tuple:
        try:
            return json.loads(cell)
        except ValueError as slip:
            raise BadInputError(where, cell, "JSON as in an archive") from slip
    return plain_text(cell)


def heads_of(kind: type) -> list[str]:
    """Give the columns that a class has in a table."""
    return list(_columns(kind))


def parts_table(lots: Sequence[SeedLot]) -> str:
    """Write what lots are made of, a row for each part."""
    rows = csv_rows(
        table_of(LotPart, [part for lot in lots for part in lot.parts]), "lot_parts.csv"
    )
    codes = [guarded_text(lot.code) for lot in lots for _ in lot.parts]
    heads = ["lot", *heads_of(LotPart)]
    return csv_text(heads, ([code, *row.values()] for code, row in zip(codes, rows, strict=True)))


def lots_of(lots: str, parts: str) -> tuple[SeedLot, ...]:
    """Read lots and what they are made of from their two tables."""
    rows = csv_rows(parts, "lot_parts.csv")
    codes = [plain_text(row.pop("lot", "")) for row in rows]
    heads = heads_of(LotPart)
    text = csv_text(heads, ([row.get(head, "") for head in heads] for row in rows))
    read = values_of(LotPart, text, "lot_parts.csv")
    wanted = [plain_text(row["code"]) for row in csv_rows(lots, "lots.csv")]
    extra = [
        {"parts": [to_plain(part) for part, of in zip(read, codes, strict=True) if of == code]}
        for code in wanted
    ]
    return values_of(SeedLot, lots, "lots.csv", extra)
