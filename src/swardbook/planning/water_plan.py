"""A plan of watering for the days ahead: seedbed or grown sward, by whom, by hose or by cans."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from math import ceil

from swardbook.handbook.parameters import value
from swardbook.husbandry.tins import Run, run_for
from swardbook.planning.checks_site import closed_to
from swardbook.planning.days_ahead import DayAhead, DaysAhead, days_ahead
from swardbook.planning.growth import root_zone
from swardbook.planning.situation import Situation
from swardbook.planning.water import in_doses, seedbed_water, young_seedbed
from swardbook.weather.series import DailyWeather

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
    rain_mm : float
        Rain that is forecast and taken off; `high_mm` is without it. [mm]
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
    rain_mm: float = 0.0


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
    forecast_to : date or None
        The last day of the forecast that was used; days after it are reckoned dry.
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
    forecast_to: date | None = None

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
    refills_m2: float | None = None, forecast: DailyWeather | None = None,
) -> WaterPlan:  # fmt: skip
    """Plan the water of the days ahead: by the forecast, and after it as if they were dry.

    Rain that is forecast is taken off, and the upper end of a day's water is without it.

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
    forecast : DailyWeather or None
        Days from tomorrow on, as far as they are forecast.

    Raises
    ------
    NotEnoughDataError
        If there is no weather up to today.
    """
    ahead = days or int(value("water_plan_days"))
    tap = tap or Tap()
    sky = days_ahead(sit, ahead, forecast)
    young = refills_m2 if refills_m2 is not None else young_seedbed(sit)
    hose = closed_to(sit, "hose") is None
    if young:
        kind = REFILLS if refills_m2 is not None or young < 0.5 * sit.zone.area_m2 else SEEDBED
        planned = _seedbed_days(sit, young, sky.days, helpers, hose)
        run, missing, ready = None, None, None
    else:
        kind, young = SWARD, sit.zone.area_m2
        planned, run, missing, ready = _sward_days(sit, sky.days, helpers, tap, hose)
    most = max((each.can_min for each in planned), default=0.0)
    carry = most <= value("can_most_minutes")
    return WaterPlan(
        sit.zone.name, kind, young, planned, sit.today + timedelta(days=ahead - 1), run, hose,
        carry, sky.source, missing, ready,
        (*_rain_told(sky, kind), *_told(sit, kind, planned, hose, carry, tap)), sky.forecast_to,
    )  # fmt: skip


def cans_for(litres: float) -> float:
    """Give the minutes that cans take for some litres [min].

    Parameters
    ----------
    litres : float
        Litres. [L]
    """
    return ceil(litres / value("can_litres") - 1e-9) * value("can_minutes")


def _seedbed_days(
    sit: Situation, area: float, ahead: Sequence[DayAhead], helpers: Sequence[Helper], hose: bool
) -> tuple[WaterDay, ...]:
    low, high = value("seedbed_water_low"), value("seedbed_water_high")
    planned, now = [], seedbed_water(sit, area)
    if now is not None:
        span = (now.low_mm, (now.low_mm + now.high_mm) / 2, now.high_mm)
        planned += _in_doses(sit, sit.today, area, span, now.et0, helpers, hose)
    for each in ahead[:-1] if now is not None else ahead:
        span = (
            max(low * each.et0_low - each.rain_mm, 0.0),
            max((low + high) / 2 * each.et0 - each.rain_mm, 0.0),
            high * each.et0_high,
        )
        days = _in_doses(sit, each.day, area, span, each.et0, helpers, hose)
        planned += [replace(day, rain_mm=each.rain_mm) for day in days]
    return tuple(planned)


def _in_doses(
    sit: Situation, day: date, area: float, span: tuple[float, float, float], et0: float,
    helpers: Sequence[Helper], hose: bool,
) -> list[WaterDay]:  # fmt: skip
    doses, dose = in_doses(span[1], et0)
    if not doses:
        return []
    return [_day(sit, day, area, (span[0], doses * dose, span[2]), doses, helpers, hose)]


def _sward_days(
    sit: Situation, ahead: Sequence[DayAhead], helpers: Sequence[Helper], tap: Tap, hose: bool
) -> tuple[tuple[WaterDay, ...], Run | None, float | None, float]:
    store = root_zone(sit.ground, sit.zone, sit.today)
    ready = store.depletion_fraction * store.total
    factor = value("turf_water.crop_coefficient")
    least = max(ready, value("water_deep_least_mm"))
    low = missing = high = sit.lately.depletion or 0.0
    planned, run, fell = [], None, 0.0
    for n, each in enumerate(ahead):
        if missing >= least:
            run = run or _run(missing, tap)
            day = _day(sit, sit.today + timedelta(days=n), sit.zone.area_m2, (low, missing, high),
                       1, helpers, hose)  # fmt: skip
            planned.append(replace(day, rain_mm=fell))
            low = missing = high = fell = 0.0
        fell += each.rain_mm
        low, missing = (
            min(max(was + factor * lost - each.rain_mm, 0.0), store.total)
            for was, lost in ((low, each.et0_low), (missing, each.et0))
        )
        high = min(high + factor * each.et0_high, store.total)
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


def _rain_told(sky: DaysAhead, kind: str) -> tuple[str, ...]:
    """Say what the forecast takes off, and that its rain may stay away."""
    wet = [each for each in sky.days if each.rain_mm >= 1]
    if not wet:
        return ()
    days = ", ".join(f"{each.rain_mm:.0f} mm on {each.day:%a} {each.day.day}" for each in wet[:3])
    then = "water that day" if kind != SWARD else "look again the day after"
    return (f"Rain forecast and taken off: {days}. If it stays away, {then}.",)


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
