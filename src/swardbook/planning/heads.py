"""Heads of annual meadow-grass: when they began this season, and when they last left the lawn."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

import numpy as np

from swardbook.foundation.dates import season_day_until
from swardbook.handbook.parameters import value
from swardbook.husbandry.happenings import Brush, Changed, Cut, Heads, TuftCheck, Verticut
from swardbook.planning.kinds import is_annual_meadow_grass
from swardbook.planning.resetting import since_reset
from swardbook.planning.situation import Happened, Situation


class Reset(StrEnum):
    """How far a cut took the heads away."""

    FULL = "full"
    PARTIAL = "partial"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class HeadsLeft:
    """One cut and how far it reset the clock.

    Parameters
    ----------
    day : date
        Day of the cut.
    reset : Reset
        How far.
    because : str
        What the book says of it.
    share : float or None
        Share of tufts left without heads by a check; None where nobody checked. [-]
    """

    day: date
    reset: Reset
    because: str
    share: float | None = None


def season_start(sit: Situation) -> date:
    """First day of the season of heads that today belongs to, or that came last."""
    return _on_or_before(sit, value("heads_season_from"))


def is_heads_season(sit: Situation) -> bool:
    """Tell whether heads are looked for at this time of year."""
    return sit.is_between(value("heads_season_from"), value("heads_season_to"))


def is_spring_flush(sit: Situation) -> bool:
    """Tell whether today lies in the spring flush of heads."""
    return sit.is_between(value("flush_from"), value("flush_to"))


def first_heads(sit: Situation) -> Happened[Heads] | None:
    """Find the first heads noted this season in the zone."""
    start = season_start(sit)
    seen = [
        each
        for each in since_reset(sit, Heads)
        if each.what.seen and is_annual_meadow_grass(each.what.species) and each.day >= start
    ]
    return seen[0] if seen else None


def latest_look(sit: Situation) -> Happened[Heads] | None:
    """Find the last time heads were looked for this season, seen or not."""
    start = season_start(sit)
    looks = [
        h
        for h in since_reset(sit, Heads)
        if is_annual_meadow_grass(h.what.species) and h.day >= start
    ]
    return looks[-1] if looks else None


def heads_standing(sit: Situation) -> bool | None:
    """Tell whether heads stand now: yes, no, or None where nobody has looked since the last cut.

    Out of the season of heads the answer is no.
    """
    if not is_heads_season(sit):
        return False
    look = latest_look(sit)
    if look is None:
        return None
    resets = [left for left in heads_left(sit) if left.day >= look.day]
    if not look.what.seen:
        return False if sit.age(look.day) < value("clock_flush_days") else None
    if any(left.reset is Reset.FULL for left in resets):
        return False if sit.age(resets[-1].day) < value("clock_flush_days") else None
    return None if any(left.reset is Reset.PARTIAL for left in resets) else True


def heads_left(sit: Situation) -> list[HeadsLeft]:
    """Judge every dated cut since the first heads of the season: full, partial or no reset."""
    began = first_heads(sit)
    if began is None:
        return []
    cuts = [cut for cut in sit.happened(Cut) if cut.is_dated and cut.day >= began.day]
    ends = [*(cut.day for cut in cuts[1:]), sit.today + timedelta(days=1)][: len(cuts)]
    return [_judge(sit, cut, end) for cut, end in zip(cuts, ends, strict=True)]


def box_works(sit: Situation) -> bool:
    """Tell whether the mower can collect: by the zone's mower, and by what was noted since."""
    words = ""
    for each in sit.happened(Changed):
        if "box" in each.what.thing.casefold():
            words = each.what.after.casefold()
    broken = any(word in words for word in ("split", "broke", "off", "none", "no ", "lost"))
    return sit.zone.mower.has_box and not (words and broken)


@dataclass(frozen=True, slots=True)
class StartHint:
    """When heads typically begin here by warmth; a hint, never a start.

    Parameters
    ----------
    degree_days, typical, low, high : float
        Warmth so far, and that at which heads typically begin. [°C d]
    reached_on : date or None
        The day the typical warmth was reached, if it was.
    """

    degree_days: float
    typical: float
    low: float
    high: float
    reached_on: date | None


def start_hint(sit: Situation) -> StartHint | None:
    """Add up warmth since late winter and set it beside the typical start of heads."""
    from swardbook.handbook.parameters import parameter

    start = _on_or_before(sit, value("heads_first_start"))
    if sit.weather is None or sit.weather.first > start or sit.weather.last < sit.today:
        return None
    seen = sit.weather.between(start, sit.today)
    sums = np.cumsum(np.maximum(seen.tmean - value("heads_first_base"), 0.0))
    typical = parameter("heads_first_degree_days")
    over = np.flatnonzero(sums >= typical.value)
    reached = start + timedelta(days=int(over[0])) if len(over) else None
    return StartHint(float(sums[-1]), typical.value, typical.low, typical.high, reached)


def _judge(sit: Situation, cut: Happened[Cut], end: date) -> HeadsLeft:
    if cut.what.boxed is None:
        return HeadsLeft(cut.day, Reset.NONE, "the diary does not say whether the box was on")
    lifted = _lifted(sit, cut.day)
    check = _tuft_check(sit, cut.day, end)
    share = 1 - check.what.with_heads / check.what.tufts if check else None
    if not cut.what.boxed:
        if _raked_after(sit, cut.day):
            return HeadsLeft(cut.day, Reset.PARTIAL, "box off, raked up after", share)
        return HeadsLeft(cut.day, Reset.NONE, "box off")
    height = cut.what.height_of_cut_mm
    high = height is not None and height > value("height_off") * sit.zone.height_of_cut_mm
    if high and (check is None or check.what.with_heads):
        told = f"boxed at {height:g} mm, above the zone's {sit.zone.height_of_cut_mm:g}"
        return HeadsLeft(cut.day, Reset.PARTIAL, told, share)
    if check is not None and check.what.with_heads == 0:
        told = f"boxed; a check of {check.what.tufts} tufts found no heads"
        return HeadsLeft(cut.day, Reset.FULL, told, share)
    if check is not None:
        told = f"boxed; {check.what.with_heads} of {check.what.tufts} tufts still carried heads"
        return HeadsLeft(cut.day, Reset.PARTIAL, told, share)
    if lifted:
        return HeadsLeft(cut.day, Reset.FULL, f"boxed, straight after {lifted}")
    return HeadsLeft(cut.day, Reset.PARTIAL, "boxed, no lifting and no check of tufts")


def _lifted(sit: Situation, day: date) -> str:
    earliest = day - timedelta(days=int(value("lift_same_days")))
    for lift in sit.happened(Verticut):
        if lift.is_dated and earliest <= lift.day <= day:
            return "verticutting"
    for brush in sit.happened(Brush):
        lifts = brush.what.lifted_heads or "rake" in brush.what.tool.casefold()
        if lifts and brush.is_dated and earliest <= brush.day <= day:
            return "raking" if "rake" in brush.what.tool.casefold() else "brushing"
    return ""


def _raked_after(sit: Situation, day: date) -> bool:
    latest = day + timedelta(days=int(value("lift_same_days")))
    return any(
        "rake" in brush.what.tool.casefold() and day <= brush.day <= latest
        for brush in sit.happened(Brush)
    )


def _tuft_check(sit: Situation, day: date, end: date) -> Happened[TuftCheck] | None:
    latest = min(day + timedelta(days=int(value("tuft_check_days"))), end - timedelta(days=1))
    found = [
        check
        for check in sit.happened(TuftCheck)
        if day <= check.day <= max(latest, day) and check.what.tufts > 0
    ]
    return found[-1] if found else None


def _on_or_before(sit: Situation, wanted: float) -> date:
    return season_day_until(sit.today, int(wanted), sit.site.latitude)
