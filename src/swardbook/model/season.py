"""A season by the reference: every draw at once, in float64, each day's balances checked."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swardbook.foundation.errors import BalanceError
from swardbook.model.chance import Array
from swardbook.model.day import step
from swardbook.model.inputs import Drivers, Operations
from swardbook.model.observe import Observed, observe
from swardbook.model.parameter_sets import Parameters
from swardbook.model.rows import flatten, unflatten
from swardbook.model.state import Gaps, SwardState

CLOSES_TO = 1e-9
"""Largest miss of a balance, as a share of the day's gross flow plus stock [-]."""


@dataclass(frozen=True, slots=True)
class Trajectory:
    """A run by the reference.

    Parameters
    ----------
    final : SwardState
        The last evening.
    outputs : Observed
        Each output, an array of (evenings, draws).
    worst : Gaps
        Largest miss of each balance. [-]
    """

    final: SwardState
    outputs: Observed
    worst: Gaps


def run_reference(
    state: SwardState,
    parameters: Parameters,
    drivers: Drivers,
    operations: Operations,
    check: bool = True,
    every: int = 1,
) -> Trajectory:
    """Run the reference, day by day.

    Parameters
    ----------
    state : SwardState
        The evening before the first day; arrays over draws.
    parameters : Parameters
        The constants of each draw.
    drivers, operations : Drivers, Operations
        One value a day in each field.
    check : bool
        Whether to stop on the first day that does not add up.
    every : int
        Evenings between outputs; the last evening is always one.

    Raises
    ------
    BalanceError
        If seeds, plants, water or cover do not add up.
    """
    days = len(drivers.tmean)
    seen: list[Observed] = []
    worst = np.zeros(len(Gaps._fields))
    for day in range(days):
        today = Drivers(*(series[day] for series in drivers))
        work = Operations(*(series[day] for series in operations))
        state, gaps = step(state, parameters, today, work)
        misses = np.array([np.max(gap) for gap in gaps])
        if check:
            require_closed(misses, CLOSES_TO, f"day {day + 1} of the run")
        worst = np.maximum(worst, misses)
        if (day + 1) % every == 0 or day == days - 1:
            seen.append(observe(state, parameters))
    series = zip(*(flatten(each) for each in seen), strict=True)
    outputs: Observed = unflatten(Observed, map(np.stack, series), len(state.weeds))
    return Trajectory(state, outputs, Gaps(*worst))


def require_closed(misses: Array, allowed: float, day: str) -> None:
    """Stop if a balance misses by more than is allowed.

    Parameters
    ----------
    misses : array
        Largest miss of each balance. [-]
    allowed : float
        Largest that is allowed. [-]
    day : str
        When it was.

    Raises
    ------
    BalanceError
        If one does, or is no number.
    """
    for what, miss in zip(Gaps._fields, misses, strict=True):
        if not miss <= allowed:
            raise BalanceError(what, day, float(miss), allowed)
