"""Sun: radiation above the air, day length, radiation at the ground and light for leaves."""

from __future__ import annotations

import numpy as np

from swardbook.foundation.quantities import require
from swardbook.handbook.parameters import value
from swardbook.weather import equations
from swardbook.weather.series import Days, Values

SOLAR_CONSTANT = 0.0820
"""Solar constant [MJ m⁻² min⁻¹]; FAO-56 eq. 21."""


def day_of_year(days: Days) -> Values:
    """Number the days of their year, 1 to 366.

    Parameters
    ----------
    days : array of datetime64[D]
        The days.

    Returns
    -------
    array
        1 on the first of January. [d]
    """
    starts = days.astype("datetime64[Y]").astype("datetime64[D]")
    number: Values = (days - starts).astype(np.float64) + 1.0
    return number


def relative_distance(day: Values) -> Values:
    """Inverse relative distance of earth and sun.

    Parameters
    ----------
    day : array
        Day of the year. [d]

    Returns
    -------
    array
        About 0.967 to 1.033. [-] FAO-56 eq. 23.
    """
    return 1.0 + 0.033 * np.cos(2.0 * np.pi / 365.0 * day)


def declination(day: Values) -> Values:
    """Solar declination.

    Parameters
    ----------
    day : array
        Day of the year. [d]

    Returns
    -------
    array
        North positive. [rad] FAO-56 eq. 24.
    """
    return 0.409 * np.sin(2.0 * np.pi / 365.0 * day - 1.39)


def sunset_angle(day: Values, latitude: float) -> Values:
    """Hour angle of sunset; 0 in polar night, π where the sun does not set.

    Parameters
    ----------
    day : array
        Day of the year. [d]
    latitude : float
        South negative. [°]

    Returns
    -------
    array
        Angle from noon. [rad] FAO-56 eq. 25.

    Raises
    ------
    OutOfRangeError
        If the latitude is none.
    """
    phi = np.radians(require("latitude", latitude, -90, 90, "°", "South is negative."))
    angle: Values = np.arccos(np.clip(-np.tan(phi) * np.tan(declination(day)), -1.0, 1.0))
    return angle


def day_length(day: Values, latitude: float) -> Values:
    """Hours from sunrise to sunset, without refraction.

    Parameters
    ----------
    day : array
        Day of the year. [d]
    latitude : float
        South negative. [°]

    Returns
    -------
    array
        Day length. [h] FAO-56 eq. 34. An almanac says 0.2 to 0.4 h more at 50° to 52° and up to
        half an hour more in the north of Britain, most at the end of October: it counts the bent
        light of a sun just below the horizon, and knows its height better.
    """
    return 24.0 / np.pi * sunset_angle(day, latitude)


def extraterrestrial_radiation(day: Values, latitude: float) -> Values:
    """Radiation on a level surface above the air.

    Parameters
    ----------
    day : array
        Day of the year. [d]
    latitude : float
        South negative. [°]

    Returns
    -------
    array
        Radiation. [MJ m⁻² d⁻¹] FAO-56 eq. 21. Against an astronomical integral it is right at the
        solstices, about 3 % low at the equinoxes, and in Britain 6 to 9 % low around the first of
        November, when that is less than 1 MJ.
    """
    angle, delta, phi = sunset_angle(day, latitude), declination(day), np.radians(latitude)
    height = angle * np.sin(phi) * np.sin(delta) + np.cos(phi) * np.cos(delta) * np.sin(angle)
    found: Values = 24.0 * 60.0 / np.pi * SOLAR_CONSTANT * relative_distance(day) * height
    return np.maximum(found, 0.0)


def clear_sky_radiation(extraterrestrial: Values, elevation_m: float) -> Values:
    """Radiation at the ground under a clear sky.

    Parameters
    ----------
    extraterrestrial : array
        Radiation above the air. [MJ m⁻² d⁻¹]
    elevation_m : float
        Height above the sea. [m]

    Returns
    -------
    array
        Radiation. [MJ m⁻² d⁻¹] FAO-56 eq. 37.
    """
    return (0.75 + 2e-5 * elevation_m) * extraterrestrial


def radiation_from_sunshine(
    sunshine: Values, daylength: Values, extraterrestrial: Values
) -> Values:
    """Radiation at the ground from hours of bright sun.

    Parameters
    ----------
    sunshine : array
        Hours of bright sun. [h]
    daylength : array
        Day length. [h]
    extraterrestrial : array
        Radiation above the air. [MJ m⁻² d⁻¹]

    Returns
    -------
    array
        Global radiation. [MJ m⁻² d⁻¹] FAO-56 eq. 35.
    """
    share = np.clip(sunshine / np.maximum(daylength, 1e-9), 0.0, 1.0)
    return (value("weather.overcast_share") + value("weather.sunshine_share") * share) * (
        extraterrestrial
    )


def radiation_from_temperature(
    tmin: Values, tmax: Values, extraterrestrial: Values, *, coastal: bool = False
) -> Values:
    """Radiation at the ground from the day's range of temperature.

    Parameters
    ----------
    tmin, tmax : array
        Air temperature. [°C]
    extraterrestrial : array
        Radiation above the air. [MJ m⁻² d⁻¹]
    coastal : bool
        On or near the coast of a large water, where the range is smaller for the same sun.

    Returns
    -------
    array
        Global radiation. [MJ m⁻² d⁻¹] FAO-56 eq. 50; never above a clear sky's 0.75 share.
    """
    inland, coast = "weather.temperature_radiation_inland", "weather.temperature_radiation_coast"
    factor = value(coast) if coastal else value(inland)
    clear = value("weather.overcast_share") + value("weather.sunshine_share")
    found: Values = equations.radiation_by_range(tmin, tmax, extraterrestrial, factor, clear)
    return found


def light_sum(radiation: Values) -> Values:
    """Light that leaves can use in a day (daily light integral).

    Parameters
    ----------
    radiation : array
        Global radiation. [MJ m⁻² d⁻¹]

    Returns
    -------
    array
        Photons of 400 to 700 nm. [mol m⁻² d⁻¹]
    """
    return radiation * value("weather.light_share") * value("weather.photons_per_megajoule")
