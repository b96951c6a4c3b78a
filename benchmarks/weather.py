"""How fast weather is derived, beside pyet, in one run; ratios travel, seconds do not.

Run: ``python -m benchmarks weather``. Nothing here is asserted.
"""

from __future__ import annotations

from collections.abc import Callable
from time import perf_counter

import numpy as np
import pandas as pd
import pyet

from benchmarks._measuring import Row
from swardbook.weather.derive import derive
from swardbook.weather.evapotranspiration import reference_evapotranspiration
from swardbook.weather.humidity import actual_vapour_pressure
from swardbook.weather.series import DailyWeather, Values
from swardbook.weather.sun import (
    day_of_year,
    extraterrestrial_radiation,
    radiation_from_temperature,
)

LATITUDE, ELEVATION_M = 52.2, 15.0


def made_up(years: int) -> DailyWeather:
    """Make weather for a number of years from a fixed seed."""
    draw = np.random.default_rng(years)
    days = np.arange(np.datetime64("1990-01-01"), np.datetime64(f"{1990 + years}-01-01"))
    season = -np.cos(2 * np.pi * (day_of_year(days) - 20) / 365)
    tmin = 5 + 6 * season + draw.normal(0, 3, len(days))
    return DailyWeather(
        days=days,
        tmin=tmin,
        tmax=tmin + draw.uniform(1, 14, len(days)),
        rain=draw.gamma(0.3, 6.0, len(days)),
        flags=np.zeros(len(days), dtype=np.int64),
    )


def best(work: Callable[[], object], times: int = 5) -> float:
    """Shortest of several runs [s], after one that warms up."""
    work()
    taken = []
    for _ in range(times):
        began = perf_counter()
        work()
        taken.append(perf_counter() - began)
    return min(taken)


def ours(weather: DailyWeather) -> Values:
    """Reference evapotranspiration from temperature alone, as arrays."""
    top = extraterrestrial_radiation(day_of_year(weather.days), LATITUDE)
    return reference_evapotranspiration(
        weather.tmin,
        weather.tmax,
        vapour_pressure=actual_vapour_pressure(weather.tmin, weather.tmax),
        radiation=radiation_from_temperature(weather.tmin, weather.tmax, top),
        extraterrestrial=top,
        wind=np.full(len(weather), 2.0),
        elevation_m=ELEVATION_M,
    )


def theirs(weather: DailyWeather) -> pd.Series:
    """Compute the same by pyet, on one series."""
    index = pd.DatetimeIndex(weather.days)
    tmin, tmax = pd.Series(weather.tmin, index), pd.Series(weather.tmax, index)
    top = extraterrestrial_radiation(day_of_year(weather.days), LATITUDE)
    return pyet.pm_fao56(
        tmean=(tmin + tmax) / 2,
        wind=pd.Series(2.0, index),
        rs=pd.Series(radiation_from_temperature(weather.tmin, weather.tmax, top), index),
        tmax=tmax,
        tmin=tmin,
        ea=pd.Series(actual_vapour_pressure(weather.tmin, weather.tmax), index),
        elevation=ELEVATION_M,
        lat=np.radians(LATITUDE),
    )


def measure() -> list[tuple[str, float, float]]:
    """Measure; each row is what, nanoseconds a site-day of ours, and how often faster than pyet."""
    rows = []
    for years in (1, 100):
        weather = made_up(years)
        apart = float(np.abs(ours(weather) - theirs(weather).to_numpy()).max())
        own, other = best(lambda w=weather: ours(w)), best(lambda w=weather: theirs(w))  # type: ignore[misc]
        name = f"evapotranspiration, one series of {years} years (differs by {apart:.0e} mm)"
        rows.append((name, own / len(weather) * 1e9, other / own))
    weather = made_up(100)
    everything = best(lambda: derive(weather, LATITUDE, ELEVATION_M))
    alone = best(lambda: theirs(weather))
    name = "everything derived, 100 years (pyet: evapotranspiration alone)"
    rows.append((name, everything / len(weather) * 1e9, alone / everything))
    return rows


def by_series() -> Row:
    """Many site-years: pyet a year at a time, the same functions on one array of all of them."""
    weather, one = made_up(100), made_up(1)
    own = best(lambda: ours(weather), 3) / len(weather)
    other = best(lambda: theirs(one), 3) / len(one)
    ratio = other / own
    return Row(
        "evapotranspiration of many site-years on one array, over pyet a series at a time",
        f"{ratio:,.0f} times faster ({own * 1e9:.0f} and {other * 1e9:,.0f} ns a site-day)",
        "a later goal: at least 1,000 times, and 10 times NumPy arrays",
        None,
    )


def run() -> list[Row]:
    """Measure."""
    rows = [
        Row(f"weather: {what}", f"{ratio:,.1f} times faster than pyet ({nanoseconds:,.0f} ns a"
            " site-day); written as NumPy arrays, so 1 times NumPy")
        for what, nanoseconds, ratio in measure()
    ]  # fmt: skip
    return [*rows, by_series()]


if __name__ == "__main__":
    for row in run():
        print(row)
