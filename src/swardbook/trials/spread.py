"""Spread from plot to plot of trials gone by, to plan the next one with."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from math import fsum, sqrt

import numpy as np

from swardbook.trials.least_squares import in_order
from swardbook.trials.plots import Factor


@dataclass(frozen=True, slots=True)
class OwnSpread:
    """Spread from plot to plot within a block.

    Parameters
    ----------
    sd : float
        Standard deviation. [unit of the figures]
    df : int
        Degrees of freedom it rests on.
    trials : int
        Trials it comes from.
    mean : float
        Mean of the figures: the level at which it was found. [unit of the figures]
    """

    sd: float
    df: int
    trials: int = 1
    mean: float = float("nan")


def spread_of_plots(
    values: Sequence[float], entries: Sequence[Hashable], blocks: Sequence[Hashable]
) -> OwnSpread | None:
    """Give what is left from plot to plot once mixtures and blocks are taken out.

    Parameters
    ----------
    values : sequence of float
        One figure a plot. [any one unit]
    entries, blocks : sequence
        Mixture as sown and block of each plot.

    Returns
    -------
    OwnSpread or None
        None where nothing is left to judge by. [same unit]
    """
    terms = [
        (factor,)
        for factor in (Factor.of("block", blocks), Factor.of("mixture", entries))
        if len(factor.levels) > 1
    ]
    error = in_order(np.asarray(values, dtype=np.float64), terms)[-1]
    if error.df < 1 or not error.ss > 0:
        return None
    return OwnSpread(sqrt(error.ss / error.df), error.df, mean=fsum(values) / len(values))


def pooled(found: Sequence[OwnSpread]) -> OwnSpread | None:
    """Bring the spreads of several trials together, each by its degrees of freedom."""
    df = sum(each.df for each in found)
    if not df:
        return None
    ss = fsum(each.df * each.sd**2 for each in found)
    mean = fsum(each.df * each.mean for each in found) / df
    return OwnSpread(sqrt(ss / df), df, len(found), mean)
