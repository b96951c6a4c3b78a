"""Shade: hours of sun from a few glances, and the light they leave."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import cos, pi, sin

import numpy as np

from swardbook.foundation.errors import BadInputError, NotEnoughDataError
from swardbook.foundation.quantities import require
from swardbook.handbook.parameters import parameter, value
from swardbook.weather.sun import declination, extraterrestrial_radiation, light_sum, sunset_angle

GLANCES_LEAST = 3
"""Fewest glances in a day that tell hours: morning, noon, afternoon."""
_NOON_H = 12.0
_HOUR = pi / 12


@dataclass(frozen=True, slots=True)
class Glance:
    """One look at the shadow.

    Parameters
    ----------
    hour : float
        Hour by the sun, 12 when it is highest. [h]
    sunny : bool
        Whether the place lay in the sun, or would have under a clear sky.
    """

    hour: float
    sunny: bool


@dataclass(frozen=True, slots=True)
class Sunny:
    """Sun that reaches a place on one day of the year.

    Parameters
    ----------
    hours, daylength : float
        Hours of direct sun under a clear sky, and from sunrise to sunset. [h]
    share : float
        Share of the day's direct light, noon counting for more than evening. [-]
    """

    hours: float
    daylength: float
    share: float


def sunny_from_glances(glances: Sequence[Glance], day: float, latitude: float) -> Sunny:
    """Reckon the sun of a day from glances; each stands for the time halfway to the next.

    Parameters
    ----------
    glances : sequence of Glance
        At least three, at different hours.
    day : float
        Day of the year. [d]
    latitude : float
        South negative. [°]

    Raises
    ------
    NotEnoughDataError
        If there are too few glances by day.
    BadInputError
        If two were at one time.
    """
    half = _half_day(day, latitude)
    seen = sorted(
        (each for each in glances if abs(each.hour - _NOON_H) < half), key=lambda each: each.hour
    )
    if len(seen) < GLANCES_LEAST:
        raise NotEnoughDataError(
            "hours of sun", f"{GLANCES_LEAST} glances between sunrise and sunset", f"{len(seen)}"
        )
    if any(one.hour == two.hour for one, two in pairwise(seen)):
        raise BadInputError("the glances", "two at one time", "glances at different times")
    middles = [(one.hour + two.hour) / 2 for one, two in pairwise(seen)]
    ends = [_NOON_H - half, *middles, _NOON_H + half]
    spans = [span for span, each in zip(pairwise(ends), seen, strict=True) if each.sunny]
    return _sunny(spans, day, latitude)


def sunny_from_hours(hours: float, day: float, latitude: float) -> Sunny:
    """Take hours of sun as told, spread evenly over the day for want of knowing when.

    Parameters
    ----------
    hours : float
        Hours of direct sun under a clear sky. [h]
    day : float
        Day of the year. [d]
    latitude : float
        South negative. [°]

    Raises
    ------
    BadInputError
        If there are more than the day has.
    """
    told = require("hours of sun", hours, 0, 24, "h")
    length = 2 * _half_day(day, latitude)
    if told > length + 1:
        raise BadInputError(
            "hours of sun", f"{told:g} h", f"at most {length:.1f} h: that is the day then"
        )
    share = min(told / length, 1.0) if length > 0 else 0.0
    return Sunny(told, length, share)


def light_here(
    open_light: float, sunny: float, sky_seen: float | None = None
) -> tuple[float, float, float]:
    """Give the light that shade leaves.

    Direct light comes with the sun, the rest from the whole sky: ``light x (diffuse share x sky
    seen + (1 - diffuse share) x sunny share)``.

    Parameters
    ----------
    open_light : float
        Light in the open. [mol m⁻² d⁻¹]
    sunny : float
        Share of the direct light that reaches the place. [-]
    sky_seen : float, optional
        Share of the sky seen from there; the handbook's range if nobody looked. [-]

    Returns
    -------
    tuple of float
        Middle, low and high: from the ranges of both shares. [mol m⁻² d⁻¹]
    """
    share = require("sunny share", sunny, 0, 1, "-")
    spread = parameter("shade_diffuse_share")
    diffuse = (spread.value, spread.low, spread.high)
    known = parameter("shade_sky_seen")
    sky = (known.value, known.low, known.high) if sky_seen is None else (
        (require("sky seen", sky_seen, 0, 1, "-", "30 % is 0.3."),) * 3
    )  # fmt: skip
    sky = sky if share < 1 or sky_seen is not None else (1.0, 1.0, 1.0)
    tried = [
        open_light * (of_sky * seen + (1 - of_sky) * share) for of_sky in diffuse for seen in sky
    ]
    return tried[0], min(tried), max(tried)


def usual_open_light(day: float, latitude: float) -> tuple[float, float, float]:
    """Give the light in the open where the book has no weather: middle, low and high.

    Parameters
    ----------
    day : float
        Day of the year. [d]
    latitude : float
        South negative. [°]

    Returns
    -------
    tuple of float
        Light above the air times the clearness of the handbook. [mol m⁻² d⁻¹]
    """
    above = extraterrestrial_radiation(np.array([day]), latitude)
    full = float(light_sum(above)[0])
    clear = parameter("shade_clearness")
    return full * value("shade_clearness"), full * clear.low, full * clear.high


def _sunny(spans: Sequence[tuple[float, float]], day: float, latitude: float) -> Sunny:
    half = _half_day(day, latitude)
    whole = _direct(_NOON_H - half, _NOON_H + half, day, latitude)
    got = sum(_direct(first, last, day, latitude) for first, last in spans)
    hours = sum(last - first for first, last in spans)
    return Sunny(hours, 2 * half, min(got / whole, 1.0) if whole > 0 else 0.0)


def _half_day(day: float, latitude: float) -> float:
    return float(sunset_angle(np.array([day]), latitude)[0]) / _HOUR


def _direct(first: float, last: float, day: float, latitude: float) -> float:
    """Integrate the sine of the sun's height from one hour to another [h]."""
    phi = latitude * pi / 180
    delta = float(declination(np.array([day]))[0])
    level, swing = sin(phi) * sin(delta), cos(phi) * cos(delta)
    one, two = (first - _NOON_H) * _HOUR, (last - _NOON_H) * _HOUR
    return (level * (two - one) + swing * (sin(two) - sin(one))) / _HOUR
