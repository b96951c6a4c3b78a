"""Days that were told ahead, kept apart from those that were measured."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from datetime import date, timedelta
from typing import Any

import numpy as np
from numpy.typing import NDArray

from swardbook.weather.readings import Readings
from swardbook.weather.series import DailyWeather


@dataclass(frozen=True, slots=True)
class Forecast:
    """Weather that was told before its days came; never a record of them.

    Parameters
    ----------
    weather : DailyWeather
        The days that were told.
    made_on : date or None
        The last day that was measured when they were told; None where nobody wrote it down.
    """

    weather: DailyWeather
    made_on: date | None = None

    def after(self, day: date) -> Forecast | None:
        """Give what is told of the days after one; None where nothing is."""
        left = self.weather.between(day + timedelta(days=1), self.weather.last)
        return replace(self, weather=left) if len(left) else None

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
