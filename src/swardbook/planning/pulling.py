"""Pulling: hours from your own passes, what two passes tell, and where an hour takes most."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from swardbook.evidence.hours import Pace, Pass, fit_pace
from swardbook.evidence.removal import TwoPasses, two_pass_removal
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.foundation.workings import Input, Workings
from swardbook.handbook.parameters import parameter, value
from swardbook.husbandry.happenings import Count, Pull
from swardbook.planning.heads import heads_standing
from swardbook.planning.kinds import is_annual_meadow_grass
from swardbook.planning.resetting import since_reset
from swardbook.planning.situation import Happened, Situation


@dataclass(frozen=True, slots=True)
class Hours:
    """Hours of pulling, as a range.

    Parameters
    ----------
    low, high : float
        All people together. [h]
    own_pace : bool
        Whether they rest on the zone's own passes.
    passes : int
        Timed passes in the book.
    """

    low: float
    high: float
    own_pace: bool
    passes: int


@dataclass(frozen=True, slots=True)
class LastRemoval:
    """The last two passes over one ground.

    Parameters
    ----------
    first_day, second_day : date
        Their days.
    passes : TwoPasses or None
        The estimate; None where it cannot be made.
    caution : str
        Why it cannot, or how far to trust it; with a caution what is left is not headlined.
    """

    first_day: date
    second_day: date
    passes: TwoPasses | None
    caution: str


@dataclass(frozen=True, slots=True)
class Pulling:
    """Pulling in one zone.

    Parameters
    ----------
    density : float or None
        Plants by the last count. [plants m⁻²]
    counted_on : date or None
        Day of that count.
    plants : float or None
        Plants in the zone by that count.
    hours : Hours or None
        Hours for one pass over the whole zone at that density.
    weeks : tuple of float or None
        Weeks of the site's hours that would be, as a range.
    first : str
        Where the first hour takes most seed.
    removal : LastRemoval or None
        What the last two passes say.
    told : str
        One sentence of arithmetic; no rule.
    """

    density: float | None
    counted_on: date | None
    plants: float | None
    hours: Hours | None
    weeks: tuple[float, float] | None
    first: str
    removal: LastRemoval | None
    told: str
    workings: Workings


def pulling(sit: Situation) -> Pulling:
    """Say what an hour of pulling does in a zone, and what the whole of it would cost."""
    density, counted = plant_density(sit)
    plants = None if density is None else density * sit.zone.area_m2
    hours = None if plants is None else pulling_hours(sit, sit.zone.area_m2, plants)
    weekly = sit.site.weekly_hours
    weeks = (hours.low / weekly, hours.high / weekly) if hours and weekly else None
    told = _told(plants, hours, weekly)
    return Pulling(
        density, counted, plants, hours, weeks, _first(sit), last_removal(sit), told,
        _workings(sit, plants, hours, told),
    )  # fmt: skip


def pulling_hours(sit: Situation, area_m2: float, plants: float) -> Hours:
    """Hours for one pass: area times searching plus plants times handling; never plants alone.

    Parameters
    ----------
    sit : Situation
        The zone on its day; two timed passes or more make it the zone's own pace.
    area_m2 : float
        Ground to search. [m²]
    plants : float
        Plants to take. [plants]
    """
    timed = timed_passes(sit)
    pace = _own_pace(timed)
    if pace is not None:
        middle = pace.hours(area_m2, plants)
        spread = pace.spread_h if pace.spread_h is not None else 0.3 * middle
        return Hours(max(middle - spread, 0.0), middle + spread, True, len(timed))
    search, handling = parameter("pull_search"), parameter("pull_handling")
    low = (area_m2 * search.low + plants * handling.low) / 3600
    high = (area_m2 * search.high + plants * handling.high) / 3600
    return Hours(low, high, False, len(timed))


def timed_passes(sit: Situation) -> list[Pass]:
    """List the zone's own passes that were timed and counted."""
    return [
        Pass(each.what.area_m2 or sit.zone.area_m2, float(each.what.plants), each.entry.hours)
        for each in sit.happened(Pull)
        if each.what.plants is not None and each.entry.hours
    ]


def plant_density(sit: Situation) -> tuple[float | None, date | None]:
    """Mean plants of annual meadow-grass a square metre in the last count of plants, and its day.

    Honest squares are left out, and counts before the zone was stripped or became a new seedbed.
    """
    squares = {square.name.casefold() for square in sit.ground.squares}
    for each in reversed(since_reset(sit, Count)):
        found = [
            _meadow_grass(place.found) / place.looked
            for place in each.what.places
            if place.method == "plants" and place.place.casefold() not in squares
        ]
        if found:
            return sum(found) / len(found), each.day
    return None, None


def last_removal(sit: Situation) -> LastRemoval | None:
    """Set the last two passes beside one another; refused where they cannot tell."""
    pulls = [each for each in since_reset(sit, Pull) if is_annual_meadow_grass(each.what.species)]
    if not pulls:
        return None
    if len(pulls) == 1 or not _is_pair(pulls[-2], pulls[-1]):
        last = pulls[-1]
        told = "a single pass: not enough to say what is left"
        return LastRemoval(last.day, last.day, None, told)
    first, second = pulls[-2], pulls[-1]
    caution = _caution(sit, first, second)
    try:
        passes = two_pass_removal(
            first.what.plants or 0, second.what.plants or 0, value("pull_catch_least")
        )
    except NotEnoughDataError as short:
        return LastRemoval(first.day, second.day, None, f"not enough data: {short.found}")
    return LastRemoval(first.day, second.day, passes, caution)


def _is_pair(first: Happened[Pull], second: Happened[Pull]) -> bool:
    named = (first.what.pass_name.upper(), second.what.pass_name.upper())
    near = second.day - first.day <= timedelta(days=value("pull_pair_days"))
    return near and named in {("A", "B"), ("", "")} and None not in {
        first.what.plants, second.what.plants,
    }  # fmt: skip


def _caution(sit: Situation, first: Happened[Pull], second: Happened[Pull]) -> str:
    apart = (second.day - first.day).days
    limit = value("pull_pass_days")
    from swardbook.foundation.dates import season_day

    at = season_day(first.day, sit.site.latitude)
    flush = any(
        value(f"germination_{name}_from") - 14 <= at <= value(f"germination_{name}_to")
        for name in ("spring", "autumn")
    )
    if apart > limit:
        return f"passes {apart} days apart, more than {limit:.0f}: newcomers blur what is left"
    took = 1 - (second.what.plants or 0) / (first.what.plants or 1)
    if flush and took < 0.5:
        return f"{apart} days apart in a germinating week: seedlings came between the passes"
    return ""


def _own_pace(timed: Sequence[Pass]) -> Pace | None:
    try:
        return fit_pace(timed)
    except NotEnoughDataError:
        return None


def _meadow_grass(found: object) -> float:
    assert hasattr(found, "items")
    return float(sum(number for kind, number in found.items() if is_annual_meadow_grass(kind)))


def _first(sit: Situation) -> str:
    most = " and ".join(_densest(sit))
    where = f"then the strip with most (at the last count by {most})" if most else "then the strip"
    if heads_standing(sit):
        return f"plants carrying heads, edges first, {where}"
    return f"anything heading, edges, {where}"


def _densest(sit: Situation) -> list[str]:
    """Name up to two places with most plants in the last count; none if all are alike."""
    squares = {square.name.casefold() for square in sit.ground.squares}
    for each in reversed(since_reset(sit, Count)):
        found = [
            (_meadow_grass(place.found) / place.looked, place.place)
            for place in each.what.places
            if place.method == "plants" and place.place.casefold() not in squares
        ]
        if found:
            mean = sum(density for density, _ in found) / len(found)
            ranked = sorted(found, key=lambda one: (-one[0], one[1]))
            return [place for density, place in ranked[:2] if density >= 2 * mean > 0]
    return []


def _told(plants: float | None, hours: Hours | None, weekly: float | None) -> str:
    if plants is None or hours is None:
        return "No count of plants here: hours cannot be told; count plants in 1 m² frames."
    told = (
        f"About {roughly(plants)} plants stand by the last count; one pass is about {span(hours)} h"
    )
    if not weekly:
        return f"{told}."
    weeks = hours.low / weekly
    if weeks > value("pull_weeks_most"):
        return (
            f"{told}, {weeks:.0f} weeks of all your hours: pulling cannot win here. Take what"
            " heads, the edges and single plants; cutting, gaps and time do the rest."
        )
    return f"{told}; you have {weekly:g} a week."


def roughly(number: float) -> str:
    """Write a number that a few counted places support: two figures, whole below twenty."""
    if number < 20:
        return f"{number:.0f}"
    return f"{float(f'{number:.2g}'):,.0f}"


def span(hours: Hours) -> str:
    """Write a range of hours, in half hours below ten."""
    low, high = (
        (round(end * 2) / 2 if end < 10 else round(end)) for end in (hours.low, hours.high)
    )
    return f"{low:g}" if low == high else f"{low:g} to {high:g}"


def _workings(sit: Situation, plants: float | None, hours: Hours | None, told: str) -> Workings:
    own = hours is not None and hours.own_pace
    return Workings(
        question=f"How many hours of pulling would {sit.zone.name} take?",
        answer=told,
        formula="hours = area x searching + plants x handling",
        inputs=(
            Input("area", sit.zone.area_m2, "m²", source="zone"),
            Input("plants", "not counted" if plants is None else round(plants), source="diary"),
            Input("timed passes", len(timed_passes(sit)), source="diary"),
            *(
                ()
                if own
                else (
                    Input.of("searching", parameter("pull_search")),
                    Input.of("handling", parameter("pull_handling")),
                )
            ),
        ),
        assumptions=(
            "Fitted to the zone's own passes." if own else "General ranges: time two passes.",
        ),
    )
