"""Seed into a bare bed under the site's past weather: when it shows, closes and is cut."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from swardbook.foundation.errors import NotEnoughDataError
from swardbook.handbook.parameters import value
from swardbook.husbandry.ground import Zone
from swardbook.model.ahead import weekly_growth
from swardbook.model.chance import Array, Chance
from swardbook.model.compiling import Kernel
from swardbook.model.draws import MeasuredRange
from swardbook.model.drivers import drivers_from, stack_drivers
from swardbook.model.ensemble import run
from swardbook.model.inputs import Drivers, Operations
from swardbook.model.kernel_text import LANES
from swardbook.model.operations import no_operations, set_sowing, stack_operations
from swardbook.model.parameter_sets import Parameters, SownParameters
from swardbook.model.parameters import SownKind, SownKinds, draw_parameters, sown_kinds
from swardbook.model.start import Start, start_state
from swardbook.model.weather_ahead import WeatherAhead
from swardbook.seed.lot import LotPart

COMPONENTS = ("sown_a", "sown_b", "sown_c", "sown_d")
_OUTPUTS = ("sown", *COMPONENTS, "annual_meadow_grass", "yorkshire_fog", "bare", "height")
RESTED = "ornamental"
"""Use that stands for a sward which only its keeper walks on."""
Days = NDArray[np.int64]
NEVER = np.iinfo(np.int64).max
"""Stands for a day that does not come within the run."""


@dataclass(frozen=True, slots=True)
class Bed:
    """A seedbed and how it is looked after.

    Parameters
    ----------
    zone : Zone
        The zone: its soil, use and mower.
    soil_c : float
        Soil temperature on the last known evening. [°C]
    height_of_cut_mm : float
        Height of cut it is brought down to. [mm]
    is_watered : bool
        Whether the seedbed is kept damp for its first weeks.
    given_mm : tuple of float
        Water as it was given, day by day from the sowing; after these days `is_watered` says. [mm]
    ranges : tuple of MeasuredRange
        Numbers that a trial on this ground has narrowed.
    """

    zone: Zone
    soil_c: float
    height_of_cut_mm: float
    is_watered: bool
    given_mm: tuple[float, ...] = ()
    ranges: tuple[MeasuredRange, ...] = ()


@dataclass(frozen=True, slots=True)
class Courses:
    """The courses of weather as the model reads them, worked out once for many sowings.

    Parameters
    ----------
    first, last : date
        Their first and last day.
    drivers : Drivers
        One value a course and day.
    growth : array
        Growth potential of each course and day, averaged over a week. [-]
    """

    first: date
    last: date
    drivers: Drivers
    growth: Array


def lay_courses(weather: WeatherAhead, latitude: float, elevation_m: float) -> Courses:
    """Work out what the model reads of each course of weather.

    Parameters
    ----------
    weather : WeatherAhead
        The courses.
    latitude : float
        Latitude, south negative. [°]
    elevation_m : float
        Height above the sea. [m]
    """
    first, last = weather.courses[0].first, weather.courses[0].last
    drivers = [drivers_from(each, latitude, elevation_m, first, last) for each in weather.courses]
    growth = np.stack([weekly_growth(each) for each in weather.courses])
    return Courses(first, last, stack_drivers(drivers), growth)


@dataclass(frozen=True, slots=True)
class Seeding:
    """What is sown: label, rate and day.

    Parameters
    ----------
    parts : tuple of LotPart
        The label.
    rate_g_m2 : float
        Rate. [g m⁻²]
    day : date
        The day of sowing.
    """

    parts: tuple[LotPart, ...]
    rate_g_m2: float
    day: date


@dataclass(frozen=True, slots=True)
class Grown:
    """A sowing grown on: each series is an array of (evenings looked at, draws).

    Parameters
    ----------
    kinds : SownKinds
        The components, in the order of `components`.
    days : array of int
        Days since sowing of each evening looked at. [d]
    sown, bare, weed, fog, height : array
        Sown grass, bare ground, annual meadow-grass, Yorkshire fog [-]; height grown. [mm]
    components : tuple of array
        Ground under each component. [-]
    emergence : tuple of array
        Ground a component holds once a tenth of what will come up has done so. [-]
    """

    kinds: SownKinds
    days: Days
    sown: Array
    bare: Array
    weed: Array
    fog: Array
    height: Array
    components: tuple[Array, ...]
    emergence: tuple[Array, ...]

    def emerged(self, slot: int) -> Days:
        """Days from sowing until a component has come up, one a draw; `NEVER` if it does not."""
        return first_day(self.days, self.components[slot], self.emergence[slot])

    def covered(self, share: float) -> Days:
        """Days from sowing until sown grass covers a share [-] of the ground."""
        return first_day(self.days, self.sown, share)

    def first_mow(self, height_mm: float) -> Days:
        """Days until a height [mm] has grown since the quickest component came up."""
        slots = range(len(self.kinds.kinds))
        up = np.min([self.emerged(slot) for slot in slots], axis=0)
        at = np.searchsorted(self.days, np.minimum(up, self.days[-1]))
        base = np.take_along_axis(self.height, at[None, :], axis=0)
        grown = np.where(self.days[:, None] > up, self.height - base, 0.0)
        return first_day(self.days, grown, height_mm)

    def at(self, day: int) -> int:
        """Row of the last evening that is no later than a day after sowing."""
        return int(np.searchsorted(self.days, day, side="right")) - 1


def first_day(days: Days, series: Array, level: Array | float) -> Days:
    """Give the first day on which each draw reaches a level.

    Parameters
    ----------
    days : array of int
        Day of each row. [d]
    series : array
        Values, an array of (days, draws). [-]
    level : array or float
        What is to be reached. [-]

    Returns
    -------
    array of int
        The day, one a draw; `NEVER` where it is not reached. [d]
    """
    reached = series >= level
    return np.where(reached.any(axis=0), days[np.argmax(reached, axis=0)], NEVER)


def grow_from_seed(
    seeding: Seeding, bed: Bed, courses: Courses, days: int, chance: Chance, kernel: Kernel,
    *, cut: bool = False, every: int = 1, threads: int = 1,
) -> Grown:  # fmt: skip
    """Grow a sowing in a bare bed under each course of the weather.

    Play and traffic keep off while it is young; then the zone's use wears it.

    Parameters
    ----------
    seeding : Seeding
        What is sown, and when: on or after the first day of the courses.
    bed : Bed
        The bed.
    courses : Courses
        The courses; each is met by 64 draws.
    days : int
        Days to follow it after sowing. [d]
    chance : Chance
        The source: the same sowing grows alike whoever asks.
    kernel : Kernel
        The compiled model.
    cut : bool
        Whether it is cut once it is high enough; without cuts `Grown.height` is what has grown.
    every : int
        Days between looks. [d]
    threads : int
        Threads; change no bit.

    Raises
    ------
    NotEnoughDataError
        If the courses do not reach from the sowing to the last day.
    """
    before = (seeding.day - courses.first).days
    lead, last = min(before, round(value("from_seed.lead_days"))), before + days
    if before < 0 or last > (courses.last - courses.first).days:
        wanted = f"weather ahead from {seeding.day} to {seeding.day + timedelta(days=days)}"
        raise NotEnoughDataError("growing from seed", wanted, f"{courses.first} to {courses.last}")
    part = slice(before - lead, last + 1)
    drivers, growth = Drivers(*(x[:, part] for x in courses.drivers)), courses.growth[:, part]
    number = len(growth)
    kinds = _each_once(sown_kinds(seeding.parts, bed.zone.soil, RESTED))
    kinds = replace(kinds, ranges=bed.ranges)
    work = [
        _work(seeding, bed, kinds, Drivers(*(x[n] for x in drivers)), growth[n], lead, cut)
        for n in range(number)
    ]
    parameters = _drawn(kinds, LANES * number, chance)
    start = Start(bare=1.0, soil_c=bed.soil_c, cut_height_mm=bed.height_of_cut_mm)
    state = start_state(start, parameters, chance)
    whole, jobs = lead + days + 1, stack_operations(work)
    rested = min(lead + round(value("from_seed.rest_days")), whole)
    seen, evenings = [], []
    for low, high, use in ((0, rested, RESTED), (rested, whole, bed.zone.use)):
        if high > low:
            worn = _drawn(replace(kinds, use=use), LANES * number, chance)
            outcome = run(
                state, worn, Drivers(*(x[:, low:high] for x in drivers)),
                Operations(*(x[:, low:high] for x in jobs)),
                kernel=kernel, threads=threads, outputs=_OUTPUTS, every=every,
                weather_of_block=range(number), operations_of_block=range(number),
            )  # fmt: skip
            state = outcome.final
            seen.append(outcome.outputs)
            evenings.append(outcome.days + low - 1 - lead)
    return _grown(seeding, kinds, parameters, seen, np.concatenate(evenings))


def _grown(
    seeding: Seeding, kinds: SownKinds, parameters: Parameters,
    seen: Sequence[Mapping[str, NDArray[np.float32]]], since: Days,
) -> Grown:  # fmt: skip
    after = since >= 0
    rows = {
        name: np.concatenate([part[name] for part in seen]).astype(np.float64)[after]
        for name in _OUTPUTS
    }
    take = np.asarray(parameters.zone.take_seedbed)
    return Grown(
        kinds, since[after], rows["sown"], rows["bare"], rows["annual_meadow_grass"],
        rows["yorkshire_fog"], rows["height"],
        tuple(rows[name] for name in COMPONENTS[: len(kinds.kinds)]),
        _emergence(seeding, kinds, parameters.sown, take),
    )  # fmt: skip


@lru_cache(maxsize=10)
def _drawn(kinds: SownKinds, draws: int, chance: Chance) -> Parameters:
    """Draw constants once for the same seed sown on one day after another."""
    return draw_parameters(kinds, draws, chance)


def _each_once(kinds: SownKinds) -> SownKinds:
    """Join varieties of one species, which the model grows alike."""
    viable: dict[str, float] = {}
    for kind in kinds.kinds:
        viable[kind.species] = viable.get(kind.species, 0.0) + kind.viable_per_g
    joined = tuple(SownKind(species, seeds) for species, seeds in viable.items())
    return replace(kinds, kinds=joined)


def _emergence(
    seeding: Seeding, kinds: SownKinds, sown: Sequence[SownParameters], take: Array
) -> tuple[Array, ...]:
    """Ground that a tenth of the seed that takes holds when it has emerged [-]."""
    share = value("from_seed.emerged_share")
    return tuple(
        share * seeding.rate_g_m2 * kind.viable_per_g * take * np.asarray(each.area_at_emergence)
        for kind, each in zip(kinds.kinds, sown, strict=False)
    )


def _work(
    seeding: Seeding, bed: Bed, kinds: SownKinds, course: Drivers, growth: Array, lead: int,
    cut: bool,
) -> Operations:  # fmt: skip
    """Lay a course's sowing, water and cuts on its days."""
    days = len(growth)
    to = no_operations(days)
    set_sowing(to, lead, kinds, seeding.parts, seeding.rate_g_m2)
    to.feed[lead] = value("from_seed.starter_nitrogen")
    if bed.is_watered:
        end = min(lead + round(7 * value("seedbed_weeks")), days)
        most = (value("seedbed_water_low") + value("seedbed_water_high")) / 2
        wanted = most * np.asarray(course.et0) - np.asarray(course.rain)
        to.water[lead:end] = np.maximum(wanted[lead:end], 0.0)
    known = bed.given_mm[: days - lead]
    to.water[lead : lead + len(known)] = known
    if cut:
        _cuts(to, bed, course, growth, lead)
    return to


def _cuts(to: Operations, bed: Bed, course: Drivers, growth: Array, lead: int) -> None:
    """Cut week by week while it grows, once it is warm-summed to a first cut, stepping down."""
    warm = np.cumsum(np.maximum(np.asarray(course.tmean)[lead:], 0.0))
    day = lead + int(np.searchsorted(warm, value("from_seed.first_cut_warmth")))
    height = max(value("first_cut_fine_to"), bed.height_of_cut_mm)
    while day < len(growth):
        if growth[day] < value("from_seed.growing_least"):
            day += 1
            continue
        to.cut[day], to.cut_height[day] = 1.0, height
        to.boxed[day] = float(bed.zone.mower.has_box)
        height = max(height * value("from_seed.step_down"), bed.height_of_cut_mm)
        day += round(value("from_seed.cut_days"))
