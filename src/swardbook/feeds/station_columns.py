"""Headings of a weather-station file: which column is what, and in which unit."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from swardbook.feeds.csv_rows import cells_of
from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.foundation.quantities import FACTORS, celsius_from_fahrenheit

QUANTITIES = ("date", "tmin", "tmax", "rain", "radiation", "humidity", "wind", "et0")
NEEDED = ("date", "tmin", "tmax", "rain")
ALLOWED = (
    "columns for date, tmin, tmax and rain, such as 'date,tmin_c,tmax_c,rain_mm'; also"
    " radiation_mj or radiation_w, humidity, wind_ms and et0_mm"
)

_NAMES: dict[str, frozenset[str]] = {
    "date": frozenset({"date", "datetime", "yyyymmdd"}),
    "moment": frozenset({"time", "timestamp"}),
    "year": frozenset({"year", "yr", "yyyy"}),
    "month": frozenset({"month", "mon"}),
    "day": frozenset({"day", "dd"}),
    "tmin": frozenset({
        "tmin", "tn", "min", "minimum", "low", "lowest", "mintemp", "tempmin", "mint",
    }),
    "tmax": frozenset({
        "tmax", "tx", "max", "maximum", "high", "highest", "maxtemp", "tempmax", "maxt",
    }),
    "rain": frozenset({
        "rain", "rainfall", "precip", "precipitation", "prcp", "ppt", "rr", "prec",
    }),
    "radiation": frozenset({
        "radiation", "solar", "srad", "rs", "rg", "ghi", "solarradiation", "globalradiation",
        "shortwaveradiation",
    }),
    "humidity": frozenset({"humidity", "rh", "hum", "relativehumidity", "rhmean"}),
    "wind": frozenset({"wind", "windspeed", "wspd", "ws", "u2", "u10", "meanwind"}),
    "et0": frozenset({
        "et0", "eto", "etref", "et", "pet", "evapotranspiration", "referenceevapotranspiration",
    }),
}  # fmt: skip
_FILLER = {
    "air", "daily", "day", "temperature", "temp", "t", "total", "sum", "amount", "mean", "average",
    "avg", "depth", "speed", "reading", "24h", "24hr", "deg", "degrees",
}  # fmt: skip
_UNITS = {
    "c": "c", "°c": "c", "degc": "c", "celsius": "c", "f": "f", "°f": "f", "degf": "f",
    "fahrenheit": "f", "k": "k", "kelvin": "k",
    "mm": "mm", "cm": "cm", "in": "in", "inch": "in", "inches": "in", '"': "in", "mm/day": "mm",
    "mm/d": "mm", "mmd": "mm",
    "mj": "mj", "mj/m2": "mj", "mj/m2/d": "mj", "mj/m2/day": "mj", "mjm2": "mj", "mj m-2": "mj",
    "mj m-2 d-1": "mj", "w": "w", "w/m2": "w", "wm2": "w", "w m-2": "w", "kwh/m2": "kwh",
    "kwh": "kwh", "j/cm2": "jcm2", "jcm2": "jcm2",
    "%": "%", "pct": "%", "percent": "%",
    "m/s": "ms", "ms": "ms", "mps": "ms", "m s-1": "ms", "km/h": "kmh", "kmh": "kmh",
    "kph": "kmh", "mph": "mph", "kn": "kn", "kt": "kn", "knots": "kn",
}  # fmt: skip
_SCALES: dict[str, dict[str, float]] = {
    "rain": {unit: FACTORS[unit][1] for unit in ("mm", "cm", "in")},
    "et0": {unit: FACTORS[unit][1] for unit in ("mm", "cm", "in")},
    # a day has 86 400 s; 1 kWh is 3.6 MJ
    "radiation": {"mj": 1.0, "w": 0.0864, "kwh": 3.6, "jcm2": 0.01},
    "humidity": {"%": 1.0},
    # exact: the international mile is 1609.344 m, the nautical one 1852 m
    "wind": {"ms": 1.0, "kmh": 1 / 3.6, "mph": 1609.344 / 3600, "kn": 1852 / 3600},
}
_PLAIN = {
    "tmin": "c", "tmax": "c", "rain": "mm", "et0": "mm", "radiation": "mj", "humidity": "%",
    "wind": "ms",
}  # fmt: skip
_SAID = {"c": "°C", "mm": "mm", "mj": "MJ/m²", "%": "%", "ms": "m/s"}


@dataclass(frozen=True, slots=True)
class Column:
    """One column that is used.

    Parameters
    ----------
    place : int
        Which cell of a row, from 0.
    heading : str
        As it stands in the file.
    quantity : str
        What it is, one of `QUANTITIES` or ``year``, ``month``, ``day``.
    unit : str
        Short unit; empty if the heading has none.
    height_m : float or None
        Height of a wind instrument, where the heading tells it. [m]
    """

    place: int
    heading: str
    quantity: str
    unit: str = ""
    height_m: float | None = None

    def canonical(self, number: float) -> float:
        """Turn a number of this column into the unit used inside."""
        unit = self.unit or _PLAIN[self.quantity]
        if self.quantity in {"tmin", "tmax"}:
            if unit == "f":
                return celsius_from_fahrenheit(number)
            return number - 273.15 if unit == "k" else number
        return number * _SCALES[self.quantity][unit]

    @property
    def assumed(self) -> str:
        """The unit taken because the heading has none; empty if it has one."""
        return "" if self.unit or self.quantity not in _PLAIN else _SAID[_PLAIN[self.quantity]]


@dataclass(frozen=True, slots=True)
class Heading:
    """The heading line, what separates cells, and how many lines it ends after."""

    texts: tuple[str, ...]
    columns: Mapping[str, Column]
    delimiter: str
    ends: int

    def notes(self) -> list[str]:
        """Say which units were assumed, and which columns are not used."""
        groups: dict[str, list[str]] = {}
        for column in self.columns.values():
            if column.assumed:
                groups.setdefault(column.assumed, []).append(column.heading)
        notes = [
            f"{', '.join(names)} without a unit: read as {unit}." for unit, names in groups.items()
        ]
        wind = self.columns.get("wind")
        if wind is not None:
            height = f"{wind.height_m:g} m, brought to 2 m" if wind.height_m else "2 m"
            notes.append(f"Wind is taken as measured at {height}.")
        used = {column.place for column in self.columns.values()}
        unused = [text.strip() for n, text in enumerate(self.texts) if n not in used]
        if any(unused):
            notes.append(f"Columns not used: {', '.join(filter(None, unused))}.")
        return notes


def find_heading(
    lines: Sequence[str], name: str, chosen: Mapping[str, str], units: Mapping[str, str]
) -> Heading:
    """Find the heading line, and what separates cells: the pair that tells most columns.

    Parameters
    ----------
    lines : sequence of str
        The first lines of the file.
    name : str
        The file, for messages.
    chosen, units : mapping of str to str
        Headings and units named by the person, by quantity.

    Raises
    ------
    BadInputError
        If the file is empty, or lacks a column that is needed.
    """
    best: Heading | None = None
    for number, line in enumerate(lines):
        for delimiter in (";", "\t", ","):
            cells = cells_of(line, delimiter)
            found = find_columns(cells, chosen, units)
            if len(cells) > 1 and (best is None or len(found) > len(best.columns)):
                best = Heading(tuple(cells), found, delimiter, number + 1)
    if best is None:
        first = next((line for line in lines if line.strip()), "")
        between = "Cells stand between commas, semicolons or tabs."
        hint = between if first else "The file is empty."
        raise BadInputError(f"the heading of {name}", first[:80], ALLOWED, hint)
    require_columns(best.columns, best.texts, name)
    return best


def find_columns(
    headings: Sequence[str], chosen: Mapping[str, str], units: Mapping[str, str]
) -> dict[str, Column]:
    """Find which column is what; the first of two alike is used.

    Parameters
    ----------
    headings : sequence of str
        The heading line.
    chosen : mapping of str to str
        Headings named by the person, by quantity; they win.
    units : mapping of str to str
        Units named by the person, by quantity, for headings without one.

    Returns
    -------
    dict of str to Column
        Columns by quantity.
    """
    found: dict[str, Column] = {}
    folded = [" ".join(heading.split()).casefold() for heading in headings]
    for quantity, heading in chosen.items():
        wanted = " ".join(heading.split()).casefold()
        if wanted in folded:
            place = folded.index(wanted)
            read = read_heading(headings[place], place)
            unit = read.unit if read and read.quantity == quantity else _unit_of(headings[place])
            found[quantity] = Column(place, headings[place], quantity, _fit(quantity, unit))
    taken = {column.place for column in found.values()}
    for place, heading in enumerate(headings):
        column = None if place in taken else read_heading(heading, place)
        if column is not None and column.quantity not in found:
            found[column.quantity] = column
    if "date" not in found and "moment" in found:
        found["date"] = found["moment"]
    found.pop("moment", None)
    return {
        quantity: column if column.unit else Column(
            column.place, column.heading, quantity, _fit(quantity, units.get(quantity, "")),
            column.height_m,
        )
        for quantity, column in found.items()
    }  # fmt: skip


def check_choice(chosen: Mapping[str, str], units: Mapping[str, str]) -> None:
    """Refuse a choice of columns or units that names what there is not.

    Raises
    ------
    UnknownNameError
        If a quantity is none.
    BadInputError
        If a unit does not measure its quantity.
    """
    for quantity in (*chosen, *units):
        if quantity not in QUANTITIES:
            raise UnknownNameError("weather quantity", quantity, QUANTITIES)
    for quantity, unit in units.items():
        if not _fit(quantity, unit):
            raise BadInputError(f"the unit of {quantity}", unit, "c or f; mm, cm or in; mj or w")


def require_columns(found: Mapping[str, Column], headings: Sequence[str], name: str) -> None:
    """Refuse a file without what is needed, naming what was found and what was not.

    Raises
    ------
    BadInputError
        If date, minimum, maximum or rain is missing.
    """
    has_date = "date" in found or {"year", "month", "day"} <= set(found)
    missing = [each for each in NEEDED[1:] if each not in found]
    missing = missing if has_date else ["date", *missing]
    if missing:
        raise BadInputError(
            f"the heading of {name}",
            ", ".join(headings),
            ALLOWED,
            f"Not found: {', '.join(missing)}. Name a column yourself, such as"
            f" `--column {missing[0]}='...'`.",
        )


def read_heading(heading: str, place: int) -> Column | None:
    """Read one heading; None if it is nothing we use."""
    text = heading.strip().lower().replace("²", "2").replace("⁻", "-").replace("¹", "1")
    unit = _unit_of(heading)
    bare = re.sub(r"[(\[].*?[)\]]", " ", text)
    tokens = [each for each in re.split(r"[\s_\-./:]+", bare) if each]
    height = None
    for token in list(tokens):
        if found := re.fullmatch(r"(\d+(?:\.\d+)?)m", token):
            height = float(found[1])
            tokens.remove(token)
    if len(tokens) > 1 and tokens[-1] in _UNITS:
        tokens = tokens[:-1]
    quantity = _quantity(tokens)
    if quantity is None:
        return None
    if quantity == "wind" and height is None and "u10" in tokens:
        height = 10.0
    return Column(place, heading.strip(), quantity, _fit(quantity, unit), height)


def _quantity(tokens: list[str]) -> str | None:
    candidates = ["".join(tokens), "".join(each for each in tokens if each not in _FILLER)]
    for joined in candidates:
        for quantity, names in _NAMES.items():
            if joined in names:
                return quantity
    return None


def _unit_of(heading: str) -> str:
    text = heading.strip().lower().replace("²", "2").replace("⁻", "-").replace("¹", "1")
    if found := re.search(r"[(\[]\s*(.*?)\s*[)\]]", text):
        return _UNITS.get(found[1].replace("º", "°"), found[1])
    tokens = [each for each in re.split(r"[\s_]+", text) if each]
    return _UNITS.get(tokens[-1], "") if len(tokens) > 1 else ""


def _fit(quantity: str, unit: str) -> str:
    """Give the unit in short if it measures the quantity, else nothing."""
    known = _UNITS.get(unit.strip().lower().replace("²", "2"), unit)
    fits = {"c", "f", "k"} if quantity in {"tmin", "tmax"} else set(_SCALES.get(quantity, ()))
    return known if known in fits else ""
