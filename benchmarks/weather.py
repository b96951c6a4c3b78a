"""How fast weather is derived, beside pyet, in one run; ratios travel, seconds do not.

Run: ``python -m benchmarks weather``. Nothing here is asserted.
"""

from __future__ import annotations

from collections.abc import Callable
from time import perf_counter

import numpy as np
import pandas as pd
import pyet

from benchmarks._measuring import CACHE, Row, medians
from swardbook.weather.compiling import Singles, load_derivation
from swardbook.weather.day import Made
from swardbook.weather.derive import derive
from swardbook.weather.evapotranspiration import reference_evapotranspiration
from swardbook.weather.humidity import actual_vapour_pressure
from swardbook.weather.many import ManyWeather, derive_many
from swardbook.weather.series import DailyWeather, Values
from swardbook.weather.soil_water import RootZone, Seedbed
from swardbook.weather.sun import (
    day_of_year,
    extraterrestrial_radiation,
    radiation_from_temperature,
)

LATITUDE, ELEVATION_M = 52.2, 15.0
BED, ZONE = Seedbed(1.35, 3.0), RootZone(40.0, 0.4)


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


def theirs(
    weather: DailyWeather, latitude: float = LATITUDE, elevation_m: float = ELEVATION_M
) -> pd.Series:
    """Compute the same by pyet, on one series."""
    index = pd.DatetimeIndex(weather.days)
    tmin, tmax = pd.Series(weather.tmin, index), pd.Series(weather.tmax, index)
    top = extraterrestrial_radiation(day_of_year(weather.days), latitude)
    return pyet.pm_fao56(
        tmean=(tmin + tmax) / 2,
        wind=pd.Series(2.0, index),
        rs=pd.Series(radiation_from_temperature(weather.tmin, weather.tmax, top), index),
        tmax=tmax,
        tmin=tmin,
        ea=pd.Series(actual_vapour_pressure(weather.tmin, weather.tmax), index),
        elevation=elevation_m,
        lat=np.radians(latitude),
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


def both_by_pyet(weather: DailyWeather, latitude: float, elevation_m: float) -> pd.Series:
    """Compute both evapotranspirations by pyet, on one series."""
    index = pd.DatetimeIndex(weather.days)
    tmin, tmax = pd.Series(weather.tmin, index), pd.Series(weather.tmax, index)
    pyet.hargreaves((tmin + tmax) / 2, tmax, tmin, lat=np.radians(latitude))
    return theirs(weather, latitude, elevation_m)


def courses(rows: int = 10_000, days: int = 365) -> ManyWeather:
    """Make up that many courses of a year: 100 places, 100 years each, lying day by day."""
    draw = np.random.default_rng(4)
    day = np.arange(days)[:, None]
    season = -np.cos(2 * np.pi * (day - 20) / 365)
    tmin = (5 + 6 * season + draw.normal(0, 3, (days, rows))).astype(np.float32)
    tmax = tmin + draw.uniform(1, 14, (days, rows)).astype(np.float32)
    water = draw.gamma(0.3, 6.0, (days, rows)).astype(np.float32)
    place, year = np.divmod(np.arange(rows), 100)
    first = np.array([f"{1900 + each}-01-01" for each in range(100)], "datetime64[D]")[year]
    latitude, height = np.linspace(-45.0, 60.0, 100)[place % 100], np.linspace(0.0, 500.0, 100)
    return ManyWeather(first, latitude, height[place % 100], tmin.T, tmax.T, water.T)


def row_of(many: ManyWeather, row: int) -> DailyWeather:
    """Take one course out."""
    days = many.first[row] + np.arange(many.tmin.shape[1])
    tmin, tmax, rain = (
        np.asarray(each[row], np.float64) for each in (many.tmin, many.tmax, many.water)
    )
    return DailyWeather(days, tmin, tmax, rain, np.zeros(len(days), np.int64))


def place_of(many: ManyWeather, row: int) -> tuple[float, float]:
    """Latitude [°] and elevation [m] of a course."""
    return float(many.latitude[row]), float(many.elevation_m[row])


def parts_of(many: ManyWeather, rows: int) -> list[ManyWeather]:
    """Cut into parts of so many rows, each lying day by day."""
    parts = []
    for first in range(0, len(many.first), rows):
        part = slice(first, first + rows)
        series = [
            np.ascontiguousarray(each[part].T).T for each in (many.tmin, many.tmax, many.water)
        ]
        where = many.first[part], many.latitude[part], many.elevation_m[part]
        parts.append(ManyWeather(*where, *series))
    return parts


def by_arrays(parts: list[ManyWeather]) -> Callable[[], None]:
    """Derive part after part by arrays of double precision, in room that is used again."""
    room = np.empty((len(Made._fields), *parts[0].tmin.T.shape))

    def go() -> None:
        for part in parts:
            derive_many(part, BED, ZONE, room=room)

    return go


def triad(elements: int) -> Callable[[], None]:
    """Make the loop ``a = b + 3 c`` in single precision, 12 bytes an element."""
    from numba import njit

    @njit(fastmath={"contract"})
    def go(a: Singles, b: Singles, c: Singles) -> None:
        for at in range(a.size):
            a[at] = b[at] + np.float32(3.0) * c[at]

    a, b, c = (np.ones(elements, np.float32) for _ in range(3))
    return lambda: go(a, b, c)


def many_rows() -> list[Row]:
    """Derive 10,000 site-years in one pass, beside pyet by series, NumPy arrays and a triad."""
    many, run_many = courses(), load_derivation(CACHE)
    site_days, one = many.tmin.size, row_of(many, 5200)
    room = np.empty((len(Made._fields), *many.tmin.T.shape), np.float32)
    found = derive_many(many, BED, ZONE, compiled=run_many, room=room).et0[5200]
    apart = float(np.abs(found - theirs(one, *place_of(many, 5200)).to_numpy()).max())
    read_and_written = 4 * (3 + len(Made._fields))
    taken = medians(
        {
            "compiled": lambda: derive_many(many, BED, ZONE, compiled=run_many, room=room),
            "arrays": by_arrays([many]),
            "arrays in blocks": by_arrays(parts_of(many, 1_000)),
            "pyet": lambda: both_by_pyet(one, *place_of(many, 5200)),
            "triad": triad(site_days * read_and_written // 12),
        },
        5,
    )
    each = {name: seconds / site_days * 1e9 for name, seconds in taken.items()}
    each["pyet"] = taken["pyet"] / len(one) * 1e9
    arrays, own = min(each["arrays"], each["arrays in blocks"]), each["compiled"]
    what = "nine series derived for 10,000 site-years in one compiled pass"
    return [
        Row(f"{what}, over pyet run series by series for two of them (Penman-Monteith,"
            " Hargreaves)",
            f"{each['pyet'] / own:,.0f} times faster ({own:.1f} and {each['pyet']:,.0f} ns a"
            f" site-day; evapotranspiration differs by {apart:.0e} mm)",
            "at least 1,000 times", each["pyet"] / own >= 1_000),
        Row(f"{what}, over the same equations on NumPy arrays, the better of two block sizes",
            f"{arrays / own:.1f} times faster ({arrays:.0f} ns a site-day)",
            "at least 10 times", arrays / own >= 10),
        Row(f"{what}, over a triad that moves the same {read_and_written} bytes",
            f"{own / each['triad']:.1f} times as long ({each['triad']:.1f} ns a site-day)"),
    ]  # fmt: skip


def run() -> list[Row]:
    """Measure."""
    rows = [
        Row(f"weather: {what}", f"{ratio:,.1f} times faster than pyet ({nanoseconds:,.0f} ns a"
            " site-day); written as NumPy arrays, so 1 times NumPy")
        for what, nanoseconds, ratio in measure()
    ]  # fmt: skip
    return [*rows, *many_rows()]


if __name__ == "__main__":
    for row in run():
        print(row)
