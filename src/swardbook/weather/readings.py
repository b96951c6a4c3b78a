"""Weather as it was read: days may be missing, and so may values."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from swardbook.foundation.dates import say
from swardbook.weather.series import Days, Flag, Values

EXTRA = ("radiation", "humidity", "wind", "et0_given")
"""Series that a file may carry and that may lack days."""


@dataclass(frozen=True, slots=True)
class Finding:
    """Something odd about the weather: what was read, and the likely slip.

    Nothing is refused or changed by a finding alone; `flag` is what the day then carries.
    """

    read: str
    likely: str
    day: date | None = None
    last: date | None = None
    """Last day of a spell."""
    line: int | None = None
    """Line of the file, where it came from one."""
    flag: Flag = Flag.NONE

    @property
    def words(self) -> str:
        """Where it is, what was read and what is likely, in one line."""
        place = f"line {self.line}: " if self.line else ""
        if self.day is not None:
            end = f" to {say(self.last)}" if self.last and self.last != self.day else ""
            place += f"{say(self.day)}{end}: "
        return f"{place}{self.read}. {self.likely}".strip()


@dataclass(frozen=True, slots=True)
class Readings:
    """One place's weather as read: sorted days, not a number where a value is missing.

    Parameters
    ----------
    days : array of datetime64[D]
        Days, rising, none twice; some may be missing.
    lines : array of int
        Line of the file each came from; 0 where there is none.
    tmin, tmax : array
        Air temperature. [°C]
    rain : array
        Precipitation. [mm d⁻¹]
    flags : array of int
        `Flag` of each day.
    radiation : array or None
        Global radiation. [MJ m⁻² d⁻¹]
    humidity : array or None
        Mean relative humidity. [%]
    wind : array or None
        Mean wind at 2 m. [m s⁻¹]
    et0_given : array or None
        Reference evapotranspiration that came with the file. [mm d⁻¹]
    """

    days: Days
    lines: NDArray[np.int64]
    tmin: Values
    tmax: Values
    rain: Values
    flags: NDArray[np.int64]
    radiation: Values | None = None
    humidity: Values | None = None
    wind: Values | None = None
    et0_given: Values | None = None

    def day(self, place: int) -> date:
        """Give the day at a place."""
        found: date = self.days[place].astype(object)
        return found

    def line(self, place: int) -> int | None:
        """Give the line of the file at a place, if it came from one."""
        return int(self.lines[place]) or None


def runs(marked: NDArray[np.bool_]) -> list[tuple[int, int]]:
    """List the runs of marked places, each as first and one past the last."""
    edges = np.diff(np.concatenate([[0], marked.astype(np.int8), [0]]))
    starts, ends = np.flatnonzero(edges == 1), np.flatnonzero(edges == -1)
    return list(zip(starts.tolist(), ends.tolist(), strict=True))
