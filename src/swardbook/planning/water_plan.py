"""A plan of watering for the days ahead: seedbed or grown sward, by whom, by hose or by cans."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil

import numpy as np

from swardbook.foundation.errors import NotEnoughDataError
from swardbook.handbook.parameters import value
from swardbook.husbandry.tins import Run, run_for
from swardbook.planning.checks_site import closed_to
from swardbook.planning.growth import root_zone
from swardbook.planning.situation import Situation
from swardbook.planning.water import in_doses, seedbed_water, young_seedbed
from swardbook.weather.derive import derive

SEEDBED, SWARD, REFILLS = "seedbed", "sward", "refills"


@dataclass(frozen=True, slots=True)
class Helper:
    """Who is here to water, and when.

    Parameters
    ----------
    name : str
        Who.
    weekdays : frozenset of int
        Days of the week, Monday 0.
    hours : float
        Hours there are on each of them. [h]
    """

    name: str
    weekdays: frozenset[int]
    hours: float


@dataclass(frozen=True, slots=True)
class Tap:
    """What water comes out, how evenly it falls and how fast it sinks in; None where not measured.

    Parameters
    ----------
    falls_mm_h : float or None
        How fast it falls on the lawn, mean of the tins. [mm h⁻¹]
    lowest_quarter : float or None
        Evenness. [-]
    sinks_mm_h : float or None
        How fast it sinks in, slowest reading. [mm h⁻¹]
    """

    falls_mm_h: float | None = None
    lowest_quarter: float | None = None
    sinks_mm_h: float | None = None


@dataclass(frozen=True, slots=True)
class WaterDay:
    """One day of the plan, were it dry.

    Parameters
    ----------
    day : date
        The day.
    low_mm, mm, high_mm : float
        Water wanted, with its range. [mm]
    doses : int
        How often.
    litres : float
        Litres. [L]
    tap_min : float or None
        Minutes at the tap; None where its litres are not known, or the hose is restricted. [min]
    can_min : float
        Minutes with cans. [min]
    who : tuple of str
        Who is here.
    hours_here : float
        Hours they have. [h]
    is_covered : bool or None
        Whether that is enough; None where nobody was named.
    """

    day: date
    low_mm: float
    mm: float
    high_mm: float
    doses: int
    litres: float
    tap_min: float | None
    can_min: float
    who: tuple[str, ...]
    hours_here: float
    is_covered: bool | None


@dataclass(frozen=True, slots=True)
class WaterPlan:
    """A plan of watering.

    Parameters
    ----------
    zone : str
        The zone.
    kind : str
        ``seedbed``, ``refills`` or ``sward``.
    area_m2 : float
        Ground to water. [m²]
    days : tuple of WaterDay
        The days on which water is wanted, were they dry.
    until : date
        Last day the plan looks at.
    run : Run or None
        Minutes of the sprinkler for one watering of the sward; None where no tins say.
    hose_allowed : bool
        False under a restriction noted in the book.
    cans_carry : bool
        Whether cans can carry a day of it.
    usual_from : str
        What the loss of a day rests on.
    depletion_mm, ready_mm : float or None
        Water missing from the root zone, and what it can lose without stress. [mm]
    told : tuple of str
        What to know.
    """

    zone: str
    kind: str
    area_m2: float
    days: tuple[WaterDay, ...]
    until: date
    run: Run | None
    hose_allowed: bool
    cans_carry: bool
    usual_from: str
    depletion_mm: float | None
    ready_mm: float | None
    told: tuple[str, ...]

    @property
    def litres(self) -> float:
        """Litres of all days, were they dry [L]."""
        return sum(each.litres for each in self.days)

    @property
    def tap_hours(self) -> float | None:
        """Hours at the tap; None where not known [h]."""
        known = [each.tap_min for each in self.days if each.tap_min is not None]
        return sum(known) / 60 if len(known) == len(self.days) else None


def water_plan(
    sit: Situation, helpers: Sequence[Helper] = (), tap: Tap | None = None, days: int = 0,
    refills_m2: float | None = None,
) -> WaterPlan:  # fmt: skip
    """Plan the water of the days ahead, as if they were dry; rain of a day takes its water off.

    Parameters
    ----------
    sit : Situation
        The zone on its day.
    helpers : sequence of Helper
        Who is here; none leaves that open.
    tap : Tap or None
        What tins and readings say.
    days : int
        How far ahead; 0 takes the usual week.
    refills_m2 : float or None
        Refills to keep damp in place of the whole. [m²]

    Raises
    ------
    NotEnoughDataError
        If there is no weather up to today.
    """
    ahead = days or int(value("water_plan_days"))
    tap = tap or Tap()
    et0, source = usual_et0(sit, ahead)
    young = refills_m2 if refills_m2 is not None else young_seedbed(sit)
    hose = closed_to(sit, "hose") is None
    if young:
        kind = REFILLS if refills_m2 is not None or young < 0.5 * sit.zone.area_m2 else SEEDBED
        planned = _seedbed_days(sit, young, et0, helpers, hose, ahead)
        run, missing, ready = None, None, None
    else:
        kind, young = SWARD, sit.zone.area_m2
        planned, run, missing, ready = _sward_days(sit, et0, helpers, tap, hose, ahead)
    most = max((each.can_min for each in planned), default=0.0)
    carry = most <= value("can_most_minutes")
    return WaterPlan(
        sit.zone.name, kind, young, planned, sit.today + timedelta(days=ahead - 1), run, hose,
        carry, source, missing, ready, _told(sit, kind, planned, hose, carry, tap),
    )  # fmt: skip


def usual_et0(sit: Situation, ahead: int) -> tuple[tuple[float, float, float], str]:
    """Give what a day ahead commonly loses: low, middle and high reference evapotranspiration.

    Parameters
    ----------
    sit : Situation
        The zone on its day.
    ahead : int
        Days ahead.

    Returns
    -------
    tuple
        Tenth, half and ninetieth part of the days [mm d⁻¹], and what that rests on.

    Raises
    ------
    NotEnoughDataError
        If there is no weather up to today.
    """
    if sit.weather is None or not sit.lately.et0:
        raise NotEnoughDataError("how much water is wanted", "daily weather up to today", "none")
    derived = derive(sit.weather, sit.site.latitude, sit.site.elevation_m)
    of_year = (sit.weather.days - sit.weather.days.astype("datetime64[Y]")).astype(np.int64)
    middle = (sit.today + timedelta(days=ahead // 2)).timetuple().tm_yday - 1
    apart = np.abs(of_year - middle)
    near = np.minimum(apart, 366 - apart) <= value("water_usual_days") + ahead / 2
    past = near & (sit.weather.days < np.datetime64(sit.today - timedelta(days=60)))
    years = len(np.unique(sit.weather.days[past].astype("datetime64[Y]")))
    if years >= 3:
        low, half, high = (float(each) for each in np.quantile(derived.et0[past], (0.1, 0.5, 0.9)))
        return (low, half, high), f"the same days of {years} past years"
    week = sorted(sit.lately.et0)
    return (week[0], sum(week) / len(week), week[-1]), "the last week, as past years are wanting"


def cans_for(litres: float) -> float:
    """Give the minutes that cans take for some litres [min].

    Parameters
    ----------
    litres : float
        Litres. [L]
    """
    return ceil(litres / value("can_litres") - 1e-9) * value("can_minutes")


def _seedbed_days(
    sit: Situation, area: float, et0: tuple[float, float, float], helpers: Sequence[Helper],
    hose: bool, days: int,
) -> tuple[WaterDay, ...]:  # fmt: skip
    low, high = value("seedbed_water_low"), value("seedbed_water_high")
    planned = []
    for ahead in range(days):
        day = sit.today + timedelta(days=ahead)
        span = (low * et0[0], (low + high) / 2 * et0[1], high * et0[2])
        now = seedbed_water(sit, area) if ahead == 0 else None
        if now is not None:
            span = (now.low_mm, (now.low_mm + now.high_mm) / 2, now.high_mm)
        doses, dose = in_doses(span[1], now.et0 if now is not None else et0[1])
        if doses:
            planned.append(_day(sit, day, area, (span[0], doses * dose, span[2]), doses, helpers,
                                hose))  # fmt: skip
    return tuple(planned)


def _sward_days(
    sit: Situation, et0: tuple[float, float, float], helpers: Sequence[Helper], tap: Tap,
    hose: bool, days: int,
) -> tuple[tuple[WaterDay, ...], Run | None, float | None, float]:  # fmt: skip
    store = root_zone(sit.ground, sit.zone, sit.today)
    ready = store.depletion_fraction * store.total
    missing = sit.lately.depletion or 0.0
    factor = value("turf_water.crop_coefficient")
    planned, run = [], None
    for ahead in range(days):
        if missing >= max(ready, value("water_deep_least_mm")):
            day = sit.today + timedelta(days=ahead)
            span = (missing - ahead * factor * (et0[1] - et0[0]), missing,
                    min(missing + ahead * factor * (et0[2] - et0[1]), store.total))  # fmt: skip
            run = run or _run(missing, tap)
            planned.append(_day(sit, day, sit.zone.area_m2, span, 1, helpers, hose))
            missing = 0.0
        missing = min(missing + factor * et0[1], store.total)
    return tuple(planned), run, sit.lately.depletion, ready


def _run(depth: float, tap: Tap) -> Run | None:
    if tap.falls_mm_h is None:
        return None
    return run_for(depth, tap.falls_mm_h, tap.lowest_quarter, tap.sinks_mm_h)


def _day(
    sit: Situation, day: date, area: float, span: tuple[float, float, float], doses: int,
    helpers: Sequence[Helper], hose: bool,
) -> WaterDay:  # fmt: skip
    litres = span[1] * area
    tap = litres / sit.site.hose_l_min if hose and sit.site.hose_l_min else None
    cans = cans_for(litres)
    here = [each for each in helpers if day.weekday() in each.weekdays]
    hours = sum(each.hours for each in here)
    needed = (tap if tap is not None else cans) / 60
    covered = None if not helpers else bool(here) and hours >= needed - 1e-9
    return WaterDay(
        day, *span, doses, litres, tap, cans, tuple(each.name for each in here), hours, covered
    )


def _told(
    sit: Situation, kind: str, days: tuple[WaterDay, ...], hose: bool, carry: bool, tap: Tap
) -> tuple[str, ...]:
    told = []
    if not days:
        told.append("No water wanted in these days, by the balance." if kind == SWARD else
                    "Too little is lost to ask for a dose.")  # fmt: skip
    if not hose:
        told.append(
            "Hose restriction noted: cans and stored rain only; rules differ, ask your supplier."
        )
        if days and not carry:
            told.append(
                "Cans cannot carry this: keep them for refills, let the grown sward go off colour."
                if kind == SWARD
                else "Cans cannot carry this: water the smallest, youngest part, or wait to sow."
            )
    elif days and sit.site.hose_l_min is None:
        told.append("Time a 10 L bucket and litres become minutes; until then cans are reckoned.")
    if kind == SWARD and days:
        if tap.falls_mm_h is None:
            told.append("Set out tins: then there are minutes for the sprinkler.")
        elif tap.sinks_mm_h is None:
            told.append("Nobody has measured how fast the ground takes it: watch for puddles.")
        told.append("Deep and seldom, early in the day; never a daily sprinkle.")
    if kind != SWARD and days:
        told.append(
            "Once seed has chitted one dry day can end it; less the rain that falls, fine drops."
        )
    return tuple(told)
