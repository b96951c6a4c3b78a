"""Short ways to call array functions with plain numbers."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from swardbook.weather.series import DailyWeather, Values


def days(*numbers: float) -> Values:
    """Make an array of days."""
    return np.array(numbers, dtype=np.float64)


def one(values: Values) -> float:
    """Take the only value out of an array."""
    assert values.shape == (1,)
    return float(values[0])


def scalar(function: Callable[..., Values], *numbers: float) -> float:
    """Call a function of arrays with one day of plain numbers."""
    return one(function(*(days(number) for number in numbers)))


def weather(
    first: str, tmin: Values, tmax: Values, rain: Values | None = None, **series: Values
) -> DailyWeather:
    """Make weather from a first day and arrays."""
    start = np.datetime64(first, "D")
    return DailyWeather(
        days=start + np.arange(len(tmin)),
        tmin=np.asarray(tmin, dtype=np.float64),
        tmax=np.asarray(tmax, dtype=np.float64),
        rain=np.zeros(len(tmin)) if rain is None else np.asarray(rain, dtype=np.float64),
        flags=np.zeros(len(tmin), dtype=np.int64),
        **series,
    )
