"""What is kept of many draws: exact quantiles each week, histograms each day; nothing a draw.

Draws count by whole numbers, so sums are the same in whatever order the blocks come in: threads
and chunks change no bit here either.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from swardbook.foundation.errors import OutOfRangeError
from swardbook.foundation.quantities import require
from swardbook.model.chance import Array
from swardbook.model.compiling import Kernel
from swardbook.model.inputs import Drivers, Operations, Single
from swardbook.model.kernel_text import LANES
from swardbook.model.members import Members, See, advance
from swardbook.model.rows import output_names
from swardbook.model.tallies import BINS, count_block, order_statistics

Each = TypeVar("Each", Drivers, Operations)
Whole = NDArray[np.int64]
LEVELS = (0.05, 0.25, 0.5, 0.75, 0.95)
"""Quantiles that are kept unless others are asked for."""
WEEK = 7
_ROOM = 2**22
"""Memory for weekly values that a small ensemble may fill [bytes]."""
_FINE = 2.0**40
"""Whole-number weight of all draws together."""


@dataclass(frozen=True, slots=True)
class Summary:
    """What an ensemble went through.

    Parameters
    ----------
    weeks : array of int
        Day of the run, from 1, of each weekly look; the last evening is one.
    levels : tuple of float
        Which quantiles. [-]
    quantiles : mapping of str to array
        Exact quantiles of each output: (weeks, levels). [units of `Observed`]
    histograms : mapping of str to array
        Weight in each bin on each evening: (days, bins), in parts of `whole`. [-]
    edges : mapping of str to array
        Bounds of the bins; the first and last also hold what lies beyond. [units of `Observed`]
    whole : int
        Weight of all draws together. [-]
    """

    weeks: Whole
    levels: tuple[float, ...]
    quantiles: Mapping[str, Single]
    histograms: Mapping[str, Whole]
    edges: Mapping[str, Array]
    whole: int


class _Tally:
    """Counts the looks of some days and keeps the weekly ones."""

    def __init__(self, plan: _Plan, days: int, weekly: Sequence[int]) -> None:
        self.plan, self.days, self.weekly = plan, days, np.array(weekly, np.int64)
        width = len(plan.weights) * LANES
        self.kept = np.empty((len(plan.wanted), len(self.weekly), width), np.float32)
        self.parts: list[Whole] = []

    def watch(self) -> See:
        """Give one thread its own counts."""
        plan = self.plan
        counts = np.zeros((len(plan.wanted), self.days, BINS), np.int64)
        self.parts.append(counts)

        def see(block: int, looked: Single) -> None:
            count_block(
                block, looked, plan.wanted, plan.low, plan.scale, plan.weights,
                self.weekly, counts, self.kept,
            )  # fmt: skip

        return see

    def histograms(self) -> Whole:
        """Sum what the threads counted: (outputs, days, bins)."""
        counted: Whole = np.sum(self.parts, axis=0)
        return counted

    def quantiles(self) -> Single:
        """Find the exact quantiles of each output and kept week: (outputs, weeks, levels)."""
        weights, reach = self.plan.weights.ravel(), self.plan.reach
        found = [order_statistics(row, weights, reach) for rows in self.kept for row in rows]
        return np.array(found).reshape(*self.kept.shape[:2], len(reach))


@dataclass(frozen=True, slots=True)
class _Plan:
    """What is counted, in which bins, with which weights."""

    wanted: Whole
    low: Single
    scale: Single
    weights: Whole
    reach: Whole


def whole_weights(weights: Array | None, draws: int, width: int) -> Whole:
    """Turn weights into whole numbers; those that only fill up the last block get none.

    Parameters
    ----------
    weights : array or None
        One a draw, of any sum; all alike if not given. [-]
    draws : int
        How many draws.
    width : int
        Places, those that fill up included.

    Raises
    ------
    OutOfRangeError
        If a weight is below nought or no number, or all are nought.
    """
    given = np.ones(draws) if weights is None else np.asarray(weights, np.float64)
    total = float(given.sum()) if given.shape == (draws,) else float("nan")
    if not (total > 0 and np.isfinite(total) and given.min() >= 0):
        allowed = f"{draws} numbers, none below 0, not all 0"
        raise OutOfRangeError("the weights of the draws", f"{given.size} numbers", allowed, "-")
    whole = np.zeros(width, np.int64)
    whole[:draws] = 1 if weights is None else np.rint(given / total * _FINE)
    return whole


def summarise(
    members: Members,
    drivers: Drivers,
    operations: Operations,
    ranges: Mapping[str, tuple[float, float]],
    *,
    kernel: Kernel,
    weights: Array | None = None,
    levels: Sequence[float] = LEVELS,
    threads: int = 1,
    weeks_at_once: int | None = None,
) -> Summary:
    """Take draws through their days in place and sum up what they have.

    Parameters
    ----------
    members : Members
        The draws; changed in place.
    drivers, operations : Drivers, Operations
        One value a day in each field, or (courses, days), taken by the blocks in turn.
    ranges : mapping of str to tuple
        Names of `Observed` to sum up, with the least and largest value of their histogram.
    kernel : Kernel
        From `load_kernel`.
    weights : array, optional
        What each draw counts; all alike if not given. [-]
    levels : sequence of float
        Which quantiles: the smallest value that so much of the weight does not exceed. [-]
    threads : int
        Threads to share the blocks among; changes no bit.
    weeks_at_once : int, optional
        Weeks that a block goes before the next block's turn; changes no bit, only time and
        memory. If not given, two for a large ensemble and up to eight for a small one.

    Returns
    -------
    Summary
        Weekly quantiles and daily histograms.

    Raises
    ------
    BalanceError
        If seeds, plants, water or cover do not add up in some draw.
    """
    plan = _plan(members, ranges, weights, levels)
    days = np.shape(drivers.tmean)[-1]
    span = WEEK * (weeks_at_once or _weeks_at_once(plan))
    quantiles, histograms, weeks = [], [], []
    for first in range(0, days, span):
        some = min(span, days - first)
        weekly = [*range(WEEK - 1, some, WEEK)]
        if first + some == days and days % WEEK:
            weekly.append(some - 1)
        part = slice(first, first + some)
        tally = _Tally(plan, some, weekly)
        advance(
            members, _cut(drivers, part), _cut(operations, part),
            kernel=kernel, threads=threads, every=1, watcher=tally, check=False,
        )  # fmt: skip
        quantiles.append(tally.quantiles())
        histograms.append(tally.histograms())
        weeks += [first + look + 1 for look in weekly]
        del tally  # what it keeps would lie beside that of the next
    members.require_sound()
    found, counted = np.concatenate(quantiles, axis=1), np.concatenate(histograms, axis=1)
    return Summary(
        weeks=np.array(weeks, np.int64),
        levels=tuple(levels),
        quantiles=dict(zip(ranges, found, strict=True)),
        histograms=dict(zip(ranges, counted, strict=True)),
        edges={name: np.linspace(*bounds, BINS + 1) for name, bounds in ranges.items()},
        whole=int(plan.weights.sum()),
    )


def _cut(series: Each, part: slice) -> Each:
    return type(series)(*(np.asarray(each)[..., part] for each in series))


def _weeks_at_once(plan: _Plan) -> int:
    return min(max(_ROOM // (4 * plan.weights.size * max(len(plan.wanted), 1)), 2), 8)


def _plan(
    members: Members,
    ranges: Mapping[str, tuple[float, float]],
    weights: Array | None,
    levels: Sequence[float],
) -> _Plan:
    for level in levels:
        require("a quantile's level", level, 0.0, 1.0, "-")
    whole = whole_weights(weights, members.draws, len(members.blocks) * LANES)
    low, high = np.array(list(ranges.values()), np.float64).reshape(-1, 2).T
    return _Plan(
        wanted=np.array([output_names().index(name) for name in ranges], np.int64),
        low=low.astype(np.float32),
        scale=(BINS / (high - low)).astype(np.float32),
        weights=whole.reshape(-1, LANES),
        reach=np.maximum(np.ceil(np.asarray(levels) * whole.sum()), 1).astype(np.int64),
    )
