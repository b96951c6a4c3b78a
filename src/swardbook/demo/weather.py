"""The real weather behind the made-up ground.

`data/cambridge.csv` holds daily temperature, rain and reference evapotranspiration, 1991 to 2021:
a county series shipped with the Python package aquacrop 3.1.0 (Apache-2.0). Where the series was
measured is not stated there, so it is not a station record. Height 15 m, latitude 52.2° N.
"""

from __future__ import annotations

import csv
from functools import cache
from importlib.resources import files

import numpy as np

from swardbook.weather.series import DailyWeather, Flag

LATITUDE = 52.2
ELEVATION_M = 15.0
WHERE_FROM = (
    "County series shipped with the Python package aquacrop 3.1.0 (Apache-2.0); "
    "where it was measured is not stated there."
)


def weather_text() -> str:
    """Give the weather file as it is shipped."""
    return files("swardbook.demo").joinpath("data/cambridge.csv").read_text(encoding="utf-8")


@cache
def made_up_weather() -> DailyWeather:
    """Read the whole series, 1991 to 2021; a book shows it only up to its today."""
    rows = list(csv.DictReader(weather_text().splitlines()))

    def column(name: str) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
        return np.array([float(row[name]) for row in rows])

    return DailyWeather(
        days=np.array([row["date"] for row in rows], dtype="datetime64[D]"),
        tmin=column("tmin"),
        tmax=column("tmax"),
        rain=column("rain"),
        flags=np.full(len(rows), int(Flag.NONE), dtype=np.int64),
        et0_given=column("et0"),
    )
