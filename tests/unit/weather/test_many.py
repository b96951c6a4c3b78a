"""Many places' weather in one pass: the same as a place at a time, compiled or not."""

import ast
import os
from dataclasses import fields, replace
from importlib.resources import files
from math import inf
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pyet
import pytest

from swardbook.foundation.errors import OutOfRangeError
from swardbook.weather.compiling import RunMany, load_derivation
from swardbook.weather.derive import derive
from swardbook.weather.humidity import actual_vapour_pressure
from swardbook.weather.many import DerivedMany, ManyWeather, derive_many
from swardbook.weather.series import DailyWeather
from swardbook.weather.soil_water import RootZone, Seedbed, root_zone_balance, seedbed_balance
from swardbook.weather.sun import (
    day_of_year,
    extraterrestrial_radiation,
    radiation_from_temperature,
)

BED, ZONE = Seedbed(1.35, 3.0), RootZone(40.0, 0.4)
OPTIONAL = ("radiation", "humidity", "wind")
SINGLE = {
    "et0": 1e-4, "hargreaves": 1e-4, "degree_days": 1e-4, "growth_potential": 1e-5,
    "soil_temperature_5cm": 1e-4, "soil_temperature_10cm": 1e-4, "seedbed_depletion": 1e-3,
    "root_zone_depletion": 1e-2, "stress": 1e-3,
}  # fmt: skip
"""How far single precision may be from double, in the unit of each series."""


@pytest.fixture(scope="module")
def compiled() -> RunMany:
    return load_derivation(Path(os.environ["SWARDBOOK_CACHE"]))


def courses(
    rows: int = 150, days: int = 800, *, measured: bool = True, seed: int = 4
) -> ManyWeather:
    """Make up courses from both hemispheres, some beyond the polar circles."""
    draw = np.random.default_rng(seed)
    tmin = draw.normal(6, 9, (rows, days))
    shares = {"radiation": (0, 25), "humidity": (30, 100), "wind": (0, 9)}
    more: dict[str, Any] = {}
    for name, (low, high) in shares.items() if measured else ():
        more[name] = draw.uniform(low, high, (rows, days))
        more[name][draw.random((rows, days)) < 0.3] = np.nan
    return ManyWeather(
        first=np.datetime64("1990-01-01") + draw.integers(0, 9000, rows),
        latitude=draw.choice([-72.0, -37.8, -20.0, 0.0, 52.2, 55.0, 70.0], rows),
        elevation_m=draw.choice([-5.0, 15.0, 900.0], rows),
        tmin=tmin,
        tmax=tmin + draw.uniform(0, 16, (rows, days)),
        water=draw.gamma(0.3, 6.0, (rows, days)),
        **more,
    )


def row_of(many: ManyWeather, row: int) -> DailyWeather:
    days = many.first[row] + np.arange(many.tmin.shape[1])
    series = {
        name: None if (all_rows := getattr(many, name)) is None else all_rows[row]
        for name in OPTIONAL
    }
    return DailyWeather(
        days, many.tmin[row], many.tmax[row], many.water[row], np.zeros(len(days), np.int64),
        **series,
    )  # fmt: skip


def some_rows(many: ManyWeather, rows: slice) -> ManyWeather:
    return replace(
        many,
        **{
            entry.name: series[rows]
            for entry in fields(many)
            if (series := getattr(many, entry.name)) is not None
        },
    )


def farthest(one: DerivedMany, other: DerivedMany) -> dict[str, float]:
    return {
        name: float(np.max(np.abs(getattr(one, name) - getattr(other, name)))) for name in SINGLE
    }


@pytest.mark.parametrize("measured", [True, False])
def test_arrays_give_what_a_place_at_a_time_gives(measured: bool) -> None:
    many = courses(8, 500, measured=measured)

    found = derive_many(many, BED, ZONE)

    for row in range(8):
        alone = derive(row_of(many, row), float(many.latitude[row]), float(many.elevation_m[row]))
        for name in list(SINGLE)[:6]:
            assert getattr(found, name)[row] == pytest.approx(getattr(alone, name), abs=1e-9), name
        water, none = many.water[row], np.zeros(500)
        bed = seedbed_balance(alone.et0, water, none, BED)
        roots = root_zone_balance(alone.et0, water, none, ZONE)
        assert found.seedbed_depletion[row] == pytest.approx(bed.depletion, abs=1e-9)
        assert found.root_zone_depletion[row] == pytest.approx(roots.depletion, abs=1e-9)
        assert found.stress[row] == pytest.approx(roots.stress, abs=1e-9)


def test_a_root_zone_that_minds_the_day_s_demand_does_so_for_many() -> None:
    many, zone = courses(2, 300), RootZone(40.0, 0.4, adjusts=True)

    found = derive_many(many, BED, zone)

    alone = root_zone_balance(found.et0[0].astype(np.float64), many.water[0], np.zeros(300), zone)
    assert found.root_zone_depletion[0] == pytest.approx(alone.depletion, abs=1e-9)


@pytest.mark.parametrize("measured", [True, False])
@pytest.mark.parametrize("adjusts", [True, False])
def test_the_compiled_pass_agrees_with_the_arrays_over_two_years(
    compiled: RunMany, measured: bool, adjusts: bool
) -> None:
    many, zone = courses(measured=measured), RootZone(40.0, 0.4, adjusts)

    exact = derive_many(many, BED, zone)
    fast = derive_many(many, BED, zone, compiled=compiled)

    apart = farthest(exact, fast)
    assert {name: far for name, far in apart.items() if not far < SINGLE[name]} == {}
    assert exact.et0.max() > 5
    assert fast.et0.dtype == np.float32


def test_the_compiled_pass_agrees_with_the_arrays_at_other_limits_and_at_the_coast(
    compiled: RunMany,
) -> None:
    many = courses(70, 400, measured=False)

    for limits in ({"base": 0.0, "upper": inf}, {"base": 10.0, "upper": 22.0, "coastal": True}):
        exact = derive_many(many, BED, ZONE, **limits)  # type: ignore[arg-type]
        fast = derive_many(many, BED, ZONE, compiled=compiled, **limits)  # type: ignore[arg-type]
        apart = farthest(exact, fast)
        assert {name: far for name, far in apart.items() if not far < SINGLE[name]} == {}


def test_the_compiled_pass_agrees_with_pyet_to_a_thousandth_of_a_millimetre(
    compiled: RunMany,
) -> None:
    many = courses(6, 400, measured=False)

    found = derive_many(many, BED, ZONE, compiled=compiled)

    for row in range(6):
        weather, latitude = row_of(many, row), float(many.latitude[row])
        index = pd.DatetimeIndex(weather.days)
        tmin, tmax = pd.Series(weather.tmin, index), pd.Series(weather.tmax, index)
        top = extraterrestrial_radiation(day_of_year(weather.days), latitude)
        sunlit = top > 0.5  # in polar night the two hold the cloud ratio at other values
        theirs = pyet.pm_fao56(
            tmean=(tmin + tmax) / 2, wind=pd.Series(2.0, index), tmax=tmax, tmin=tmin,
            rs=pd.Series(radiation_from_temperature(weather.tmin, weather.tmax, top), index),
            ea=pd.Series(actual_vapour_pressure(weather.tmin, weather.tmax), index),
            elevation=float(many.elevation_m[row]), lat=np.radians(latitude),
        ).to_numpy()  # fmt: skip
        assert found.et0[row][sunlit] == pytest.approx(theirs[sunlit], abs=1e-3)


def test_a_row_has_the_same_bits_whatever_is_beside_it_and_however_it_lies_in_memory(
    compiled: RunMany,
) -> None:
    many = courses(1100, 40)

    whole = derive_many(many, BED, ZONE, compiled=compiled)
    alone = derive_many(some_rows(many, slice(131, 132)), BED, ZONE, compiled=compiled)
    part = derive_many(some_rows(many, slice(130, 1070, 2)), BED, ZONE, compiled=compiled)

    for name in SINGLE:
        series = getattr(whole, name)
        assert np.array_equal(series[131], getattr(alone, name)[0])
        assert np.array_equal(series[130:1070:2], getattr(part, name))


def test_a_day_without_temperature_is_not_known_compiled_as_in_arrays(compiled: RunMany) -> None:
    many = courses(5, 60)
    many.tmin[2, 30] = np.nan
    many.water[3, 20] = np.nan

    exact = derive_many(many, BED, ZONE)
    fast = derive_many(many, BED, ZONE, compiled=compiled)

    for name in ("et0", "hargreaves", "growth_potential", "soil_temperature_10cm",
                 "seedbed_depletion", "root_zone_depletion"):  # fmt: skip
        lacking = np.isnan(getattr(exact, name))
        assert np.array_equal(lacking, np.isnan(getattr(fast, name))), name
    assert np.isnan(fast.et0).sum() == 1
    assert np.isnan(fast.seedbed_depletion[3, 20:]).all()
    assert not np.isnan(fast.soil_temperature_10cm[3]).any()


def test_series_of_other_shapes_and_places_that_are_none_are_refused() -> None:
    many = courses(3, 10)

    with pytest.raises(OutOfRangeError, match="water"):
        replace(many, water=many.water[:, 1:])
    with pytest.raises(OutOfRangeError, match="latitude"):
        replace(many, latitude=many.latitude[:2])
    with pytest.raises(OutOfRangeError, match="at least one"):
        some_rows(many, slice(0, 0))
    with pytest.raises(OutOfRangeError, match="elevation"):
        derive_many(replace(many, elevation_m=np.full(3, 9000.0)), BED, ZONE)
    with pytest.raises(OutOfRangeError, match="latitude"):
        derive_many(replace(many, latitude=np.full(3, 91.0)), BED, ZONE)
    with pytest.raises(OutOfRangeError, match="above the base"):
        derive_many(many, BED, ZONE, base=10, upper=8)


def test_room_can_be_used_again_and_gives_the_same_bits(compiled: RunMany) -> None:
    many, room = courses(5, 30), np.full((9, 30, 5), np.nan, np.float32)

    found = derive_many(many, BED, ZONE, compiled=compiled, room=room)

    new = derive_many(many, BED, ZONE, compiled=compiled)
    assert all(np.array_equal(getattr(found, name), getattr(new, name)) for name in SINGLE)
    assert np.shares_memory(found.stress, room)
    with pytest.raises(OutOfRangeError, match="room"):
        derive_many(many, BED, ZONE, compiled=compiled, room=room[:, 1:])
    with pytest.raises(OutOfRangeError, match="room"):
        derive_many(many, BED, ZONE, room=room)


@pytest.mark.parametrize("module", ["equations", "day"])
def test_an_equation_has_no_loop_and_no_branch(module: str) -> None:
    text = (files("swardbook.weather") / f"{module}.py").read_text(encoding="utf-8")
    kinds = {type(node) for node in ast.walk(ast.parse(text))}

    assert not kinds & {ast.For, ast.While, ast.If, ast.IfExp, ast.ListComp, ast.Pow}
