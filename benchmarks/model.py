"""How fast the compiled model is, beside its own NumPy reference and beside the machine.

One run measures all, interleaved, in CPU time: ratios travel, nanoseconds do not. The distance is
the kernel's time over the sum of its parts: every addition, multiplication, choice, division and
exponential of a day, counted by running the equations on numbers that count, and every load and
store of a row, each at the speed this machine does it in a loop that does nothing else. Run:
``python -m benchmarks model``. Nothing here is asserted.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from datetime import date
from functools import partial
from statistics import median
from typing import Any, ClassVar

import numpy as np
from numba import njit

from benchmarks._measuring import Row, cpu, medians, the_kernel
from swardbook.model.chance import Chance
from swardbook.model.compiling import Kernel
from swardbook.model.day import step
from swardbook.model.ensemble import run as run_ensemble
from swardbook.model.inputs import Drivers, Operations
from swardbook.model.kernel_text import LANES
from swardbook.model.operations import no_operations, set_sowing
from swardbook.model.parameter_sets import Parameters
from swardbook.model.parameters import draw_parameters, sown_kinds
from swardbook.model.rows import flatten, rows_of, unflatten
from swardbook.model.season import run_reference
from swardbook.model.start import Start, start_state
from swardbook.model.state import Gaps, SwardState
from swardbook.seed.lot import LotPart
from swardbook.weather.series import DailyWeather

PARTS = (
    LotPart("perennial ryegrass", 0.3, germination=0.9, purity=0.98),
    LotPart("chewings fescue", 0.4, germination=0.9, purity=0.98),
    LotPart("strong creeping red fescue", 0.25, germination=0.9, purity=0.98),
    LotPart("browntop bent", 0.05, germination=0.9, purity=0.98),
)
DAYS = 365
TIMES = 7
GOES = 4000


def case(draws: int) -> tuple[SwardState, Parameters, Drivers, Operations]:
    """Make an ensemble and a year to take it through."""
    from swardbook.model.drivers import drivers_from

    rng = np.random.default_rng(1)
    days = np.arange(np.datetime64("2010-09-01"), np.datetime64("2011-09-01"))
    season = np.cos(2 * np.pi * (np.arange(DAYS) + 45) / 365)
    tmin = 6 + 6 * season + rng.normal(0, 3, DAYS)
    weather = DailyWeather(
        days, tmin, tmin + rng.uniform(2, 12, DAYS), rng.gamma(0.3, 6, DAYS),
        np.zeros(DAYS, np.int64),
    )  # fmt: skip
    kinds, chance = sown_kinds(PARTS), Chance(("benchmark",))
    parameters = draw_parameters(kinds, draws, chance)
    work = no_operations(DAYS)
    set_sowing(work, 0, kinds, PARTS, 35.0)
    work.cut[40::7], work.cut_height[40::7], work.boxed[40::14] = 1, 25, 1
    work.verticut_blade[60::21], work.feed[30::45] = 1, 1.5
    drivers = drivers_from(weather, 52.2, 15.0, date(2010, 9, 1), date(2011, 8, 31))
    return start_state(Start(), parameters, chance), parameters, drivers, work


class Counted:
    """A number that counts what is done with it."""

    seen: ClassVar[Counter[str]] = Counter()

    def __init__(self, value: float) -> None:
        self.value = float(value)

    def __neg__(self) -> Any:
        """Count one operation."""
        negative: Any = np.negative
        return negative(self)

    def __array_ufunc__(self, ufunc: Any, _method: str, *given: Any, **_more: Any) -> Any:
        """Count one operation and do it."""
        kind = {"minimum": "choice", "maximum": "choice", "divide": "divide", "exp": "exp"}
        compares = ufunc.__name__ in {"greater", "less"}
        Counted.seen[kind.get(ufunc.__name__, "sum" if not compares else "choice")] += 1
        plain = [each.value if isinstance(each, Counted) else each for each in given]
        return Counted(float(ufunc(*plain)))

    def __array_function__(self, _function: Any, _types: Any, given: Any, _more: Any) -> Any:
        """Count one choice of two and make it."""
        Counted.seen["choice"] += 1
        condition, then, otherwise = given
        return then if condition.value else otherwise


def _through(name: str, turned: bool = False) -> Callable[..., Any]:
    ufunc = getattr(np, name)
    return lambda self, other: ufunc(other, self) if turned else ufunc(self, other)


for method, name in (("add", "add"), ("sub", "subtract"), ("mul", "multiply"),
                     ("truediv", "divide"), ("gt", "greater"), ("lt", "less")):  # fmt: skip
    setattr(Counted, f"__{method}__", _through(name))
    if method not in {"gt", "lt"}:
        setattr(Counted, f"__r{method}__", _through(name, turned=True))


def counted() -> Counter[str]:
    """Count the operations of one draw and day."""
    state, parameters, drivers, work = case(1)
    Counted.seen = Counter()
    one = [Counted(np.ravel(each)[0]) for each in flatten(state)]
    constants = [Counted(np.ravel(each)[0]) for each in flatten(parameters)]
    step(
        unflatten(SwardState, one),
        unflatten(Parameters, constants),
        Drivers(*(Counted(each[200]) for each in drivers)),
        Operations(*(Counted(each[200]) for each in work)),
    )
    return Counted.seen


@njit(error_model="numpy", fastmath={"contract"})
def _sums(rows, times):  # type: ignore[no-untyped-def]
    half = np.float32(0.5)
    for _ in range(times):
        for n in range(len(rows)):
            a = rows[n]
            b = a * half + half
            c = b * a + half
            d = c * b + a
            e = d * c + b
            f = e * d + c
            g = f * e + d
            h = g * f + e
            rows[n] = (h * g + f) * np.float32(1e-9) + half


@njit(error_model="numpy", fastmath={"contract"})
def _choices(rows, times):  # type: ignore[no-untyped-def]
    low, high = np.float32(0.1), np.float32(0.9)
    for _ in range(times):
        for n in range(len(rows)):
            a = rows[n]
            for _k in range(4):
                a = a if a > low else low
                a = (high if a > high else a) + np.float32(0.01)
            rows[n] = a


@njit(error_model="numpy", fastmath={"contract"})
def _divides(rows, times):  # type: ignore[no-untyped-def]
    for _ in range(times):
        for n in range(len(rows)):
            rows[n] = np.float32(1.3) / rows[n]


@njit(error_model="numpy", fastmath={"contract"})
def _loads(rows, times):  # type: ignore[no-untyped-def]
    part = np.uint64(len(rows) // 8)
    for _ in range(times):
        for n in range(part):
            total = rows[n] + rows[n + part]
            total += rows[n + np.uint64(2) * part] + rows[n + np.uint64(3) * part]
            total += rows[n + np.uint64(4) * part] + rows[n + np.uint64(5) * part]
            total += rows[n + np.uint64(6) * part] + rows[n + np.uint64(7) * part]
            rows[n] = total


@njit(error_model="numpy")
def _stores(rows, times):  # type: ignore[no-untyped-def]
    for time in range(times):
        number = np.float32(time)
        for n in range(len(rows)):
            rows[n] = number


def speeds(kernel: Kernel) -> dict[str, float]:
    """Time of each kind of operation on this machine, vectorised [ns]."""
    import sys

    own = sys.modules[f"swardbook_kernel_{kernel.identity}_2"].exp

    @njit(error_model="numpy", fastmath={"contract"})
    def exps(rows, times):  # type: ignore[no-untyped-def]
        for _ in range(times):
            for n in range(len(rows)):
                rows[n] = own(-rows[n])

    parts = {"sum": (_sums, 9), "choice": (_choices, 8), "divide": (_divides, 1), "exp": (exps, 1),
             "store": (_stores, 1)}  # fmt: skip
    found = {}
    for name, (loop, each) in parts.items():
        rows = np.full(2048, 0.6, np.float32)
        loop(rows, 1)
        best = min(cpu(partial(loop, rows, GOES)) for _ in range(TIMES))
        found[name] = best / (GOES * len(rows) * each) * 1e9
    rows = np.full(8 * 512, 0.6, np.float32)
    _loads(rows, 1)
    best = min(cpu(partial(_loads, rows, 4 * GOES)) for _ in range(TIMES))
    adds_and_store = 7 * found["sum"] + found["store"]
    found["load"] = max(0.0, best / (4 * GOES * 512) * 1e9 - adds_and_store) / 8
    return found


def measure(draws: int, kernel: Kernel) -> dict[str, float]:
    """Time reference and kernel on the same ensemble, taken in turn [ns a draw-day]."""
    state, parameters, drivers, work = case(draws)
    took = medians(
        {
            "reference": lambda: run_reference(state, parameters, drivers, work, every=7),
            "kernel": lambda: run_ensemble(state, parameters, drivers, work, kernel=kernel),
        },
        5 if draws < 2000 else 3,
    )
    return {name: each / (draws * DAYS) * 1e9 for name, each in took.items()}


def run() -> list[Row]:
    """Measure."""
    kernel = the_kernel()
    rows = []
    for draws, goal in ((1024, 15.0), (4096, None)):
        took = measure(draws, kernel)
        ratio = took["reference"] / took["kernel"]
        rows.append(
            Row(
                f"compiled model against the same functions on NumPy float64 arrays, {draws} draws",
                f"{ratio:.1f} times faster ({took['reference']:.0f} and {took['kernel']:.0f} ns a"
                " draw-day, laying out and weekly looks included)",
                "at least 15 times, hoped for 30" if goal else "none set",
                ratio >= goal if goal else None,
            )
        )
    return [*rows, *distance(kernel)]


def distance(kernel: Kernel) -> list[Row]:
    """Compare the kernel's time with the sum of its parts."""
    state, parameters, drivers, work = case(LANES)
    rows = [*flatten(state), *flatten(parameters), *np.zeros((4, LANES))]
    block = np.stack([np.broadcast_to(each, LANES) for each in rows]).astype(np.float32).ravel()
    weather = np.stack(list(drivers), -1).astype(np.float32).ravel()
    done = np.stack(list(work), -1).astype(np.float32).ravel()
    seen = np.zeros(25 * LANES * 60, np.float32)
    taken = []
    for _ in range(5 * TIMES):
        lanes = block.copy()
        taken.append(cpu(partial(kernel.of(2), lanes, weather, done, seen, DAYS, 7)))
    alone = median(taken) / (DAYS * LANES) * 1e9
    count, each = counted(), speeds(kernel)
    states, constants, gaps = (len(rows_of(x)) for x in (SwardState, Parameters, Gaps))
    count |= {"load": states + constants + gaps, "store": states + gaps}
    parts = sum(count[name] * each[name] for name in each)
    fused = parts - count["sum"] * each["sum"] / 2
    told = ", ".join(f"{count[name]} {name}s at {each[name]:.3f} ns" for name in each)
    return [
        Row(
            "one block in cache, over the sum of its operations each at its own best speed",
            f"{alone / parts:.2f} times ({alone:.1f} ns a draw-day over {parts:.1f}: {told})",
            "at most 2 times, hoped for 1.25",
            alone / parts <= 2,
        ),
        Row(
            "the same, as if every multiplication were fused with an addition",
            f"{alone / fused:.2f} times ({fused:.1f} ns)",
        ),
    ]


if __name__ == "__main__":
    for row in run():
        print(row)
