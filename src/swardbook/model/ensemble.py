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

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from swardbook.model.chance import Array
from swardbook.model.compiling import Kernel
from swardbook.model.inputs import Drivers, Operations, Single
from swardbook.model.kernel_text import LANES
from swardbook.model.members import CLOSES_TO, Choice, Members, See, advance, look_days
from swardbook.model.parameter_sets import Parameters
from swardbook.model.rows import output_names
from swardbook.model.state import USUAL_WEEDS, Gaps, SwardState

__all__ = ["CLOSES_TO", "DEFAULT_OUTPUTS", "TOTALS", "Outcome", "run"]
DEFAULT_OUTPUTS = output_names()
TOTALS = ("produced", "returned", "boxed", "emerged", "established", "killed")
"""Sums since the start that each weed grass keeps. [m⁻²]"""


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
    weeds : tuple of str
        The weed grasses of the zone, in order.
    """

    final: SwardState
    days: NDArray[np.int64]
    outputs: Mapping[str, Single]
    identity: str
    worst: Gaps
    weeds: tuple[str, ...] = USUAL_WEEDS

    @property
    def totals(self) -> Mapping[str, Array]:
        """Sums since the start, one a draw, such as ``annual_meadow_grass.returned`` [m⁻²]."""
        weeds = zip(self.weeds, self.final.weeds, strict=True)
        sums = {f"{weed}.{name}": getattr(state, name) for weed, state in weeds for name in TOTALS}
        zone = self.final.zone
        return sums | {
            "hours": zone.hours,
            "money": zone.money,
            "nitrogen_exported": zone.nitrogen_exported,
        }


def run(
    state: SwardState,
    parameters: Parameters,
    drivers: Drivers,
    operations: Operations,
    *,
    kernel: Kernel,
    weather_of_block: Choice = None,
    operations_of_block: Choice = None,
    threads: int = 1,
    chunk: int | None = None,
    outputs: Sequence[str] = DEFAULT_OUTPUTS,
    every: int = 7,
    weeds: Sequence[str] = USUAL_WEEDS,
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
        Names to keep, of those that `output_names` gives.
    every : int
        Days between looks; the last evening is always one.
    weeds : sequence of str
        Names of the weed grasses, in the order of the state.

    Returns
    -------
    Outcome
        The last evening, the outputs and how well the balances closed.

    Raises
    ------
    BalanceError
        If seeds, plants, water or cover do not add up in some draw.
    """
    members = Members.of(state, parameters)
    days = np.atleast_2d(drivers.tmean).shape[1]
    looks = look_days(days, every)
    keeper = _Keeper(outputs, len(looks), members, weeds)
    advance(
        members, drivers, operations, kernel=kernel, weather_of_block=weather_of_block,
        operations_of_block=operations_of_block, threads=threads, chunk=chunk, every=every,
        watcher=keeper,
    )  # fmt: skip
    kept = {name: keeper.seen[place, :, : members.draws] for place, name in enumerate(outputs)}
    return Outcome(members.state(), looks, kept, kernel.identity, members.worst(), tuple(weeds))


class _Keeper:
    """Keeps what each draw has at every look; a block only ever writes its own columns."""

    def __init__(
        self, outputs: Sequence[str], looks: int, members: Members, weeds: Sequence[str]
    ) -> None:
        names = output_names(weeds)
        self.wanted = [names.index(name) for name in outputs]
        width = len(members.blocks) * LANES
        self.seen = np.empty((len(self.wanted), looks, width), np.float32)

    def watch(self) -> See:
        """Give what looks at one block after another."""

        def see(block: int, looked: Single) -> None:
            part = slice(block * LANES, (block + 1) * LANES)
            self.seen[:, :, part] = looked[:, self.wanted].transpose(1, 0, 2)

        return see
