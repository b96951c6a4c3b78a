"""What every benchmark is made of: rows of a table, CPU time, goes taken in turn."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from statistics import median
from time import perf_counter, process_time

from swardbook.model.compiling import Kernel, load_kernel

ROOT = Path(__file__).parents[1]
CACHE = Path(os.environ.get("SWARDBOOK_CACHE", ROOT / ".cache" / "swardbook"))


@dataclass(frozen=True, slots=True)
class Row:
    """One metric: what was measured, what it was to be, and whether it is."""

    metric: str
    measured: str
    goal: str = "none set"
    is_met: bool | None = None

    @property
    def verdict(self) -> str:
        """Say in words whether the goal is met."""
        return {None: "reported only", True: "met", False: "not met"}[self.is_met]


@cache
def the_kernel() -> Kernel:
    """Give the compiled model."""
    return load_kernel(CACHE, print)


def cpu(work: Callable[[], object]) -> float:
    """CPU time of one go, all threads together [s]."""
    began = process_time()
    work()
    return process_time() - began


def wall(work: Callable[[], object]) -> float:
    """Time on the clock of one go [s]."""
    began = perf_counter()
    work()
    return perf_counter() - began


def in_turn(
    works: Mapping[str, Callable[[], object]],
    times: int,
    clock: Callable[[Callable[[], object]], float] = cpu,
) -> dict[str, list[float]]:
    """Take each work in turn, so often, after one go each that is not counted [s]."""
    for work in works.values():
        work()
    taken: dict[str, list[float]] = {name: [] for name in works}
    for _ in range(times):
        for name, work in works.items():
            taken[name].append(clock(work))
    return taken


def medians(
    works: Mapping[str, Callable[[], object]],
    times: int,
    clock: Callable[[Callable[[], object]], float] = cpu,
) -> dict[str, float]:
    """Medians of works taken in turn [s]."""
    return {name: median(taken) for name, taken in in_turn(works, times, clock).items()}
