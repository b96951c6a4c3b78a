"""How likely each mixture is the best, given what the plots said; and blocks drawn again."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations_with_replacement
from math import comb, factorial

import numpy as np

from swardbook.foundation.errors import OutOfRangeError
from swardbook.trials.means import Means
from swardbook.trials.plots import Array


@dataclass(frozen=True, slots=True)
class Chance:
    """One mixture's chances.

    Parameters
    ----------
    name : str
        The mixture.
    best : float
        Chance that its true mean is the best. [-]
    among_best : float
        Chance that it is among the best few. [-]
    """

    name: str
    best: float
    among_best: float


def draw_means(means: Means, draws: int, seed: int) -> Array:
    """Draw what the true means may be: a row a draw, a column a mean [unit of the figures].

    Under a flat prior they follow Student's t with the error's degrees of freedom: Box, G. E. P.
    and Tiao, G. C., 1973, Bayesian Inference in Statistical Analysis, section 2.7.
    """
    source = np.random.Generator(np.random.Philox(key=seed))
    off = ~np.eye(means.count, dtype=bool)
    df = float(np.median(means.df[off]))
    plain = source.standard_normal((draws, means.count)) @ root_of(means.covariance).T
    scale = np.sqrt(df / source.chisquare(df, draws)) if np.isfinite(df) else np.ones(draws)
    return np.asarray(means.values + plain * scale[:, None])


def root_of(covariance: Array) -> Array:
    """Give a square root of a covariance that may lack rank [unit of the figures]."""
    values, vectors = np.linalg.eigh(covariance)
    return np.asarray(vectors * np.sqrt(np.maximum(values, 0.0)))


def best_chances(
    means: Means, lower_first: bool, few: int = 3, draws: int = 20_000, seed: int = 1,
    wider: float = 1.0,
) -> tuple[Chance, ...]:  # fmt: skip
    """Give each mixture's chance of being best and among the best.

    Parameters
    ----------
    means : Means
        The adjusted means of what could be chosen; without the control.
    lower_first : bool
        Whether less is better, as of weeds.
    few : int
        How many count as among the best.
    draws, seed : int
        Draws of the true means, and their seed.
    wider : float
        How much further truths may lie from the means than their error says: the gap that any pair
        needs over that of a pair named beforehand. The chance then allows for all pairs as verdicts
        do, and is near one only where the verdict is clear. [-]
    """
    drawn = means.values + wider * (draw_means(means, draws, seed) - means.values)
    drawn = drawn * (1 if lower_first else -1)
    places = drawn.argsort(axis=1).argsort(axis=1)
    return tuple(
        Chance(name, float((places[:, at] == 0).mean()), float((places[:, at] < few).mean()))
        for at, name in enumerate(means.names)
    )


@dataclass(frozen=True, slots=True)
class RanksAgain:
    """Ranks with whole blocks drawn again.

    Parameters
    ----------
    shares : array
        Share of draws in which each mixture (row of each trait) has each rank, from the lowest
        mean; traits, mixtures, ranks. [-]
    distinct : int
        How many ways of drawing the blocks there are; with few blocks, few.
    is_exact : bool
        Whether every way was weighed by its chance, rather than drawn.
    """

    shares: Array
    distinct: int
    is_exact: bool


def ranks_again(
    figures: Array, draws: int = 10_000, seed: int = 1, exact: bool = True
) -> RanksAgain:
    """Draw whole blocks again and again, and rank the mixtures each time.

    Parameters
    ----------
    figures : array
        Blocks, mixtures, traits; complete. [a unit a trait]
    draws, seed : int
        How many draws, and their seed.
    exact : bool
        Whether to weigh every way of drawing once, where there are fewer ways than draws.

    Raises
    ------
    OutOfRangeError
        If there are fewer than two blocks, or figures are missing.

    Notes
    -----
    Of b blocks there are only C(2b - 1, b) ways, 35 of four: such a spread says little.
    """
    blocks, mixtures, traits = figures.shape
    if blocks < 2 or np.isnan(figures).any():
        raise OutOfRangeError("blocks", blocks, "at least 2, without missing figures", "")
    distinct = comb(2 * blocks - 1, blocks)
    is_exact = exact and distinct <= draws
    if is_exact:
        times, weights = every_draw(blocks)
    else:
        source = np.random.Generator(np.random.Philox(key=seed))
        drawn = source.multinomial(blocks, np.full(blocks, 1 / blocks), size=draws)
        keys = drawn @ (blocks + 1) ** np.arange(blocks)
        _, first, often = np.unique(keys, return_index=True, return_counts=True)
        times, weights = drawn[first].astype(np.float64), often / draws
    sums = np.einsum("db,bmt->dtm", times, figures)
    ranks = sums.argsort(axis=2).argsort(axis=2)
    shares = np.zeros((traits, mixtures, mixtures))
    for rank in range(mixtures):
        shares[:, :, rank] = np.einsum("d,dtm->tm", weights, (ranks == rank).astype(np.float64))
    return RanksAgain(shares, distinct, is_exact)


def every_draw(blocks: int) -> tuple[Array, Array]:
    """Give every way of drawing so many blocks with replacement, and the chance of each [-]."""
    ways = [
        np.bincount(each, minlength=blocks)
        for each in combinations_with_replacement(range(blocks), blocks)
    ]
    chances = [
        factorial(blocks) / float(np.prod([factorial(n) for n in way.tolist()])) / blocks**blocks
        for way in ways
    ]
    return np.array(ways, dtype=np.float64), np.array(chances)
