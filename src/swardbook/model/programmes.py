"""Programmes: ways of working through a season, and what each puts on which day."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum
from functools import cache
from importlib.resources import files

import numpy as np
from numpy.typing import NDArray

from swardbook.foundation.dates import season_day
from swardbook.foundation.errors import UnknownNameError
from swardbook.foundation.tables import read_toml_table
from swardbook.handbook.parameters import parameter, value
from swardbook.husbandry.ground import Zone
from swardbook.husbandry.happenings import Cut, Feed, Happening, Pull, Refill, Verticut, Water

Flags = NDArray[np.bool_]


class Box(StrEnum):
    """When the box is on."""

    ALWAYS = "always"
    WITH_HEADS = "with heads"
    NEVER = "never"


@dataclass(frozen=True, slots=True)
class Programme:
    """One way of working through a season.

    Parameters
    ----------
    key : str
        Key of the handbook, or ``as recorded``.
    name, says : str
        Its name, and what it is in a sentence.
    cut_days : tuple of float
        Days between cuts in growth: on fine turf, and on lawns. [d]
    box : Box
        When the box is on.
    verticut_days : float
        Days between verticuts in growth; 0 for none. [d]
    verticut_depth_mm : float
        Depth below the height of cut. [mm]
    verticut_lines_deg : tuple of float
        Directions, taken in turn. [°]
    pull_hours_week : float
        Hours of pulling a week in growth, all people together. [h]
    refills : bool
        Whether open gaps get a round of seed of the same lot and clean dressing, month by month.
    nitrogen_g_m2_year : float
        Nitrogen a year. [g m⁻²]
    feeds : int
        In how many feeds.
    water_mm : float
        Water a day for a week after a round of refills. [mm]
    height_of_cut_mm : float or None
        Height of cut; None takes the zone's own. [mm]
    held_back : tuple of str
        What the zone does not let it do.
    """

    key: str
    name: str
    says: str
    cut_days: tuple[float, ...]
    box: Box
    verticut_days: float
    verticut_depth_mm: float
    verticut_lines_deg: tuple[float, ...]
    pull_hours_week: float
    refills: bool
    nitrogen_g_m2_year: float
    feeds: int
    water_mm: float
    height_of_cut_mm: float | None = None
    held_back: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Planned:
    """One job of a programme on one day; `hours` is None where the ground decides them."""

    day: date
    what: Happening
    hours: float | None = None


@dataclass(frozen=True, slots=True)
class Amount:
    """A figure with the range that its handbook numbers leave it."""

    middle: float
    low: float
    high: float

    def __add__(self, other: Amount) -> Amount:
        return Amount(self.middle + other.middle, self.low + other.low, self.high + other.high)


@cache
def programmes() -> Mapping[str, Programme]:
    """Read the named programmes of the handbook, by key."""
    table = read_toml_table(files("swardbook.handbook") / "data" / "programmes.toml")
    return {key: _read(key, row) for key, row in table.items()}


def programme(name: str) -> Programme:
    """Find one programme by its key or its name, case-blind.

    Raises
    ------
    UnknownNameError
        If there is none; offers the nearest.
    """
    wanted = name.strip().casefold()
    for each in programmes().values():
        if wanted in {each.key, each.key.replace("_", " "), each.name.casefold()}:
            return each
    raise UnknownNameError("programme", name, [each.name for each in programmes().values()])


def fit_to_zone(
    wanted: Programme, zone: Zone, comfort: Sequence[tuple[str, float]], weekly_hours: float | None
) -> Programme:
    """Hold a programme back to what the zone, its mower and its people allow.

    Parameters
    ----------
    wanted : Programme
        The programme as named.
    zone : Zone
        Where it would be worked.
    comfort : sequence of (str, float)
        Each sown kind with the lowest height of cut it likes. [mm]
    weekly_hours : float or None
        Hours of work there are in a week; None where not said. [h]
    """
    held: list[str] = []
    height = wanted.height_of_cut_mm or zone.height_of_cut_mm
    lowest = zone.mower.lowest_mm
    if lowest is not None and height < lowest:
        held.append(f"the mower stops at {lowest:g} mm, not {height:g}")
        height = lowest
    box = wanted.box
    if box is not Box.NEVER and not zone.mower.has_box:
        held.append("the mower has no box, so heads stay")
        box = Box.NEVER
    for kind, least in comfort:
        if height < least:
            held.append(f"{kind} likes {least:g} mm and more, not {height:g}")
    pull = wanted.pull_hours_week
    if weekly_hours is not None and pull > weekly_hours:
        held.append(f"there are {weekly_hours:g} hours a week, not {pull:g}")
        pull = weekly_hours
    return replace(
        wanted, box=box, height_of_cut_mm=height, pull_hours_week=pull, held_back=tuple(held)
    )


def expand(
    plan: Programme,
    zone: Zone,
    days: Sequence[date],
    growth: NDArray[np.float64],
    latitude: float,
    species: str,
) -> tuple[Planned, ...]:
    """Put a programme on the days of a run, as the weather lets the grass grow.

    Parameters
    ----------
    plan : Programme
        The programme, already fitted to the zone.
    zone : Zone
        Where it is worked.
    days : sequence of date
        Consecutive days.
    growth : array
        Growth potential of each day, averaged over a week. [-]
    latitude : float
        Latitude, south negative. [°]
    species : str
        Species key of the weed grass that is pulled.

    Returns
    -------
    tuple of Planned
        The jobs in the order of days; a verticut stands before that day's cut.
    """
    season = np.array([season_day(day, latitude) for day in days])
    cuts = _every(growth >= value("programme.cut_growth_least"), _cut_days(plan, zone))
    heads = _between(season, "heads_season_from", "heads_season_to")
    verticuts = _verticut_days(plan, growth, season)
    feeds = _feed_days(plan, season, growth)
    pulls = _every(heads & (growth >= value("growing_now_potential")), 7)
    rounds = _refill_days(plan, growth, season)
    watered = _after(rounds, value("programme.refill_water_days"))
    jobs: list[Planned] = []
    line = 0
    for at, day in enumerate(days):
        if feeds[at]:
            jobs.append(Planned(day, _feed(plan)))
        if verticuts[at]:
            jobs.append(Planned(day, _verticut(plan, line)))
            line += 1
        if cuts[at] or verticuts[at]:
            jobs.append(Planned(day, _cut(plan, zone, bool(heads[at]))))
        if plan.pull_hours_week and pulls[at]:
            jobs.append(Planned(day, Pull(species, area_m2=zone.area_m2), plan.pull_hours_week))
        if rounds[at]:
            jobs.append(Planned(day, Refill()))
        if plan.water_mm and watered[at]:
            jobs.append(Planned(day, Water(plan.water_mm, place="refills")))
    return tuple(jobs)


def work_hours(zone: Zone, jobs: Iterable[Planned], years: float) -> Amount:
    """Work out the hours a year that the ground does not decide: all but pulling.

    Parameters
    ----------
    zone : Zone
        Where it is worked.
    jobs : iterable of Planned
        The jobs of the run.
    years : float
        How many years they span. [yr]

    Returns
    -------
    Amount
        Hours a year with their range. [h]
    """
    passes = dict.fromkeys(("cut", "verticut", "feed", "refill", "water"), 0.0)
    for job in jobs:
        if job.what.kind in passes:
            passes[job.what.kind] += 1 / years
    area, wide = zone.area_m2 / 1000, zone.mower.width_mm / 1000
    slower = value("verticut_slower")
    machine = area / wide * (passes["cut"] + slower * passes["verticut"])
    by_hand = area * value("programme.refill_ground") * passes["refill"]
    parts = (
        _times(_rate("cut_rate_wide"), machine),
        _times(_rate("feed_hours"), area * passes["feed"]),
        _times(_rate("sow_hours"), by_hand),
        _times(_rate("programme.water_hours"), passes["water"]),
    )
    total = Amount(0.0, 0.0, 0.0)
    for part in parts:
        total = total + part
    return total


def as_recorded(
    entries: Sequence[tuple[date, Happening, float | None]], zone: Zone, first: date, last: date
) -> Programme | None:
    """Read the way of working off what the diary holds of one season.

    Parameters
    ----------
    entries : sequence of (date, Happening, float or None)
        What was done, and the hours it took. [h]
    zone : Zone
        Where.
    first, last : date
        The season.

    Returns
    -------
    Programme or None
        None where fewer than two cuts are written down.
    """
    kept = [each for each in entries if first <= each[0] <= last]
    cuts = [(day, what) for day, what, _ in kept if isinstance(what, Cut)]
    if len(cuts) < 2:
        return None
    gaps = np.diff([day.toordinal() for day, _ in cuts])
    boxed = [what.boxed for _, what in cuts if what.boxed is not None]
    verticuts = [(day, what) for day, what, _ in kept if isinstance(what, Verticut)]
    depths = [what.depth_mm for _, what in verticuts if what.depth_mm is not None]
    lines = tuple({what.line_deg: 0 for _, what in verticuts if what.line_deg is not None})
    given = [what.nitrogen_g_m2 or 0.0 for _, what, _ in kept if isinstance(what, Feed)]
    pulled = sum(hours or 0.0 for _, what, hours in kept if isinstance(what, Pull))
    weeks = max((last - first).days / 7, 1.0)
    rhythm = max(float(np.median(gaps[gaps > 0])) if np.any(gaps > 0) else 7.0, 1.0)
    return Programme(
        key="as_recorded",
        name="As recorded",
        says="As the diary has it for the year so far.",
        cut_days=(rhythm, rhythm),
        box=Box.WITH_HEADS if boxed and sum(boxed) * 2 > len(boxed) else Box.NEVER,
        verticut_days=round((verticuts[-1][0] - verticuts[0][0]).days / (len(verticuts) - 1))
        if len(verticuts) > 1 else 0.0,
        verticut_depth_mm=float(np.median(depths)) if depths else 0.0,
        verticut_lines_deg=tuple(line for line in lines if line is not None),
        pull_hours_week=round(pulled / weeks, 1),
        refills=any(isinstance(what, Refill) for _, what, _ in kept),
        nitrogen_g_m2_year=round(sum(given), 2),
        feeds=len(given),
        water_mm=0.0,
    )  # fmt: skip


def _read(key: str, row: Mapping[str, object]) -> Programme:
    fields = dict(row)
    for name in ("cut_days", "verticut_lines_deg"):
        fields[name] = tuple(fields[name])  # type: ignore[arg-type]
    fields["box"] = Box(str(fields["box"]))
    return Programme(key=key, **fields)  # type: ignore[arg-type]


def _cut_days(plan: Programme, zone: Zone) -> float:
    fine = (plan.height_of_cut_mm or zone.height_of_cut_mm) <= value("verticut_fine_height")
    return plan.cut_days[0] if fine else plan.cut_days[-1]


def _every(allowed: Flags, days: float) -> Flags:
    """Mark every so many days, each time on the first day that allows it."""
    chosen = np.zeros(len(allowed), dtype=np.bool_)
    due = 0.0
    for at in np.flatnonzero(allowed):
        if at >= due:
            chosen[at] = True
            due = at + days
    return chosen


def _between(season: NDArray[np.int64], first: str, last: str) -> Flags:
    return np.asarray((season >= value(first)) & (season <= value(last)))


def _verticut_days(
    plan: Programme, growth: NDArray[np.float64], season: NDArray[np.int64]
) -> Flags:
    if not plan.verticut_days:
        return np.zeros(len(season), dtype=np.bool_)
    fit = growth >= value("growing_now_potential")
    fit &= _between(season, "germination_spring_from", "germination_autumn_to")
    if plan.verticut_depth_mm > value("verticut_fine_depth"):
        # Touching the soil in the germination flush lets the ground to whatever seed is nearest.
        fit &= ~_between(season, "germination_spring_from", "germination_spring_to")
        fit &= ~_between(season, "germination_autumn_from", "germination_autumn_to")
    return _every(fit, plan.verticut_days)


def _refill_days(plan: Programme, growth: NDArray[np.float64], season: NDArray[np.int64]) -> Flags:
    if not plan.refills:
        return np.zeros(len(season), dtype=np.bool_)
    fit = growth >= value("growing_strong_potential")
    fit &= _between(season, "germination_spring_from", "germination_autumn_to")
    return _every(fit, value("programme.refill_days"))


def _after(marked: Flags, days: float) -> Flags:
    """Mark each marked day and as many days after it."""
    found = marked.copy()
    for at in np.flatnonzero(marked):
        found[at : at + int(days)] = True
    return found


def _feed_days(plan: Programme, season: NDArray[np.int64], growth: NDArray[np.float64]) -> Flags:
    if not plan.feeds:
        return np.zeros(len(season), dtype=np.bool_)
    first, last = value("feed_season_from"), value("feed_season_to")
    fit = (season >= first) & (season <= last) & (growth >= value("growing_now_potential"))
    return _every(fit, (last - first) / plan.feeds)


def _feed(plan: Programme) -> Feed:
    dose = plan.nitrogen_g_m2_year / plan.feeds
    return Feed("", rate_g_m2=dose, nitrogen_percent=100.0, watered_in=True)


def _verticut(plan: Programme, turn: int) -> Verticut:
    lines = plan.verticut_lines_deg
    line = lines[turn % len(lines)] if lines else None
    return Verticut(plan.verticut_depth_mm, line_deg=line, boxed=plan.box is not Box.NEVER)


def _cut(plan: Programme, zone: Zone, heads: bool) -> Cut:
    boxed = plan.box is Box.ALWAYS or (plan.box is Box.WITH_HEADS and heads)
    return Cut(plan.height_of_cut_mm or zone.height_of_cut_mm, boxed=boxed)


def _rate(key: str) -> Amount:
    number = parameter(key)
    return Amount(number.value, number.low, number.high)


def _times(amount: Amount, factor: float) -> Amount:
    return Amount(amount.middle * factor, amount.low * factor, amount.high * factor)
