"""The next cut of a zone: by the one-third rule and by the seeding clock, the sooner of the two."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from math import floor, inf

from swardbook.evidence.estimates import Interval
from swardbook.handbook.parameters import value
from swardbook.husbandry.happenings import Cut
from swardbook.husbandry.lowering import LoweringCut, come_down, due_height_mm
from swardbook.planning.checks_seedlings import awaits_first_cut, first_cut_mm
from swardbook.planning.clock import ClockState, SeedingClock, seeding_clock
from swardbook.planning.comfort import odd_height, too_low_for, waits_to_go_lower
from swardbook.planning.days_ahead import DaysAhead, days_ahead
from swardbook.planning.directions import CutLine, lines_cut, next_line
from swardbook.planning.fit import Fit, fit_today
from swardbook.planning.growth_ahead import days_to_height, days_to_warmth
from swardbook.planning.leaf_growth import LeafGrowth, heights, leaf_growth
from swardbook.planning.situation import Situation
from swardbook.weather.series import DailyWeather

THIRD, CLOCK = "one-third rule", "seeding clock"


@dataclass(frozen=True, slots=True)
class Grass:
    """How high the grass stands today.

    Parameters
    ----------
    height_mm : float
        Its height. [mm]
    likely : Interval
        Likely range. [mm]
    since : date
        Day of the height it is reckoned from.
    because : str
        That height: a cut, or measured.
    """

    height_mm: float
    likely: Interval
    since: date
    because: str


@dataclass(frozen=True, slots=True)
class ByThird:
    """The next cut by the one-third rule.

    Parameters
    ----------
    due_mm : float
        Height at which a cut takes just a third. [mm]
    in_days : float or None
        Days until then; None if it is farther off than can be foretold. [d]
    soonest, latest : float or None
        Likely range of the days; None past what can be foretold. [d]
    is_warning_only : bool
        Whether the height of cut is so low that the rule only warns.
    """

    due_mm: float
    in_days: float | None
    soonest: float | None
    latest: float | None
    is_warning_only: bool


@dataclass(frozen=True, slots=True)
class NextCut:
    """When to cut a zone next, and why then.

    Parameters
    ----------
    zone : str
        Name of the zone.
    today : date
        The day.
    cut_mm, wanted_mm : float
        Height of the next cut, and of the cut wanted in the end. [mm]
    growth : LeafGrowth or None
        Growth in height; None without weather that reaches today.
    grass : Grass or None
        How high it stands; None without a cut or height to reckon from.
    third : ByThird or None
        By the one-third rule; None where growth or height is not known.
    clock : SeedingClock
        The seeding clock.
    clock_days : float or None
        Days by the clock; None while it does not run or cannot tell. [d]
    cut_on : date or None
        The day of the next cut; None where nothing asks for one yet.
    decides : str
        Which of the two asks for it first; empty for neither.
    because : str
        Why, in a sentence.
    line : CutLine
        The direction.
    down : tuple of LoweringCut
        Cuts down to the height wanted, the first on `cut_on`; empty where one cut does it.
    fit : Fit
        Whether a cut is fit today.
    not_known : tuple of str
        What is not known, and what it would change.
    ahead_from : str
        What the days ahead rest on: a forecast and until when, past years, or the last week.
    forecast_to : date or None
        The last day of the forecast that was used.
    too_low : tuple of str
        What is odd about the height, and sown components that do not live with it.
    lower_waits : str
        What keeps the zone from being cut lower; empty where nothing does.
    """

    zone: str
    today: date
    cut_mm: float
    wanted_mm: float
    growth: LeafGrowth | None
    grass: Grass | None
    third: ByThird | None
    clock: SeedingClock
    clock_days: float | None
    cut_on: date | None
    decides: str
    because: str
    line: CutLine
    down: tuple[LoweringCut, ...]
    fit: Fit
    not_known: tuple[str, ...]
    ahead_from: str = ""
    forecast_to: date | None = None
    too_low: tuple[str, ...] = ()
    lower_waits: str = ""


@dataclass(frozen=True, slots=True)
class Wish:
    """What is said about the next cut; None where nothing is.

    Parameters
    ----------
    cut_mm : float or None
        Height of the next cut; else that of the last one, or the zone's. [mm]
    wanted_mm : float or None
        Height of the cut wanted in the end; else that of the next one. [mm]
    grass_mm : float or None
        Height of the grass, measured today. [mm]
    """

    cut_mm: float | None = None
    wanted_mm: float | None = None
    grass_mm: float | None = None


def next_cut(
    sit: Situation, wish: Wish | None = None, forecast: DailyWeather | None = None
) -> NextCut:
    """Plan the next cut of a zone.

    Parameters
    ----------
    sit : Situation
        The zone on its day.
    wish : Wish, optional
        What is said about the cut.
    forecast : DailyWeather or None
        Days from tomorrow on, as far as they are forecast; after them days are as warm as in past
        years, and where these are wanting as in the last week.
    """
    wish = wish or Wish()
    sown = awaits_first_cut(sit)
    first = None if sown is None else first_cut_mm(sown)
    at = wish.cut_mm or (first[1] if first else _last_height(sit)) or sit.zone.height_of_cut_mm
    wanted = wish.wanted_mm or at
    growth = leaf_growth(sit)
    grass = grass_today(sit, growth, wish.grass_mm, None if sown is None else sown.day)
    third, sky = None, None
    if growth is not None:
        sky = days_ahead(sit, int(value("mowing.growth_horizon")) + 1, forecast)
        if grass is not None:
            third = _by_third(at, growth, grass, sky) if first is None else _first(first[0], grass)
    clock = seeding_clock(sit)
    by_clock = _by_clock(clock, sky)
    if first is not None:
        by_clock = None
    decides, days = _sooner(third.in_days if third is not None else None, by_clock)
    on = None if days is None else sit.today + timedelta(days=floor(days))
    fit = fit_today(sit, "cut")
    return NextCut(
        sit.zone.name, sit.today, at, wanted, growth, grass, third, clock, by_clock, on, decides,
        _because(decides, third, clock, growth) if first is None else _first_because(first, third),
        next_line(sit), () if first else _down(growth, grass, wanted, days or 0.0),
        fit, _not_known(sit, growth, grass, clock),
        "" if sky is None else sky.source, None if sky is None else sky.forecast_to,
        odd_height(sit, wish.cut_mm or wanted) + too_low_for(sit, wanted), waits_to_go_lower(fit),
    )  # fmt: skip


def grass_today(
    sit: Situation, growth: LeafGrowth | None, measured_mm: float | None = None,
    sown_on: date | None = None,
) -> Grass | None:  # fmt: skip
    """Reckon how high the grass stands: the last cut or measured height, and growth since.

    Parameters
    ----------
    sit : Situation
        The zone on its day.
    growth : LeafGrowth or None
        Growth in height.
    measured_mm : float or None
        Height measured today and not in the diary. [mm]
    sown_on : date or None
        Day of a seedbed that was not cut yet; heights before it are of other grass.

    Returns
    -------
    Grass or None
        None where no dated cut or height is noted, or the weather does not reach back to it.
    """
    if measured_mm is not None:
        return Grass(measured_mm, Interval(measured_mm, measured_mm), sit.today, "as told")
    known = [
        (cut.day, 0, cut.what.height_of_cut_mm or sit.zone.height_of_cut_mm, "cut")
        for cut in sit.happened(Cut)
        if cut.is_dated
    ] + [(look.day, 1, look.what.value, "measured") for look in heights(sit)]
    if sown_on is not None:
        known = [each for each in known if each[0] > sown_on]
    if not known:
        return None
    day, _, height, because = _last(known)
    if day == sit.today:
        return Grass(height, Interval(height, height), day, because)
    grown = growth.expected_since(day, sit.today) if growth is not None else None
    if growth is None or grown is None:
        return None
    low, high = growth.measured.range()
    return Grass(
        height + grown * growth.measured.ratio,
        Interval(height + grown * low, height + grown * high), day, because,
    )  # fmt: skip


def due_by_heights(sit: Situation) -> tuple[bool | None, str]:
    """Tell whether a cut takes a third by tomorrow, where heights measured here set growth right.

    Returns
    -------
    tuple of bool or None and str
        Whether it does, None where too few heights are measured; and what to say of it.
    """
    if len(heights(sit)) < value("mowing.spells_least") or awaits_first_cut(sit) is not None:
        return None, ""
    told = next_cut(sit)
    if told.third is None or told.growth is None or told.grass is None:
        return None, ""
    if len(told.growth.measured.spells) < value("mowing.spells_least"):
        return None, ""
    days = told.third.in_days
    words = f" About {told.grass.height_mm:.0f} mm by heights measured here."
    return (True, words) if days is not None and days <= 1 else (False, "")


def _last(known: list[tuple[date, int, float, str]]) -> tuple[date, int, float, str]:
    """Take the latest; of a cut and a height on one day the cut, unless the height is no higher."""
    day = max(each[0] for each in known)
    cuts = [each for each in known if each[0] == day and each[1] == 0]
    looks = [each for each in known if each[0] == day and each[1] == 1]
    if not cuts or not looks:
        return (cuts or looks)[-1]
    clear = 2 * value("mowing.height_error")
    return cuts[-1] if looks[-1][2] > cuts[-1][2] + clear else looks[-1]


def _last_height(sit: Situation) -> float | None:
    last = sit.latest(Cut, within_days=value("mowing.line_memory_days"))
    return None if last is None else last.what.height_of_cut_mm


def _down(
    growth: LeafGrowth | None, grass: Grass | None, wanted: float, days: float
) -> tuple[LoweringCut, ...]:
    if growth is None or grass is None:
        return ()
    then = grass.height_mm + growth.rate * floor(days)
    is_low = wanted < value("leaf_third_firm_height")
    if is_low and then <= value("mowing.low_cut_ratio") * wanted:
        return ()
    cuts = come_down(max(then, wanted), wanted, growth.rate)
    return cuts if len(cuts) > 1 else ()


def _by_third(cut: float, growth: LeafGrowth, grass: Grass, sky: DaysAhead) -> ByThird:
    (slow, fast), due = growth.rate_range, due_height_mm(cut)
    days, soonest, latest = (
        days_to_height(due, max(height, cut), growth, rate, air)
        for height, rate, air in (
            (grass.height_mm, growth.rate, [each.air for each in sky.days]),
            (grass.likely.high, fast, [each.air_high for each in sky.days]),
            (grass.likely.low, slow, [each.air_low for each in sky.days]),
        )
    )
    if growth.rate < value("mowing.growth_still") and not _warms(sky):
        days = days if days == 0 else inf
    low, mid, high = (_foretold(each) for each in (soonest, days, latest))
    return ByThird(due, mid, low, high, cut < value("leaf_third_firm_height"))


def _warms(sky: DaysAhead) -> bool:
    """Tell whether a forecast has days warm enough to grow; past years alone start no growth."""
    return any(
        each.is_forecast and each.air >= value("weather.growing_week_mean") for each in sky.days
    )


def _by_clock(clock: SeedingClock, sky: DaysAhead | None) -> float | None:
    """Days by the seeding clock, at the warmth of the days ahead where it is forecast [d]."""
    if clock.state is ClockState.PAST:
        return 0.0
    if sky is None or sky.forecast_to is None or clock.days_in_hand is None:
        return clock.days_in_hand
    days = days_to_warmth(clock.working.degree_days - (clock.degree_days or 0.0), sky.days)
    return clock.days_in_hand if days == inf else days


def _first(due: float, grass: Grass) -> ByThird:
    """A first cut waits for the height of the seedlings; how fast they grow is not foretold."""
    is_due = grass.height_mm >= due
    return ByThird(due, 0.0 if is_due else None, 0.0 if is_due else None, None, False)


def _first_because(first: tuple[float, float], third: ByThird | None) -> str:
    told = f"First cut after sowing: at {first[0]:.0f} mm of grass, down to {first[1]:.0f} mm"
    if third is not None and third.in_days == 0:
        return f"{told}; it is that high. Tug a few seedlings, dry leaf, sharp blades."
    return f"{told}, once a tug tears the leaf. Measure the seedlings."


def _foretold(days: float) -> float | None:
    return days if days <= value("mowing.growth_horizon") else None


def _sooner(third: float | None, clock: float | None) -> tuple[str, float | None]:
    if third is None and clock is None:
        return "", None
    if clock is None or (third is not None and third < clock):
        return THIRD, third
    return CLOCK, clock


def _because(
    decides: str, third: ByThird | None, clock: SeedingClock, growth: LeafGrowth | None
) -> str:
    if decides == CLOCK:
        return clock.because
    if decides == THIRD and third is not None:
        rule = "a warning only, so low" if third.is_warning_only else "more at once checks growth"
        if third.in_days == 0:
            return f"A cut already takes more than a third ({rule})."
        return f"At {third.due_mm:.0f} mm a cut takes just a third ({rule})."
    if third is None:
        return "Neither growth nor heads can be told."
    held = growth.held_back_by if growth is not None else ""
    why = f", held back most by {held}" if held else ""
    horizon = value("mowing.growth_horizon")
    return f"No cut by growth within {horizon:.0f} days{why}, and no heads to take."


def _not_known(
    sit: Situation, growth: LeafGrowth | None, grass: Grass | None, clock: SeedingClock
) -> tuple[str, ...]:
    found = []
    if growth is None:
        found.append("weather up to today: growth, and the day by the one-third rule, rest on it")
    elif not growth.measured.spells:
        found.append(
            "heights measured here: a few before and between cuts would narrow growth, now wide"
        )
    if grass is None:
        found.append("the last cut or height with its day: how high the grass stands")
    if clock.state is ClockState.NOT_STARTED:
        found.append("heads looked for: the clock starts with the first ones seen")
    if not lines_cut(sit):
        found.append("lines of the last cuts: which direction comes next")
    return tuple(found)
