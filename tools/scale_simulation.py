"""A night at a size nobody has here: drivers, one scheduler and many workers, event by event.

Each lawn is taken out of its book by a driver, passed on by the scheduler, worked out by the first
free worker, passed back, and written by its driver. A driver and the scheduler do one thing at a
time. What each step takes was measured; only its repetition is simulated.
"""

from __future__ import annotations

import heapq
import random
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Night:
    """What is simulated.

    Parameters
    ----------
    lawns, workers, drivers : int
        How many.
    work_s : sequence of float
        Times of a worker for one lawn, drawn from. [s]
    scheduler_s : float
        Time of the scheduler for one task, there and back together. [s]
    out_s, in_s : float
        Times of a driver for taking a lawn out of its book, and for writing what was found. [s]
    ahead : int
        Tasks under way for each worker.
    seed : int
        Of the draws.
    """

    lawns: int
    workers: int
    drivers: int
    work_s: Sequence[float]
    scheduler_s: float
    out_s: float
    in_s: float
    ahead: int = 3
    seed: int = 1


@dataclass(frozen=True, slots=True)
class Simulated:
    """What came of it.

    Parameters
    ----------
    seconds : float
        How long the night took. [s]
    efficiency : float
        Time of work over the time that all workers were there. [-]
    scheduler_busy, drivers_busy : float
        Shares of the night in which they were busy. [-]
    """

    seconds: float
    efficiency: float
    scheduler_busy: float
    drivers_busy: float


def simulate(night: Night) -> Simulated:
    """Go through a night event by event."""
    chance = random.Random(night.seed)
    drivers, scheduler = [0.0] * night.drivers, 0.0
    busy = worked = scheduled = 0.0
    free = [0.0] * night.workers
    back: list[tuple[float, int]] = []
    under_way, sent, done, now = 0, 0, 0, 0.0
    room = night.ahead * night.workers
    while done < night.lawns:
        driver = min(range(night.drivers), key=drivers.__getitem__)
        may_send = sent < night.lawns and under_way < room
        if may_send and (not back or drivers[driver] <= max(back[0][0], drivers[back[0][1]])):
            drivers[driver] += night.out_s
            busy += night.out_s
            scheduler = max(scheduler, drivers[driver]) + night.scheduler_s / 2
            took = chance.choice(night.work_s)
            begun = max(heapq.heappop(free), scheduler)
            heapq.heappush(free, begun + took)
            heapq.heappush(back, (begun + took, driver))
            worked, scheduled = worked + took, scheduled + night.scheduler_s
            sent, under_way = sent + 1, under_way + 1
        else:
            at, driver = heapq.heappop(back)
            drivers[driver] = max(drivers[driver], at + night.scheduler_s / 2) + night.in_s
            busy += night.in_s
            now = max(now, drivers[driver])
            done, under_way = done + 1, under_way - 1
    return Simulated(
        now, worked / (now * night.workers), scheduled / now, busy / (now * night.drivers)
    )
