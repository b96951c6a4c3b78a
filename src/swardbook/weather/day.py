"""One day of many places at once: the equations put together, in tuples of plain numbers.

The text runs on arrays, a value a place, and is compiled from the same words
(`swardbook.weather.many`).
"""

from __future__ import annotations

from typing import NamedTuple

from swardbook.foundation.numbers import Numbers, known, least, most
from swardbook.weather import equations


class Today(NamedTuple):
    """What a day brought; radiation, humidity and wind may be not a number.

    Temperatures in °C, water that reached the ground in mm, radiation at the ground and above the
    air in MJ m⁻², humidity in %, wind at 2 m in m s⁻¹.
    """

    tmin: Numbers
    tmax: Numbers
    water: Numbers
    radiation: Numbers
    humidity: Numbers
    wind: Numbers
    above_air: Numbers


class Place(NamedTuple):
    """What a place's height gives: psychrometric constant [kPa °C⁻¹], clear-sky share [-]."""

    gamma: Numbers
    clear_share: Numbers


class Stores(NamedTuple):
    """What a day hands to the next: lagging soil temperatures [°C], missing water [mm]."""

    soil_5cm: Numbers
    soil_10cm: Numbers
    seedbed: Numbers
    root_zone: Numbers


class Constants(NamedTuple):
    """Numbers of the handbook and of the soil, alike in every place."""

    albedo: Numbers
    cloud_least: Numbers
    wind_default: Numbers
    range_factor: Numbers
    clear_most: Numbers
    base: Numbers
    upper: Numbers
    growth_optimum: Numbers
    growth_width: Numbers
    lag_5cm: Numbers
    lag_10cm: Numbers
    seedbed_demand: Numbers
    readily: Numbers
    seedbed_total: Numbers
    turf_demand: Numbers
    root_total: Numbers
    share_at_five: Numbers
    share_slope: Numbers
    share_least: Numbers
    share_most: Numbers


class Made(NamedTuple):
    """What follows from a day; `swardbook.weather.many.DerivedMany` says each with its unit."""

    et0: Numbers
    hargreaves: Numbers
    degree_days: Numbers
    growth_potential: Numbers
    soil_temperature_5cm: Numbers
    soil_temperature_10cm: Numbers
    seedbed_depletion: Numbers
    root_zone_depletion: Numbers
    stress: Numbers


def step(before: Stores, t: Today, place: Place, c: Constants) -> tuple[Stores, Made]:
    """Derive one day and carry the stores to its evening."""
    middle = (t.tmin + t.tmax) / 2.0
    et0 = reference(t, place, c)
    soil_5cm = equations.lagging(before.soil_5cm, middle, c.lag_5cm)
    soil_10cm = equations.lagging(before.soil_10cm, middle, c.lag_10cm)
    seedbed = bare_evening(before.seedbed, t.water, c.seedbed_demand * et0, c)
    demand = c.turf_demand * et0
    share = equations.unstressed_share(
        demand, c.share_at_five, c.share_slope, c.share_least, c.share_most
    )
    ks = equations.stress(before.root_zone, c.root_total, share)
    taken = equations.taken_by_roots(demand, ks, before.root_zone, t.water, c.root_total)
    root_zone = equations.wetted(before.root_zone + taken, t.water)
    made = Made(
        et0,
        equations.hargreaves(t.tmin, t.tmax, t.above_air),
        warmth(t, c),
        equations.growth(middle, c.growth_optimum, c.growth_width),
        equations.shallow_soil(soil_5cm, t.tmin, t.tmax),
        soil_10cm,
        seedbed,
        root_zone,
        ks,
    )
    return Stores(soil_5cm, soil_10cm, seedbed, root_zone), made


def reference(t: Today, place: Place, c: Constants) -> Numbers:
    """Reference evapotranspiration by FAO-56 with its fallbacks [mm d⁻¹]."""
    cold, warm = equations.saturation_pressure(t.tmin), equations.saturation_pressure(t.tmax)
    pressure = equations.pressure_by_mean_humidity(cold, warm, t.humidity)
    by_range = equations.radiation_by_range(
        t.tmin, t.tmax, t.above_air, c.range_factor, c.clear_most
    )
    radiation = known(t.radiation, by_range)
    ratio = equations.cloud_ratio(radiation, place.clear_share * t.above_air, c.cloud_least)
    longwave = equations.net_longwave(t.tmin, t.tmax, pressure, ratio)
    return equations.penman_monteith(
        (t.tmin + t.tmax) / 2.0,
        (cold + warm) / 2.0 - pressure,
        (1.0 - c.albedo) * radiation - longwave,
        known(t.wind, c.wind_default),
        place.gamma,
    )


def warmth(t: Today, c: Constants) -> Numbers:
    """Degree-days by single sine, with what lies over the upper limit cut off [°C d]."""
    above_base = equations.sine_above(t.tmin, t.tmax, c.base)
    return most(above_base - equations.sine_above(t.tmin, t.tmax, c.upper), 0.0)


def bare_evening(depletion: Numbers, water: Numbers, demand: Numbers, c: Constants) -> Numbers:
    """Water missing from the seedbed in the evening [mm]."""
    morning = equations.wetted(depletion, water)
    lost = equations.dried_by(morning, demand, c.readily, c.seedbed_total)
    return least(morning + lost, c.seedbed_total)
