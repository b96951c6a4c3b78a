"""Monthly means and totals of a station as text: for normals only, never for daily runs."""

from __future__ import annotations

import re
from dataclasses import dataclass

from swardbook.foundation.errors import BadInputError

_HEADS = {"tmax": "tmax", "tmin": "tmin", "rain": "rain", "af": "frosts", "sun": "sun"}
_ROW = re.compile(r"\s*(\d{4})\s+(\d{1,2})\s+(.*)")
ALLOWED = "a station's text: yyyy mm tmax tmin af rain sun, a month in a line"


@dataclass(frozen=True, slots=True)
class StationMonth:
    """One month of a station; None is not known.

    Parameters
    ----------
    year, month : int
        Which.
    tmin, tmax : float or None
        Mean of the days' lowest and highest temperature. [°C]
    rain : float or None
        Sum of the month. [mm]
    is_estimated : bool
        Whether the station estimated any of it.
    is_provisional : bool
        Whether it may still be changed.
    """

    year: int
    month: int
    tmin: float | None
    tmax: float | None
    rain: float | None
    is_estimated: bool = False
    is_provisional: bool = False


def read_monthly(text: str, name: str) -> tuple[StationMonth, ...]:
    """Read a station's monthly text: ``---`` is missing, ``*`` estimated, ``#`` another sensor.

    Parameters
    ----------
    text : str
        The whole file.
    name : str
        The file, for messages.

    Raises
    ------
    BadInputError
        If it is none, a month stands twice, or a number is none.
    """
    heads: list[str] | None = None
    found: dict[tuple[int, int], StationMonth] = {}
    for number, line in enumerate(text.splitlines(), 1):
        words = line.split()
        if heads is None:
            heads = words[2:] if [each.casefold() for each in words[:2]] == ["yyyy", "mm"] else None
            continue
        row = _ROW.fullmatch(line)
        if row is None:
            continue  # the line of units under the heading, or a sentence at the end
        month = _month(int(row[1]), int(row[2]), row[3].split(), heads, f"{name}:{number}")
        if (month.year, month.month) in found:
            raise BadInputError(f"{name}:{number}", f"{row[1]} {row[2]} a second time", ALLOWED)
        found[month.year, month.month] = month
    if not found:
        raise BadInputError(name, "no month", ALLOWED)
    return tuple(found[key] for key in sorted(found))


def _month(year: int, month: int, cells: list[str], heads: list[str], where: str) -> StationMonth:
    if not (1700 <= year <= 2200 and 1 <= month <= 12):
        raise BadInputError(where, f"{year} {month}", "a year and a month")
    values: dict[str, float | None] = {}
    is_estimated = False
    for head, cell in zip(heads, cells, strict=False):
        name = _HEADS.get(head.casefold())
        is_estimated |= "*" in cell and name in {"tmin", "tmax", "rain"}
        if name in {"tmin", "tmax", "rain"}:
            values[name] = _number(cell.rstrip("*#"), where)
    provisional = any(each.casefold() == "provisional" for each in cells)
    return StationMonth(
        year, month, values.get("tmin"), values.get("tmax"), values.get("rain"),
        is_estimated, provisional,
    )  # fmt: skip


def _number(cell: str, where: str) -> float | None:
    if re.fullmatch(r"-{2,}", cell):
        return None
    if not re.fullmatch(r"-?\d{1,4}(\.\d+)?", cell):
        raise BadInputError(where, cell, "a number, or --- where it is missing")
    return float(cell)
