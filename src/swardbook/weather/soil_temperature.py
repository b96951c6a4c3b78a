"""Soil temperature near the surface, judged from the air; a probe does better.

The rule is a lag filter: each day the soil moves a share of the way to the air's mean. It looks
back only, so tomorrow's weather does not change today's figure.
"""

from __future__ import annotations

import numpy as np

from swardbook.handbook.parameters import parameter, value
from swardbook.weather import equations
from swardbook.weather.series import Values


def lagged(tmean: Values, share: float, start: float | None = None) -> Values:
    """Follow a series with a lag.

    Parameters
    ----------
    tmean : array
        Mean air temperature. [°C]
    share : float
        Share of the gap that is closed in a day. [d⁻¹]
    start : float, optional
        Soil temperature of the evening before; the first day's mean if it is not known. [°C]

    Returns
    -------
    array
        The lagging series. [°C]
    """
    air = np.asarray(tmean, dtype=np.float64)
    soil = np.empty_like(air)
    last = start if start is not None else float(air[0]) if len(air) else 0.0
    for place, today in enumerate(air.tolist()):
        last = equations.lagging(last, today, share)
        soil[place] = last
    return soil


def soil_temperature_10cm(tmean: Values, start: float | None = None) -> Values:
    """Daily mean soil temperature at 10 cm under short grass.

    Parameters
    ----------
    tmean : array
        Mean air temperature. [°C]
    start : float, optional
        Soil temperature of the evening before, if it was measured. [°C]

    Returns
    -------
    array
        Soil temperature, right to about 2 °C (one standard error); the first ten days or so still
        settle. [°C] Form of Zheng, Hunt and Running (1993).
    """
    return lagged(tmean, value("weather.soil_lag_10cm"), start)


def soil_temperature_5cm(tmin: Values, tmax: Values, start: float | None = None) -> Values:
    """Daily mean soil temperature at 5 cm under short grass.

    Parameters
    ----------
    tmin, tmax : array
        Air temperature. [°C]
    start : float, optional
        Soil temperature of the evening before, if it was measured. [°C]

    Returns
    -------
    array
        Soil temperature, right to about 2 °C (one standard error). Where the air's mean is above
        freezing it lies within that day's extremes of the air (Woods 2018). [°C]
    """
    soil = lagged((tmin + tmax) / 2.0, value("weather.soil_lag_5cm"), start)
    found: Values = equations.shallow_soil(soil, tmin, tmax)
    return found


def running_mean(series: Values, days: int | None = None) -> Values:
    """Mean of a day and those before it; for sowing decisions, 11 days.

    Parameters
    ----------
    series : array
        A daily series. [any unit]
    days : int, optional
        Length of the window; that of the handbook if not given.

    Returns
    -------
    array
        The means; the first ones are of as many days as there are. [unit of `series`]
    """
    window = int(value("weather.soil_running_days")) if days is None else days
    values = np.asarray(series, dtype=np.float64)
    sums = np.concatenate([[0.0], np.cumsum(values)])
    ends = np.arange(1, len(values) + 1)
    starts = np.maximum(ends - window, 0)
    means: Values = (sums[ends] - sums[starts]) / (ends - starts)
    return means


def standard_error() -> tuple[float, float, float]:
    """Give the stated error of a day's soil temperature, with its range [°C]."""
    number = parameter("weather.soil_temperature_error")
    return number.value, number.low, number.high


def annual_wave(
    day: Values, depth_m: float, *, mean: float, amplitude: float, coldest_day: float
) -> Values:
    """Soil temperature of an ordinary year at a depth, as one damped sine.

    Parameters
    ----------
    day : array
        Day of the year. [d]
    depth_m : float
        Depth. [m]
    mean, amplitude : float
        Yearly mean of the surface, and half its yearly range. [°C]
    coldest_day : float
        Day of the year on which the surface is coldest. [d]

    Returns
    -------
    array
        Soil temperature. [°C] Hillel (1982).
    """
    depth = depth_m / value("weather.soil_annual_damping_depth")
    phase = 2.0 * np.pi * (day - coldest_day) / 365.0 - depth - np.pi / 2.0
    wave: Values = mean + amplitude * np.exp(-depth) * np.sin(phase)
    return wave
