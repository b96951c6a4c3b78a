"""Water: what a seedbed or refills want today, in doses, litres and minutes; and the sward."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

from swardbook.foundation.dates import say
from swardbook.foundation.workings import Input, Workings
from swardbook.handbook.parameters import parameter, value
from swardbook.husbandry.happenings import Water
from swardbook.planning.checks_site import closed_to
from swardbook.planning.growth import water_depth
from swardbook.planning.situation import Situation
from swardbook.planning.sowings import sowings
from swardbook.planning.warmth import rain


@dataclass(frozen=True, slots=True)
class SeedbedWater:
    """Water for a seedbed or refills on one day.

    Parameters
    ----------
    area_m2 : float
        Ground to keep damp. [m²]
    et0 : float
        Reference evapotranspiration of the day. [mm d⁻¹]
    low_mm, high_mm : float
        Total for the day less rain. [mm]
    rain_mm, given_mm : float
        Rain, and water already given today. [mm]
    doses : int
        How often; 0 if nothing is needed.
    dose_mm : float
        One dose. [mm]
    litres : float
        Litres for the day, at the middle of the range. [L]
    minutes : float or None
        Minutes by hose; None where its litres a minute are not known. [min]
    can_minutes : float
        Minutes with cans. [min]
    hose_allowed : bool
        False under a restriction noted in the book.
    watered_by : str
        Who watered last.
    """

    area_m2: float
    et0: float
    low_mm: float
    high_mm: float
    rain_mm: float
    given_mm: float
    doses: int
    dose_mm: float
    litres: float
    minutes: float | None
    can_minutes: float
    hose_allowed: bool
    watered_by: str
    workings: Workings


def young_seedbed(sit: Situation) -> float:
    """Give the area sown or refilled so lately that it must not dry.

    Returns
    -------
    float
        The area. [m²]
    """
    weeks = value("seedbed_weeks")
    young = [each for each in sowings(sit) if sit.age(each.day) <= 7 * weeks]
    return min(sum(each.share for each in young), 1.0) * sit.zone.area_m2


def seedbed_water(sit: Situation, area_m2: float) -> SeedbedWater | None:
    """Work out the water for a seedbed today: 1.0 to 1.2 times ET0 less rain, in small doses.

    Parameters
    ----------
    sit : Situation
        The zone on its day.
    area_m2 : float
        Ground to keep damp. [m²]

    Returns
    -------
    SeedbedWater or None
        None where the weather does not reach today.
    """
    fell = rain(sit, 1)
    if not sit.lately.et0 or fell is None:
        return None
    et0 = sit.lately.et0[-1]
    given = _given_today(sit, area_m2)
    low = max(value("seedbed_water_low") * et0 - fell - given, 0.0)
    high = max(value("seedbed_water_high") * et0 - fell - given, 0.0)
    middle = (low + high) / 2
    doses, dose = in_doses(middle, et0)
    litres = dose * doses * area_m2
    hose = sit.site.hose_l_min
    cans = ceil(litres / value("can_litres"))
    return SeedbedWater(
        area_m2, et0, low, high, fell, given, doses, dose, litres,
        litres / hose if hose else None, cans * value("can_minutes"),
        closed_to(sit, "hose") is None, _last_by(sit),
        _workings(sit, (et0, fell, given), (low, high), f"{doses} x {dose:.1f} mm"),
    )  # fmt: skip


def in_doses(wanted_mm: float, et0: float) -> tuple[int, float]:
    """Part a day's water for a seedbed into small doses.

    Parameters
    ----------
    wanted_mm : float
        Water for the day. [mm]
    et0 : float
        Reference evapotranspiration of the day; larger doses are for hot dry days. [mm d⁻¹]

    Returns
    -------
    tuple of int and float
        How often, and one dose [mm]; 0 where too little is wanted.
    """
    most = value("dose_hot") if et0 >= value("hot_dry_et0") else value("dose_high")
    doses = 0 if wanted_mm < value("dose_low") else max(ceil(wanted_mm / most), 1)
    doses = min(doses, int(value("doses_most")))
    dose = max(min(wanted_mm / doses, most), min(value("dose_low"), wanted_mm)) if doses else 0.0
    return doses, dose


@dataclass(frozen=True, slots=True)
class SwardWater:
    """Whether a grown sward wants water: deep and seldom, or nothing.

    Parameters
    ----------
    depletion_mm : float
        Water missing from the root zone. [mm]
    stress : float
        Stress factor Ks. [-]
    litres : float
        Litres to fill it. [L]
    minutes : float or None
        Minutes by hose. [min]
    wanted : bool
        Whether it is worth watering.
    told : str
        One sentence.
    """

    depletion_mm: float
    stress: float
    litres: float
    minutes: float | None
    wanted: bool
    told: str


def sward_water(sit: Situation) -> SwardWater | None:
    """Say whether a grown sward wants water; never a light daily sprinkle.

    Returns
    -------
    SwardWater or None
        None where the weather does not reach today.
    """
    if sit.lately.depletion is None or not sit.lately.stress:
        return None
    missing, stress = sit.lately.depletion, sit.lately.stress[-1]
    litres = missing * sit.zone.area_m2
    hose = sit.site.hose_l_min
    minutes = litres / hose if hose else None
    if stress >= value("no_stress"):
        return SwardWater(missing, stress, litres, minutes, False, "Moist: no water needed.")
    if closed_to(sit, "hose") is not None:
        told = "Hose restricted: let the grown sward go off colour; ask your supplier."
        return SwardWater(missing, stress, litres, minutes, False, told)
    told = f"If it is to stay green: {missing:.0f} mm once, early, in turns the soil can take."
    return SwardWater(missing, stress, litres, minutes, stress < value("drought_stress"), told)


def _given_today(sit: Situation, area_m2: float) -> float:
    given = 0.0
    for each in sit.happened(Water, within_days=0):
        if each.day != sit.today:
            continue
        if each.what.depth_mm is not None:
            given += each.what.depth_mm
        elif each.what.litres is not None and area_m2:
            given += each.what.litres / area_m2
        else:
            given += water_depth(each.what, sit.zone, sit.site) or 0.0
    return given


def _last_by(sit: Situation) -> str:
    last = sit.latest(Water)
    return last.entry.who if last is not None else ""


def _workings(
    sit: Situation, drivers: tuple[float, float, float], both: tuple[float, float], answer: str
) -> Workings:
    et0, fell, given = drivers
    keys = ("seedbed_water_low", "seedbed_water_high", "dose_low", "dose_high")
    return Workings(
        question=f"How much water does the seedbed in {sit.zone.name} want on {say(sit.today)}?",
        answer=answer,
        formula="(1.0 to 1.2) x ET0 - rain - water already given",
        inputs=(
            Input("ET0", round(et0, 1), "mm", source="weather: FAO-56, what it lacks by fallbacks"),
            Input("rain", round(fell, 1), "mm", source=f"weather, {say(sit.today)}"),
            Input("given today", round(given, 1), "mm", source="diary"),
            *(Input.of(key.replace("_", " "), parameter(key)) for key in keys),
        ),
        arithmetic=(f"{both[0]:.1f} to {both[1]:.1f} mm",),
        assumptions=("One millimetre is one litre on a square metre.",),
    )
