"""Weather with gaps too long to fill: the stretches that are whole, and the days missing."""

from __future__ import annotations

from datetime import date

import numpy as np
from numpy.typing import NDArray

from swardbook.foundation.dates import say
from swardbook.weather.readings import runs
from swardbook.weather.series import DailyWeather


def missing_days(weather: DailyWeather) -> NDArray[np.bool_]:
    """Mark the days that lack a temperature or rain."""
    lacking: NDArray[np.bool_] = (
        np.isnan(weather.tmin) | np.isnan(weather.tmax) | np.isnan(weather.rain)
    )
    return lacking


def missing_spells(weather: DailyWeather) -> tuple[tuple[date, date], ...]:
    """List the spells of days that are missing, each by its first and last day."""
    days = weather.days.astype(object)
    return tuple((days[start], days[end - 1]) for start, end in runs(missing_days(weather)))


def whole_stretches(weather: DailyWeather) -> tuple[DailyWeather, ...]:
    """Cut weather at its missing days; each stretch is whole, in order of days."""
    if not missing_days(weather).any():
        return (weather,) if len(weather) else ()
    days = weather.days.astype(object)
    return tuple(
        weather.between(days[start], days[end - 1]) for start, end in runs(~missing_days(weather))
    )


def say_spells(spells: tuple[tuple[date, date], ...]) -> str:
    """Say which days are missing; empty if none are."""
    told = [
        f"{say(first)} to {say(last)} ({(last - first).days + 1} days)" if first != last
        else say(first)
        for first, last in spells
    ]  # fmt: skip
    return "; ".join(told)
