"""Worked examples of FAO Irrigation and Drainage Paper 56, and day length from other programs."""

from __future__ import annotations

import math
from collections.abc import Callable

from swardbook.foundation.provenance import Grade
from swardbook.weather.evapotranspiration import (
    hargreaves,
    net_longwave,
    net_shortwave,
    penman_monteith,
    reference_evapotranspiration,
    wind_at_2m,
)
from swardbook.weather.humidity import (
    actual_vapour_pressure,
    air_pressure,
    mean_saturation_pressure,
    psychrometric_constant,
    saturation_vapour_pressure,
    slope_of_vapour_pressure,
    vapour_pressure_from_psychrometer,
)
from swardbook.weather.sun import (
    clear_sky_radiation,
    day_length,
    declination,
    extraterrestrial_radiation,
    radiation_from_sunshine,
    radiation_from_temperature,
    relative_distance,
    sunset_angle,
)
from tests.support.arrays import days, one, scalar
from tests.support.checks import Check

FAO = "allen_pereira_1998"


def fao(
    number: str, what: str, expected: float, tolerance: float, got: Callable[[], float]
) -> Check:
    """One value of a worked example."""
    example = number.split("-", maxsplit=1)[0]
    return Check(
        id=f"fao56-{number}", what=what, source=FAO, place=f"Example {example}", expected=expected,
        tolerance=tolerance, grade=Grade.PUBLISHED, got=got,
    )  # fmt: skip


def humid(low: tuple[float, float], high: tuple[float, float]) -> float:
    """Vapour pressure from minimum with its humidity and maximum with its humidity."""
    return one(
        actual_vapour_pressure(
            days(low[0]), days(high[0]), wettest=days(low[1]), driest=days(high[1])
        )
    )


def mean_route() -> float:
    """Example 5 by mean humidity, (82 + 54) / 2."""
    return one(actual_vapour_pressure(days(18.0), days(25.0), mean_humidity=days(68.0)))


def ra(day: int, latitude: float) -> float:
    return one(extraterrestrial_radiation(days(day), latitude))


def length(day: int, latitude: float) -> float:
    return one(day_length(days(day), latitude))


def rio_radiation() -> float:
    """Example 10: 7.1 h of sun on 15 May at 22.9° S."""
    day = days(135)
    return one(
        radiation_from_sunshine(
            days(7.1), day_length(day, -22.9), extraterrestrial_radiation(day, -22.9)
        )
    )


def rio_longwave() -> float:
    """Example 11."""
    return one(net_longwave(days(19.1), days(25.1), days(2.1), days(14.5), days(18.8)))


def rio_net() -> float:
    """Example 12."""
    return scalar(net_shortwave, 14.5) - rio_longwave()


def bangkok_net() -> float:
    """Example 17: net radiation, April, 13.73° N, 2 m."""
    day = days(105)
    top = extraterrestrial_radiation(day, 13.73)
    sun = radiation_from_sunshine(days(8.5), day_length(day, 13.73), top)
    clear = clear_sky_radiation(top, 2.0)
    return one(net_shortwave(sun) - net_longwave(days(25.6), days(34.8), days(2.85), sun, clear))


def bangkok() -> float:
    """Example 17: a month, so with heat into the ground, and its own mean temperature."""
    return one(
        penman_monteith(
            days(25.6), days(34.8), vapour_pressure=days(2.85), net_radiation=days(bangkok_net()),
            wind=days(2.0), elevation_m=2.0, soil_heat=0.14, tmean=days(30.2),
        )
    )  # fmt: skip


def uccle_net() -> float:
    """Example 18: net radiation on 6 July, 50.80° N, 100 m."""
    clear = clear_sky_radiation(days(ra(187, 50.80)), 100.0)
    air = days(12.3), days(21.5), days(humid((12.3, 84), (21.5, 63)))
    return one(net_shortwave(days(22.07)) - net_longwave(*air, days(22.07), clear))


def uccle() -> float:
    """Example 18."""
    return one(
        reference_evapotranspiration(
            days(12.3), days(21.5), vapour_pressure=days(humid((12.3, 84), (21.5, 63))),
            radiation=days(22.07), extraterrestrial=days(ra(187, 50.80)), wind=days(2.078),
            elevation_m=100.0,
        )
    )  # fmt: skip


def lyon() -> float:
    """Example 20: only the extremes of temperature are known."""
    low, high, top = days(14.8), days(26.6), days(ra(196, 45.72))
    return one(
        reference_evapotranspiration(
            low, high, vapour_pressure=actual_vapour_pressure(low, high),
            radiation=radiation_from_temperature(low, high, top), extraterrestrial=top,
            wind=days(2.0), elevation_m=200.0,
        )
    )  # fmt: skip


def pm_psychrometer() -> float:
    return one(vapour_pressure_from_psychrometer(days(25.6), days(19.5), air_pressure(1200)))


def lyon_radiation() -> float:
    return one(radiation_from_temperature(days(14.8), days(26.6), days(40.6)))


EXAMPLES = [
    fao("2-pressure", "air pressure at 1800 m [kPa]", 81.8, 0.05, lambda: air_pressure(1800)),
    fao("2-gamma", "psychrometric constant at 1800 m [kPa °C⁻¹]", 0.054, 0.0005,
        lambda: psychrometric_constant(air_pressure(1800))),
    fao("3-max", "saturation pressure at 24.5 °C [kPa]", 3.075, 0.005,
        lambda: scalar(saturation_vapour_pressure, 24.5)),
    fao("3-min", "saturation pressure at 15 °C [kPa]", 1.705, 0.005,
        lambda: scalar(saturation_vapour_pressure, 15.0)),
    fao("3-mean", "mean saturation pressure [kPa]", 2.39, 0.005,
        lambda: scalar(mean_saturation_pressure, 15.0, 24.5)),
    fao("4-pressure", "air pressure at 1200 m [kPa]", 87.9, 0.05, lambda: air_pressure(1200)),
    fao("4-ea", "vapour pressure from a psychrometer [kPa]", 1.91, 0.01, pm_psychrometer),
    fao("5-extremes", "vapour pressure from both humidities [kPa]", 1.70, 0.005,
        lambda: humid((18, 82), (25, 54))),
    fao("5-mean", "vapour pressure from mean humidity [kPa]", 1.78, 0.005, mean_route),
    fao("8-distance", "inverse relative distance on 3 September [-]", 0.985, 0.001,
        lambda: scalar(relative_distance, 246)),
    fao("8-declination", "declination on 3 September [rad]", 0.120, 0.001,
        lambda: scalar(declination, 246)),
    fao("8-sunset", "sunset hour angle at 20° S [rad]", 1.527, 0.001,
        lambda: one(sunset_angle(days(246), -20))),
    fao("8-radiation", "radiation above the air at 20° S [MJ m⁻² d⁻¹]", 32.2, 0.05,
        lambda: ra(246, -20)),
    fao("9-length", "day length at 20° S [h]", 11.7, 0.05, lambda: length(246, -20)),
    fao("10-length", "day length at 22.9° S on 15 May [h]", 10.9, 0.05, lambda: length(135, -22.9)),
    fao("10-top", "radiation above the air there [MJ m⁻² d⁻¹]", 25.1, 0.05,
        lambda: ra(135, -22.9)),
    fao("10-sun", "radiation with 7.1 h of sun [MJ m⁻² d⁻¹]", 14.5, 0.05, rio_radiation),
    fao("11-longwave", "longwave loss [MJ m⁻² d⁻¹]", 3.5, 0.05, rio_longwave),
    fao("12-shortwave", "shortwave kept [MJ m⁻² d⁻¹]", 11.1, 0.1,
        lambda: scalar(net_shortwave, 14.5)),
    fao("12-net", "net radiation [MJ m⁻² d⁻¹]", 7.6, 0.1, rio_net),
    fao("14-wind", "3.2 m/s at 10 m, at 2 m [m s⁻¹]", 2.4, 0.05,
        lambda: one(wind_at_2m(days(3.2), 10.0))),
    fao("15-radiation", "radiation from the range of temperature [MJ m⁻² d⁻¹]", 22.3, 0.05,
        lyon_radiation),
    fao("17-net", "net radiation at Bangkok [MJ m⁻² d⁻¹]", 14.33, 0.02, bangkok_net),
    fao("17-slope", "slope at 30.2 °C [kPa °C⁻¹]", 0.246, 0.0005,
        lambda: scalar(slope_of_vapour_pressure, 30.2)),
    fao("17-gamma", "psychrometric constant at 2 m [kPa °C⁻¹]", 0.0674, 0.0001,
        lambda: psychrometric_constant(air_pressure(2))),
    fao("17-es", "mean saturation pressure at Bangkok [kPa]", 4.42, 0.005,
        lambda: scalar(mean_saturation_pressure, 25.6, 34.8)),
    fao("17-et0", "reference evapotranspiration at Bangkok [mm d⁻¹]", 5.72, 0.02, bangkok),
    fao("18-ea", "vapour pressure at Uccle [kPa]", 1.409, 0.001,
        lambda: humid((12.3, 84), (21.5, 63))),
    fao("18-es", "mean saturation pressure at Uccle [kPa]", 1.997, 0.001,
        lambda: scalar(mean_saturation_pressure, 12.3, 21.5)),
    fao("18-slope", "slope at 16.9 °C [kPa °C⁻¹]", 0.122, 0.0005,
        lambda: scalar(slope_of_vapour_pressure, 16.9)),
    fao("18-gamma", "psychrometric constant at 100 m [kPa °C⁻¹]", 0.0666, 0.0001,
        lambda: psychrometric_constant(air_pressure(100))),
    fao("18-top", "radiation above the air at Uccle [MJ m⁻² d⁻¹]", 41.09, 0.05,
        lambda: ra(187, 50.80)),
    fao("18-length", "day length at Uccle [h]", 16.1, 0.05, lambda: length(187, 50.80)),
    fao("18-clear", "clear-sky radiation at Uccle [MJ m⁻² d⁻¹]", 30.90, 0.05,
        lambda: one(clear_sky_radiation(days(ra(187, 50.80)), 100.0))),
    fao("18-net", "net radiation at Uccle [MJ m⁻² d⁻¹]", 13.28, 0.02, uccle_net),
    fao("18-et0", "reference evapotranspiration at Uccle [mm d⁻¹]", 3.88, 0.02, uccle),
    fao("20-et0", "the same from temperature alone at Lyon [mm d⁻¹], from memory", 4.56, 0.02,
        lyon),
    fao("20-hargreaves", "Hargreaves at Lyon [mm d⁻¹]", 5.0, 0.05,
        lambda: one(hargreaves(days(14.8), days(26.6), days(ra(196, 45.72))))),
]  # fmt: skip

# day of the year; day length and radiation by FAO-56 equations; the same by an astronomical program
_PLACES = (
    (51.5, 79, 11.88, 22.99, 12.18, 23.62),
    (51.5, 172, 16.40, 41.72, 16.64, 41.70),
    (51.5, 265, 11.88, 22.72, 12.19, 23.29),
    (51.5, 355, 7.60, 6.57, 7.83, 6.58),
    (53.5, 172, 16.78, 41.62, 17.04, 41.61),
    (53.5, 355, 7.22, 5.44, 7.47, 5.45),
    (55.95, 172, 17.32, 41.50, 17.61, 41.49),
    (55.95, 355, 6.68, 4.11, 6.96, 4.12),
)
_PYET = (
    (51.5, 172, 16.402, 41.718),
    (51.5, 355, 7.598, 6.574),
    (53.5, 258, 12.381, 23.907),
    (55.9, 258, 12.417, 22.690),
)


def sky(
    program: str, latitude: float, day: int, what: str, expected: float, tolerance: float
) -> Check:
    """One value of another program."""
    source = "holmgren_pvlib_2018" if program == "pvlib" else "vremec_pyet_2024"
    got = length if what == "day length [h]" else ra
    return Check(
        id=f"sky-{program}-{latitude}-{day}-{what.split(maxsplit=1)[0]}",
        what=f"{what} at {latitude}° N, day {day}", source=source,
        place=f"{program}, computed for this latitude and day", expected=expected,
        tolerance=tolerance, grade=Grade.PUBLISHED, got=lambda: got(day, latitude),
    )  # fmt: skip


SKY = [
    check
    for latitude, day, fao_n, fao_ra, spa_n, spa_ra in _PLACES
    for check in (
        sky("equations", latitude, day, "day length [h]", fao_n, 0.01),
        sky("equations", latitude, day, "radiation [MJ m⁻² d⁻¹]", fao_ra, 0.01),
        sky("pvlib", latitude, day, "day length [h]", spa_n, 0.4),
        sky(
            "pvlib", latitude, day, "radiation [MJ m⁻² d⁻¹]", spa_ra, math.ceil(3.5 * spa_ra) / 100
        ),
    )
] + [
    check
    for latitude, day, hours, radiation in _PYET
    for check in (
        sky("pyet", latitude, day, "day length [h]", hours, 0.001),
        sky("pyet", latitude, day, "radiation [MJ m⁻² d⁻¹]", radiation, 0.001),
    )
]
CHECKS: list[Check] = [*EXAMPLES, *SKY]
