"""How often trials mislead, and how often they find what is there: `python -m tools.trial_runs`.

Two thousand trials in which nothing differs, for each analysis: it may call a difference in one of
twenty, no more and not far fewer. Two thousand other seeds of the made-up trial: two mixtures that
are truly alike may be told apart in one of twenty at most, and mixtures that differ must be found
as often as was promised before sowing. The page `docs/reference/trial-error-rates.md` is written
from one run. It takes some half an hour on a quiet core, in parts of a hundred trials: a run that
was broken off goes on where it was, unless the code has changed meanwhile.
"""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Callable
from functools import partial
from hashlib import sha256
from math import sqrt
from pathlib import Path
from typing import Any

import numpy as np

from swardbook.trials.analysis import analyse
from swardbook.trials.pairs import all_pairs, planned_p
from swardbook.trials.plots import PlotTable
from swardbook.trials.power import chance_any, chance_pair
from tools.trial_cases import CASES, TIMES, Found, plan
from tools.trial_runs_page import Rate, page
from tools.trial_seeds import LEVEL, SeedSums, count_seeds

ROOT = Path(__file__).parents[1]
PAGE = ROOT / "docs" / "reference" / "trial-error-rates.md"
STATE = ROOT / "build" / "trial-runs.json"
CODE = ("swardbook.trials.", "swardbook.demo.trial_generator", "tools.trial_cases",
        "tools.trial_seeds")  # fmt: skip
TRIALS = 2000
PART = 100
"""Trials of one part."""
Tell = Callable[[str], None]


class Parts:
    """The parts that are done, in a file.

    Parameters
    ----------
    path : Path or None
        The file; None keeps nothing.
    code : tuple of str
        Beginnings of the names of the modules that they rest on.
    """

    def __init__(self, path: Path | None, code: tuple[str, ...] = CODE) -> None:
        self.path = path
        self.code = code_sum(code)
        self.done: dict[str, Any] = {}
        if path is not None and path.exists():
            held = json.loads(path.read_text(encoding="utf-8"))
            if held["code"] == self.code:
                self.done = held["done"]

    def get(self, name: str, work: Callable[[], Any]) -> Any:
        """Give a part, doing it first where it is not done."""
        if name not in self.done:
            self.done[name] = work()
            if self.path is not None:
                self.path.parent.mkdir(parents=True, exist_ok=True)
                new = self.path.with_suffix(".new")
                told = json.dumps({"code": self.code, "done": self.done})
                new.write_text(told, encoding="utf-8")
                new.replace(self.path)
        return self.done[name]


def code_sum(code: tuple[str, ...] = CODE) -> str:
    """Give a sum over the code that a run rests on: the modules it has taken in."""
    found = sha256(Path(__file__).read_bytes())
    for name in sorted(sys.modules):
        place = sys.modules[name].__file__ if name.startswith(code) else None
        if place is not None:
            found.update(Path(place).read_bytes())
    return found.hexdigest()


def sizes(trials: int) -> list[int]:
    """Give the sizes of the parts of so many trials."""
    whole, rest = divmod(trials, PART)
    return [PART] * whole + ([rest] if rest else [])


def null_rates(trials: int, tell: Tell, parts: Parts) -> list[Rate]:
    """Run trials in which nothing differs, each case one row of draws over all its parts."""
    rates = []
    for number, (key, case) in enumerate(CASES.items()):
        counted: dict[str, int] = {}
        chance = np.random.Philox(key=4000 + number)
        many = trials * TIMES.get(key, 1)
        for at, size in enumerate(sizes(many)):
            own = parts.get(f"{key} {at} {size}", partial(_part, case, chance, size))
            chance.state = _state_of(own["chance"])
            counted = {name: counted.get(name, 0) + found for name, found in own["found"].items()}
        tell(f"{key}: {', '.join(f'{n} {c / many:.3f}' for n, c in counted.items())}")
        rates += [Rate(name, count, many) for name, count in counted.items()]
    return rates


def _part(
    case: Callable[[np.random.Generator], Found], chance: np.random.Philox, size: int
) -> dict[str, Any]:
    """Count what is found in some trials, and keep where the draws then stand."""
    found: dict[str, int] = {}
    for _ in range(size):
        for name, p in case(np.random.Generator(chance)).items():
            found[name] = found.get(name, 0) + bool(p <= LEVEL)
    return {"found": found, "chance": json.loads(json.dumps(chance.state, default=_listed))}


def _listed(held: Any) -> Any:
    return [int(each) for each in held]


def _state_of(held: dict[str, Any]) -> Any:
    state = {name: np.array(each, dtype=np.uint64) for name, each in held["state"].items()}
    return {**held, "state": state, "buffer": np.array(held["buffer"], dtype=np.uint64)}


def promised_rates(trials: int) -> list[tuple[str, float, float, int]]:
    """Draw trials as set-out supposes them: how often gaps are found, and what was promised."""
    entry, block, names = plan(10, 4)
    chance = np.random.Generator(np.random.Philox(key=4100))
    sd = 6.3
    rows: list[tuple[str, float, float, int]] = []
    for gap in (5.0, 11.0, 16.0, 24.0):
        pair = any_pair = 0
        for _ in range(trials):
            values = sd * chance.normal(size=40) + 10 * chance.normal(size=4)[block.codes]
            values += gap * (entry.codes == 1)
            means = analyse(PlotTable(names, entry, values, block)).means
            pair += planned_p(means)[0, 1] < LEVEL
            any_pair += all_pairs(means).p[0, 1] < LEVEL
        sed = sd * sqrt(2 / 4)
        rows += [
            (f"a planned pair {gap:g} apart", pair / trials, chance_pair(gap, sed, 27), trials),
            (f"any pair, {gap:g} apart", any_pair / trials, chance_any(gap, sed, 27, 10), trials),
        ]
    return rows


def seeds_of_the_trial(trials: int, tell: Tell, parts: Parts) -> SeedSums:
    """Count how often each pair of the made-up trial is told apart over other seeds."""
    whole: SeedSums | None = None

    def part(first: int, size: int) -> dict[str, Any]:
        return _kept(count_seeds(range(first, first + size)))

    for at, size in enumerate(sizes(trials)):
        first = 1 + at * PART
        one = _read(parts.get(f"seeds {first} {size}", partial(part, first, size)))
        whole = one if whole is None else whole.plus(one)
        tell(f"{first + size - 1} of {trials} seeds")
    if whole is None:
        raise ValueError("no seeds")
    return whole


_ARRAYS = ("planned", "any_pair", "means", "weights")


def _kept(sums: SeedSums) -> dict[str, Any]:
    return {
        **{name: getattr(sums, name).tolist() for name in _ARRAYS},
        **{name: getattr(sums, name) for name in ("seeds", "ms", "angular", "counting")},
    }


def _read(held: dict[str, Any]) -> SeedSums:
    planned, any_pair, means, weights = (np.array(held[name]) for name in _ARRAYS)
    return SeedSums(held["seeds"], planned, any_pair, means, weights, held["ms"], held["angular"],
                    held["counting"])  # fmt: skip


def main() -> None:
    """Run, and write the page."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--trials", type=int, default=TRIALS)
    parser.add_argument("--page", type=Path, default=PAGE)
    parser.add_argument("--state", type=Path, default=STATE, help="where done parts are kept")
    asked = parser.parse_args()
    tell = partial(print, flush=True)
    parts = Parts(asked.state)
    rates = null_rates(asked.trials, tell, parts)
    sums = seeds_of_the_trial(asked.trials, tell, parts)
    promises = [
        (str(name), float(found), float(promised), int(number))
        for name, found, promised, number in parts.get(
            f"promises {asked.trials}", lambda: promised_rates(asked.trials)
        )
    ]
    asked.page.write_text(page(rates, promises, sums, asked.trials), encoding="utf-8")
    print(f"Written: {asked.page}")


if __name__ == "__main__":
    main()
