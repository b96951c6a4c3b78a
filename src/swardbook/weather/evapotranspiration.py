"""Reference evapotranspiration: Penman-Monteith of FAO-56, and Hargreaves."""

from __future__ import annotations

import numpy as np

from swardbook.handbook.parameters import value
from swardbook.weather import equations
from swardbook.weather.humidity import (
    air_pressure,
    mean_saturation_pressure,
    psychrometric_constant,
)
from swardbook.weather.series import Values
from swardbook.weather.sun import clear_sky_radiation


def wind_at_2m(wind: Values, height_m: float) -> Values:
    """Wind at 2 m over short grass from wind at another height.

    Parameters
    ----------
    wind : array
        Mean wind. [m s⁻¹]
    height_m : float
        Height of the instrument. [m]

    Returns
    -------
    array
        Mean wind at 2 m. [m s⁻¹] FAO-56 eq. 47.
    """
    factor = 4.87 / float(np.log(67.8 * height_m - 5.42))
    return wind * factor


def net_shortwave(radiation: Values) -> Values:
    """Shortwave radiation that grass keeps.

    Parameters
    ----------
    radiation : array
        Global radiation. [MJ m⁻² d⁻¹]

    Returns
    -------
    array
        Radiation. [MJ m⁻² d⁻¹] FAO-56 eq. 38.
    """
    return (1.0 - value("weather.grass_albedo")) * radiation


def net_longwave(
    tmin: Values, tmax: Values, vapour_pressure: Values, radiation: Values, clear_sky: Values
) -> Values:
    """Longwave radiation that grass loses to the sky.

    Parameters
    ----------
    tmin, tmax : array
        Air temperature. [°C]
    vapour_pressure : array
        Actual vapour pressure. [kPa]
    radiation, clear_sky : array
        Global radiation, and what it would be without cloud. [MJ m⁻² d⁻¹]

    Returns
    -------
    array
        Radiation. [MJ m⁻² d⁻¹] FAO-56 eq. 39, the cloud ratio held within the limits of the ASCE
        equation of 2005, which also settles polar night.
    """
    ratio = equations.cloud_ratio(radiation, clear_sky, value("weather.cloud_ratio_least"))
    found: Values = equations.net_longwave(tmin, tmax, vapour_pressure, ratio)
    return found


def penman_monteith(
    tmin: Values,
    tmax: Values,
    *,
    vapour_pressure: Values,
    net_radiation: Values,
    wind: Values,
    elevation_m: float,
    soil_heat: float = 0.0,
    tmean: Values | None = None,
) -> Values:
    """Reference evapotranspiration of short grass by Penman-Monteith.

    Parameters
    ----------
    tmin, tmax : array
        Air temperature. [°C]
    vapour_pressure : array
        Actual vapour pressure. [kPa]
    net_radiation : array
        Radiation the grass keeps. [MJ m⁻² d⁻¹]
    wind : array
        Mean wind at 2 m. [m s⁻¹]
    elevation_m : float
        Height above the sea. [m]
    soil_heat : float
        Heat into the ground; 0 for a day. [MJ m⁻² d⁻¹]
    tmean : array, optional
        Mean temperature if it is not the middle of the extremes. [°C]

    Returns
    -------
    array
        Evapotranspiration, never below 0: dew is not counted. [mm d⁻¹] FAO-56 eq. 6.
    """
    middle = (tmin + tmax) / 2.0 if tmean is None else tmean
    gamma = psychrometric_constant(air_pressure(elevation_m))
    deficit = mean_saturation_pressure(tmin, tmax) - vapour_pressure
    found: Values = equations.penman_monteith(
        middle, deficit, net_radiation - soil_heat, wind, gamma
    )
    return found


def reference_evapotranspiration(
    tmin: Values,
    tmax: Values,
    *,
    vapour_pressure: Values,
    radiation: Values,
    extraterrestrial: Values,
    wind: Values,
    elevation_m: float,
) -> Values:
    """Reference evapotranspiration from the five things that drive it.

    Parameters
    ----------
    tmin, tmax : array
        Air temperature. [°C]
    vapour_pressure : array
        Actual vapour pressure. [kPa]
    radiation, extraterrestrial : array
        Radiation at the ground and above the air. [MJ m⁻² d⁻¹]
    wind : array
        Mean wind at 2 m. [m s⁻¹]
    elevation_m : float
        Height above the sea. [m]

    Returns
    -------
    array
        Evapotranspiration, never below 0. [mm d⁻¹] FAO-56 eq. 6.
    """
    clear = clear_sky_radiation(extraterrestrial, elevation_m)
    longwave = net_longwave(tmin, tmax, vapour_pressure, radiation, clear)
    return penman_monteith(
        tmin,
        tmax,
        vapour_pressure=vapour_pressure,
        net_radiation=net_shortwave(radiation) - longwave,
        wind=wind,
        elevation_m=elevation_m,
    )


def hargreaves(tmin: Values, tmax: Values, extraterrestrial: Values) -> Values:
    """Reference evapotranspiration from temperature alone.

    Parameters
    ----------
    tmin, tmax : array
        Air temperature. [°C]
    extraterrestrial : array
        Radiation above the air. [MJ m⁻² d⁻¹]

    Returns
    -------
    array
        Evapotranspiration, never below 0. [mm d⁻¹] FAO-56 eq. 52.
    """
    found: Values = equations.hargreaves(tmin, tmax, extraterrestrial)
    return found
