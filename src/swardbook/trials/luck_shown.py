"""Shuffles to be watched: the same figures dealt out anew, and how far apart luck puts mixtures."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swardbook.trials.plots import Array, Codes, Factor


@dataclass(frozen=True, slots=True)
class Dealt:
    """The figures of a trial dealt to its mixtures.

    Parameters
    ----------
    entries : tuple of str
        Which mixture stands on each plot, in the order of the plots.
    best : str
        The mixture with the lowest mean.
    gap : float
        From the lowest mean to the highest. [unit of the figures]
    """

    entries: tuple[str, ...]
    best: str
    gap: float


def as_dealt(figures: Array, entry: Factor) -> Dealt:
    """Give the trial as it is.

    Parameters
    ----------
    figures : array
        One figure a plot. [any one unit]
    entry : Factor
        What stands on each plot.
    """
    return _dealt(figures, entry, entry.codes)


def dealt_anew(
    figures: Array, entry: Factor, block: Factor, number: int, seed: int
) -> tuple[Dealt, ...]:
    """Shuffle the mixtures over the plots of each block, again and again; figures stay put.

    Parameters
    ----------
    figures : array
        One figure a plot. [any one unit]
    entry, block : Factor
        What stands where.
    number : int
        How many shuffles.
    seed : int
        Seed of the shuffles; the same seed gives the same ones.

    Notes
    -----
    Fisher, R. A., 1935, The Design of Experiments: what luck alone shows is found by shuffling
    as the draw did.
    """
    source = np.random.Generator(np.random.Philox(key=seed))
    found = []
    for _ in range(number):
        codes = entry.codes.copy()
        for at in range(len(block.levels)):
            here = np.flatnonzero(block.codes == at)
            codes[here] = codes[here][source.permutation(len(here))]
        found.append(_dealt(figures, entry, codes))
    return tuple(found)


def _dealt(figures: Array, entry: Factor, codes: Codes) -> Dealt:
    sums = np.bincount(codes, weights=figures, minlength=len(entry.levels))
    means = sums / np.bincount(codes, minlength=len(entry.levels))
    names = tuple(entry.levels[code] for code in codes)
    return Dealt(names, entry.levels[int(means.argmin())], float(means.max() - means.min()))
