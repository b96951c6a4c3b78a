"""Growing all draws over some days, as learning and looking ahead ask for it."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from swardbook.model.chance import Array
from swardbook.model.compiling import Kernel
from swardbook.model.ensemble import run
from swardbook.model.inputs import Drivers, Operations
from swardbook.model.parameter_sets import Parameters
from swardbook.model.rows import flatten, unflatten, weeds_in
from swardbook.model.state import SwardState

Grow = Callable[[SwardState, Parameters, Drivers, Operations], SwardState]
"""Runs the model over some days and gives the last evening.

Drivers and operations hold one value a day, or (courses, days); blocks of draws take the courses
in turn.
"""


def grower(kernel: Kernel, threads: int = 1, chunk: int | None = None) -> Grow:
    """Give the compiled model as something that grows draws.

    Parameters
    ----------
    kernel : Kernel
        From `load_kernel`.
    threads : int
        Threads to share the draws among; changes no bit.
    chunk : int, optional
        Blocks of draws in one task; changes no bit.
    """

    def grow(
        state: SwardState, parameters: Parameters, drivers: Drivers, operations: Operations
    ) -> SwardState:
        days = np.shape(drivers.tmean)[-1]
        return run(
            state, parameters, drivers, operations,
            kernel=kernel, threads=threads, chunk=chunk, outputs=(), every=days,
        ).final  # fmt: skip

    return grow


def to_rows(state: SwardState) -> Array:
    """Lay a state in rows, a field each, one column a draw [units of the fields]."""
    return np.stack([np.asarray(each, dtype=np.float64) for each in flatten(state)])


def from_rows(rows: Array) -> SwardState:
    """Build a state from such rows."""
    state: SwardState = unflatten(SwardState, rows, weeds_in(len(rows)))
    return state
