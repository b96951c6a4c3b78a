"""How the ground has fared lately: growth warmth, soil, and water of the root zone."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from swardbook.handbook.parameters import parameter, value
from swardbook.handbook.soils import soil
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground, Site, Zone
from swardbook.husbandry.happenings import Sow, Water
from swardbook.weather.derive import Derived, derive
from swardbook.weather.series import DailyWeather, Values
from swardbook.weather.soil_temperature import running_mean
from swardbook.weather.soil_water import (
    RootZone,
    root_zone_balance,
    root_zone_of,
    stress_factor,
)

SEEDBED = "seedbed"
"""What a watering of a seedbed alone is noted under."""
LOOK_BACK_DAYS = 150
"""The balance starts full this long ago: a winter always lies within a half year of summer [d]."""


@dataclass(frozen=True, slots=True)
class Lately:
    """The last days of one zone; None where the weather does not reach today.

    Parameters
    ----------
    growth : float or None
        Growth potential, mean of the last week. [-]
    soil : float or None
        Soil temperature at 10 cm judged from the air, mean of the last 11 days. [°C]
    et0 : tuple of float
        Reference evapotranspiration of the last seven days; empty if unknown. [mm d⁻¹]
    stress : tuple of float
        Stress factor Ks on the last ten evenings, latest last; empty if unknown. [-]
    depletion : float or None
        Water missing from the root zone this evening. [mm]
    """

    growth: float | None = None
    soil: float | None = None
    et0: tuple[float, ...] = ()
    stress: tuple[float, ...] = ()
    depletion: float | None = None


@dataclass(frozen=True, slots=True)
class Days:
    """The days up to today as one zone met them, a value a day.

    Parameters
    ----------
    weather : DailyWeather
        The weather of the days.
    derived : Derived
        What follows from it.
    stress : array
        Stress factor Ks in the evening. [-]
    depletion : array
        Water missing from the root zone in the evening. [mm]
    """

    weather: DailyWeather
    derived: Derived
    stress: Values
    depletion: Values


def days_of(
    ground: Ground, zone: Zone, weather: DailyWeather | None, today: date,
    back: int = LOOK_BACK_DAYS,
) -> Days | None:  # fmt: skip
    """Go through the days of a zone up to today.

    Parameters
    ----------
    ground : Ground
        The ground, its diary no later than `today`.
    zone : Zone
        The zone.
    weather : DailyWeather or None
        The weather, no later than `today`.
    today : date
        The day.
    back : int
        Days to go back at most; the root zone is full on the first. [d]

    Returns
    -------
    Days or None
        None where the weather does not reach today, or is shorter than a week.
    """
    week = int(value("growth_mean_days"))
    if weather is None or len(weather) < week or weather.last != today:
        return None
    recent = weather.between(today - timedelta(days=back - 1), today)
    derived = derive(recent, ground.site.latitude, ground.site.elevation_m)
    store = root_zone(ground, zone, today)
    balance = root_zone_balance(derived.et0, recent.rain, _watered(ground, zone, recent), store)
    evening = stress_factor(balance.depletion, store.total, store.depletion_fraction)
    return Days(recent, derived, evening, balance.depletion)


def root_zone(ground: Ground, zone: Zone, today: date) -> RootZone:
    """Give the soil that the zone's roots reach by the age of its youngest seedbed."""
    return root_zone_of(soil(zone.soil), _root_depth(ground, zone, today))


def lately(ground: Ground, zone: Zone, weather: DailyWeather | None, today: date) -> Lately:
    """Work out how a zone has fared in the last days.

    Parameters
    ----------
    ground : Ground
        The ground, its diary no later than `today`.
    zone : Zone
        The zone.
    weather : DailyWeather or None
        The weather, no later than `today`.
    today : date
        The day.
    """
    days = days_of(ground, zone, weather, today)
    if days is None:
        return Lately()
    week = int(value("growth_mean_days"))
    soils = running_mean(days.derived.soil_temperature_10cm, int(value("soil_mean_days")))
    return Lately(
        growth=float(days.derived.growth_potential[-week:].mean()),
        soil=float(soils[-1]),
        et0=tuple(float(each) for each in days.derived.et0[-week:]),
        stress=tuple(float(each) for each in days.stress[-10:]),
        depletion=float(days.depletion[-1]),
    )


def water_depth(what: Water, zone: Zone, site: Site) -> float | None:
    """Give the depth of one watering of the sward.

    Returns
    -------
    float or None
        Depth; None where neither depth, litres nor minutes with a known hose are given. [mm]
    """
    if what.depth_mm is not None:
        return what.depth_mm
    if what.litres is not None:
        return what.litres / zone.area_m2
    if what.minutes is not None and site.hose_l_min:
        return what.minutes * site.hose_l_min / zone.area_m2
    return None


def _watered(ground: Ground, zone: Zone, recent: DailyWeather) -> Values:
    """Lay waterings on the days [mm]; those of a seedbed count while the zone is one."""
    depths = np.zeros(len(recent))
    for entry in ground.entries(zone.name, Water.kind):
        place, what = recent.index(entry.day), entry.what
        if not isinstance(what, Water) or not 0 <= place < len(recent):
            continue
        bed = seedbed_of(ground, zone, entry.day)
        if not what.place or (bed is not None and what.place.strip().casefold() == SEEDBED):
            of = zone if bed is None or not what.place else replace(zone, area_m2=bed[1])
            depths[place] += water_depth(what, of, ground.site) or 0.0
    return depths


def seedbed_of(ground: Ground, zone: Zone, day: date) -> tuple[date, float, bool | None] | None:
    """Find the seedbed that sets a zone's age, while it must not dry.

    Returns
    -------
    tuple of date, float and bool or None
        When it was sown, its area [m²], and whether the sowing says it is kept damp; None where
        there is none so young.
    """
    last = None
    for entry in _seedbeds(ground, zone):
        if entry.day <= day and isinstance(entry.what, Sow):
            area = entry.what.area_m2
            last = (entry.day, zone.area_m2 if area is None else area, entry.what.watered)
    if last is None or (day - last[0]).days >= 7 * value("seedbed_weeks"):
        return None
    return last


def _root_depth(ground: Ground, zone: Zone, today: date) -> float:
    sown = _seedbeds(ground, zone)
    if not sown:
        return parameter("turf_water.root_depth_first_summer").high
    age = (today - max(entry.day for entry in sown)).days
    if age < 7 * value("seedbed_weeks"):
        return value("turf_water.root_depth_seedling")
    if age < 7 * 20:
        return value("turf_water.root_depth_8_weeks")
    return value("turf_water.root_depth_first_summer")


def _seedbeds(ground: Ground, zone: Zone) -> list[DiaryEntry]:
    """List the seedbeds that are large enough to set the age of their zone."""
    least = value("seedling_zone_share") * zone.area_m2
    return [
        entry
        for entry in ground.entries(zone.name, Sow.kind)
        if isinstance(entry.what, Sow) and entry.what.method in {"seedbed", "slit"}
        and (entry.what.area_m2 is None or entry.what.area_m2 > least)
    ]  # fmt: skip
