"""Programmes: ways of working through a season, and what each puts on which day."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum
from functools import cache
from importlib.resources import files
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from swardbook.foundation.errors import UnknownNameError
from swardbook.foundation.tables import read_toml_table
from swardbook.handbook.parameters import parameter, value
from swardbook.husbandry.ground import Zone
from swardbook.husbandry.happenings import Cut, Feed, Happening, Pull, Refill, Verticut, Water
from swardbook.model.rhythm import Calendar, Flags

PASSES = ("cut", "verticut", "feed", "refill", "water")
"""Jobs whose hours the ground does not decide."""


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
    return planned(plan, zone, days, Calendar.of(days, growth, latitude), 0, species)


def planned(
    plan: Programme, zone: Zone, days: Sequence[date], calendar: Calendar, course: int, species: str
) -> tuple[Planned, ...]:
    """Put a programme on the days of one course of a calendar; see `expand`."""
    does = rhythm(plan, zone, calendar)
    feeds, verticuts, cuts, pulls, rounds, watered = (each[course].tolist() for each in does)
    heads = calendar.heads
    jobs: list[Planned] = []
    line = 0
    for at in np.flatnonzero(np.any([each[course] for each in does], axis=0)).tolist():
        day = days[at]
        if feeds[at]:
            jobs.append(Planned(day, feed_of(plan)))
        if verticuts[at]:
            jobs.append(Planned(day, _verticut(plan, line)))
            line += 1
        if cuts[at]:
            jobs.append(Planned(day, _cut(plan, zone, bool(heads[at]))))
        if pulls[at]:
            jobs.append(Planned(day, Pull(species, area_m2=zone.area_m2), plan.pull_hours_week))
        if rounds[at]:
            jobs.append(Planned(day, Refill()))
        if watered[at]:
            jobs.append(Planned(day, Water(plan.water_mm, place="refills")))
    return tuple(jobs)


class Rhythm(NamedTuple):
    """The days of each course on which a programme does each of its jobs."""

    feeds: Flags
    verticuts: Flags
    cuts: Flags
    pulls: Flags
    refills: Flags
    watered: Flags


def rhythm(plan: Programme, zone: Zone, calendar: Calendar) -> Rhythm:
    """Find the days of each course on which a programme does each of its jobs."""
    none = calendar.none()
    verticuts = calendar.verticuts(plan.verticut_days, plan.verticut_depth_mm)
    return Rhythm(
        feeds=calendar.feeds(plan.feeds),
        verticuts=verticuts,
        cuts=calendar.cuts(_cut_days(plan, zone)) | verticuts,
        pulls=calendar.pulls() if plan.pull_hours_week else none,
        refills=calendar.refills() if plan.refills else none,
        watered=calendar.watered() if plan.refills and plan.water_mm else none,
    )


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
    passes = dict.fromkeys(PASSES, 0.0)
    for job in jobs:
        if job.what.kind in passes:
            passes[job.what.kind] += 1
    return hours_of(zone, passes, years)


def hours_of(zone: Zone, passes: Mapping[str, float], years: float) -> Amount:
    """Work out the hours a year of so many cuts, verticuts, feeds, rounds and waterings.

    Parameters
    ----------
    zone : Zone
        Where they are done.
    passes : mapping of str to float
        How many of each kind. [-]
    years : float
        How many years they span. [yr]

    Returns
    -------
    Amount
        Hours a year with their range. [h]
    """
    passes = {kind: number / years for kind, number in passes.items()}
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


def feed_of(plan: Programme) -> Feed:
    """Give one of a programme's feeds."""
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
