"""Everything that follows from one place's daily weather, in one call."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

import numpy as np

from swardbook.foundation.quantities import require
from swardbook.handbook.parameters import value
from swardbook.weather.evapotranspiration import hargreaves, reference_evapotranspiration
from swardbook.weather.humidity import actual_vapour_pressure, dew_point, leaf_wet_hours
from swardbook.weather.readings import Finding
from swardbook.weather.series import DailyWeather, Days, Values
from swardbook.weather.soil_temperature import (
    soil_temperature_5cm,
    soil_temperature_10cm,
    standard_error,
)
from swardbook.weather.sun import (
    day_length,
    day_of_year,
    extraterrestrial_radiation,
    light_sum,
    radiation_from_temperature,
)
from swardbook.weather.thermal import Kind, Method, degree_days, growth_potential


@dataclass(frozen=True, slots=True)
class Derived:
    """What follows from the weather, a value a day, and how it was reached.

    Parameters
    ----------
    days : array of datetime64[D]
        The days.
    extraterrestrial_radiation : array
        Radiation above the air. [MJ m⁻² d⁻¹]
    daylength : array
        Sunrise to sunset, without refraction. [h]
    radiation : array
        Global radiation, measured or from the range of temperature. [MJ m⁻² d⁻¹]
    light : array
        Light that leaves can use. [mol m⁻² d⁻¹]
    vapour_pressure : array
        Actual vapour pressure. [kPa]
    dew_point : array
        Dew point. [°C]
    leaf_wet_hours : array
        Hours of high humidity; not a number on days without humidity. [h d⁻¹]
    et0, hargreaves : array
        Reference evapotranspiration by Penman-Monteith, and by temperature alone. [mm d⁻¹]
    degree_days : array
        Warmth by `method` between `base` and `upper`. [°C d]
    growth_potential : array
        Growth that temperature alone allows. [-]
    soil_temperature_5cm, soil_temperature_10cm : array
        Daily means, right to about 2 °C. [°C]
    latitude : float
        Latitude, south negative. [°]
    elevation_m : float
        Height above the sea. [m]
    method : Method
        How degree-days were reached.
    base, upper : float
        Limits of the degree-days. [°C]
    notes : tuple of str
        The fallbacks that were used, and how far to trust the rest.
    """

    days: Days
    extraterrestrial_radiation: Values
    daylength: Values
    radiation: Values
    light: Values
    vapour_pressure: Values
    dew_point: Values
    leaf_wet_hours: Values
    et0: Values
    hargreaves: Values
    degree_days: Values
    growth_potential: Values
    soil_temperature_5cm: Values
    soil_temperature_10cm: Values
    latitude: float
    elevation_m: float
    method: Method
    base: float
    upper: float
    notes: tuple[str, ...]

    def __len__(self) -> int:
        return len(self.days)


def derive(
    weather: DailyWeather,
    latitude: float,
    elevation_m: float,
    *,
    base: float | None = None,
    upper: float | None = None,
    method: Method | str = Method.SINGLE_SINE,
    coastal: bool = False,
) -> Derived:
    """Derive sun, water, warmth and soil temperature for every day.

    A day's figures rest on that day and those before it, never on later ones.

    Parameters
    ----------
    weather : DailyWeather
        The weather.
    latitude : float
        Latitude, south negative. [°]
    elevation_m : float
        Height above the sea. [m]
    base, upper : float, optional
        Limits of the degree-days; those of the handbook if not given. [°C]
    method : Method or str
        How degree-days are reached.
    coastal : bool
        On or near the coast of a large water; matters only without measured radiation.

    Returns
    -------
    Derived
        All series, with notes on the fallbacks used.

    Raises
    ------
    OutOfRangeError
        If latitude, elevation or the limits make no sense.
    """
    require("elevation", elevation_m, -430, 6000, "m", "Metres above the sea, not feet?")
    base = value("weather.degree_day_base") if base is None else base
    upper = value("weather.degree_day_upper") if upper is None else upper
    low, high = weather.tmin, weather.tmax
    number = day_of_year(weather.days)
    above_air = extraterrestrial_radiation(number, latitude)
    from_range = radiation_from_temperature(low, high, above_air, coastal=coastal)
    radiation = _or_else(weather.radiation, from_range)
    pressure = actual_vapour_pressure(low, high, mean_humidity=weather.humidity)
    et0 = reference_evapotranspiration(
        low, high, vapour_pressure=pressure, radiation=radiation, extraterrestrial=above_air,
        wind=_or_else(weather.wind, np.full(len(weather), value("weather.wind_default"))),
        elevation_m=elevation_m,
    )  # fmt: skip
    wet = leaf_wet_hours(low, high, pressure)
    return Derived(
        days=weather.days,
        extraterrestrial_radiation=above_air,
        daylength=day_length(number, latitude),
        radiation=radiation,
        light=light_sum(radiation),
        vapour_pressure=pressure,
        dew_point=dew_point(pressure),
        leaf_wet_hours=np.where(_known(weather.humidity, len(weather)), wet, np.nan),
        et0=et0,
        hargreaves=hargreaves(low, high, above_air),
        degree_days=degree_days(low, high, base=base, upper=upper, method=method),
        growth_potential=growth_potential(weather.tmean, Kind.COOL),
        soil_temperature_5cm=soil_temperature_5cm(low, high),
        soil_temperature_10cm=soil_temperature_10cm(weather.tmean),
        latitude=latitude,
        elevation_m=elevation_m,
        method=Method(method),
        base=base,
        upper=upper,
        notes=_notes(weather, coastal=coastal, method=Method(method), base=base, upper=upper),
    )


def compare_with_given(weather: DailyWeather, derived: Derived) -> Finding | None:
    """Set the derived evapotranspiration beside the one that came with the file, if one did."""
    known = _known(weather.et0_given, len(weather))
    if weather.et0_given is None or known.sum() < 30:
        return None
    ours, given = derived.et0[known], weather.et0_given[known]
    if given.sum() <= 0 or given.std() == 0 or ours.std() == 0:
        return None
    ratio = float(ours.sum() / given.sum())
    together = float(np.corrcoef(ours, given)[0, 1])
    return Finding(
        f"evapotranspiration in the file: ours is {ratio:.2f} of it in sum,"
        f" correlation {together:.2f}",
        "Ours is used; theirs is only an outside check.",
    )


def _known(series: Values | None, length: int) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    return np.zeros(length, dtype=np.bool_) if series is None else ~np.isnan(series)


def _or_else(series: Values | None, otherwise: Values) -> Values:
    return otherwise if series is None else np.where(np.isnan(series), otherwise, series)


def _notes(
    weather: DailyWeather, *, coastal: bool, method: Method, base: float, upper: float
) -> tuple[str, ...]:
    place = "coastal" if coastal else "inland"
    fallbacks = (
        (weather.radiation, "No radiation on {}: taken from the range of temperature"
         f" ({place})."),
        (weather.humidity, "No humidity on {}: the air is taken to be saturated at the minimum;"
         " no leaf wetness for these days."),
        (weather.wind, f"No wind on {{}}: {value('weather.wind_default'):g} m/s is used."),
    )  # fmt: skip
    notes = []
    for series, words in fallbacks:
        lacking = int((~_known(series, len(weather))).sum())
        if lacking:
            days = "any day" if lacking == len(weather) else f"{lacking} of {len(weather)} days"
            notes.append(words.format(days))
    error, low, high = standard_error()
    limit = "" if upper == inf else f", cut off above {upper:g} °C"
    return (
        *notes,
        f"Degree-days: {method.value} method above {base:g} °C{limit}.",
        f"Soil temperature is judged from the air by a lag filter: right to about {error:g} °C"
        f" ({low:g} to {high:g}). A probe does better.",
        "Day length leaves out refraction: an almanac says up to 0.4 h more.",
        "Growth potential knows temperature only; measured clippings outrank it.",
    )
