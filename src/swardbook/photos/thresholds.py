"""Where ground ends and leaf begins on the scale of excess green: a threshold with a guard."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from swardbook.handbook.parameters import value

Counts = NDArray[np.int64]
Values = NDArray[np.float64]
BINS = 768
"""Bins of excess green from -1 to 2."""
_SMOOTHED = 9


@dataclass(frozen=True, slots=True)
class Split:
    """Levels of excess green that part leaf from ground.

    Parameters
    ----------
    ground, leaf : float
        Level of bare ground and of leaf. [-]
    is_from_picture : bool
        Whether the picture itself shows both; else the handbook's levels stand for what it lacks.
    """

    ground: float
    leaf: float
    is_from_picture: bool

    def at(self, share: float) -> float:
        """Give the level so far of the way from ground to leaf."""
        return self.ground + share * (self.leaf - self.ground)


def split_of(counts: Counts) -> Split:
    """Find ground and leaf in a picture's excess green.

    The scale is split by Otsu (1979), which gives two sides even where there is only one thing to
    see; so the split is believed only where both sides hold enough, lie apart, and the lower looks
    like ground and the upper like leaf. Ground is the peak of its side; leaf is a level high on its
    side, since thin leaves are mostly edges.

    Parameters
    ----------
    counts : array of int
        Pixels in each of 768 bins of excess green from -1 to 2. [-]

    Returns
    -------
    Split
        The levels; from the handbook where the picture does not show them.
    """
    levels = (np.arange(BINS) + 0.5) * 3 / BINS - 1
    ground, leaf = value("photo_ground_excess_green"), value("photo_leaf_excess_green")
    leafy = value("photo_leaf_excess_least")
    total = int(counts.sum())
    edge = otsu(counts) if total else 0
    low, high = counts[: edge + 1], counts[edge + 1 :]
    if min(low.sum(), high.sum()) < max(value("photo_class_share_least") * total, 1):
        return _one_sided(counts, levels, ground, leaf)
    below = float((low * levels[: edge + 1]).sum() / low.sum())
    above = float((high * levels[edge + 1 :]).sum() / high.sum())
    is_two = (
        above - below >= value("photo_class_apart_least")
        and below <= value("photo_ground_excess_most")
        and above >= leafy
    )
    if not is_two:
        return _one_sided(counts, levels, ground, leaf)
    # A side that only rises towards the split shows no peak of its own.
    bottom = int(np.convolve(low, np.ones(_SMOOTHED), "same").argmax())
    if bottom <= edge - _SMOOTHED:
        ground = float(levels[bottom])
    leaf = _level(high, levels[edge + 1 :])
    return Split(ground, max(leaf, ground + value("photo_class_apart_least")), True)


def _one_sided(counts: Counts, levels: Values, ground: float, leaf: float) -> Split:
    """Take the handbook's levels; leaf from the picture where nearly all of it is leaf."""
    if counts.sum() and levels[_place(counts, 0.5)] >= value("photo_leaf_excess_least"):
        leaf = _level(counts, levels)
    return Split(ground, leaf, False)


def _level(side: Counts, levels: Values) -> float:
    return float(levels[_place(side, value("photo_leaf_level"))])


def _place(counts: Counts, share: float) -> int:
    """Find the bin below which a share lies."""
    return int(np.searchsorted(counts.cumsum(), share * counts.sum()))


def otsu(counts: Counts) -> int:
    """Give the last bin of the lower side, so that the two sides differ most.

    Otsu (1979): the split with the greatest variance between its sides.

    Parameters
    ----------
    counts : array of int
        Things in each bin. [-]

    Returns
    -------
    int
        Number of the bin.
    """
    held = counts.astype(np.float64)
    below = held.cumsum()
    weight = (held * np.arange(held.size)).cumsum()
    apart = weight[-1] * below / below[-1] - weight
    sides = below * (below[-1] - below)
    between = np.divide(apart**2, sides, out=np.zeros_like(sides), where=sides > 0)
    return int(between.argmax())
