"""The year of feed in one zone: what was given, what clippings took, what is left, what is due."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import pairwise
from math import ceil

import numpy as np

from swardbook.foundation.dates import say, season_day
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.foundation.quantities import require
from swardbook.handbook.parameters import parameter, value
from swardbook.husbandry.happenings import Cut, Feed
from swardbook.husbandry.labels import given
from swardbook.model.processes.cover import temperature_response
from swardbook.model.processes.feeding import in_clippings
from swardbook.planning.feed_split import split_by_growth, split_for_spring
from swardbook.planning.feeding import Feeding, feed_year_start, feeding
from swardbook.planning.situation import Situation, months_before
from swardbook.planning.sowings import setting_age
from swardbook.planning.states import Overall


@dataclass(frozen=True, slots=True)
class FeedLine:
    """One feed of the ledger; None where rate or label are not known.

    Parameters
    ----------
    day : date
        When.
    product : str
        As the bag says.
    rate_g_m2, nitrogen, phosphorus, potassium, iron : float or None
        Product, and what it gave, as elements. [g m⁻²]
    so_far : float
        Nitrogen since the year of feed began. [g m⁻²]
    """

    day: date
    product: str
    rate_g_m2: float | None
    nitrogen: float | None
    phosphorus: float | None
    potassium: float | None
    iron: float | None
    so_far: float


@dataclass(frozen=True, slots=True)
class Exported:
    """Nitrogen that boxed clippings took away.

    Parameters
    ----------
    low, middle, high : float
        By the range of nitrogen in a millimetre of leaf. [g m⁻²]
    cuts : int
        Boxed cuts it rests on.
    not_told : int
        Cuts that do not say whether the box was on, or had no weather.
    """

    low: float
    middle: float
    high: float
    cuts: int
    not_told: int


@dataclass(frozen=True, slots=True)
class FeedMonth:
    """One month of the plan.

    Parameters
    ----------
    first : date
        Its first day.
    by_growth : float or None
        Nitrogen by growth potential of the usual month; None without weather. [g m⁻²]
    by_spring : float
        Nitrogen with most of it in spring. [g m⁻²]
    given : float
        Nitrogen given in it. [g m⁻²]
    filled, cuts : int
        Cuts of the month that filled the box, and cuts that say so or not: growth as measured.
    """

    first: date
    by_growth: float | None
    by_spring: float
    given: float
    filled: int
    cuts: int


@dataclass(frozen=True, slots=True)
class FeedYear:
    """A year's feed: plan and ledger.

    Parameters
    ----------
    zone : str
        The zone.
    since, until : date
        The year of feed.
    year_g_m2 : float
        Nitrogen planned. [g m⁻²]
    low, high : float
        What is common for this turf. [g m⁻²]
    lines : tuple of FeedLine
        What was given.
    not_known : int
        Feeds without rate or label.
    exported : Exported or None
        What boxed clippings took; None where no cut says.
    months : tuple of FeedMonth
        Month by month.
    weather_years : float
        Years of weather that the split by growth rests on.
    left : float
        Planned less given. [g m⁻²]
    now : Feeding
        Whether a feed is due and fit today.
    next_from, next_to : date or None
        Days in which the next one falls; None where nothing is left or the season is over.
    next_g_m2 : float
        Nitrogen of the next one, at most. [g m⁻²]
    iron : tuple of str
        What to mind of iron here.
    phosphorus_ample : bool or None
        Whether the soil test has enough; None where there is none.
    """

    zone: str
    since: date
    until: date
    year_g_m2: float
    low: float
    high: float
    lines: tuple[FeedLine, ...]
    not_known: int
    exported: Exported | None
    months: tuple[FeedMonth, ...]
    weather_years: float
    left: float
    now: Feeding
    next_from: date | None
    next_to: date | None
    next_g_m2: float
    iron: tuple[str, ...]
    phosphorus_ample: bool | None

    @property
    def given(self) -> float:
        """Nitrogen given so far [g m⁻²]."""
        return self.lines[-1].so_far if self.lines else 0.0


def feed_year(
    sit: Situation, year_g_m2: float | None = None, phosphorus_ample: bool | None = None
) -> FeedYear:
    """Plan the year of feed and add up the ledger.

    Parameters
    ----------
    sit : Situation
        The zone on its day.
    year_g_m2 : float or None
        Nitrogen of the year; None takes the middle of what is common for this turf. [g m⁻²]
    phosphorus_ample : bool or None
        What the soil test says of phosphorus.
    """
    now = feeding(sit)
    since = feed_year_start(sit)
    until = _next_year(since) - timedelta(days=1)
    wanted = (now.year_low + now.year_high) / 2 if year_g_m2 is None else year_g_m2
    require("nitrogen of the year", wanted, 0, 60, "g/m2", "10 g/m2 is 100 kg/ha.")
    lines = ledger(sit, since)
    months, years = _months(sit, since, wanted, lines)
    left = wanted - now.given
    first, last = _next_span(sit, now, left)
    return FeedYear(
        sit.zone.name, since, until, wanted, now.year_low, now.year_high, lines, now.not_known,
        exported(sit, since), months, years, left, now, first, last,
        _next_dose(sit, now, months, left) if first else 0.0, iron_here(sit), phosphorus_ample,
    )  # fmt: skip


def ledger(sit: Situation, since: date) -> tuple[FeedLine, ...]:
    """List the feeds since a day with what each gave, as elements, and the sum of nitrogen."""
    lines, so_far = [], 0.0
    for each in sit.happened(Feed):
        if each.day < since:
            continue
        what, gave = each.what, given(each.what)
        so_far += gave.nitrogen if gave else 0.0
        iron = None if what.rate_g_m2 is None else what.rate_g_m2 * what.iron_percent / 100
        line = FeedLine(each.day, what.product, what.rate_g_m2, None, None, None, iron, so_far)
        if gave is not None:
            line = replace(
                line, nitrogen=gave.nitrogen, phosphorus=gave.phosphorus, potassium=gave.potassium
            )
        lines.append(line)
    return tuple(lines)


def exported(sit: Situation, since: date) -> Exported | None:
    """Work out the nitrogen that boxed clippings took since a day.

    Growth by warmth since the cut before, as the model has it with enough of all else, times
    nitrogen in a millimetre of leaf; a poor sward grows less, so this is rather much.
    """
    cuts = [each for each in sit.happened(Cut) if each.is_dated]
    taken, counted, untold = 0.0, 0, 0
    for before, cut in pairwise(cuts):
        if cut.day < since:
            continue
        grown = _grown_mm(sit, before.day, cut.day) if cut.what.boxed else 0.0
        if cut.what.boxed is None or grown is None:
            untold += 1
        elif cut.what.boxed:
            taken += grown
            counted += 1
    if not counted:
        return None
    leaf = parameter("model.zone.nitrogen_in_leaf")
    low, middle, high = (
        float(in_clippings(np.float64(taken), np.float64(each)))
        for each in (leaf.low, leaf.value, leaf.high)
    )
    return Exported(low, middle, high, counted, untold)


def iron_here(sit: Situation) -> tuple[str, ...]:
    """Say what speaks against iron in this zone now, and what it is for."""
    told = []
    sowing = setting_age(sit)
    if sowing is not None and sowing.day > months_before(sit.today, value("tender_months")):
        weeks = sit.age(sowing.day) // 7
        told.append(f"No iron now: seedlings of {weeks} weeks.")
    if sit.zone.iron_stains_near:
        told.append("Stone or paving is near: iron stains it for good; keep off its edge.")
    told.append("Iron is colour or hardening at the label's rate, no moss, disease or worm dose.")
    return tuple(told)


def _grown_mm(sit: Situation, before: date, day: date) -> float | None:
    if sit.weather is None or before < sit.weather.first or day > sit.weather.last:
        return None
    seen = sit.weather.between(before + timedelta(days=1), day)
    base, full = value("model.zone.growth_base"), value("model.zone.growth_full")
    leaf = temperature_response(seen.tmean, np.float64(base), np.float64(full))
    return float(np.sum(leaf)) * value("model.zone.height_growth")


def _months(
    sit: Situation, since: date, wanted: float, lines: tuple[FeedLine, ...]
) -> tuple[tuple[FeedMonth, ...], float]:
    firsts = _firsts(since)
    numbers = [_season_month(sit, first) for first in firsts]
    spring = split_for_spring(numbers, wanted)
    means, years = _usual_means(sit, firsts)
    growth: tuple[float | None, ...] = (None,) * len(firsts)
    if means is not None:
        try:
            growth = split_by_growth(means, wanted)
        except NotEnoughDataError:
            means = None
    cuts = [each for each in sit.happened(Cut) if each.day >= since]
    found = []
    for at, first in enumerate(firsts):
        after = firsts[at + 1] if at + 1 < len(firsts) else _next_year(since)
        said = [cut for cut in cuts if first <= cut.day < after and cut.what.filled_box is not None]
        begins = since if at == 0 else first
        gave = sum(each.nitrogen or 0.0 for each in lines if begins <= each.day < after)
        filled = sum(bool(cut.what.filled_box) for cut in said)
        found.append(FeedMonth(first, growth[at], spring[at], gave, filled, len(said)))
    return tuple(found), years


def _usual_means(sit: Situation, firsts: list[date]) -> tuple[list[float] | None, float]:
    """Mean air of each calendar month over all years there are; None short of a year."""
    if sit.weather is None:
        return None, 0.0
    years = len(sit.weather) / 365.25
    if years < value("feed_weather_years_least") - 0.01:
        return None, years
    month = sit.weather.days.astype("datetime64[M]").astype(np.int64) % 12 + 1
    means = [sit.weather.tmean[month == first.month] for first in firsts]
    if any(len(each) == 0 for each in means):
        return None, years
    return [float(each.mean()) for each in means], years


def _firsts(since: date) -> list[date]:
    """First days of the twelve months that lie nearest to the year of feed."""
    near = since if since.day <= 15 else since + timedelta(days=16)
    start = near.replace(day=1)
    return [
        date(start.year + (start.month - 1 + n) // 12, (start.month - 1 + n) % 12 + 1, 1)
        for n in range(12)
    ]


def _season_month(sit: Situation, first: date) -> int:
    middle = season_day(first + timedelta(days=14), sit.site.latitude)
    return (date(2001, 1, 1) + timedelta(days=min(middle, 365) - 1)).month


def _next_year(since: date) -> date:
    return since + timedelta(days=365)


def _next_span(sit: Situation, now: Feeding, left: float) -> tuple[date | None, date | None]:
    gap = parameter("feed_gap_days")
    if left <= 0.05 or now.most <= 0:
        return None, None
    start = sit.today if now.last_on is None else now.last_on + timedelta(days=int(gap.low))
    end = sit.today if now.last_on is None else now.last_on + timedelta(days=int(gap.high))
    start, end = max(start, sit.today), max(end, sit.today)
    day = season_day(start, sit.site.latitude)
    if not value("feed_season_from") <= day <= value("feed_low_until"):
        return None, None
    return start, end


def _next_dose(sit: Situation, now: Feeding, months: tuple[FeedMonth, ...], left: float) -> float:
    """What the plan has up to the end of next month less what was given, within one dose."""
    ahead = sit.today + timedelta(days=int(value("feed_gap_days")))
    planned = sum(each.by_spring for each in months if each.first <= ahead)
    return max(min(planned - now.given, now.most, left), 0.0)


def doses(amount_g_m2: float) -> int:
    """Give how many feeds an amount takes, none above one usual dose [-].

    Parameters
    ----------
    amount_g_m2 : float
        Nitrogen. [g m⁻²]
    """
    return ceil(amount_g_m2 / value("feed_dose_most") - 1e-9)


def what_is_due(year: FeedYear) -> str:
    """Say in a sentence what is due next, or why nothing is."""
    if year.now.fit.overall is Overall.NOT_FIT:
        return f"Hold off today: {year.now.fit.loses_to}."
    if year.next_from is None or year.next_to is None:
        if year.left <= 0.05:
            return "Nothing is left of the year's nitrogen."
        return "No feed until growth begins again."
    if year.next_g_m2 < 0.1:
        return "The year is ahead of the plan: none now."
    span = (
        "from now" if year.next_from == year.next_to
        else f"between {say(year.next_from)} and {say(year.next_to)}"
    )  # fmt: skip
    return f"Next {span}: at most {year.next_g_m2:.1f} g N/m², if growth and weather agree."
