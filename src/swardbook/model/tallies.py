"""Counting and choosing among many numbers, compiled: sums of whole numbers know no order.

Nothing here imports anything of the model, so code kept by numba can never be out of date.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numba import njit
from numpy.typing import NDArray

BINS = 256
"""Bins of a histogram."""
_TOP, _MIDDLE, _LAST = 11, 11, 10
"""Bits of a float32 that are looked at in turn."""


@njit(nogil=True, cache=True, error_model="numpy")
def count_block(
    block: int,
    looked: NDArray[np.float32],
    wanted: NDArray[np.int64],
    low: NDArray[np.float32],
    scale: NDArray[np.float32],
    weights: NDArray[np.int64],
    weekly: NDArray[np.int64],
    counts: NDArray[np.int64],
    kept: NDArray[np.float32],
) -> None:
    """Add one block's looks (looks, outputs, lanes) to histograms, and keep the weekly ones.

    `weights` is one a block and lane; `counts` is (outputs, looks, bins) and `kept` is (outputs,
    weeks, draws).
    """
    lanes = looked.shape[2]
    places = np.empty(lanes, np.int32)
    top = np.float32(BINS - 1)
    for look in range(looked.shape[0]):
        for n in range(len(wanted)):
            row, least, steps = looked[look, wanted[n]], low[n], scale[n]
            for lane in range(lanes):
                place = (row[lane] - least) * steps
                places[lane] = np.int32(min(max(place, np.float32(0.0)), top))
            bins = counts[n, look]
            for lane in range(lanes):
                bins[places[lane]] += weights[block, lane]
    for week in range(len(weekly)):
        for n in range(len(wanted)):
            row = looked[weekly[week], wanted[n]]
            for lane in range(lanes):
                kept[n, week, block * lanes + lane] = row[lane]


@njit(nogil=True, cache=True, error_model="numpy")
def order_statistics(
    values: NDArray[np.float32], weights: NDArray[np.int64], reach: NDArray[np.int64]
) -> NDArray[np.float32]:
    """Find, for each sum of weights, the smallest value up to which they reach it.

    The bits of a float32, the sign turned, are in the order of the numbers: the first eleven
    choose a bin, the next eleven one in it, the last ten the very value. All sums are sought in
    the same three passes.
    """
    sign = np.uint32(1 << 31)
    keys = values.view(np.uint32).copy()
    least, most = np.uint32(0xFFFFFFFF), np.uint32(0)
    for n in range(len(keys)):
        keys[n] = keys[n] ^ sign if keys[n] < sign else ~keys[n]
        least, most = min(least, keys[n]), max(most, keys[n])
    found, left = np.zeros(len(reach), np.uint32), reach.copy()
    at, table = np.zeros(len(reach), np.int16), np.zeros(len(keys), np.int16)
    for above, bits in ((_MIDDLE + _LAST, _TOP), (_LAST, _MIDDLE), (0, _LAST)):
        if least >> np.uint32(above) == most >> np.uint32(above):
            found[:] = least >> np.uint32(above)  # all alike so far: nothing to count
        else:
            _refine(keys, weights, above, bits, found, left, at, table)
    for place in range(len(found)):
        key = found[place]
        found[place] = key ^ sign if key >= sign else ~key
    return found.view(np.float32)


@njit(nogil=True, cache=True)
def _refine(
    keys: Any, weights: Any, above: Any, bits: Any, found: Any, left: Any, at: Any, table: Any
) -> None:
    """Find some more bits of each key sought.

    Keys that agree so far with one that is sought are counted in a table of its own; all the
    others share the last. `at` tells the table of each key sought, `table` that of every key.
    """
    levels, shift, mask = len(found), np.uint32(above), np.uint32((1 << bits) - 1)
    counts = np.zeros((levels + 1, 1 << bits), np.int64)
    for n in range(len(keys)):
        counts[table[n], (keys[n] >> shift) & mask] += weights[n]
    inner = np.full((levels + 1, 1 << bits), levels, np.int16)
    for level in range(levels):
        chosen, passed = _bin_of(counts[at[level]], left[level])
        found[level], left[level] = (found[level] << bits) | chosen, left[level] - passed
        inner[at[level], chosen] = min(inner[at[level], chosen], level)
        at[level] = inner[at[level], chosen]
    if above:
        for n in range(len(keys)):
            table[n] = inner[table[n], (keys[n] >> shift) & mask]


@njit(nogil=True, cache=True)
def _bin_of(counts: Any, reach: Any) -> Any:
    """Bin in which a sum is reached, and the sum before it."""
    passed = np.int64(0)
    for place in range(len(counts)):
        if passed + counts[place] >= reach:
            return place, passed
        passed += counts[place]
    return len(counts) - 1, passed
