"""The made-up trial with other luck: how often each pair is told apart, and what was promised."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from swardbook.demo.trial_generator import AMG, COLUMNS, POINTS, draw_trial
from swardbook.trials.analysis import analyse
from swardbook.trials.means import Means
from swardbook.trials.pairs import all_pairs, planned_p
from swardbook.trials.plots import Array, Factor, PlotTable
from swardbook.trials.shares import SharePair, ShareSpread, angle_of, by_level

LEVEL = 0.05
FRAMES = 4
NAMES = tuple(AMG)
DF = 25


@dataclass(frozen=True, slots=True)
class PairRate:
    """A pair of the made-up trial over many seeds."""

    one: str
    two: str
    gap: float
    planned: float
    any_pair: float
    promised: float
    promised_any: float


@dataclass(frozen=True, slots=True)
class SeedSums:
    """Sums over seeds of the made-up trial.

    Parameters
    ----------
    seeds : int
        How many.
    planned, any_pair : array
        How often a pair was told apart; a row and a column a mixture. [-]
    means : array
        Sum of the adjusted means. [%]
    weights : array
        Sum of the variances of a difference over that of a plot. [-]
    ms, angular : float
        Sum of the error mean squares of shares and of angles. [points², rad²]
    counting : float
        Sum of the variances by counting points, over p (1 - p), as frames show them. [-]
    """

    seeds: int
    planned: Array
    any_pair: Array
    means: Array
    weights: Array
    ms: float
    angular: float
    counting: float

    def plus(self, other: SeedSums) -> SeedSums:
        """Add two runs."""
        return SeedSums(
            self.seeds + other.seeds, self.planned + other.planned,
            self.any_pair + other.any_pair, self.means + other.means,
            self.weights + other.weights, self.ms + other.ms, self.angular + other.angular,
            self.counting + other.counting,
        )  # fmt: skip


def last_count(seed: int) -> tuple[PlotTable, Array]:
    """Draw the made-up trial: its last count, less plots mis-sown or spoilt, and its frames."""
    trial = draw_trial(seed)
    amg = COLUMNS.index("amg")
    frames: dict[tuple[int, int], list[int]] = {}
    for row in trial.rows:
        place = (row.block, row.plot)
        if row.occasion == 5 and place not in (trial.mis_sown, trial.spoiled):
            frames.setdefault(place, []).append(row.hits[amg])
    hits = np.array(list(frames.values()), dtype=np.float64)
    table = PlotTable(
        tuple(f"{b}-{n}" for b, n in frames),
        Factor.of("mixture", [trial.plan[place] for place in frames]),
        100 * hits.mean(axis=1) / POINTS, Factor.of("block", [b for b, _ in frames]),
    )  # fmt: skip
    return table, hits / POINTS


def count_seeds(seeds: Iterable[int]) -> SeedSums:
    """Analyse the last count of the made-up trial of each seed, as the book does."""
    whole: SeedSums | None = None
    for seed in seeds:
        one = _one(seed)
        whole = one if whole is None else whole.plus(one)
    if whole is None:
        raise ValueError("no seeds")
    return whole


def _one(seed: int) -> SeedSums:
    table, frames = last_count(seed)
    points = float(FRAMES * POINTS)
    made = analyse(table)
    angles = PlotTable(table.names, table.entry, angle_of(table.values / 100, points), table.block)
    angular = analyse(angles)
    means: Means = by_level(made.means, angular.means, points)
    order = [means.place(name) for name in NAMES]
    at = np.ix_(order, order)
    by_frames = frames.var(axis=1, ddof=1) / FRAMES
    share = frames.mean(axis=1)
    return SeedSums(
        1, (planned_p(means)[at] < LEVEL).astype(float),
        (all_pairs(means).p[at] < LEVEL).astype(float), means.values[order],
        angular.means.errors[at] ** 2 / angular.error.ms, made.error.ms, angular.error.ms,
        float(by_frames.sum() / (share * (1 - share) + by_frames).sum()),
    )  # fmt: skip


def supposed(sums: SeedSums) -> tuple[Array, ShareSpread]:
    """Give what a set-out would have supposed had it known: levels, and how plots spread."""
    levels = sums.means / sums.seeds / 100
    level = float(levels.mean())
    counting = sums.counting / sums.seeds
    ground = (4 * sums.angular / sums.seeds - counting) / (level * (1 - level))
    return levels, ShareSpread(counting, ground, level)


def pair_rates(sums: SeedSums) -> list[PairRate]:
    """Set what was found beside what would have been promised, pair by pair."""
    levels, spread = supposed(sums)
    found = []
    for one, two in combinations(range(len(NAMES)), 2):
        low, high = sorted((float(levels[one]), float(levels[two])))
        weight = float(sums.weights[one, two] / sums.seeds)
        pair = SharePair(low, high, spread, weight, DF, FRAMES * POINTS)
        found.append(
            PairRate(
                NAMES[one], NAMES[two], 100 * (high - low), sums.planned[one, two] / sums.seeds,
                sums.any_pair[one, two] / sums.seeds, pair.chance(), pair.chance(len(NAMES)),
            )
        )  # fmt: skip
    return found


def alike_at(sums: SeedSums, level: float) -> float:
    """Give how often a pair truly alike at a level is promised to be told apart [-]."""
    _, spread = supposed(sums)
    return SharePair(level, level, spread, 2 / 4, DF, FRAMES * POINTS).chance()
