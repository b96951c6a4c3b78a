"""The equations of daily weather, each written once, as functions of plain numbers.

The functions beside this module call them on arrays and say what goes in, in which unit; the
compiled pass (`swardbook.weather.many`) is made from this text. So they hold arithmetic and the
operations of `swardbook.foundation.numbers`, nothing else. Temperatures are in °C, pressures in
kPa, radiation in MJ m⁻² d⁻¹, water in mm.
"""

from __future__ import annotations

from swardbook.foundation.numbers import (
    Numbers,
    arccos,
    exp,
    expm1,
    known,
    least,
    most,
    select,
    sqrt,
    within,
)


def saturation_pressure(celsius: Numbers) -> Numbers:
    """Vapour pressure of saturated air [kPa]; FAO-56 eq. 11."""
    return 0.6108 * exp(17.27 * celsius / (celsius + 237.3))


def slope_of_saturation(celsius: Numbers) -> Numbers:
    """Slope of the saturation curve [kPa °C⁻¹]; FAO-56 eq. 13."""
    return 4098.0 * saturation_pressure(celsius) / squared(celsius + 237.3)


def pressure_by_mean_humidity(cold: Numbers, warm: Numbers, humidity: Numbers) -> Numbers:
    """Actual vapour pressure from the saturation of both extremes and mean humidity [kPa].

    FAO-56 eq. 19; without humidity the air is taken to be saturated at the minimum, eq. 48.
    """
    return known(humidity / 100.0 * (cold + warm) / 2.0, cold)


def radiation_by_range(
    tmin: Numbers, tmax: Numbers, above_air: Numbers, factor: Numbers, clear: Numbers
) -> Numbers:
    """Global radiation from the day's range of temperature, up to a clear sky's; FAO-56 eq. 50."""
    return least(factor * sqrt(most(tmax - tmin, 0.0)), clear) * above_air


def net_longwave(tmin: Numbers, tmax: Numbers, pressure: Numbers, ratio: Numbers) -> Numbers:
    """Longwave radiation that grass loses to the sky; FAO-56 eq. 39."""
    emitted = 4.903e-9 * (fourth(tmax + 273.16) + fourth(tmin + 273.16)) / 2.0
    cloud = 1.35 * ratio - 0.35
    return emitted * (0.34 - 0.14 * sqrt(pressure)) * cloud


def cloud_ratio(radiation: Numbers, clear_sky: Numbers, lowest: Numbers) -> Numbers:
    """Radiation over that of a clear sky, held from a lowest value to 1."""
    return within(radiation / most(clear_sky, 1e-3), lowest, 1.0)


def penman_monteith(
    middle: Numbers, deficit: Numbers, net_radiation: Numbers, wind: Numbers, gamma: Numbers
) -> Numbers:
    """Reference evapotranspiration of short grass, never below 0 [mm d⁻¹]; FAO-56 eq. 6."""
    slope = slope_of_saturation(middle)
    by_radiation = 0.408 * slope * net_radiation
    by_air = gamma * 900.0 / (middle + 273.0) * wind * deficit
    return most((by_radiation + by_air) / (slope + gamma * (1.0 + 0.34 * wind)), 0.0)


def hargreaves(tmin: Numbers, tmax: Numbers, above_air: Numbers) -> Numbers:
    """Reference evapotranspiration by temperature alone, never below 0 [mm d⁻¹]; FAO-56 eq. 52."""
    span = sqrt(most(tmax - tmin, 0.0))
    warmth = (tmin + tmax) / 2.0 + 17.8
    return most(0.0023 * warmth * span * 0.408 * above_air, 0.0)


def sine_above(tmin: Numbers, tmax: Numbers, level: Numbers) -> Numbers:
    """Warmth of a day above a level, its course drawn as one sine; Baskerville and Emin (1969)."""
    middle, swing = (tmax + tmin) / 2.0, (tmax - tmin) / 2.0
    place = within((level - middle) / most(swing, 1e-12), -1.0, 1.0)
    beside = sqrt((1.0 - place) * (1.0 + place))
    part = ((middle - level) * arccos(place) + swing * beside) * 0.3183098861837907  # over π
    return select(tmax <= level, 0.0, select(tmin >= level, middle - level, part))


def growth(celsius: Numbers, optimum: Numbers, width: Numbers) -> Numbers:
    """Growth that temperature alone allows, 0 to 1; Gelernter and Stowell (2005)."""
    return exp(-0.5 * squared((celsius - optimum) / width))


def lagging(soil: Numbers, air: Numbers, share: Numbers) -> Numbers:
    """Soil temperature that moves a share of the way to the air's mean."""
    return soil + share * (air - soil)


def shallow_soil(soil: Numbers, tmin: Numbers, tmax: Numbers) -> Numbers:
    """Soil temperature held within the air's extremes on days above freezing; Woods (2018)."""
    return select((tmin + tmax) / 2.0 > 0.0, within(soil, tmin, tmax), soil)


def dried_by(depletion: Numbers, demand: Numbers, readily: Numbers, total: Numbers) -> Numbers:
    """Water a bare layer loses in a day, by the two stages of FAO-56 eq. 74 [mm d⁻¹]."""
    first = least(demand, most(readily - depletion, 0.0))
    left = total - most(depletion, readily)
    second = left * -expm1(-(demand - first) / (total - readily))
    return first + second


def wetted(depletion: Numbers, water: Numbers) -> Numbers:
    """Water missing after rain; what is over has drained."""
    return most(depletion - water, 0.0)


def unstressed_share(
    demand: Numbers, at_five: Numbers, slope: Numbers, lowest: Numbers, highest: Numbers
) -> Numbers:
    """Share of the available water taken without stress; FAO-56 Table 22 and its footnote."""
    return within(at_five + slope * (5.0 - demand), lowest, highest)


def stress(depletion: Numbers, total: Numbers, share: Numbers) -> Numbers:
    """Stress factor Ks: 1 without want of water, 0 at the wilting point; FAO-56 eq. 84."""
    return within((total - depletion) / ((1.0 - share) * total), 0.0, 1.0)


def taken_by_roots(
    demand: Numbers, ks: Numbers, depletion: Numbers, water: Numbers, total: Numbers
) -> Numbers:
    """Water roots take in a day, never more than they find [mm d⁻¹]; FAO-56 eq. 81."""
    return least(ks * demand, total - depletion + water)


def squared(number: Numbers) -> Numbers:
    """A number times itself."""
    return number * number


def fourth(number: Numbers) -> Numbers:
    """Fourth power; twice a square is much faster than a power of arrays."""
    return squared(squared(number))
