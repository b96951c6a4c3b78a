"""Many draws at once, compiled: what a look-ahead runs on.

How it fits together::

    kinds = sown_kinds(lot.parts, zone.soil)
    parameters = draw_parameters(kinds, 4096, chance)
    state = start_state(Start(bare=0.1, weeds={"annual_meadow_grass": 0.05}), parameters, chance)
    drivers = drivers_from(weather, site.latitude, site.elevation_m, first, last)
    operations = operations_from_diary(ground, zone.name, first, last, kinds).operations
    outcome = run(state, parameters, drivers, operations, kernel=load_kernel(folder), threads=2)

Draws go in blocks of 64, decided by the draw's number alone: threads and chunks change no bit.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from swardbook.foundation.errors import BalanceError, OutOfRangeError
from swardbook.model.chance import Array
from swardbook.model.compiling import BLOCK_ROWS, STATE_ROWS, Kernel
from swardbook.model.inputs import Drivers, Operations
from swardbook.model.kernel_text import LANES, flatten, unflatten
from swardbook.model.observe import Observed
from swardbook.model.parameter_sets import Parameters
from swardbook.model.season import require_closed
from swardbook.model.state import Gaps, SwardState

Single = NDArray[np.float32]
CLOSES_TO = 1e-5
"""Largest miss of a balance in float32, as a share of the day's gross flow plus stock [-]."""
DEFAULT_OUTPUTS = Observed._fields
TOTALS = ("produced", "returned", "boxed", "emerged", "established", "killed")
"""Sums since the start that each weed grass keeps. [m⁻²]"""
_SMALL = 100_000
"""Draw-days below which a second thread costs more than it saves."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a run came to.

    Parameters
    ----------
    final : SwardState
        The last evening; a further run may start from it and has the same bits as one long run.
    days : array of int
        Day of the run, from 1, of each look.
    outputs : mapping of str to array
        Each output asked for, an array of (looks, draws). [units of `Observed`]
    identity : str
        Fingerprint of model text, numba and machine.
    worst : Gaps
        Largest miss of each balance over all draws and days. [-]
    """

    final: SwardState
    days: NDArray[np.int64]
    outputs: Mapping[str, Single]
    identity: str
    worst: Gaps

    @property
    def totals(self) -> Mapping[str, Array]:
        """Sums since the start, one a draw, such as ``annual_meadow_grass.returned`` [m⁻²]."""
        weeds = zip(("annual_meadow_grass", "yorkshire_fog"), self.final.weeds, strict=True)
        sums = {f"{weed}.{name}": getattr(state, name) for weed, state in weeds for name in TOTALS}
        zone = self.final.zone
        return sums | {
            "hours": zone.hours,
            "money": zone.money,
            "nitrogen_exported": zone.nitrogen_exported,
        }


@dataclass
class _Job:
    """Everything the blocks share; arrays are only ever written in a block's own columns."""

    kernel: Kernel
    rows: Single
    drivers: Single
    operations: Single
    weather_of: NDArray[np.int64]
    work_of: NDArray[np.int64]
    days: int
    every: int
    looks: int
    wanted: tuple[int, ...]
    seen: Single

    def run(self, blocks: Iterable[int]) -> None:
        """Take some blocks through their days."""
        buffer = np.empty(self.looks * len(Observed._fields) * LANES, np.float32)
        for block in blocks:
            part = slice(block * LANES, (block + 1) * LANES)
            lanes = np.ascontiguousarray(self.rows[:, part]).ravel()
            drivers = self.drivers[self.weather_of[block]]
            work = self.operations[self.work_of[block]]
            self.kernel.run_block(lanes, drivers, work, buffer, self.days, self.every)
            self.rows[:, part] = lanes.reshape(BLOCK_ROWS, LANES)
            looked = buffer.reshape(self.looks, -1, LANES)
            self.seen[:, :, part] = looked[:, list(self.wanted)].transpose(1, 0, 2)


def run(
    state: SwardState,
    parameters: Parameters,
    drivers: Drivers,
    operations: Operations,
    *,
    kernel: Kernel,
    weather_of_block: Sequence[int] | NDArray[np.int64] | None = None,
    operations_of_block: Sequence[int] | NDArray[np.int64] | None = None,
    threads: int = 1,
    chunk: int | None = None,
    outputs: Sequence[str] = DEFAULT_OUTPUTS,
    every: int = 7,
) -> Outcome:
    """Run all draws through all days with the compiled kernel.

    Parameters
    ----------
    state, parameters : SwardState, Parameters
        One value a draw in each field.
    drivers, operations : Drivers, Operations
        One value a day in each field, or (courses, days) with one course chosen for each block.
    kernel : Kernel
        From `load_kernel`.
    weather_of_block, operations_of_block : sequence of int, optional
        Which course each block of 64 draws takes; in turn if not given.
    threads : int
        Threads to share the blocks among; changes no bit.
    chunk : int, optional
        Blocks in one task; changes no bit.
    outputs : sequence of str
        Names of `Observed` to keep.
    every : int
        Days between looks; the last evening is always one.

    Returns
    -------
    Outcome
        The last evening, the outputs and how well the balances closed.

    Raises
    ------
    BalanceError
        If seeds, plants, water or cover do not add up in some draw.
    """
    draws = _draws_of(parameters)
    blocks = -(-draws // LANES)
    rows = _rows(state, parameters, blocks * LANES)
    weather, work = _courses(drivers), _courses(operations)
    days = np.atleast_2d(drivers.tmean).shape[1]
    looks = _look_days(days, every)
    wanted = tuple(Observed._fields.index(name) for name in outputs)
    seen = np.empty((len(wanted), len(looks), blocks * LANES), np.float32)
    job = _Job(
        kernel, rows, weather, work,
        _choice(weather_of_block, blocks, len(weather), "weather"),
        _choice(operations_of_block, blocks, len(work), "operations"),
        days, every, len(looks), wanted, seen,
    )  # fmt: skip
    _share(job, blocks, threads if draws * days > _SMALL else 1, chunk)
    gaps = rows[-len(Gaps._fields) :].max(axis=1).astype(np.float64)
    require_closed(gaps, CLOSES_TO, "the whole run, in some draw")
    if not np.isfinite(rows[: len(STATE_ROWS)]).all():
        raise BalanceError("numbers", "the whole run, in some draw", float("nan"), CLOSES_TO)
    final = unflatten(SwardState, rows[: len(STATE_ROWS), :draws].astype(np.float64))
    kept = {name: seen[place, :, :draws] for place, name in enumerate(outputs)}
    return Outcome(final, looks, kept, kernel.identity, Gaps(*gaps))


def _draws_of(parameters: Parameters) -> int:
    return int(np.size(parameters.zone.thinning))


def _rows(state: SwardState, parameters: Parameters, width: int) -> Single:
    """Lay state, parameters and room for misses in rows; the last draw fills up the last block."""
    rows = np.zeros((BLOCK_ROWS, width), np.float32)
    for row, numbers in zip(rows, [*flatten(state), *flatten(parameters)], strict=False):
        draws = np.size(numbers)
        row[:draws] = numbers
        row[draws:] = np.ravel(numbers)[-1]
    return rows


def _courses(series: Drivers | Operations) -> Single:
    """Lay each course out a day after another: (courses, days × fields)."""
    stacked = np.stack([np.atleast_2d(np.asarray(each)) for each in series], axis=-1)
    return np.ascontiguousarray(stacked.reshape(len(stacked), -1), np.float32)


def _look_days(days: int, every: int) -> NDArray[np.int64]:
    looks = list(range(every, days + 1, every))
    if days % every:
        looks.append(days)
    return np.array(looks, np.int64)


def _choice(
    given: Sequence[int] | NDArray[np.int64] | None, blocks: int, courses: int, name: str
) -> NDArray[np.int64]:
    if given is None:
        return np.arange(blocks, dtype=np.int64) % courses
    chosen = np.asarray(given, np.int64)
    if chosen.shape != (blocks,) or chosen.min(initial=0) < 0 or chosen.max(initial=0) >= courses:
        raise OutOfRangeError(
            f"{name} of each block",
            chosen.tolist(),
            f"{blocks} numbers from 0 to {courses - 1}",
            "-",
        )
    return chosen


def _share(job: _Job, blocks: int, threads: int, chunk: int | None) -> None:
    size = chunk or max(1, -(-blocks // max(threads, 1)))
    tasks = [range(start, min(start + size, blocks)) for start in range(0, blocks, size)]
    if threads <= 1 or len(tasks) == 1:
        for task in tasks:
            job.run(task)
        return
    with ThreadPoolExecutor(threads) as pool:
        for _ in pool.map(job.run, tasks):
            pass
