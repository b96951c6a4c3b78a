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
    choose a bin, the next eleven one in it, the last ten the very value.
    """
    sign = np.uint32(1 << 31)
    keys = values.view(np.uint32).copy()
    for n in range(len(keys)):
        keys[n] = keys[n] ^ sign if keys[n] < sign else ~keys[n]
    first = np.zeros(1 << _TOP, np.int64)
    for n in range(len(keys)):
        first[keys[n] >> np.uint32(_MIDDLE + _LAST)] += weights[n]
    found = np.empty(len(reach), np.uint32)
    near, heavy = np.empty(len(keys), np.uint32), np.empty(len(keys), np.int64)
    held, kept, before = -1, 0, np.int64(0)
    shift = np.uint32(_MIDDLE + _LAST)
    for place in range(len(reach)):
        upper, passed = _bin_of(first, reach[place])
        if upper != held:
            held, kept, before = upper, 0, passed
            for n in range(len(keys)):
                if keys[n] >> shift == upper:
                    near[kept], heavy[kept] = keys[n], weights[n]
                    kept += 1
        found[place] = _within(near[:kept], heavy[:kept], reach[place] - before)
    for place in range(len(found)):
        key = found[place]
        found[place] = key ^ sign if key >= sign else ~key
    return found.view(np.float32)


@njit(nogil=True, cache=True)
def _bin_of(counts: Any, reach: Any) -> Any:
    """Bin in which a sum is reached, and the sum before it."""
    passed = np.int64(0)
    for place in range(len(counts)):
        if passed + counts[place] >= reach:
            return place, passed
        passed += counts[place]
    return len(counts) - 1, passed


@njit(nogil=True, cache=True)
def _within(keys: Any, weights: Any, reach: Any) -> Any:
    """Find the key among those alike in their first bits."""
    mask = np.uint32((1 << _MIDDLE) - 1)
    counts = np.zeros(1 << _MIDDLE, np.int64)
    for n in range(len(keys)):
        counts[(keys[n] >> np.uint32(_LAST)) & mask] += weights[n]
    middle, passed = _bin_of(counts, reach)
    low = np.uint32((1 << _LAST) - 1)
    last = np.zeros(1 << _LAST, np.int64)
    for n in range(len(keys)):
        if (keys[n] >> np.uint32(_LAST)) & mask == middle:
            last[keys[n] & low] += weights[n]
    bottom, _ = _bin_of(last, reach - passed)
    top = (keys[0] >> np.uint32(_MIDDLE + _LAST)) << np.uint32(_MIDDLE)
    return np.uint32(((top | np.uint32(middle)) << np.uint32(_LAST)) | np.uint32(bottom))
