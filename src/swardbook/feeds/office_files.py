"""Files of weather offices: hourly EPW, and daily records by station of GHCN in two forms."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from itertools import islice

import numpy as np

from swardbook.foundation.errors import BadInputError
from swardbook.weather.checks import set_aside_impossible
from swardbook.weather.evapotranspiration import wind_at_2m
from swardbook.weather.readings import Finding, Readings
from swardbook.weather.series import Flag, Values

_GHCN_LINE = re.compile(r"[A-Z]{2}[A-Z0-9_]{9}\d{6}[A-Z0-9]{4}.{8,}")
_GHCN_ROW = re.compile(r"[A-Z]{2}[A-Z0-9_\-]{9},\d{8},[A-Z0-9]{4},-?\d+,")
_WANTED = {"TMIN": "tmin", "TMAX": "tmax", "PRCP": "rain"}
_MISSING = -9999
_EPW_COLUMNS = 35
_EPW_WIND_HEIGHT = 10.0
"""Height at which wind in EPW is given. [m]"""
_LOOKED_AT = 12


@dataclass(frozen=True, slots=True)
class OfficeDays:
    """What a file of a weather office says.

    Parameters
    ----------
    readings : Readings
        Day by day.
    notes : tuple of str
        How it was read, and how many values were left out and why.
    findings : tuple of Finding
        What looked odd.
    """

    readings: Readings
    notes: tuple[str, ...]
    findings: tuple[Finding, ...] = ()


@dataclass
class _Held:
    values: dict[date, dict[str, float]] = field(default_factory=dict)
    lines: dict[date, int] = field(default_factory=dict)
    traces: set[date] = field(default_factory=set)
    doubted: int = 0
    stations: set[str] = field(default_factory=set)

    def put(self, day: date, line: int, element: str, told: str, flags: str) -> None:
        measured, quality = flags[0], flags[1]
        name = _WANTED.get(element)
        if name is None:
            return
        number = int(told)
        if number == _MISSING:
            return
        if quality.strip():
            self.doubted += 1
            return
        self.values.setdefault(day, {})[name] = number / 10
        self.lines.setdefault(day, line)
        if name == "rain" and measured == "T":
            self.traces.add(day)


def read_office(text: str, name: str, *, may_be_typical: bool = False) -> OfficeDays | None:
    """Read a file of a weather office; None where it is none of these.

    Parameters
    ----------
    text : str
        The whole file.
    name : str
        The file, for messages.
    may_be_typical : bool
        Whether a year put together of months of several years will do, as for normals.

    Raises
    ------
    BadInputError
        If it is one, and cannot be read or holds no record of days.
    """
    found = _read(text, name, may_be_typical)
    if found is None:
        return None
    readings, impossible = set_aside_impossible(found.readings)
    return OfficeDays(readings, found.notes, tuple(impossible))


def _read(text: str, name: str, may_be_typical: bool) -> OfficeDays | None:
    begins = list(islice((line for line in text.splitlines() if line.strip()), _LOOKED_AT))
    if not begins:
        return None
    if begins[0].upper().startswith("LOCATION,") and len(begins[0].split(",")) >= 10:
        return _epw(text, name, may_be_typical)
    if _GHCN_LINE.fullmatch(begins[0].rstrip("\r")):
        return _ghcn(_fixed(text, name), name)
    if _GHCN_ROW.match(begins[0]) or begins[0].upper().startswith("ID,DATE,ELEMENT,"):
        return _ghcn(_by_station(text, name), name)
    return None


_Row = tuple[int, str, date, str, str, str]


def _fixed(text: str, name: str) -> Iterable[_Row]:
    """Give each value of a file of fixed width: a month in a line, eight letters for a day."""
    for number, line in enumerate(text.splitlines(), 1):
        if not line.strip():
            continue
        if not _GHCN_LINE.fullmatch(line):
            raise BadInputError(f"{name}:{number}", line[:40], "a line of GHCN-Daily (.dly)")
        year, month, element = int(line[11:15]), int(line[15:17]), line[17:21]
        for at in range(31):
            cell = line[21 + 8 * at : 29 + 8 * at]
            day = _day(year, month, at + 1)
            if not cell.strip() or day is None:
                continue
            yield number, line[:11], day, element, cell[:5], cell[5:8].ljust(3)


def _by_station(text: str, name: str) -> Iterable[_Row]:
    """Give each value of a file with one in a row."""
    for number, line in enumerate(text.splitlines(), 1):
        cells = line.split(",")
        if not line.strip() or cells[0].upper() == "ID":
            continue
        day = _day(int(cells[1][:4]), int(cells[1][4:6]), int(cells[1][6:8])) if (
            len(cells) >= 7 and re.fullmatch(r"\d{8}", cells[1])
        ) else None  # fmt: skip
        if day is None:
            raise BadInputError(
                f"{name}:{number}", line[:40], "ID,YYYYMMDD,ELEMENT,VALUE,M,Q,S,TIME"
            )
        yield number, cells[0], day, cells[2], cells[3], f"{cells[4]:1.1}{cells[5]:1.1} "


def _ghcn(rows: Iterable[_Row], name: str) -> OfficeDays:
    held = _Held()
    for line, station, day, element, told, flags in rows:
        if not re.fullmatch(r"\s*-?\d{1,5}", told):
            raise BadInputError(f"{name}:{line}", told, "a whole number of tenths")
        held.stations.add(station)
        held.put(day, line, element, told, flags)
    if len(held.stations) > 1:
        some = ", ".join(sorted(held.stations)[:4])
        raise BadInputError(name, f"{len(held.stations)} stations ({some})", "one station")
    if not held.values:
        raise BadInputError(name, "no TMIN, TMAX or PRCP", "daily minimum, maximum and rain")
    days = sorted(held.values)
    series = {
        each: np.array([held.values[day].get(each, math.nan) for day in days])
        for each in ("tmin", "tmax", "rain")
    }
    traces = np.array([day in held.traces for day in days])
    note = "GHCN-Daily: tenths of °C and of mm."
    doubted = (
        f"{held.doubted:,} values with a quality flag of the office were left out."
        if held.doubted
        else "No value carried a quality flag of the office."
    )
    return OfficeDays(
        Readings(
            days=np.array(days, dtype="datetime64[D]"),
            lines=np.array([held.lines[day] for day in days], dtype=np.int64),
            flags=np.where(traces, int(Flag.TRACE), 0).astype(np.int64),
            **series,
        ),
        (f"{note} Station {next(iter(held.stations))}.", doubted),
    )


def _epw(text: str, name: str, may_be_typical: bool) -> OfficeDays:
    """Make days of the hours of an EPW file: eight heading lines, then 35 columns an hour."""
    hours: dict[date, list[list[float]]] = {}
    lines: dict[date, int] = {}
    years: set[int] = set()
    for number, line in enumerate(text.splitlines(), 1):
        if number <= 8 or not line.strip():
            continue
        cells = line.split(",")
        day = _epw_day(cells)
        if day is None:
            raise BadInputError(f"{name}:{number}", line[:40], f"{_EPW_COLUMNS} columns an hour")
        years.add(day.year)
        hours.setdefault(day, []).append([_number(cells[at]) for at in (6, 8, 13, 21, 33)])
        lines.setdefault(day, number)
    if not hours:
        raise BadInputError(name, "no hours after its heading", "an EPW file of a year")
    if not may_be_typical and len(years) > 1 and len(hours) < 367 * (len(years) - 1):
        raise BadInputError(
            name, f"months of {len(years)} years put together", "a record of days that were",
            "A typical year is no record: `swardbook weather normals` reads it.",
        )  # fmt: skip
    return OfficeDays(_days_of_hours(hours, lines), (_EPW_NOTE,))


_EPW_NOTE = (
    "EPW: days made of its hours; wind from 10 m brought to 2 m; rain from its column of liquid"
    " precipitation, missing where that is."
)


def _days_of_hours(hours: dict[date, list[list[float]]], lines: dict[date, int]) -> Readings:
    days = sorted(hours)
    table = [np.array(hours[day]) for day in days]

    def each(column: int, missing: float, how: str) -> Values:
        found = []
        for rows in table:
            values = np.where(rows[:, column] >= missing, np.nan, rows[:, column])
            whole = len(values) >= 23 and np.isfinite(values).all()
            found.append(float(getattr(np, how)(values)) if whole else math.nan)
        return np.array(found)

    wind = each(3, 999.0, "mean")
    return Readings(
        days=np.array(days, dtype="datetime64[D]"),
        lines=np.array([lines[day] for day in days], dtype=np.int64),
        tmin=each(0, 99.9, "min"),
        tmax=each(0, 99.9, "max"),
        rain=each(4, 999.0, "sum"),
        flags=np.zeros(len(days), dtype=np.int64),
        radiation=each(2, 9999.0, "sum") * 0.0036,  # Wh/m² of an hour, in MJ/m²
        humidity=each(1, 999.0, "mean"),
        wind=wind_at_2m(wind, _EPW_WIND_HEIGHT),
    )


def _epw_day(cells: list[str]) -> date | None:
    if len(cells) < _EPW_COLUMNS - 1 or not all(each.strip().isdecimal() for each in cells[:4]):
        return None
    return _day(*(int(each) for each in cells[:3]))


def _number(cell: str) -> float:
    try:
        number = float(cell)
    except ValueError:
        return math.nan
    return number if math.isfinite(number) else math.nan


def _day(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day) if 1700 <= year <= 2200 else None
    except ValueError:
        return None
