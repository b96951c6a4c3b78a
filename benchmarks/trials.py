"""Trials: eighty analyses with every pair, and ranks with blocks drawn again.

Run: ``python -m benchmarks trials``. Nothing here is asserted.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
import pandas as pd
import statsmodels.formula.api as smf
from scipy.stats import studentized_range
from statsmodels.stats.anova import anova_lm

from benchmarks._measuring import Row, medians
from swardbook.trials.analysis import analyse_many
from swardbook.trials.chances import ranks_again
from swardbook.trials.pairs import all_pairs_of
from swardbook.trials.plots import Array, Factor

MIXTURES, BLOCKS, DATES, TRAITS = 12, 4, 10, 8
DRAWS = 10_000


def made() -> tuple[Array, Factor, Factor]:
    """Draw a trial: twelve mixtures in four blocks, eight traits on ten dates."""
    chance = np.random.Generator(np.random.Philox(key=5))
    plots = MIXTURES * BLOCKS
    entry = Factor.of("mixture", [f"m{n % MIXTURES}" for n in range(plots)])
    block = Factor.of("block", [f"b{n // MIXTURES}" for n in range(plots)])
    figures = chance.normal(size=(plots, DATES * TRAITS)) + 0.4 * entry.codes[:, None]
    return figures + block.codes[:, None], entry, block


@lru_cache(maxsize=100_000)
def one_p(q: float, means: int, df: int) -> float:
    """SciPy's studentised range, never asked twice for one value."""
    return float(studentized_range.sf(q, means, df))


def the_others(figures: Array, entry: Factor, block: Factor) -> list[Array]:
    """Do the eighty with statsmodels, the pairs by SciPy's range kept in a cache."""
    table = pd.DataFrame({"entry": entry.codes, "block": block.codes, "y": 0.0})
    found = []
    for values in figures.T:
        table["y"] = values
        fitted = smf.ols("y ~ C(block) + C(entry)", table).fit()
        anova_lm(fitted)
        means = values.reshape(BLOCKS, MIXTURES).mean(axis=0)
        error = np.sqrt(fitted.mse_resid / BLOCKS)
        p = np.ones((MIXTURES, MIXTURES))
        for one in range(MIXTURES):
            for two in range(one):
                q = round(abs(means[one] - means[two]) / error, 9)
                p[one, two] = p[two, one] = one_p(q, MIXTURES, int(fitted.df_resid))
        found.append(p)
    return found


def ours(figures: Array, entry: Factor, block: Factor) -> list[Array]:
    """Do the eighty with every pair."""
    made = analyse_many(figures, entry, block)
    return [pairs.p for pairs in all_pairs_of([each.means for each in made])]


def ranks_by_loop(figures: Array, draws: int) -> Array:
    """Draw blocks again one draw at a time, as one would write it with NumPy."""
    chance = np.random.default_rng(1)
    blocks, mixtures, traits = figures.shape
    shares = np.zeros((traits, mixtures, mixtures))
    for _ in range(draws):
        drawn = figures[chance.integers(0, blocks, blocks)].mean(axis=0)
        ranks = drawn.argsort(axis=0).argsort(axis=0)
        for trait in range(traits):
            shares[trait, np.arange(mixtures), ranks[:, trait]] += 1
    return shares / draws


def analyses() -> list[Row]:
    """Eighty analyses against statsmodels, its ranges in a cache before it starts."""
    figures, entry, block = made()
    theirs, own = the_others(figures, entry, block), ours(figures, entry, block)
    off = max(float(np.abs(a - b).max()) for a, b in zip(theirs, own, strict=True))
    took = medians(
        {
            "others": lambda: the_others(figures, entry, block),
            "ours": lambda: ours(figures, entry, block),
        },
        3,
    )
    ratio = took["others"] / took["ours"]
    return [
        Row(
            "80 analyses of 12 mixtures in 4 blocks with all 66 pairs: statsmodels (OLS, anova_lm)"
            " over ours, SciPy's studentised range from a cache",
            f"{ratio:.0f} times ({1000 * took['others']:.0f} over {1000 * took['ours']:.0f} ms;"
            f" chances differ by {off:.0e} at most)",
            "at least 30 times",
            ratio >= 30,
        )
    ]


def resamples() -> list[Row]:
    """Ten thousand draws of the blocks, eight traits."""
    figures, _, _ = made()
    cube = figures.reshape(BLOCKS, MIXTURES, -1)[:, :, :TRAITS]
    loop, drawn = ranks_by_loop(cube, 2000), ranks_again(cube, DRAWS, exact=False)
    off = float(np.abs(loop - drawn.shares).max())
    took = medians(
        {
            "loop": lambda: ranks_by_loop(cube, DRAWS),
            "drawn": lambda: ranks_again(cube, DRAWS, exact=False),
            "exact": lambda: ranks_again(cube, DRAWS),
        },
        3,
    )
    ratio, exact = took["loop"] / took["drawn"], took["loop"] / took["exact"]
    return [
        Row(
            "10,000 rank resamples of 8 traits: a NumPy loop over ours",
            f"{ratio:.0f} times ({1000 * took['loop']:.0f} over {1000 * took['drawn']:.1f} ms;"
            f" shares differ by {off:.2f} at most); all {drawn.distinct} ways of drawing 4 blocks"
            f" weighed once: {exact:.0f} times",
            "at least 100 times",
            ratio >= 100,
        )
    ]


def run() -> list[Row]:
    """Measure."""
    return [*analyses(), *resamples()]
