"""Water vapour: pressures, dew point, wet bulb and leaf wetness."""

from __future__ import annotations

import numpy as np

from swardbook.foundation.numbers import known
from swardbook.handbook.parameters import value
from swardbook.weather import equations
from swardbook.weather.series import Values

# FAO-56 eq. 11 turned round needs the numbers of `equations.saturation_pressure`.
_A, _B, _C = 0.6108, 17.27, 237.3


def saturation_vapour_pressure(celsius: Values) -> Values:
    """Vapour pressure of saturated air.

    Parameters
    ----------
    celsius : array
        Temperature. [°C]

    Returns
    -------
    array
        Pressure. [kPa] FAO-56 eq. 11.
    """
    found: Values = equations.saturation_pressure(celsius)
    return found


def mean_saturation_pressure(tmin: Values, tmax: Values) -> Values:
    """Saturation pressure of a day: the mean of the two extremes, not that of their mean.

    Parameters
    ----------
    tmin, tmax : array
        Air temperature. [°C]

    Returns
    -------
    array
        Pressure. [kPa] FAO-56 eq. 12.
    """
    return (saturation_vapour_pressure(tmin) + saturation_vapour_pressure(tmax)) / 2.0


def slope_of_vapour_pressure(celsius: Values) -> Values:
    """Slope of the saturation curve.

    Parameters
    ----------
    celsius : array
        Temperature. [°C]

    Returns
    -------
    array
        Slope. [kPa °C⁻¹] FAO-56 eq. 13.
    """
    found: Values = equations.slope_of_saturation(celsius)
    return found


def air_pressure(elevation_m: float) -> float:
    """Air pressure at a height.

    Parameters
    ----------
    elevation_m : float
        Height above the sea. [m]

    Returns
    -------
    float
        Pressure. [kPa] FAO-56 eq. 7.
    """
    return float(101.3 * ((293.0 - 0.0065 * elevation_m) / 293.0) ** 5.26)


def psychrometric_constant(pressure: float) -> float:
    """Psychrometric constant.

    Parameters
    ----------
    pressure : float
        Air pressure. [kPa]

    Returns
    -------
    float
        Constant. [kPa °C⁻¹] FAO-56 eq. 8.
    """
    return 0.000665 * pressure


def vapour_pressure_from_psychrometer(dry: Values, wet: Values, pressure: float) -> Values:
    """Actual vapour pressure from a ventilated psychrometer.

    Parameters
    ----------
    dry, wet : array
        Dry and wet bulb. [°C]
    pressure : float
        Air pressure. [kPa]

    Returns
    -------
    array
        Pressure. [kPa] FAO-56 eq. 15.
    """
    coefficient = value("weather.psychrometer_ventilated") * pressure
    return saturation_vapour_pressure(wet) - coefficient * (dry - wet)


def actual_vapour_pressure(
    tmin: Values,
    tmax: Values,
    *,
    dew_point: Values | None = None,
    wettest: Values | None = None,
    driest: Values | None = None,
    mean_humidity: Values | None = None,
) -> Values:
    """Actual vapour pressure by the best that was measured, day by day.

    The order is that of FAO-56: dew point; both extremes of humidity; the highest alone; the
    mean; and with none of them, the air is taken to be saturated at the day's minimum. A day on
    which a series is not a number falls through to the next.

    Parameters
    ----------
    tmin, tmax : array
        Air temperature. [°C]
    dew_point : array, optional
        Dew point. [°C]
    wettest, driest : array, optional
        Highest and lowest relative humidity. [%]
    mean_humidity : array, optional
        Mean relative humidity. [%]

    Returns
    -------
    array
        Pressure. [kPa] FAO-56 eqs. 14, 17, 18, 19 and 48.
    """
    cold, warm = saturation_vapour_pressure(tmin), saturation_vapour_pressure(tmax)
    found = np.asarray(cold, dtype=np.float64).copy()
    if mean_humidity is not None:
        found = equations.pressure_by_mean_humidity(cold, warm, mean_humidity)
    if wettest is not None:
        found = known(cold * wettest / 100.0, found)
    if wettest is not None and driest is not None:
        found = known((cold * wettest + warm * driest) / 200.0, found)
    if dew_point is not None:
        found = known(saturation_vapour_pressure(dew_point), found)
    return found


def dew_point(vapour_pressure: Values) -> Values:
    """Dew point of air with a vapour pressure.

    Parameters
    ----------
    vapour_pressure : array
        Actual vapour pressure. [kPa]

    Returns
    -------
    array
        Dew point, over water also below freezing. [°C] FAO-56 eq. 11 turned round.
    """
    ratio = np.log(vapour_pressure / _A)
    return _C * ratio / (_B - ratio)


def wet_bulb(celsius: Values, vapour_pressure: Values, pressure: float) -> Values:
    """Wet-bulb temperature, by solving the psychrometer's own equation.

    Parameters
    ----------
    celsius : array
        Air temperature. [°C]
    vapour_pressure : array
        Actual vapour pressure. [kPa]
    pressure : float
        Air pressure. [kPa]

    Returns
    -------
    array
        Wet bulb, between dew point and air. [°C] The quick fit of Stull (2011) is 0.2 to 0.35 °C
        lower in cool damp air.
    """
    coefficient = value("weather.psychrometer_ventilated") * pressure
    wet = np.asarray(celsius, dtype=np.float64)
    for _ in range(12):  # Newton on a smooth rising function; 6 steps give 1e-9 °C
        gap = saturation_vapour_pressure(wet) - coefficient * (celsius - wet) - vapour_pressure
        wet = wet - gap / (slope_of_vapour_pressure(wet) + coefficient)
    return wet


def leaf_wet_hours(tmin: Values, tmax: Values, vapour_pressure: Values) -> Values:
    """Hours of a day with relative humidity at or over the leaf-wetness threshold.

    The day is drawn as one sine between its extremes, with the vapour pressure unchanged, and
    the hours are those in which it is cold enough. Rain is not counted; on a wet day the leaf is
    wet for longer.

    Parameters
    ----------
    tmin, tmax : array
        Air temperature. [°C]
    vapour_pressure : array
        Actual vapour pressure. [kPa]

    Returns
    -------
    array
        Hours. [h d⁻¹]
    """
    enough = dew_point(vapour_pressure / (value("weather.leaf_wet_humidity") / 100.0))
    middle, swing = (tmin + tmax) / 2.0, (tmax - tmin) / 2.0
    place = np.clip((enough - middle) / np.maximum(swing, 1e-9), -1.0, 1.0)
    return 24.0 / np.pi * (np.pi - np.arccos(place))
