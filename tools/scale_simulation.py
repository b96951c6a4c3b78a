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
    ahead: int = 8
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
    drivers, scheduler = [(0.0, n) for n in range(night.drivers)], 0.0
    busy = worked = scheduled = now = 0.0
    free = [0.0] * night.workers
    back: list[tuple[float, int]] = []  # done by a worker, not yet passed on
    here: list[list[float]] = [[] for _ in drivers]  # passed on to its driver
    under_way, sent, done = 0, 0, 0
    while done < night.lawns:
        at, driver = heapq.heappop(drivers)
        while back and back[0][0] <= at:
            ready, whose = heapq.heappop(back)
            scheduler = max(scheduler, ready) + night.scheduler_s / 2
            heapq.heappush(here[whose], scheduler)
        if here[driver] and here[driver][0] <= at:
            heapq.heappop(here[driver])
            at, busy, now = at + night.in_s, busy + night.in_s, max(now, at + night.in_s)
            done, under_way = done + 1, under_way - 1
        elif sent < night.lawns and under_way < night.ahead * night.workers:
            at, busy = at + night.out_s, busy + night.out_s
            scheduler = max(scheduler, at) + night.scheduler_s / 2
            took = chance.choice(night.work_s)
            ended = max(heapq.heappop(free), scheduler) + took
            heapq.heappush(free, ended)
            heapq.heappush(back, (ended, driver))
            worked, scheduled = worked + took, scheduled + night.scheduler_s
            sent, under_way = sent + 1, under_way + 1
        else:
            waits = [each[0] for each in (here[driver], [one for one, _ in back[:1]]) if each]
            at = max(at + 1e-4, min(waits, default=at + 1e-2))
        heapq.heappush(drivers, (at, driver))
    return Simulated(
        now, worked / (now * night.workers), scheduled / now, busy / (now * night.drivers)
    )
