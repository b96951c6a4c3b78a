"""Growing all draws over some days, as learning and looking ahead ask for it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swardbook.model.chance import Array
from swardbook.model.compiling import Kernel
from swardbook.model.inputs import Drivers, Operations, Single, by_days
from swardbook.model.members import Choice, Members, advance
from swardbook.model.parameter_sets import Parameters
from swardbook.model.rows import flatten, unflatten, weeds_in
from swardbook.model.state import SwardState


@dataclass(frozen=True, slots=True)
class Grow:
    """Runs the model over some days, and gives the last evening.

    Drivers and operations hold one value a day, or (courses, days); blocks of draws take the
    courses in turn.

    Parameters
    ----------
    kernel : Kernel
        From `load_kernel`.
    threads : int
        Threads to share the draws among; changes no bit.
    chunk : int, optional
        Blocks of draws in one task; changes no bit.
    """

    kernel: Kernel
    threads: int = 1
    chunk: int | None = None

    def __call__(
        self, state: SwardState, parameters: Parameters, drivers: Drivers, operations: Operations
    ) -> SwardState:
        """Grow draws that are known one value each."""
        members = Members.of(state, parameters)
        self.onward(members, drivers, operations)
        return members.state()

    def onward(
        self, members: Members, drivers: Drivers | Single, operations: Operations | Single,
        *, weather_of_block: Choice = None, operations_of_block: Choice = None,
    ) -> None:  # fmt: skip
        """Grow draws as the kernel holds them, in place."""
        weather = by_days(drivers) if isinstance(drivers, tuple) else drivers
        advance(
            members, weather, operations, kernel=self.kernel, threads=self.threads,
            chunk=self.chunk, every=weather.shape[1],
            weather_of_block=weather_of_block, operations_of_block=operations_of_block,
        )  # fmt: skip


def grower(kernel: Kernel, threads: int = 1, chunk: int | None = None) -> Grow:
    """Give the compiled model as something that grows draws; see `Grow`."""
    return Grow(kernel, threads, chunk)


def to_rows(state: SwardState) -> Array:
    """Lay a state in rows, a field each, one column a draw [units of the fields]."""
    return np.stack([np.asarray(each, dtype=np.float64) for each in flatten(state)])


def from_rows(rows: Array) -> SwardState:
    """Build a state from such rows."""
    state: SwardState = unflatten(SwardState, rows, weeds_in(len(rows)))
    return state
