"""Soil water: the top of a seedbed and the root zone, day by day, each balance closed."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swardbook.foundation.errors import BalanceError, OutOfRangeError
from swardbook.foundation.numbers import plainly
from swardbook.foundation.quantities import require
from swardbook.handbook.parameters import value
from swardbook.handbook.soils import Soil
from swardbook.weather import equations
from swardbook.weather.series import Values

# A day's array calls on one place would cost ten times the sum.
_stress, _taken = plainly(equations.stress), plainly(equations.taken_by_roots)
_dried, _wetted = plainly(equations.dried_by), plainly(equations.wetted)
CLOSES_TO = 1e-9
"""Largest gap of a balance, per mm of a day's gross flow plus stock [-]."""


@dataclass(frozen=True, slots=True)
class Seedbed:
    """The thin layer that seed lies in, bare or nearly so.

    Parameters
    ----------
    readily : float
        Water lost at the full rate before drying slows. [mm]
    total : float
        Water that can be lost at all. [mm]
    """

    readily: float
    total: float

    def __post_init__(self) -> None:
        if not 0 <= self.readily < self.total:
            raise OutOfRangeError("readily", self.readily, f"0 to below {self.total:g}", "mm")


@dataclass(frozen=True, slots=True)
class RootZone:
    """The soil that roots reach.

    Parameters
    ----------
    total : float
        Water between field capacity and wilting point. [mm]
    depletion_fraction : float
        Share of it that grass takes without stress, at 5 mm a day. [-]
    adjusts : bool
        Whether that share falls on days of high demand and rises on days of low demand.
    """

    total: float
    depletion_fraction: float
    adjusts: bool = False


@dataclass(frozen=True, slots=True)
class WaterBalance:
    """What a store of water did; one value a day.

    Parameters
    ----------
    depletion : array
        Water missing from a full store, in the evening. [mm]
    loss : array
        Evaporation, or evapotranspiration as it happened. [mm d⁻¹]
    drainage : array
        What ran through below. [mm d⁻¹]
    stress : array
        Actual over full demand: 1 with none, 0 where nothing is left (Ks of a root zone). [-]
    """

    depletion: Values
    loss: Values
    drainage: Values
    stress: Values


def total_available_water(field_capacity: float, wilting_point: float, depth_mm: float) -> float:
    """Water that roots can take from a layer.

    Parameters
    ----------
    field_capacity, wilting_point : float
        Water content. [m³ m⁻³]
    depth_mm : float
        Depth of the roots. [mm]

    Returns
    -------
    float
        Water. [mm] FAO-56 eq. 82.
    """
    return (field_capacity - wilting_point) * depth_mm


def depletion_fraction(demand: Values) -> Values:
    """Share of the available water that turf takes without stress on a day of some demand.

    Parameters
    ----------
    demand : array
        Evapotranspiration without stress. [mm d⁻¹]

    Returns
    -------
    array
        Share. [-] FAO-56 Table 22 and its footnote.
    """
    names = ("depletion_fraction", "depletion_slope", "depletion_least", "depletion_most")
    share: Values = equations.unstressed_share(
        demand, *(value(f"turf_water.{name}") for name in names)
    )
    return share


def stress_factor(depletion: Values | float, total: float, fraction: Values | float) -> Values:
    """Stress factor Ks: how much of the demand roots can still meet.

    Parameters
    ----------
    depletion : array or float
        Water missing from the root zone. [mm]
    total : float
        Total available water. [mm]
    fraction : array or float
        Share of it that is taken without stress. [-]

    Returns
    -------
    array
        1 without stress, 0 at wilting point. [-] FAO-56 eq. 84.
    """
    return np.asarray(equations.stress(depletion, total, fraction), dtype=np.float64)


def seedbed_of(soil: Soil, depth_mm: float | None = None) -> Seedbed:
    """Give the seedbed of a texture.

    Parameters
    ----------
    soil : Soil
        The texture.
    depth_mm : float, optional
        The layer; that of the handbook if not given. [mm]

    Returns
    -------
    Seedbed
        The table's readily and totally evaporable water, which are of a 100 mm layer, in
        proportion to the depth.
    """
    depth = value("turf_water.seedbed_depth") if depth_mm is None else depth_mm
    share = require("depth", depth, 1, 200, "mm") / value("turf_water.evaporation_table_depth")
    return Seedbed(soil.readily_evaporable * share, soil.totally_evaporable * share)


def root_zone_of(soil: Soil, depth_mm: float) -> RootZone:
    """Give the root zone of a texture and a depth of roots [mm]."""
    require("depth of roots", depth_mm, 5, 2000, "mm", "A new lawn roots 20 to 150 mm deep.")
    total = total_available_water(soil.field_capacity, soil.wilting_point, depth_mm)
    return RootZone(total, value("turf_water.depletion_fraction"))


def dried_by(depletion: Values, demand: Values, readily: float, total: float) -> Values:
    """Water a bare layer loses in a day: at the full rate first, then ever slower.

    The two stages of FAO-56 (eq. 74) are followed through the day, not held from the morning on:
    a layer of 15 mm goes from wet to dry within one day, and a held rate would overdraw it.

    Parameters
    ----------
    depletion : array
        Water missing in the morning, after rain. [mm]
    demand : array
        What a wet surface would lose. [mm d⁻¹]
    readily, total : float
        Water of the first stage, and of both. [mm]

    Returns
    -------
    array
        Water lost. [mm d⁻¹]
    """
    lost: Values = equations.dried_by(depletion, demand, readily, total)
    return lost


def seedbed_balance(
    et0: Values, rain: Values, irrigation: Values, bed: Seedbed, *, start: float = 0.0
) -> WaterBalance:
    """Follow the water of a bare seedbed; water comes early in the day, run-off is not counted.

    Parameters
    ----------
    et0 : array
        Reference evapotranspiration. [mm d⁻¹]
    rain, irrigation : array
        Water that reached the ground. [mm d⁻¹]
    bed : Seedbed
        The layer.
    start : float
        Water missing the evening before. [mm]

    Returns
    -------
    WaterBalance
        Its `loss` is evaporation alone.

    Raises
    ------
    BalanceError
        If a day does not close.
    """
    require("water missing at the start", start, 0, bed.total, "mm")
    demand = value("turf_water.seedbed_demand") * np.asarray(et0, dtype=np.float64)
    water = np.asarray(rain, dtype=np.float64) + irrigation
    depletion, loss, drainage = (np.zeros(len(demand)) for _ in range(3))
    last = start
    for day in range(len(demand)):
        drainage[day] = max(water[day] - last, 0.0)
        morning = _wetted(last, water[day])
        loss[day] = _dried(morning, demand[day], bed.readily, bed.total)
        last = min(morning + loss[day], bed.total)
        depletion[day] = last
    stress = np.divide(loss, demand, out=np.ones_like(loss), where=demand > 0)
    return _closed(WaterBalance(depletion, loss, drainage, stress), water, start, "seedbed water")


def root_zone_balance(
    et0: Values,
    rain: Values,
    irrigation: Values,
    zone: RootZone,
    *,
    crop_coefficient: float | None = None,
    start: float = 0.0,
) -> WaterBalance:
    """Follow the water of the root zone under turf; run-off and rise from below are not counted.

    Parameters
    ----------
    et0 : array
        Reference evapotranspiration. [mm d⁻¹]
    rain, irrigation : array
        Water that reached the ground. [mm d⁻¹]
    zone : RootZone
        The store.
    crop_coefficient : float, optional
        Turf's demand over the reference; that of the handbook if not given. [-]
    start : float
        Water missing the evening before. [mm]

    Returns
    -------
    WaterBalance
        Its `stress` is Ks, from the depletion of the evening before. FAO-56 eqs. 81, 84, 85, 88.

    Raises
    ------
    BalanceError
        If a day does not close.
    """
    require("water missing at the start", start, 0, zone.total, "mm")
    factor = value("turf_water.crop_coefficient") if crop_coefficient is None else crop_coefficient
    demand = factor * np.asarray(et0, dtype=np.float64)
    water = np.asarray(rain, dtype=np.float64) + irrigation
    fixed = np.full(len(demand), zone.depletion_fraction)
    fraction = depletion_fraction(demand) if zone.adjusts else fixed
    rows, last = [], start
    for asked, came, share in zip(demand.tolist(), water.tolist(), fraction.tolist(), strict=True):
        stress = _stress(last, zone.total, share)
        loss = _taken(asked, stress, last, came, zone.total)
        drained = max(came - (last + loss), 0.0)
        last = _wetted(last + loss, came)
        rows.append((last, loss, drained, stress))
    depletion, lost, drainage, stresses = np.array(rows, dtype=np.float64).reshape(-1, 4).T
    return _closed(
        WaterBalance(depletion, lost, drainage, stresses), water, start, "root-zone water"
    )


def _closed(balance: WaterBalance, water: Values, start: float, what: str) -> WaterBalance:
    before = np.concatenate([[start], balance.depletion[:-1]])
    flows = water + balance.loss + balance.drainage
    gap = np.abs(before - water + balance.loss + balance.drainage - balance.depletion)
    allowed = CLOSES_TO * (1.0 + flows + before)
    off = np.flatnonzero(~(gap <= allowed))
    if len(off):
        day = int(off[0])
        raise BalanceError(what, f"day {day + 1}", float(gap[day]), float(allowed[day]))
    return balance
