"""Shuffle the plots within their blocks again and again: what luck alone would show."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swardbook.foundation.errors import NotEnoughDataError
from swardbook.trials.least_squares import new_directions
from swardbook.trials.plots import Array, Factor


@dataclass(frozen=True, slots=True)
class Shuffled:
    """How often a shuffle shows mixtures as far apart as they were found.

    Parameters
    ----------
    p : float
        That share; the trial as it is counts as one of the shuffles. [-]
    shuffles : int
        How many.
    """

    p: float
    shuffles: int


def shuffle_within_blocks(
    figures: Array, entry: Factor, block: Factor | None, shuffles: int = 1999, seed: int = 1
) -> Shuffled:
    """Test mixtures by shuffling figures within blocks, as the draw did.

    Parameters
    ----------
    figures : array
        One figure a plot, or the scores of a model of counts or ratings. [any one unit]
    entry, block : Factor
        What stands where; no block shuffles over the whole ground.
    shuffles : int
        How many.
    seed : int
        Seed of the shuffles.

    Raises
    ------
    NotEnoughDataError
        If shuffles cannot differ: every block holds one plot.

    Notes
    -----
    Fisher, R. A., 1935, The Design of Experiments. The statistic is the sum of squares of mixtures
    after blocks.
    """
    codes = np.zeros(len(figures), dtype=np.intp) if block is None else block.codes
    if np.bincount(codes).max() < 2:
        raise NotEnoughDataError("a shuffle", "two plots in some block", "one in each")
    start = np.full((len(figures), 1), 1 / np.sqrt(len(figures)))
    if block is not None:
        start = np.hstack([start, new_directions(block.indicators, start)])
    ways = new_directions(entry.indicators, start)
    source = np.random.Generator(np.random.Philox(key=seed))
    keys = source.random((shuffles, len(figures))) + codes
    in_blocks = np.argsort(codes, kind="stable")
    again = np.empty((shuffles, len(figures)))
    again[:, in_blocks] = figures[np.argsort(keys, axis=1)]
    found = ((ways.T @ figures) ** 2).sum()
    luck = ((again @ ways) ** 2).sum(axis=1)
    often = int((luck >= found * (1 - 1e-9)).sum())
    return Shuffled((1 + often) / (1 + shuffles), shuffles)


def least_p(plots_of_one: int, plots_of_other: int) -> float:
    """Give the least two-sided chance a shuffle of two groups can show [-]."""
    from math import comb

    ways = comb(plots_of_one + plots_of_other, plots_of_one)
    return min(1.0, (2 if plots_of_one == plots_of_other else 1) / ways)


def least_p_of_blocks(blocks: int) -> float:
    """Give the least two-sided chance that pairs in blocks can show [-]."""
    return 2.0 / 2.0**blocks
