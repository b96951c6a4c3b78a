"""Seed into a standing sward under the site's past weather: the present sward with it and without.

Both runs have the same draws, the same weather and the same work; they differ by the seed alone.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from swardbook.foundation.errors import NotEnoughDataError
from swardbook.handbook.parameters import value
from swardbook.husbandry.ground import Zone
from swardbook.model.chance import Array, Chance
from swardbook.model.compiling import Kernel
from swardbook.model.draws import Constants, is_drawn
from swardbook.model.ensemble import run
from swardbook.model.from_seed import COMPONENTS, Courses, Days, first_day
from swardbook.model.growing import from_rows
from swardbook.model.inputs import Drivers, Operations
from swardbook.model.kernel_text import LANES
from swardbook.model.operations import no_operations, set_sowing, stack_operations
from swardbook.model.parameter_sets import Parameters
from swardbook.model.parameters import (
    SLOTS,
    SownKind,
    SownKinds,
    build_parameters,
    parameter_keys,
    sown_kinds,
)
from swardbook.model.past import Known
from swardbook.model.state import SownSet, SownState, SwardState
from swardbook.model.unknowns import YEARLY, growth_year, with_year
from swardbook.seed.lot import LotPart

_OUTPUTS = ("sown", *COMPONENTS, "bare", "annual_meadow_grass", "height")


@dataclass(frozen=True, slots=True)
class Sward:
    """A standing sward tonight, with room for what is to be sown into it.

    Parameters
    ----------
    zone : Zone
        The zone.
    kinds : SownKinds
        What stands there, then what is sown into it and is not there yet.
    merged : tuple of str
        Species that found no room of their own and grow as the nearest that did.
    state : SwardState
        The draws tonight.
    parameters : Parameters
        Their constants in the year of the sowing.
    """

    zone: Zone
    kinds: SownKinds
    merged: tuple[str, ...]
    state: SwardState
    parameters: Parameters

    @property
    def sown_now(self) -> Array:
        """Ground under sown grass tonight [-]."""
        return np.asarray(sum(part.cover for part in self.state.sown))


@dataclass(frozen=True, slots=True)
class Oversowing:
    """Seed for a standing sward.

    Parameters
    ----------
    parts : tuple of LotPart
        The label.
    rate_g_m2 : float
        Rate. [g m⁻²]
    method : str
        How it is put down, as the handbook calls it.
    """

    parts: tuple[LotPart, ...]
    rate_g_m2: float
    method: str


@dataclass(frozen=True, slots=True)
class Work:
    """What is done to a sward that is oversown, apart from the seed.

    Parameters
    ----------
    day : date
        The day of sowing; it is mown to its height of cut before.
    height_mm : float
        Height of cut. [mm]
    is_watered : bool
        Whether it is kept damp for the first weeks.
    is_scarified : bool
        Whether it is scarified on that day.
    is_cut : bool
        Whether it is cut from then on, week by week while it grows.
    """

    day: date
    height_mm: float
    is_watered: bool
    is_scarified: bool = False
    is_cut: bool = True


@dataclass(frozen=True, slots=True)
class Stood:
    """A sward followed from the day of sowing: arrays of (evenings, draws).

    Parameters
    ----------
    days : array of int
        Days since sowing. [d]
    sown, bare, weed : array
        Sown grass old and new, bare ground, annual meadow-grass. [-]
    components : tuple of array
        Ground under each of the zone's kinds. [-]
    height : array
        Height. [mm]
    """

    days: Days
    sown: Array
    bare: Array
    weed: Array
    components: tuple[Array, ...]
    height: Array

    def covered(self, share: float) -> Days:
        """Days from sowing until sown grass covers a share [-] of the ground; 0 if it does so."""
        return first_day(self.days, self.sown, share)

    def grown_to(self, height_mm: float) -> Days:
        """Days from sowing until the sward has a height [mm]."""
        return first_day(self.days, self.height, height_mm)

    def at(self, day: int) -> Array:
        """Sown grass on the last evening that is no later than a day after sowing [-]."""
        row = int(np.searchsorted(self.days, day, side="right")) - 1
        return np.asarray(self.sown[row])


def sward_for(
    known: Known, zone: Zone, latitude: float, parts: tuple[LotPart, ...], day: date,
    chance: Chance, number: int,
) -> Sward:  # fmt: skip
    """Make room in a zone's draws for what is to be sown.

    Parameters
    ----------
    known : Known
        The draws as they stand tonight.
    zone : Zone
        The zone.
    latitude : float
        Latitude, south negative. [°]
    parts : tuple of LotPart
        What is to be sown.
    day : date
        The day of sowing: its year's effects are taken.
    chance : Chance
        The source of what the draws do not know yet: constants of grasses that are new there.
    number : int
        How many draws are wanted: the known ones are taken evenly, some more than once if need be.
    """
    unknowns = known.unknowns
    taken = np.arange(number) * known.scores.shape[1] // number
    tonight = from_rows(known.learned.cloud.states[: known.rows, taken])
    kinds, tonight, merged = _with_room(unknowns.kinds, tonight, parts)
    held = known.scores[:, taken]
    scores = dict(zip(unknowns.keys, held[: len(unknowns.keys)], strict=True))
    scores |= {
        key: chance.normals(key, number)
        for key in parameter_keys(kinds)
        if is_drawn(key) and key not in scores
    }
    year = growth_year(day, latitude)
    if year in unknowns.years:
        effects = unknowns.rows_of_year(held, year)
    else:
        effects = np.stack([chance.normals(f"{effect} of {year}", number) for effect in YEARLY])
    built = build_parameters(kinds, Constants(scores, number, ranges=kinds.ranges))
    return Sward(zone, kinds, merged, tonight, with_year(built, effects))


def _with_room(
    there: SownKinds, state: SwardState, parts: tuple[LotPart, ...]
) -> tuple[SownKinds, SwardState, tuple[str, ...]]:
    """Add the kinds that are new, as far as there is room; grasses of one kind share it."""
    kinds, sown, merged = list(there.kinds), list(state.sown), []
    for new in sown_kinds(parts, there.soil).kinds:
        if any(new.kind == old.kind for old in kinds):
            continue
        if len(kinds) == SLOTS and not _make_room(kinds, sown):
            merged.append(new.species)
            continue
        kinds.append(replace(new, viable_per_g=0.0))
    together = state._replace(sown=SownSet(*sown))
    return replace(there, kinds=tuple(kinds)), together, tuple(merged)


def _make_room(kinds: list[SownKind], sown: list[SownState]) -> bool:
    """Put two components that the model grows alike together; the last place is then empty."""
    for later in range(len(kinds) - 1, 0, -1):
        first = next(n for n, kind in enumerate(kinds) if kind.kind == kinds[later].kind)
        if first < later:
            one, other = sown[first], sown.pop(later)
            seed = one.seed + other.seed
            progress = (one.progress * one.seed + other.progress * other.seed) / (seed + 1e-30)
            sown[first] = SownState(seed, progress, one.cover + other.cover)
            none = np.zeros_like(seed)
            sown.append(SownState(none, none, none))
            kinds.pop(later)
            return True
    return False


def follow(
    sward: Sward, seed: Oversowing | None, work: Work, courses: Courses, days: int,
    kernel: Kernel, *, threads: int = 1,
) -> Stood:  # fmt: skip
    """Follow a sward from tonight through a day of sowing and on.

    Parameters
    ----------
    sward : Sward
        The sward.
    seed : Oversowing or None
        What is sown; None sows nothing.
    work : Work
        What is done to it.
    courses : Courses
        The weather, from tomorrow; 64 draws meet each.
    days : int
        Days to follow it after the sowing. [d]
    kernel : Kernel
        The compiled model.
    threads : int
        Threads; change no bit.

    Raises
    ------
    NotEnoughDataError
        If the courses do not reach that far.
    """
    before = (work.day - courses.first).days
    last = before + days
    if before < 0 or last > (courses.last - courses.first).days:
        wanted = f"weather ahead to {days} days after {work.day}"
        raise NotEnoughDataError("an oversown sward", wanted, f"up to {courses.last}")
    part = slice(0, last + 1)
    drivers = Drivers(*(series[:, part] for series in courses.drivers))
    number = len(courses.growth)
    jobs = [
        _operations(sward, seed, work, Drivers(*(series[n] for series in drivers)),
                    courses.growth[n, part], before)
        for n in range(number)
    ]  # fmt: skip
    outcome = run(
        sward.state, sward.parameters, drivers, stack_operations(jobs), kernel=kernel,
        threads=threads, outputs=_OUTPUTS, every=1, weather_of_block=range(number),
        operations_of_block=range(number), weeds=sward.kinds.weeds,
    )  # fmt: skip
    since = outcome.days - 1 - before
    rows = {name: outcome.outputs[name].astype(np.float64)[since >= 0] for name in _OUTPUTS}
    slots = COMPONENTS[: len(sward.kinds.kinds)]
    return Stood(
        since[since >= 0], rows["sown"], rows["bare"], rows["annual_meadow_grass"],
        tuple(rows[name] for name in slots), rows["height"],
    )  # fmt: skip


def draws_for(courses: Courses) -> int:
    """Say how many draws meet so many courses of weather, 64 each."""
    return LANES * len(courses.growth)


def _operations(
    sward: Sward, seed: Oversowing | None, work: Work, course: Drivers, growth: Array,
    before: int,
) -> Operations:  # fmt: skip
    """Lay a course's cuts, water, scarifying and seed on its days."""
    to = no_operations(len(growth))
    step = round(value("from_seed.cut_days"))
    for day in range(before % step, len(growth), step):
        grows = growth[day] >= value("from_seed.growing_least")
        if day == before or (grows and (work.is_cut or day < before)):
            to.cut[day], to.cut_height[day] = 1.0, work.height_mm
            to.boxed[day] = float(sward.zone.mower.has_box)
    if work.is_scarified:
        to.scarify[before], to.collected[before] = 1.0, 1.0
    if work.is_watered:
        end = min(before + round(7 * value("seedbed_weeks")), len(growth))
        most = (value("seedbed_water_low") + value("seedbed_water_high")) / 2
        wanted = most * np.asarray(course.et0) - np.asarray(course.rain)
        to.water[before:end] = np.maximum(wanted[before:end], 0.0)
    if seed is not None:
        set_sowing(to, before, sward.kinds, seed.parts, seed.rate_g_m2, seed.method)
    return to
