"""How cost grows: with draws, with years, in memory, over threads; and that bits stay the same.

Run: ``python -m benchmarks growth``. Nothing here is asserted.
"""

from __future__ import annotations

import importlib.util
import sys
import tempfile
import tracemalloc
from collections.abc import Callable
from functools import partial
from hashlib import blake2b
from pathlib import Path
from statistics import median
from typing import Any

import numpy as np

from benchmarks._measuring import Row, cpu, in_turn, medians, the_kernel, wall
from benchmarks.model import DAYS, PARTS, case
from swardbook.model.chance import Chance
from swardbook.model.compiling import Kernel
from swardbook.model.inputs import Drivers, Operations
from swardbook.model.kernel_text import LANES, kernel_text
from swardbook.model.members import ONE_THREAD_UP_TO, Members, advance, draw_members
from swardbook.model.parameter_sets import Parameters
from swardbook.model.parameters import sown_kinds
from swardbook.model.rows import rows_of
from swardbook.model.start import Start
from swardbook.model.state import SwardState
from swardbook.model.summaries import summarise

SIZES = {
    128: (64, 1, 5), 16_384: (1, 1, 5), 131_072: (1, 2, 1),
    1_000_000: (1, 15, 1),
}  # fmt: skip
"""Draws, with how many goes at once, in how many parts, how often."""
YEARS = (1, 2, 5, 10, 20)
WEEKS8 = 56
RANGES = {
    "bare": (0.0, 1.0), "sown": (0.0, 1.0), "annual_meadow_grass": (0.0, 1.0),
    "annual_meadow_grass_plants": (0.0, 3000.0), "annual_meadow_grass_heads": (0.0, 3000.0),
    "yorkshire_fog": (0.0, 1.0), "height": (0.0, 120.0), "stress": (0.0, 1.0),
}  # fmt: skip


def first_days(series: Any, days: int) -> Any:
    """Give the first days of drivers or operations, over again if they run out."""
    return type(series)(*(np.resize(each, days) for each in series))


def spread_out(small: Members, draws: int) -> Members:
    """Lay copies of a small ensemble side by side until there are so many draws."""
    blocks = -(-draws // LANES)
    return Members(np.resize(small.blocks, (blocks, *small.blocks.shape[1:])), draws)


def by_draws(small: Members, drivers: Drivers, work: Operations) -> list[Row]:
    """Cost of a draw-day over numbers of draws, each for a year, between goes of a reference.

    The machine's speed drifts while a million draws run, so every part of each size is set
    against goes of 1,024 draws just before and after it.
    """
    kernel = the_kernel()
    weather, done = first_days(drivers, DAYS), first_days(work, DAYS)

    def years(crowd: Members, goes: int) -> float:
        """Run a year so often, each time on fresh draws if there are several [s a draw]."""

        def go() -> None:
            for _ in range(goes):
                fresh = Members(crowd.blocks.copy(), crowd.draws) if goes > 1 else crowd
                advance(fresh, weather, done, kernel=kernel)

        return cpu(go) / (goes * crowd.draws)

    def reference() -> float:
        return years(spread_out(small, 1024), 8)

    def beside(size: int, goes: int, parts: int, times: int) -> float:
        crowd, found = spread_out(small, size), []
        for _ in range(times):
            before = reference()
            for blocks in np.array_split(crowd.blocks, parts):
                draws = len(blocks) * LANES if parts > 1 else size
                here = years(Members(blocks, draws), goes)
                after = reference()
                found.append(2 * here / (before + after))
                before = after
        return median(found)

    reference()
    cost = {1024: 1.0} | {size: beside(size, *how) for size, how in SIZES.items()}
    few = beside(100, 64, 1, 5)
    ratio = max(cost.values()) / min(cost.values())
    told = ", ".join(f"{size:,}: {each:.2f}" for size, each in cost.items())
    return [
        Row(
            "dearest over cheapest draw-day, 128 to 1,000,000 draws, whole blocks of 64",
            f"{ratio:.2f} times (a draw's year over that of 1,024 draws beside it: {told})",
            "at most 1.2 times",
            ratio <= 1.2,
        ),
        Row(
            "a draw-day of 100 draws over one of 1,024",
            f"{few:.2f} times (100 draws lie in 128 places, all of which are run)",
        ),
    ]


def by_years(small: Members, drivers: Drivers, work: Operations) -> Row:
    """Cost of a draw-day over numbers of years, 1,024 draws, between goes of a reference."""
    kernel, longest = the_kernel(), max(YEARS)

    def each(years: int) -> float:
        """Run twenty years in all, so many at a go [s a year]."""
        weather, done = first_days(drivers, DAYS * years), first_days(work, DAYS * years)
        crowds = [Members(small.blocks.copy(), small.draws) for _ in range(longest // years)]

        def go() -> None:
            for one in crowds:
                advance(one, weather, done, kernel=kernel)

        return cpu(go) / longest

    def beside(years: int) -> float:
        before, here, after = each(1), each(years), each(1)
        return 2 * here / (before + after)

    each(1)
    cost = {1: 1.0} | {years: median(beside(years) for _ in range(5)) for years in YEARS[1:]}
    ratio = max(cost.values()) / min(cost.values())
    told = ", ".join(f"{years}: {each:.2f}" for years, each in cost.items())
    return Row(
        "dearest over cheapest draw-day, 1 to 20 years",
        f"{ratio:.2f} times (over that of single years run beside it, by years: {told})",
        "at most 1.2 times",
        ratio <= 1.2,
    )


def memory(drivers: Drivers, work: Operations) -> Row:
    """Peak of all memory from drawing to summaries, slope over draws."""
    kernel, kinds = the_kernel(), sown_kinds(PARTS)
    weather, done = first_days(drivers, WEEKS8), first_days(work, WEEKS8)

    def peaks(draws: int) -> tuple[int, int]:
        """Peak while drawing, and from then on."""
        tracemalloc.start()
        crowd = draw_members(kinds, draws, Chance(("memory",)), Start())
        drawing = tracemalloc.get_traced_memory()[1]
        tracemalloc.reset_peak()
        summarise(crowd, weather, done, RANGES, kernel=kernel)
        running = tracemalloc.get_traced_memory()[1]
        tracemalloc.stop()
        return drawing, running

    peaks(LANES)
    low, high = 65_536, 196_608
    pairs = zip(peaks(low), peaks(high), strict=True)
    slope = max((more - fewer) / (high - low) for fewer, more in pairs)
    numbers = len(rows_of(SwardState)) + len(rows_of(Parameters))
    ratio = slope / (4 * numbers)
    return Row(
        "memory a draw, from drawing to weekly quantiles and daily histograms of eight outputs",
        f"{slope:.0f} bytes, {ratio:.2f} times 4 bytes for each of {numbers} states and constants"
        " (steeper slope of the two peaks, 65,536 to 196,608 draws; nothing a day)",
        "at most 1.1 times",
        ratio <= 1.1,
    )


def sums(small: Members, drivers: Drivers, work: Operations) -> list[Row]:
    """Weekly exact quantiles and daily histograms, over the bare run."""
    kernel = the_kernel()
    crowd, weather, done = spread_out(small, 4096), first_days(drivers, 364), first_days(work, 364)
    weights = np.linspace(0.1, 1.0, crowd.draws)

    def summed(given: Any) -> None:
        again = Members(crowd.blocks.copy(), crowd.draws)
        summarise(again, weather, done, RANGES, kernel=kernel, weights=given)

    took = medians(
        {
            "bare": lambda: advance(
                Members(crowd.blocks.copy(), crowd.draws), weather, done, kernel=kernel
            ),
            "alike": lambda: summed(None),
            "weighted": lambda: summed(weights),
        },
        5,
    )
    name = "run with weekly exact quantiles and daily histograms of eight outputs over the bare run"
    return [
        Row(
            f"{name}, {words}",
            f"{took[key] / took['bare']:.2f} times (4,096 draws, 52 weeks)",
            "at most 1.6 times",
            took[key] <= 1.6 * took["bare"],
        )
        for key, words in (("alike", "draws counting alike"), ("weighted", "weighted draws"))
    ]


def with_fastmath(flags: str) -> Kernel:
    """Compile the same text with other freedoms of rounding."""
    text = kernel_text().replace('fastmath={"contract"}', f"fastmath={flags}")
    text = text.replace("cache=True, ", "")
    name = f"benchmark_kernel_{abs(hash(flags))}"
    path = Path(tempfile.mkdtemp()) / f"{name}.py"
    path.write_text(text, encoding="utf-8")
    spec = importlib.util.spec_from_file_location(name, path)
    assert spec is not None
    assert spec.loader is not None
    module: Any = importlib.util.module_from_spec(spec)
    sys.modules[name] = module
    spec.loader.exec_module(module)
    return Kernel(lambda _: module.run_block, name)


def same_bits(small: Members, drivers: Drivers, work: Operations) -> list[Row]:
    """Fingerprints of runs shared out in several ways, and what the sameness costs."""
    kernel = the_kernel()

    def bits(**how: Any) -> str:
        crowd = Members(small.blocks.copy(), small.draws)
        advance(crowd, drivers, work, kernel=kernel, **how)
        return blake2b(crowd.blocks.tobytes(), digest_size=8).hexdigest()

    def resumed() -> str:
        crowd = Members(small.blocks.copy(), small.draws)
        for part in (slice(0, 100), slice(100, 207), slice(207, None)):
            weather = Drivers(*(each[part] for each in drivers))
            done = Operations(*(each[part] for each in work))
            advance(crowd, weather, done, kernel=kernel)
        return blake2b(crowd.blocks.tobytes(), digest_size=8).hexdigest()

    ways = [bits(), bits(threads=2), bits(chunk=1), bits(threads=2, chunk=7), resumed()]
    kernels = {"kept": kernel, "free": with_fastmath("True"), "strict": with_fastmath("False")}

    def go(with_kernel: Kernel) -> None:
        crowd = Members(small.blocks.copy(), small.draws)
        advance(crowd, drivers, work, kernel=with_kernel)

    took = medians({name: partial(go, each) for name, each in kernels.items()}, 7)
    cost = took["kept"] / took["free"]
    return [
        Row(
            "fingerprints of all draws after a year: one and two threads, chunks of 1, 7 and all,"
            " taken up again twice",
            f"{len(set(ways))} different of {len(ways)}",
            "all the same",
            len(set(ways)) == 1,
        ),
        Row(
            "time of the kernel as it is over one that may reorder sums",
            f"{cost:.2f} times (without even fusing: {took['strict'] / took['free']:.2f})",
            "at most 1.1 times",
            cost <= 1.1,
        ),
    ]


def threads(small: Members, drivers: Drivers, work: Operations) -> list[Row]:
    """Two threads against one: on a long job, and at worst."""
    kernel = the_kernel()

    def job(draws: int, days: int, number: int) -> Callable[[], object]:
        crowd = spread_out(small, draws)
        weather, done = first_days(drivers, days), first_days(work, days)
        return lambda: advance(crowd, weather, done, kernel=kernel, threads=number)

    taken = in_turn({"one": job(16_384, DAYS, 1), "two": job(16_384, DAYS, 2)}, 7, wall)
    pairs = [one / two for one, two in zip(taken["one"], taken["two"], strict=True)]
    worst = {}
    for draws in (64, 256, 1024, 4096):
        for days in (7, 60, 365):
            if draws * days <= ONE_THREAD_UP_TO:
                continue  # One thread runs these whatever is asked for: the ratio is 1.
            pair = in_turn({"one": job(draws, days, 1), "two": job(draws, days, 2)}, 9, wall)
            # The best of each: other work on the machine holds up some goes of a few ms.
            worst[f"{draws} draws, {days} days"] = min(pair["two"]) / min(pair["one"])
    slowest = max(worst, key=lambda name: worst[name])
    return [
        Row(
            "one thread over two, 16,384 draws for a year, on the clock",
            f"best of seven pairs {max(pairs):.2f} times, median {median(pairs):.2f}",
            "at least 1.5 times in the best pair",
            max(pairs) >= 1.5,
        ),
        Row(
            f"two threads over one at worst, jobs above {ONE_THREAD_UP_TO:,} draw-days, up to 4,096"
            " draws and 365 days, best of nine each (below it one thread runs all)",
            f"{worst[slowest]:.2f} times ({slowest})",
            "at most 1.2 times",
            worst[slowest] <= 1.2,
        ),
    ]


def run() -> list[Row]:
    """Measure."""
    state, parameters, drivers, work = case(1024)
    small = Members.of(state, parameters)
    return [
        *by_draws(small, drivers, work),
        by_years(small, drivers, work),
        memory(drivers, work),
        *sums(small, drivers, work),
        *same_bits(small, drivers, work),
        *threads(small, drivers, work),
    ]
