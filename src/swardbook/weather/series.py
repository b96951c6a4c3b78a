"""Daily weather: dates and equally long arrays, validated once and then trusted."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from datetime import date
from enum import IntFlag
from typing import Any

import numpy as np
from numpy.typing import NDArray

from swardbook.foundation.errors import OutOfRangeError

Values = NDArray[np.float64]
Days = NDArray[np.datetime64]


class Flag(IntFlag):
    """What was done to, or is odd about, one day; several may hold."""

    NONE = 0
    FILLED_TEMPERATURE = 1
    FILLED_RAIN = 2
    ODD = 4
    SWAPPED = 8
    FROM_OTHER_YEARS = 16
    TRACE = 32
    FROM_DAYS_AROUND = 64
    MISSING = 128
    """Neither measured nor filled: minimum, maximum or rain is not a number."""
    FETCHED_TEMPERATURE = 256
    """Reckoned for the place by a service, not measured there."""
    FETCHED_RAIN = 512


@dataclass(frozen=True, slots=True)
class DailyWeather:
    """One place's weather, one day after another.

    Parameters
    ----------
    days : array of datetime64[D]
        Consecutive days.
    tmin, tmax : array
        Air temperature; not a number on a day of a gap too long to fill. [°C]
    rain : array
        Precipitation; likewise. [mm d⁻¹]
    flags : array of int
        `Flag` of each day.
    radiation : array or None
        Global radiation. [MJ m⁻² d⁻¹]
    humidity : array or None
        Mean relative humidity. [%]
    wind : array or None
        Mean wind at 2 m. [m s⁻¹]
    et0_given : array or None
        Reference evapotranspiration that came with the file; an outside check only. [mm d⁻¹]
    """

    days: Days
    tmin: Values
    tmax: Values
    rain: Values
    flags: NDArray[np.int64]
    radiation: Values | None = None
    humidity: Values | None = None
    wind: Values | None = None
    et0_given: Values | None = None

    def __post_init__(self) -> None:
        steps = np.diff(self.days)
        if len(self.days) and not np.all(steps == np.timedelta64(1, "D")):
            raise OutOfRangeError("step between days", "not one day", "one day everywhere", "d")
        for entry in fields(self):
            series = getattr(self, entry.name)
            if series is not None and len(series) != len(self.days):
                raise OutOfRangeError(entry.name, len(series), f"{len(self.days)} values", "d")

    def __len__(self) -> int:
        return len(self.days)

    @property
    def first(self) -> date:
        """The first day."""
        found: date = self.days[0].astype(object)
        return found

    @property
    def last(self) -> date:
        """The last day."""
        found: date = self.days[-1].astype(object)
        return found

    @property
    def tmean(self) -> Values:
        """Mean of the day's extremes [°C]."""
        return (self.tmin + self.tmax) / 2

    def index(self, day: date) -> int:
        """Place of a day in the arrays; below 0 or past the end if it is not there."""
        return int((np.datetime64(day, "D") - self.days[0]).astype(int))

    def until(self, last: date) -> DailyWeather:
        """Give the part up to and including a day; what comes after is not read."""
        return self.between(self.first, last)

    def between(self, first: date, last: date) -> DailyWeather:
        """Give the part from one day to another, both included, as far as there is any."""
        low = max(self.index(first), 0)
        part = slice(low, max(self.index(last) + 1, low))
        cut: dict[str, Any] = {
            entry.name: None if (series := getattr(self, entry.name)) is None else series[part]
            for entry in fields(self)
        }
        return replace(self, **cut)
