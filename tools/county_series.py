"""The three county series that checks and validation runs live through: 1991 to 2021, no gap.

They ship with the Python package aquacrop 3.1.0 (Apache-2.0), which does not say where they come
from; `tests/data/README.md` says more.
"""

from __future__ import annotations

import csv
import lzma
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np

from swardbook.demo.weather import weather_text
from swardbook.weather.series import DailyWeather, Flag

DATA = Path(__file__).parents[1] / "tests" / "data"


@dataclass(frozen=True, slots=True)
class County:
    """A county series and the place it is taken to stand for; the places are judged."""

    name: str
    latitude: float
    elevation_m: float

    def weather(self) -> DailyWeather:
        """Give the whole series."""
        return _read(self.name)


COUNTIES = (
    County("cambridge", 52.2, 15.0),
    County("lincolnshire", 53.2, 20.0),
    County("northumberland", 55.2, 100.0),
)


def county(name: str) -> County:
    """Find a county by name."""
    return next(each for each in COUNTIES if each.name == name)


def text_of(name: str) -> str:
    """Give a series as a file of text, a day a line."""
    if name == "cambridge":
        return weather_text()
    return lzma.decompress((DATA / f"{name}.csv.xz").read_bytes()).decode()


@cache
def _read(name: str) -> DailyWeather:
    rows = list(csv.DictReader(text_of(name).splitlines()))

    def column(field: str) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
        return np.array([float(row[field]) for row in rows])

    return DailyWeather(
        days=np.array([row["date"] for row in rows], dtype="datetime64[D]"),
        tmin=column("tmin"),
        tmax=column("tmax"),
        rain=column("rain"),
        flags=np.full(len(rows), int(Flag.NONE), dtype=np.int64),
        et0_given=column("et0"),
    )
