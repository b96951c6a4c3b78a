"""Plots as rows of figures: what was sown where, and what was found there."""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from swardbook.foundation.errors import RefusedError

Array = NDArray[np.float64]
Codes = NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class Factor:
    """One way in which plots differ, such as mixture or block, coded.

    Parameters
    ----------
    name : str
        What it is, such as ``mixture``.
    levels : tuple of str
        Its values.
    codes : array of int
        Place of each plot's value among the levels.
    """

    name: str
    levels: tuple[str, ...]
    codes: Codes

    @classmethod
    def of(cls, name: str, values: Sequence[Hashable]) -> Factor:
        """Code a value of each plot, levels in the order in which they first stand."""
        place: dict[str, int] = {}
        codes = [place.setdefault(str(each), len(place)) for each in values]
        return cls(name, tuple(place), np.asarray(codes, dtype=np.intp))

    @property
    def indicators(self) -> Array:
        """One column for each level, 1 on the plots that have it. [-]."""
        return np.asarray(self.codes[:, None] == np.arange(len(self.levels)), dtype=np.float64)

    @property
    def counts(self) -> Codes:
        """Plots of each level."""
        return np.bincount(self.codes, minlength=len(self.levels))

    def only(self, keep: NDArray[np.bool_]) -> Factor:
        """Keep some of the plots; levels without any are dropped."""
        return Factor.of(self.name, [self.levels[code] for code in self.codes[keep]])

    def by(self, other: Factor) -> Factor:
        """Cross two factors: one level for each combination there is."""
        pairs = zip(self.codes, other.codes, strict=True)
        names = [f"{self.levels[one]}:{other.levels[two]}" for one, two in pairs]
        return Factor.of(f"{self.name}:{other.name}", names)


@dataclass(frozen=True, slots=True)
class PlotTable:
    """One figure for each plot, with the plot's mixture and block.

    The plot is the unit: frames, placements and photographs of one plot are brought together to
    one figure before they come here, and a plot that stands twice is refused.

    Parameters
    ----------
    names : tuple of str
        Names of the plots, each once.
    entry : Factor
        What is compared: mixtures as a rule.
    values : array
        One figure a plot. [any one unit]
    block : Factor or None
        Blocks; None where plots were shuffled over the whole ground.
    """

    names: tuple[str, ...]
    entry: Factor
    values: Array
    block: Factor | None = None

    def __post_init__(self) -> None:
        refuse_repeats(self.names)

    def only(self, keep: NDArray[np.bool_]) -> PlotTable:
        """Keep some of the plots."""
        return PlotTable(
            tuple(name for name, kept in zip(self.names, keep, strict=True) if kept),
            self.entry.only(keep), self.values[keep],
            None if self.block is None else self.block.only(keep),
        )  # fmt: skip


def refuse_repeats(names: Sequence[str]) -> None:
    """Refuse plots that stand more than once in one analysis.

    Raises
    ------
    RefusedError
        If one does: frames and photographs are no repeats of a plot.
    """
    often = [name for name, times in Counter(names).items() if times > 1]
    if often:
        raise RefusedError(
            f"{', '.join(often[:3])} stands more than once",
            "frames and photographs of one plot are not repeats; the plot is the unit.",
            "Take one figure a plot: the mean of its frames.",
        )


def plot_figures(frames: Mapping[str, Sequence[float]]) -> dict[str, float]:
    """Bring frames, placements or photographs of each plot together to one figure, their mean.

    Parameters
    ----------
    frames : mapping of str to sequence of float
        What each frame or photograph of a plot gave. [any one unit]

    Returns
    -------
    dict of str to float
        One figure a plot; plots without any are left out, never 0. [same unit]
    """
    return {name: sum(found) / len(found) for name, found in frames.items() if len(found)}
