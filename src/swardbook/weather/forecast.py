"""Days that were told ahead, kept apart from those that were measured."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from datetime import date, datetime, timedelta
from typing import Any

import numpy as np
from numpy.typing import NDArray

from swardbook.foundation.errors import OutOfRangeError
from swardbook.weather.readings import Readings
from swardbook.weather.series import DailyWeather


@dataclass(frozen=True, slots=True)
class Source:
    """Where fetched weather came from.

    Parameters
    ----------
    fetched_at : datetime
        When it was fetched, with its zone.
    host : str
        The machine that was asked.
    credit : str
        What is to be said wherever it is shown; empty where nobody set it.
    """

    fetched_at: datetime
    host: str
    credit: str = ""


@dataclass(frozen=True, slots=True)
class Forecast:
    """Weather that was told before its days came; never a record of them.

    Parameters
    ----------
    weather : DailyWeather
        The days that were told.
    made_on : date or None
        The last day that was measured when they were told; None where nobody wrote it down.
    source : Source or None
        Where it was fetched from; None for one that was brought in by hand.
    members : tuple of DailyWeather
        The courses that were told of the same days, where there were several.
    """

    weather: DailyWeather
    made_on: date | None = None
    source: Source | None = None
    members: tuple[DailyWeather, ...] = ()

    def __post_init__(self) -> None:
        for each in self.members:
            if not np.array_equal(each.days, self.weather.days):
                raise OutOfRangeError(
                    "days of a course told", len(each), "those of the forecast", "d"
                )

    def after(self, day: date) -> Forecast | None:
        """Give what is told of the days after one; None where nothing is."""
        first, last = day + timedelta(days=1), self.weather.last
        left = self.weather.between(first, last)
        members = tuple(each.between(first, last) for each in self.members)
        return replace(self, weather=left, members=members) if len(left) else None

    def past_without_record(self, measured: date | None, today: date) -> tuple[date, date] | None:
        """Give the first and last told day that is past and was not measured; None without one.

        Parameters
        ----------
        measured : date or None
            The last day that was measured; None without any.
        today : date
            The day that is not past yet.
        """
        first = self.weather.first
        if measured is not None:
            first = max(first, measured + timedelta(days=1))
        last = min(self.weather.last, today - timedelta(days=1))
        return (first, last) if first <= last else None


def parted(readings: Readings, known_to: date) -> tuple[Readings | None, Readings | None]:
    """Part readings into days that can have been measured and days that can not.

    Parameters
    ----------
    readings : Readings
        What was read.
    known_to : date
        The last day that can have been measured.

    Returns
    -------
    tuple of Readings or None
        The days up to that one, and the days after it; None where there are none.
    """
    told = readings.days > np.datetime64(known_to, "D")
    return _part(readings, ~told), _part(readings, told)


def _part(readings: Readings, chosen: NDArray[np.bool_]) -> Readings | None:
    if not chosen.any():
        return None
    cut: dict[str, Any] = {
        each.name: None if (held := getattr(readings, each.name)) is None else held[chosen]
        for each in fields(readings)
    }
    return Readings(**cut)
