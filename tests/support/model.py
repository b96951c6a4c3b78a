"""Small runs of the model for tests."""

from __future__ import annotations

import csv
import os
from datetime import date
from functools import cache
from importlib.resources import files
from pathlib import Path

import numpy as np

from swardbook.model.chance import Chance
from swardbook.model.compiling import Kernel, load_kernel
from swardbook.model.drivers import autumn_season, drivers_from, seasonal_readiness, winter_season
from swardbook.model.inputs import Drivers, Operations
from swardbook.model.operations import no_operations, set_sowing
from swardbook.model.parameter_sets import Parameters
from swardbook.model.parameters import SownKind, SownKinds, draw_parameters, sown_kinds
from swardbook.model.start import Start, start_state
from swardbook.model.state import SwardState
from swardbook.seed.lot import LotPart
from swardbook.weather.series import DailyWeather

POA = "annual_meadow_grass"
FOG = "yorkshire_fog"
PARTS = (
    LotPart("perennial ryegrass", 0.3, germination=0.9, purity=0.98),
    LotPart("chewings fescue", 0.4, germination=0.9, purity=0.98),
    LotPart("strong creeping red fescue", 0.25, germination=0.9, purity=0.98),
    LotPart("browntop bent", 0.05, germination=0.9, purity=0.98),
)
CHANCE = Chance(("a made-up book", "a zone"))


@cache
def kernel() -> Kernel:
    """Give the compiled kernel, kept between runs of the tests."""
    return load_kernel(Path(os.environ["SWARDBOOK_CACHE"]))


@cache
def county_weather() -> DailyWeather:
    """Give the county series that ships with the demo."""
    file = files("swardbook.demo") / "data" / "cambridge.csv"
    rows = list(csv.DictReader(file.read_text(encoding="utf-8").splitlines()))
    columns = {
        name: np.array([float(row[name]) for row in rows]) for name in ("tmin", "tmax", "rain")
    }
    days = np.array([row["date"] for row in rows], dtype="datetime64[D]")
    return DailyWeather(days, **columns, flags=np.zeros(len(rows), np.int64))


@cache
def county_drivers(first: date, last: date) -> Drivers:
    """Give the drivers of that series."""
    return drivers_from(county_weather(), 52.2, 15.0, first, last)


def steady(
    days: int, celsius: float, *, rain: float = 3.0, et0: float = 2.0, start: int = 120
) -> Drivers:
    """Give the same weather every day, from a day of the season on."""
    same = np.ones(days)
    season = np.asarray((start + np.arange(days) - 1) % 365 + 1, dtype=np.float64)
    return Drivers(
        celsius * same, rain * same, et0 * same, 15.0 * same, season,
        seasonal_readiness(season), autumn_season(season),
        winter_season(season),
    )  # fmt: skip


@cache
def mixture() -> SownKinds:
    """Give a mixture of four."""
    return sown_kinds(PARTS)


def only(species: str) -> SownKinds:
    """Give one species alone."""
    return SownKinds((SownKind(species, 500.0),))


def ensemble(draws: int, start: Start | None = None) -> tuple[SwardState, Parameters]:
    """Draw constants and a start."""
    parameters = draw_parameters(mixture(), draws, CHANCE)
    return start_state(start or Start(bare=1.0, spread=0.3), parameters, CHANCE), parameters


def kept(drivers: Drivers, height: float = 25.0, every: int = 7, boxed: float = 0.0) -> Operations:
    """Cut at a pace whenever it is warm enough to grow."""
    to = no_operations(len(drivers.tmean))
    since = every
    for day, celsius in enumerate(drivers.tmean):
        since += 1
        if celsius > 6 and since >= every:
            to.cut[day], to.cut_height[day], to.boxed[day] = 1.0, height, boxed
            since = 0
    return to


def busy(drivers: Drivers) -> Operations:
    """Do something of everything."""
    to = kept(drivers, boxed=0.5)
    set_sowing(to, 0, mixture(), PARTS, 35.0)
    days = len(drivers.tmean)
    to.feed[20:days:45] = 1.5
    to.verticut_blade[60:days:21] = 1
    to.verticut_soil[70:days:90] = 1
    to.verticut_tips[65:days:60] = 1
    to.scarify[200:days:365] = 1
    to.tine[201:days:365] = 1
    to.brush[30:days:40] = 1
    to.collected[60:days:21] = 1
    to.pull_hours[40:days:30] = 0.01
    to.refill[41:days:30] = 0.7
    to.water[10:days:9] = 3
    to.strip[300:days:900] = 0.3
    to.hours[:] = 0.0001
    to.money[::30] = 0.01
    return to
