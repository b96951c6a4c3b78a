"""Many places' and years' weather derived in one pass over all of them.

`derive` is for one place and says all it can; here the series that tasks are weighed by are made
for thousands of courses of weather at once. With compiled code the arithmetic is of single
precision; the tests hold evapotranspiration within 0.001 mm of the arrays of double precision.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from swardbook.foundation.errors import OutOfRangeError
from swardbook.foundation.quantities import require
from swardbook.handbook.parameters import value
from swardbook.weather.day import Constants, Made, Place, Stores, Today, step
from swardbook.weather.humidity import air_pressure, psychrometric_constant
from swardbook.weather.series import Days, Values
from swardbook.weather.soil_water import RootZone, Seedbed
from swardbook.weather.sun import clear_sky_radiation, day_of_year, extraterrestrial_radiation

if TYPE_CHECKING:
    from swardbook.weather.compiling import RunMany

Series = NDArray[Any]
_NO_LIMIT = 1e6
"""Stands for no upper limit of degree-days: a number, for no day must meet infinity [°C]."""


@dataclass(frozen=True, slots=True)
class ManyWeather:
    """Courses of weather, each of as many days: a row a place or year.

    Fastest in single precision with a day's values of all rows side by side in memory (Fortran
    order); anything else is copied into that.

    Parameters
    ----------
    first : array of datetime64[D]
        First day of each row.
    latitude, elevation_m : array
        Place of each row: south negative [°], above the sea [m].
    tmin, tmax : array
        Air temperature, rows by days. [°C]
    water : array
        Rain and irrigation that reached the ground. [mm d⁻¹]
    radiation : array, optional
        Global radiation; where it is not a number, taken from the range of temperature.
        [MJ m⁻² d⁻¹]
    humidity : array, optional
        Mean relative humidity; where it is not a number, saturated at the minimum. [%]
    wind : array, optional
        Mean wind at 2 m; where it is not a number, the handbook's. [m s⁻¹]
    """

    first: Days
    latitude: Values
    elevation_m: Values
    tmin: Series
    tmax: Series
    water: Series
    radiation: Series | None = None
    humidity: Series | None = None
    wind: Series | None = None

    def __post_init__(self) -> None:
        rows, days = self.tmin.shape
        for entry in fields(self):
            series = getattr(self, entry.name)
            wanted = (rows,) if entry.name in ("first", "latitude", "elevation_m") else (rows, days)
            if series is not None and series.shape != wanted:
                raise OutOfRangeError(entry.name, str(series.shape), f"shape {wanted}", "-")
        if days == 0 or rows == 0:
            raise OutOfRangeError("days of weather", f"{rows} rows of {days}", "at least one", "d")


@dataclass(frozen=True, slots=True)
class DerivedMany:
    """What follows from many courses of weather: rows by days in each array.

    Parameters
    ----------
    et0, hargreaves : array
        Reference evapotranspiration by Penman-Monteith, and by temperature alone. [mm d⁻¹]
    degree_days : array
        Warmth by single sine. [°C d]
    growth_potential : array
        Growth that temperature alone allows. [-]
    soil_temperature_5cm, soil_temperature_10cm : array
        Daily means, right to about 2 °C. [°C]
    seedbed_depletion, root_zone_depletion : array
        Water missing in the evening. [mm]
    stress : array
        Ks of the root zone: 1 without want of water. [-]
    """

    et0: Series
    hargreaves: Series
    degree_days: Series
    growth_potential: Series
    soil_temperature_5cm: Series
    soil_temperature_10cm: Series
    seedbed_depletion: Series
    root_zone_depletion: Series
    stress: Series


def derive_many(
    weather: ManyWeather,
    bed: Seedbed,
    zone: RootZone,
    *,
    base: float | None = None,
    upper: float | None = None,
    coastal: bool = False,
    compiled: RunMany | None = None,
    room: Series | None = None,
) -> DerivedMany:
    """Derive evapotranspiration, warmth, soil temperature and soil water for every row.

    Both stores of water are full, and the soil as warm as the air, before the first day.

    Parameters
    ----------
    weather : ManyWeather
        The courses of weather.
    bed : Seedbed
        The bare layer that seed lies in.
    zone : RootZone
        The soil that roots reach.
    base, upper : float, optional
        Limits of the degree-days; those of the handbook if not given. [°C]
    coastal : bool
        On or near the coast of a large water; matters only without measured radiation.
    compiled : callable, optional
        The compiled pass (`swardbook.weather.compiling.load_derivation`); without it arrays of
        double precision are used, which is the reference.
    room : array, optional
        Where to put the series, nine by days by rows, in the precision of the way chosen; what an
        earlier call put there is lost. New room if not given. [unit of each series]

    Returns
    -------
    DerivedMany
        All series.

    Raises
    ------
    OutOfRangeError
        If a latitude or elevation makes no sense, or the room is of another shape.
    """
    constants = _constants(bed, zone, base, upper, coastal=coastal)
    for each in (weather.elevation_m.min(), weather.elevation_m.max()):
        require("elevation", float(each), -430, 6000, "m", "Metres above the sea, not feet?")
    latitudes, latitude = np.unique(weather.latitude, return_inverse=True)
    year = np.arange(367.0)
    above = np.stack([extraterrestrial_radiation(year, float(each)) for each in latitudes], axis=1)
    firsts, calendar = np.unique(weather.first, return_inverse=True)
    days = firsts[None, :] + np.arange(weather.tmin.shape[1])[:, None]
    number = day_of_year(days).astype(np.int32)
    heights, height = np.unique(weather.elevation_m, return_inverse=True)
    place = Place(
        np.array([psychrometric_constant(air_pressure(each)) for each in heights.tolist()])[height],
        np.array([clear_sky_radiation(np.ones(()), each) for each in heights.tolist()])[height],
    )
    made = _room(weather, np.float64 if compiled is None else np.float32, room)
    if compiled is None:
        _by_arrays(made, weather, constants, place, above[:, latitude], number[:, calendar])
    else:
        rows = above, latitude, number, calendar
        _by_compiled(made, compiled, weather, constants, place, rows)
    return DerivedMany(*(series.T for series in made))


def _room(weather: ManyWeather, kind: type[np.floating[Any]], room: Series | None) -> Series:
    """Give the room for all series; refuse one of another shape or precision."""
    shape = (len(Made._fields), *weather.tmin.shape[::-1])
    if room is None:
        return np.empty(shape, kind)
    if room.shape != shape or room.dtype != kind or not room.flags.c_contiguous:
        wanted = f"shape {shape} of {kind.__name__}, lying in order"
        raise OutOfRangeError("room", f"{room.shape} of {room.dtype}", wanted, "-")
    return room


def _by_arrays(
    made: Series,
    weather: ManyWeather,
    c: Constants,
    place: Place,
    above: Values,
    number: NDArray[np.int32],
) -> None:
    """Take all rows through a day at a time, in double precision."""
    by_day = [_day_by_day(series, np.float64) for series in _series(weather)]
    nothing, rows = np.full(weather.tmin.shape[0], np.nan), np.arange(weather.tmin.shape[0])
    stores = Stores(*_before(by_day[0], by_day[1]))
    for day, numbers in enumerate(number):
        came = [series[day] if len(series) else nothing for series in by_day]
        today = Today._make([*came, above[numbers, rows]])
        stores, made[:, day] = step(stores, today, place, c)


def _by_compiled(
    made: Series,
    run: RunMany,
    weather: ManyWeather,
    c: Constants,
    place: Place,
    rows: tuple[Series, ...],
) -> None:
    """Take all rows through in one compiled pass, in single precision."""
    by_day = [_day_by_day(series, np.float32) for series in _series(weather)]
    above, latitude, number, calendar = rows
    run(
        *by_day,  # type: ignore[call-arg]
        above.astype(np.float32),
        latitude.astype(np.int32),
        number,
        calendar.astype(np.int32),
        np.stack(place).astype(np.float32),
        np.stack(_before(by_day[0], by_day[1])),
        np.array(c, np.float32),
        made,
    )


def _series(weather: ManyWeather) -> tuple[Series | None, ...]:
    return tuple(getattr(weather, name) for name in Today._fields[:-1])


def _day_by_day(series: Series | None, kind: type[np.floating[Any]]) -> Series:
    """Lay a day's values of all rows side by side; a series that is not there has no day."""
    if series is None:
        return np.empty((0, 1), kind)
    return np.ascontiguousarray(series.T, kind)


def _before(tmin: Series, tmax: Series) -> list[Series]:
    """Stores before the first day: soil as warm as the air, water full."""
    middle = (tmin[0] + tmax[0]) / 2
    return [middle, middle, np.zeros_like(middle), np.zeros_like(middle)]


def _constants(
    bed: Seedbed, zone: RootZone, base: float | None, upper: float | None, *, coastal: bool
) -> Constants:
    """Read the numbers that are alike in every row."""
    low = value("weather.degree_day_base") if base is None else base
    high = value("weather.degree_day_upper") if upper is None else upper
    if not low < high:
        raise OutOfRangeError("upper limit", high, f"above the base of {low:g}", "°C")
    at_coast = value("weather.temperature_radiation_coast")
    return Constants(
        albedo=value("weather.grass_albedo"),
        cloud_least=value("weather.cloud_ratio_least"),
        wind_default=value("weather.wind_default"),
        range_factor=at_coast if coastal else value("weather.temperature_radiation_inland"),
        clear_most=value("weather.overcast_share") + value("weather.sunshine_share"),
        base=low,
        upper=min(high, _NO_LIMIT),
        growth_optimum=value("weather.growth_cool_optimum"),
        growth_width=value("weather.growth_cool_width"),
        lag_5cm=value("weather.soil_lag_5cm"),
        lag_10cm=value("weather.soil_lag_10cm"),
        seedbed_demand=value("turf_water.seedbed_demand"),
        readily=bed.readily,
        seedbed_total=bed.total,
        turf_demand=value("turf_water.crop_coefficient"),
        root_total=zone.total,
        share_at_five=(
            value("turf_water.depletion_fraction") if zone.adjusts else zone.depletion_fraction
        ),
        share_slope=value("turf_water.depletion_slope") if zone.adjusts else 0.0,
        share_least=value("turf_water.depletion_least") if zone.adjusts else 0.0,
        share_most=value("turf_water.depletion_most") if zone.adjusts else 1.0,
    )
