"""What the harder twin's diary and weather station do not tell."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from swardbook.handbook.parameters import value
from swardbook.model.chance import Array, Chance
from swardbook.model.inputs import Drivers, Operations

_LOWEST_MM = 5.0


def lawn_weather(drivers: Drivers, about: Mapping[str, Any], chance: Chance) -> Drivers:
    """Give the weather that a lawn had, where the station had another.

    Parameters
    ----------
    drivers : Drivers
        One value a day, from the station.
    about : mapping
        The section on weather.
    chance : Chance
        The lawn's own luck.
    """
    days = len(drivers.tmean)
    warmer = about["warmer"] + about["warmer_spread"] * chance.normals("warmer", 1)[0]
    fallen = _uneven(about["rain_spread"], chance.normals("rain", days))
    fallen = np.where(chance.uniforms("missed", days) < about["rain_missed"], 0.0, fallen)
    return drivers._replace(
        tmean=drivers.tmean + warmer + about["day_spread"] * chance.normals("warmth", days),
        rain=drivers.rain * fallen,
        et0=drivers.et0 * _share(about["dries"], chance, "dries"),
        light=drivers.light * _share(about["light"], chance, "light"),
    )


def really_done(
    work: Operations, growth: Array, height_mm: float, about: Mapping[str, Any], chance: Chance
) -> Operations:
    """Give what was really done, where the diary or the plan has something else.

    The luck of a day is keyed by its place from the first day on, so two plans that are alike up
    to some day are really alike up to it.

    Parameters
    ----------
    work : Operations
        One value a day, as written or planned.
    growth : array
        Growth potential of each day, averaged over a week. [-]
    height_mm : float
        The zone's height of cut. [mm]
    about : mapping
        The section on work.
    chance : Chance
        The lawn's own luck.
    """
    days = len(work.cut)
    written = work.cut > 0
    made = written & (chance.uniforms("not made", days) >= about["cuts_not_made"])
    grows = growth >= value("programme.cut_growth_least")
    by_others = ~written & grows & (chance.uniforms("by others", days) < about["cuts_unrecorded"])
    off = about["height_error_mm"]
    off = off + about["height_error_spread_mm"] * chance.normals("height", 1)[0]
    wanted = np.where(written, work.cut_height, height_mm)
    cut = made | by_others
    fed = np.exp(
        about["feed_spread"] * chance.normals("feed", days) - about["feed_spread"] ** 2 / 2
    )
    scuffed = chance.uniforms("scuffed", days) < about["scuffs_a_year"] / 365
    return work._replace(
        cut=np.where(cut, 1.0, 0.0),
        cut_height=np.where(cut, np.maximum(wanted + off, _LOWEST_MM), 0.0),
        boxed=np.where(made, work.boxed * _share(about["box_catches"], chance, "box"), 0.0),
        pull_hours=work.pull_hours * _share(about["pulling_hours_real"], chance, "pulling"),
        refill=work.refill * _share(about["refill_reaches"], chance, "refill"),
        feed=work.feed * fed,
        strip=np.minimum(work.strip + scuffed * about["scuff_share"], 1.0),
    )


def _share(between: tuple[float, float], chance: Chance, purpose: str) -> float:
    low, high = between
    return low + (high - low) * float(chance.uniforms(purpose, 1)[0])


def _uneven(spread: float, luck: Array) -> Array:
    """Give factors with a mean of 1."""
    return np.asarray(np.exp(spread * luck - spread**2 / 2))
