"""What the months of a place are like: from a file, for comparing and for nothing else."""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path

from swardbook.feeds.monthly_station import StationMonth, read_monthly
from swardbook.feeds.office_files import read_office
from swardbook.feeds.old_text import read_old_text
from swardbook.feeds.station_csv import parse_readings
from swardbook.foundation.errors import BadInputError
from swardbook.weather.normals import Normal, YearMonth, normals_of, whole_months

NOT_DAILY = "Normals are for comparing. No daily run, look-ahead or verdict reads them."


@dataclass(frozen=True, slots=True)
class Normals:
    """The normals of a file.

    Parameters
    ----------
    name : str
        The file.
    first_year, last_year : int
        Years that are in them.
    months : tuple of Normal
        January to December.
    notes : tuple of str
        How it was read, and what was left out or estimated.
    """

    name: str
    first_year: int
    last_year: int
    months: tuple[Normal, ...]
    notes: tuple[str, ...]


def read_normals(path: Path, years: int = 30) -> Normals:
    """Read normals from a station's monthly text, a typical year, or any daily file.

    Parameters
    ----------
    path : Path
        The file.
    years : int
        Latest years that are used.

    Raises
    ------
    BadInputError
        If it cannot be read, or has no whole month.
    """
    text = read_old_text(path)
    months, notes = _months(text, path.name)
    last = max(each.year for each in months)
    office_year = notes and notes[0].startswith("EPW")
    used = [each for each in months if office_year or each.year > last - years]
    found = normals_of(used)
    if not any(each.years or each.rain_years for each in found):
        raise BadInputError(path.name, "no whole month", "a month with all its days")
    return Normals(path.name, min(each.year for each in used), last, found, notes)


def _months(text: str, name: str) -> tuple[tuple[YearMonth, ...], tuple[str, ...]]:
    office = read_office(text, name, may_be_typical=True)
    if office is not None:
        return whole_months(office.readings), office.notes
    if any(line.split()[:2] == ["yyyy", "mm"] for line in text.splitlines()[:40]):
        monthly = read_monthly(text, name)
        return tuple(map(_year_month, monthly)), _told(monthly)
    station = parse_readings(text, name)
    return whole_months(station.readings), station.notes


def _year_month(told: StationMonth) -> YearMonth:
    tmin, tmax, rain = (
        math.nan if each is None else each for each in (told.tmin, told.tmax, told.rain)
    )
    return YearMonth(told.year, told.month, tmin, tmax, rain)


def _told(monthly: tuple[StationMonth, ...]) -> tuple[str, ...]:
    estimated = sum(each.is_estimated for each in monthly)
    provisional = sum(each.is_provisional for each in monthly)
    return (
        f"{len(monthly):,} months of a station.",
        *([f"{estimated:,} of them were estimated by the station; they are used."]
          if estimated else []),
        *([f"{provisional:,} of them may still be changed."] if provisional else []),
    )  # fmt: skip
