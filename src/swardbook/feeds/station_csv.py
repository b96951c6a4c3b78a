"""Weather-station files: daily CSV with columns found by name."""

from __future__ import annotations

import csv
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

import numpy as np

from swardbook.feeds.office_files import read_office
from swardbook.feeds.station_columns import ALLOWED, Column, Heading, check_choice, find_heading
from swardbook.feeds.station_values import DATES, read_cell, read_dates
from swardbook.foundation.errors import BadInputError
from swardbook.handbook.parameters import value
from swardbook.weather.checks import (
    check_weather,
    flag_odd,
    looks_like_fahrenheit,
    set_aside_impossible,
)
from swardbook.weather.evapotranspiration import wind_at_2m
from swardbook.weather.gaps import fill_gaps, set_strays_aside
from swardbook.weather.readings import Finding, Readings
from swardbook.weather.series import DailyWeather, Flag, Values
from swardbook.weather.stretches import whole_stretches

MOST_BYTES = 64 * 1024 * 1024
"""Largest file read; a century of days with every column is about 3 MB."""
HEADING_WITHIN = 60
"""Lines looked through for the heading."""
_SERIES = ("tmin", "tmax", "rain", "radiation", "humidity", "wind", "et0")


@dataclass(frozen=True, slots=True)
class StationReadings:
    """What a file says, before gaps are filled."""

    readings: Readings
    notes: tuple[str, ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class StationFile:
    """A file read: the weather, how it was read, and what looked odd."""

    weather: DailyWeather
    notes: tuple[str, ...]
    findings: tuple[Finding, ...]


@dataclass
class _Rows:
    """The rows of a file, cell by cell, as they are read."""

    lines: list[int] = field(default_factory=list)
    dates: list[str] = field(default_factory=list)
    values: dict[str, list[float]] = field(default_factory=dict)
    traces: list[bool] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    commas: str = ""
    read: int = 0
    """Rows seen, the bad ones too."""


def read_station(
    path: Path, columns: Mapping[str, str] | None = None, units: Mapping[str, str] | None = None
) -> StationReadings:
    """Open a file and read it.

    Parameters
    ----------
    path : Path
        The file.
    columns, units : mapping of str to str, optional
        Headings and units named by the person, by quantity.

    Raises
    ------
    BadInputError
        If it cannot be opened, is too large, or is no daily weather.
    """
    try:
        with path.open("rb") as file:
            raw = file.read(MOST_BYTES + 1)
    except OSError as slip:
        raise BadInputError(
            "the weather file", str(path), "a file that can be read", str(slip.strerror)
        ) from slip
    if len(raw) > MOST_BYTES:
        raise BadInputError("the weather file", str(path), f"up to {MOST_BYTES >> 20} MB")
    text = _decoded(raw, path.name)
    office = None if columns else read_office(text, path.name)
    if office is not None:
        return StationReadings(office.readings, office.notes, office.findings)
    return parse_readings(text, path.name, columns, units)


def parse_station(
    text: str,
    name: str = "the file",
    columns: Mapping[str, str] | None = None,
    units: Mapping[str, str] | None = None,
    latitude: float | None = None,
) -> StationFile:
    """Read the text of a file into weather; gaps too long to fill stay missing.

    Parameters
    ----------
    text : str
        The whole file.
    name : str
        The file, for messages.
    columns, units : mapping of str to str, optional
        Headings and units named by the person, by quantity.
    latitude : float, optional
        Latitude, south negative; with it the seasons are checked too. [°]

    Raises
    ------
    BadInputError
        If a column is missing, the unit is in doubt, or no day has both temperatures.
    """
    return complete(parse_readings(text, name, columns, units), latitude)


def complete(station: StationReadings, latitude: float | None = None) -> StationFile:
    """Fill the gaps of what was read, and question what is odd; long gaps stay missing.

    Raises
    ------
    BadInputError
        If no day has both temperatures.
    """
    weather, gaps = fill_gaps(station.readings)
    odd = [each for part in whole_stretches(weather) for each in check_weather(part, latitude)]
    findings = (*station.findings, *gaps, *dict.fromkeys(odd))
    return StationFile(flag_odd(weather, findings), station.notes, findings)


def parse_readings(
    text: str,
    name: str = "the file",
    columns: Mapping[str, str] | None = None,
    units: Mapping[str, str] | None = None,
) -> StationReadings:
    """Read the text of a file as it stands, gaps and all.

    Parameters
    ----------
    text : str
        The whole file.
    name : str
        The file, for messages.
    columns, units : mapping of str to str, optional
        Headings and units named by the person, by quantity.

    Raises
    ------
    BadInputError
        If a column is missing, most rows are bad, or the unit is in doubt.
    """
    check_choice(columns or {}, units or {})
    plain = text.removeprefix("\ufeff").replace("\0", "").replace("\r\n", "\n").replace("\r", "\n")
    lines = plain.split("\n")
    heading = find_heading(lines[:HEADING_WITHIN], name, columns or {}, units or {})
    rows = _read_rows(lines, heading, name)
    dates = read_dates(rows.dates, name)
    rows.findings += [
        Finding(f"date {text!r}", f"Understood here: {DATES}. The line was left out.", line=line)
        for text, day, line in zip(rows.dates, dates.days, rows.lines, strict=True)
        if day is None
    ]
    _refuse_mostly_bad(rows, dates.days, name)
    _refuse_units(rows, heading.columns, name)
    kept, notes = _sorted_places(rows, dates.days, name)
    readings = _readings(rows, dates.days, kept, heading.columns)
    readings, strays = set_strays_aside(readings)
    readings, impossible = set_aside_impossible(readings)
    traces = _trace_findings(readings)
    found = (*rows.findings, *strays, *impossible, *traces)
    findings = sorted(found, key=lambda each: each.line or 0)
    told = (*heading.notes(), *dates.notes, *notes, *_number_notes(rows))
    return StationReadings(readings, told, tuple(findings))


def _decoded(raw: bytes, name: str) -> str:
    if raw[:2] in {b"\xff\xfe", b"\xfe\xff"}:
        return raw.decode("utf-16", errors="replace")
    if b"\0" in raw[:4096]:
        raise BadInputError(name, "bytes that are no text", "a CSV file", "Save it as CSV first.")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        return raw.decode("cp1252", errors="replace")


def _read_rows(lines: list[str], heading: Heading, name: str) -> _Rows:
    found, width = heading.columns, len(heading.texts)
    rows = _Rows(values={name: [] for name in _SERIES if name in found})
    reader = csv.reader(
        (f"{line}\n" for line in lines[heading.ends :]), delimiter=heading.delimiter
    )
    least = max(column.place for column in found.values())
    try:
        for cells in reader:
            line = heading.ends + reader.line_num
            if not any(cell.strip() for cell in cells) or cells[0].lstrip().startswith("#"):
                continue
            rows.read += 1
            if any(cell.strip() for cell in cells[width:]) or len(cells) <= least:
                rows.findings.append(_wrong_width(len(cells), width, heading.delimiter, line))
            else:
                _read_row(rows, cells, line, found)
    except csv.Error as slip:
        place = f"line {heading.ends + reader.line_num} of {name}"
        raise BadInputError(place, str(slip), ALLOWED, "A quote that is not closed?") from slip
    return rows


def _wrong_width(cells: int, width: int, delimiter: str, line: int) -> Finding:
    hint = "The line was left out."
    if cells > width and delimiter == ",":
        hint += " Decimal commas? Then put ; or tabs between columns, or quotes around numbers."
    return Finding(f"{cells} cells where the heading has {width}", hint, line=line)


def _read_row(rows: _Rows, cells: list[str], line: int, found: Mapping[str, Column]) -> None:
    rows.lines.append(line)
    rows.dates.append(_date_text(cells, found))
    rows.traces.append(False)
    for name, values in rows.values.items():
        column = found[name]
        cell = read_cell(cells[column.place])
        if cell is None or (cell.is_trace and name != "rain"):
            rows.findings.append(
                Finding(
                    f"{column.heading} {cells[column.place].strip()!r}",
                    "That is no number; kept as missing.",
                    line=line,
                )
            )
            values.append(float("nan"))
            continue
        if cell.has_comma and not rows.commas:
            rows.commas = cells[column.place].strip()
        rows.traces[-1] |= cell.is_trace
        values.append(column.canonical(cell.value))


def _date_text(cells: list[str], found: Mapping[str, Column]) -> str:
    if "date" in found:
        return cells[found["date"].place]
    year, month, day = (
        cells[found[name].place].strip().removesuffix(".0") for name in ("year", "month", "day")
    )
    return f"{year}-{month}-{day}"


def _refuse_mostly_bad(rows: _Rows, days: tuple[date | None, ...], name: str) -> None:
    good = sum(day is not None for day in days)
    if good * 2 > rows.read:
        return
    first = "; ".join(finding.words for finding in rows.findings[:3])
    raise BadInputError(
        name, f"{rows.read - good} of {rows.read} lines that make no sense", ALLOWED, first
    )


def _refuse_units(rows: _Rows, found: Mapping[str, Column], name: str) -> None:
    tmax = np.array(rows.values["tmax"])
    if not found["tmax"].unit and looks_like_fahrenheit(tmax):
        raise BadInputError(
            f"temperatures of {name}",
            f"half of the maxima above {np.nanmedian(tmax):.0f} with no unit in the heading",
            "°C where the heading has no unit",
            "That looks like °F. Name the columns tmin_f and tmax_f, or give `--fahrenheit`.",
        )
    radiation = np.array(rows.values.get("radiation", []))
    radiation = radiation[~np.isnan(radiation)]
    usual = float(np.median(radiation)) if len(radiation) else 0.0
    if (
        "radiation" in found
        and not found["radiation"].unit
        and usual > value("weather.questioned_radiation")
    ):
        raise BadInputError(
            f"radiation of {name}",
            f"half of the days above {usual:.0f} with no unit in the heading",
            "MJ/m² where the heading has no unit",
            "That looks like W/m². Name the column radiation_w.",
        )


def _sorted_places(
    rows: _Rows, days: tuple[date | None, ...], name: str
) -> tuple[list[int], list[str]]:
    """Give the places of the rows to keep, in order of days, each day once."""
    known = [place for place, day in enumerate(days) if day is not None]
    counts = Counter(days[place] for place in known)
    most = max(counts.values())
    if most > 2 and len(known) > 3 * len(counts):
        raise BadInputError(
            name, f"{most} lines on one day", "one line a day",
            "This looks hourly. Make daily minimum, maximum and rain of it first.",
        )  # fmt: skip
    notes = []
    ordered = sorted(known, key=lambda place: (days[place] or date.min, place))
    if ordered != known:
        notes.append("The lines were not in order of days; they were sorted.")
    kept: list[int] = []
    for place in ordered:
        if not kept or days[place] != days[kept[-1]]:
            kept.append(place)
            continue
        first = kept[-1]
        same = all(
            np.array_equal(values[place], values[first], equal_nan=True)
            for values in rows.values.values()
        )
        differs = "The two are alike." if same else "They differ. Which is right?"
        rows.findings.append(
            Finding(
                f"the day stands twice, also on line {rows.lines[first]}",
                f"{differs} The first was kept.",
                day=days[place],
                line=rows.lines[place],
                flag=Flag.NONE if same else Flag.ODD,
            )
        )
    return kept, notes


def _readings(
    rows: _Rows, days: tuple[date | None, ...], kept: list[int], found: Mapping[str, Column]
) -> Readings:
    series = {name: np.array(values)[kept] for name, values in rows.values.items()}
    traces = np.array(rows.traces)[kept]
    return Readings(
        days=np.array([days[place] for place in kept], dtype="datetime64[D]"),
        lines=np.array(rows.lines, dtype=np.int64)[kept],
        tmin=series["tmin"],
        tmax=series["tmax"],
        rain=series["rain"],
        flags=np.where(traces, int(Flag.TRACE), int(Flag.NONE)).astype(np.int64),
        radiation=series.get("radiation"),
        humidity=_percent(series.get("humidity")),
        wind=_at_2m(series.get("wind"), found.get("wind")),
        et0_given=series.get("et0"),
    )


def _are_shares(humidity: Values) -> bool:
    """Tell whether a whole column of humidity is 0 to 1, not per cent."""
    known = humidity[~np.isnan(humidity)]
    return len(known) > 0 and float(known.max()) <= 1.0


def _percent(humidity: Values | None) -> Values | None:
    if humidity is None or not _are_shares(humidity):
        return humidity
    return humidity * 100.0


def _at_2m(wind: Values | None, column: Column | None) -> Values | None:
    if wind is None or column is None or column.height_m in {None, 2.0}:
        return wind
    return wind_at_2m(wind, column.height_m or 2.0)


def _trace_findings(readings: Readings) -> list[Finding]:
    places = np.flatnonzero(readings.flags & int(Flag.TRACE)).tolist()
    if not places:
        return []
    days = "1 day" if len(places) == 1 else f"{len(places)} days"
    return [
        Finding(
            f"a trace of rain on {days}",
            "Kept as a trace: it counts 0 mm in sums, and the day is marked.",
            day=readings.day(places[0]),
            line=readings.line(places[0]),
            flag=Flag.TRACE,
        )
    ]


def _number_notes(rows: _Rows) -> list[str]:
    notes = []
    if rows.commas:
        notes.append(f"Decimal commas were read: {rows.commas} is {rows.commas.replace(',', '.')}.")
    if _are_shares(np.array(rows.values.get("humidity", []))):
        notes.append("Humidity of 0 to 1 was read as shares: 0.85 is 85 %.")
    return notes
