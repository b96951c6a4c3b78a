"""Draws as the kernel holds them: float32, block by block, taken through their days in place.

A draw takes four bytes a state and constant, whatever the number of days; what is to be known of
the days is told to a watcher, block by block, and kept or summed there.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from itertools import chain
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from swardbook.foundation.errors import BalanceError, OutOfRangeError
from swardbook.model.chance import Array, Chance
from swardbook.model.compiling import Kernel, RunBlock, block_rows
from swardbook.model.inputs import Drivers, Operations, Single, by_days
from swardbook.model.kernel_text import LANES
from swardbook.model.numbers import Numbers
from swardbook.model.observe import Observed
from swardbook.model.parameter_sets import Parameters
from swardbook.model.parameters import SownKinds, draw_parameters
from swardbook.model.rows import USUAL, flatten, rows_of, unflatten
from swardbook.model.season import require_closed
from swardbook.model.start import Start, start_state
from swardbook.model.state import Gaps, SwardState

Choice = Sequence[int] | NDArray[np.int64] | None
See = Callable[[int, Single], None]
"""Told the number of a block and what it has at each look: (looks, outputs, lanes)."""
CLOSES_TO = 1e-5
"""Largest miss of a balance in float32, as a share of the day's gross flow plus stock [-]."""
ONE_THREAD_UP_TO = 100_000
"""Draw-days below which a second thread costs more than it saves."""
_TURNS = 8
"""Times that each thread comes back for more blocks."""
_TOGETHER = 64
"""Blocks that are looked over together."""
_AT_ONCE = _TOGETHER * LANES
"""Draws that are worked out in float64 at once."""


class Watcher(Protocol):
    """Keeps or sums what is looked at."""

    def watch(self) -> See:
        """Give one thread something to tell what each of its blocks has at the looks."""


@dataclass(frozen=True, slots=True)
class Members:
    """The draws of an ensemble, as the kernel holds them.

    Parameters
    ----------
    blocks : array
        States, constants and worst misses: (blocks, rows, lanes); changed in place.
    draws : int
        How many; the last one also fills up the last block.
    weeds : int
        Weed grasses of the zone.
    """

    blocks: Single
    draws: int
    weeds: int = USUAL

    @classmethod
    def room(cls, draws: int, weeds: int = USUAL) -> Members:
        """Make room for some draws of a zone with so many weed grasses."""
        blocks = np.zeros((-(-draws // LANES), block_rows(weeds), LANES), np.float32)
        return cls(blocks, draws, weeds)

    @property
    def state_rows(self) -> int:
        """Rows of a block that hold the state."""
        return len(rows_of(SwardState, self.weeds))

    @classmethod
    def of(cls, state: SwardState, parameters: Parameters) -> Members:
        """Lay out draws that are known one value each."""
        members = cls.room(int(np.size(parameters.zone.thinning)), len(state.weeds))
        members.put(0, state, parameters)
        return members

    def put(self, first: int, state: SwardState, parameters: Parameters) -> None:
        """Lay draws in their places, from the first of some block on."""
        draws = int(np.size(parameters.zone.thinning))
        place = slice(first // LANES, first // LANES + -(-draws // LANES))
        for row, numbers in enumerate([*flatten(state), *flatten(parameters)]):
            self.blocks[place, row] = _filled_up(numbers, draws)

    def stand(self, state: SwardState) -> None:
        """Let the draws stand as told, with the constants they have."""
        for row, numbers in enumerate(flatten(state)):
            self.blocks[:, row] = _filled_up(numbers, self.draws)

    def change(self, before: Parameters, after: Parameters) -> None:
        """Lay the constants that are others than before, in every copy of the draws."""
        if after is before:
            return
        draws = int(np.size(after.zone.thinning))
        copies = self.blocks.reshape(-1, -(-draws // LANES), *self.blocks.shape[1:])
        pairs = zip(flatten(before), flatten(after), strict=True)
        for row, (old, new) in enumerate(pairs, self.state_rows):
            if new is not old:
                copies[:, :, row] = _filled_up(new, draws)

    def copies(self, times: int) -> Members:
        """Lay so many copies of all blocks after one another."""
        several = np.empty((times, *self.blocks.shape), np.float32)
        several[:] = self.blocks
        blocks = several.reshape(-1, *self.blocks.shape[1:])
        return Members(blocks, len(blocks) * LANES, self.weeds)

    def states(self, times: int, draws: int) -> SwardState:
        """Give the state of each draw in each of so many copies: arrays of (copies, draws)."""
        rows = self.rows().reshape(self.state_rows, times, -1)[:, :, :draws]
        state: SwardState = unflatten(SwardState, rows, self.weeds)
        return state

    def only(self, places: NDArray[np.int64]) -> Members:
        """Lay some of the draws anew, in the order given; what a draw does stays as it is."""
        few = Members.room(len(places), self.weeds)
        padded = np.pad(places, (0, few.blocks.shape[0] * LANES - len(places)), "edge")
        block, lane = (each.reshape(-1, LANES) for each in np.divmod(padded, LANES))
        for number, room in enumerate(few.blocks):
            room[:] = self.blocks[block[number], :, lane[number]].T
        return few

    def state(self) -> SwardState:
        """Give the state of each draw."""
        state: SwardState = unflatten(SwardState, self.rows(), self.weeds)
        return state

    def rows(self) -> Array:
        """Give the state of each draw in rows, a field each [units of the fields]."""
        rows = self.blocks[:, : self.state_rows].swapaxes(0, 1)
        return rows.reshape(len(rows), -1)[:, : self.draws].astype(np.float64)

    def worst(self) -> Gaps:
        """Give the largest miss of each balance so far."""
        misses = self.blocks[:, -len(Gaps._fields) :].max(axis=(0, 2))
        return Gaps(*misses.astype(np.float64))

    def require_sound(self) -> None:
        """Stop if a balance did not close, or if a state is no number.

        Raises
        ------
        BalanceError
            If seeds, plants, water or cover do not add up in some draw.
        """
        require_closed(np.array(self.worst()), CLOSES_TO, "the whole run, in some draw")
        for first in range(0, len(self.blocks), _TOGETHER):
            if not np.isfinite(self.blocks[first : first + _TOGETHER, : self.state_rows]).all():
                whole = "the whole run, in some draw"
                raise BalanceError("numbers", whole, float("nan"), CLOSES_TO)


def _filled_up(numbers: Numbers, draws: int) -> Single:
    """Lay a number a draw by blocks, the last draw filling up the last."""
    padded = np.empty(-(-draws // LANES) * LANES, np.float32)
    padded[:draws] = numbers
    padded[draws:] = padded[draws - 1]
    return padded.reshape(-1, LANES)


def draw_members(kinds: SownKinds, draws: int, chance: Chance, start: Start) -> Members:
    """Draw an ensemble, a part at a time, straight into the kernel's layout.

    Parameters
    ----------
    kinds : SownKinds
        What is sown there, and the soil.
    draws : int
        How many draws.
    chance : Chance
        The source, keyed by book and zone.
    start : Start
        How the zone stands on the evening before the first day.

    Returns
    -------
    Members
        The same draws that `draw_parameters` and `start_state` give.
    """
    members = Members.room(draws, len(kinds.weeds))
    for first in range(0, draws, _AT_ONCE):
        parameters = draw_parameters(kinds, min(_AT_ONCE, draws - first), chance, first)
        members.put(first, start_state(start, parameters, chance, first, kinds.weeds), parameters)
    return members


@dataclass(frozen=True, slots=True)
class _Job:
    """Everything the blocks share."""

    run_block: RunBlock
    members: Members
    drivers: Single
    operations: Single
    weather_of: NDArray[np.int64]
    work_of: NDArray[np.int64]
    days: int
    every: int
    watcher: Watcher | None

    def run(self, tasks: Iterator[range]) -> None:
        """Take blocks through their days until none are left."""
        looks = len(look_days(self.days, self.every))
        outputs = len(rows_of(Observed, self.members.weeds))
        looked = np.empty((looks, outputs, LANES), np.float32)
        see = self.watcher.watch() if self.watcher is not None else None
        for block in chain.from_iterable(tasks):
            self.run_block(
                self.members.blocks[block].reshape(-1),
                self.drivers[self.weather_of[block]],
                self.operations[self.work_of[block]],
                looked.reshape(-1),
                self.days,
                self.every,
            )
            if see is not None:
                see(block, looked)


def advance(
    members: Members,
    drivers: Drivers | Single,
    operations: Operations | Single,
    *,
    kernel: Kernel,
    weather_of_block: Choice = None,
    operations_of_block: Choice = None,
    threads: int = 1,
    chunk: int | None = None,
    every: int = 7,
    watcher: Watcher | None = None,
    check: bool = True,
) -> None:
    """Take draws through some days, in place; several calls have the bits of one.

    Parameters
    ----------
    members : Members
        The draws; changed in place.
    drivers, operations : Drivers, Operations
        One value a day in each field, or (courses, days) with one course chosen for each block;
        or as `by_days` lays them out.
    kernel : Kernel
        From `load_kernel`.
    weather_of_block, operations_of_block : sequence of int, optional
        Which course each block of 64 draws takes; in turn if not given.
    threads : int
        Threads to share the blocks among; changes no bit.
    chunk : int, optional
        Blocks in one task; changes no bit.
    every : int
        Days between looks; the last evening is always one.
    watcher : Watcher, optional
        Told what each block has at the looks.
    check : bool
        Whether to stop if something did not add up; misses are remembered for a later check.

    Raises
    ------
    BalanceError
        If seeds, plants, water or cover do not add up in some draw.
    """
    weather, work = _courses(drivers), _courses(operations)
    days, blocks = weather.shape[1], len(members.blocks)
    job = _Job(
        kernel.of(members.weeds), members, weather.reshape(len(weather), -1),
        work.reshape(len(work), -1),
        _choice(weather_of_block, blocks, len(weather), "weather"),
        _choice(operations_of_block, blocks, len(work), "operations"),
        days, every, watcher,
    )  # fmt: skip
    _share(job, blocks, threads if members.draws * days > ONE_THREAD_UP_TO else 1, chunk)
    if check:
        members.require_sound()


def look_days(days: int, every: int) -> NDArray[np.int64]:
    """List the days of a run, from 1, on whose evening is looked."""
    looks = list(range(every, days + 1, every))
    if days % every:
        looks.append(days)
    return np.array(looks, np.int64)


def _courses(series: Drivers | Operations | Single) -> Single:
    return by_days(series) if isinstance(series, tuple) else series


def _choice(given: Choice, blocks: int, courses: int, name: str) -> NDArray[np.int64]:
    if given is None:
        return np.arange(blocks, dtype=np.int64) % courses
    chosen = np.asarray(given, np.int64)
    if chosen.shape != (blocks,) or chosen.min(initial=0) < 0 or chosen.max(initial=0) >= courses:
        allowed = f"{blocks} numbers from 0 to {courses - 1}"
        raise OutOfRangeError(f"{name} of each block", chosen.tolist(), allowed, "-")
    return chosen


def _share(job: _Job, blocks: int, threads: int, chunk: int | None) -> None:
    """Give each thread a few blocks at a time: one that is held up holds up no other."""
    size = chunk or max(1, blocks // (_TURNS * max(threads, 1)))
    tasks = iter([range(start, min(start + size, blocks)) for start in range(0, blocks, size)])
    if threads <= 1:
        job.run(tasks)
        return
    with ThreadPoolExecutor(threads - 1) as pool:
        others = [pool.submit(job.run, tasks) for _ in range(threads - 1)]
        job.run(tasks)
        for other in others:
            other.result()
