"""What a plan can show of a trait: mixtures, levels within one, mixtures that stand once."""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

import numpy as np

from swardbook.book.trial_traits import Measure
from swardbook.handbook.parameters import value
from swardbook.trials.design import Drawn, Kind, error_df
from swardbook.trials.power import (
    Shown,
    chance_any,
    chance_pair,
    fewest_repeats,
    needed_gap_any,
    needed_gap_pair,
)
from swardbook.trials.row_column import pair_variances
from swardbook.trials.shares import SharePair


@dataclass(frozen=True, slots=True)
class OnceShown:
    """What can be shown of mixtures that stand once.

    Parameters
    ----------
    to_check : float
        Gap that one needs against a check, as a planned pair. [unit of the trait]
    to_other : float
        Gap that two of them need in two blocks. [unit of the trait]
    """

    to_check: float
    to_other: float


def what_it_shows(
    drawn: Drawn, measure: Measure, within: bool = False, sd_whole: float | None = None
) -> Shown | None:
    """Say what a plan can show of a trait.

    Parameters
    ----------
    drawn : Drawn
        The draw.
    measure : Measure
        The trait with its spread and gap.
    within : bool
        Whether between the levels within mixtures of a split plot.
    sd_whole : float or None
        Spread between whole plots beyond that of their parts, in a split plot; None takes the
        usual share of the spread. [unit of the trait]

    Returns
    -------
    Shown or None
        None where nothing is left to judge by, or there are no such levels.
    """
    design = drawn.design
    if within and not design.levels:
        return None
    df = error_df(design, within)
    if df < 1:
        return None
    extra = value("trial.whole_plot_extra")
    if sd_whole is not None:
        extra = (sd_whole / measure.sd) ** 2
    trial = _Trial(drawn, measure, within, extra)
    weight, many, power = trial.weight(design.blocks), trial.compared, value("trial.power")
    return Shown(
        measure.sd, measure.sd * sqrt(weight), df, trial.needed(weight, df),
        trial.needed(weight, df, many), measure.gap, trial.chance(weight, df),
        trial.chance(weight, df, many), trial.repeats(power), trial.repeats(power, many), power,
        measure.sd * sqrt(extra) if design.levels and not within else None,
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Trial:
    """A plan with any number of blocks, and what is compared in it."""

    drawn: Drawn
    measure: Measure
    within: bool
    extra: float

    @property
    def compared(self) -> int:
        design = self.drawn.design
        return len(design.levels) if self.within else len(design.entries)

    def weight(self, blocks: int) -> float:
        """Variance of a difference over that of a plot, or of a part of one [-]."""
        design = self.drawn.design
        if self.within:
            return 2 / (blocks * len(design.entries))
        of_plot = self.extra + 1 / len(design.levels) if design.levels else 1.0
        return 2 * of_plot / blocks / self.drawn.efficiency

    def df(self, blocks: int) -> int:
        design = self.drawn.design
        if self.within:
            return len(design.entries) * (len(design.levels) - 1) * (blocks - 1)
        return (len(design.entries) - 1) * (blocks - 1)

    def needed(self, weight: float, df: int, many: int | None = None) -> float:
        pair = self._pair(weight, df)
        if pair is not None:
            return 100 * pair.needed(many)
        sed = self.measure.sd * sqrt(weight)
        return needed_gap_pair(sed, df) if many is None else needed_gap_any(sed, df, many)

    def chance(self, weight: float, df: int, many: int | None = None) -> float:
        pair = self._pair(weight, df)
        if pair is not None:
            return pair.chance(many)
        sed, gap = self.measure.sd * sqrt(weight), self.measure.gap
        return chance_pair(gap, sed, df) if many is None else chance_any(gap, sed, df, many)

    def repeats(self, power: float, many: int | None = None) -> int | None:
        return fewest_repeats(
            lambda blocks: self.chance(self.weight(blocks), self.df(blocks), many) >= power
        )

    def _pair(self, weight: float, df: int) -> SharePair | None:
        low, spread = self.measure.low, self.measure.spread
        if low is None or spread is None:
            return None
        high = low + self.measure.gap / 100
        return SharePair(low, high, spread, weight, df, value("trial.points"))


def what_once_shows(drawn: Drawn, measure: Measure) -> OnceShown | None:
    """Say what an augmented plan can show of the mixtures that stand once.

    Parameters
    ----------
    drawn : Drawn
        The draw.
    measure : Measure
        The trait with its spread.

    Returns
    -------
    OnceShown or None
        None for other designs, or where nothing is left to judge by.
    """
    design = drawn.design
    df = error_df(design)
    if design.kind is not Kind.AUGMENTED or df < 1:
        return None
    names = [*design.entries, *design.new]
    codes = np.asarray([names.index(slot.entry) for slot in drawn.slots], dtype=np.intp)
    blocks = np.asarray([slot.block for slot in drawn.slots], dtype=np.intp)
    variances = pair_variances(codes, [blocks])
    one, other = np.triu_indices(len(names), 1)
    is_new = (one >= len(design.entries)).astype(int) + (other >= len(design.entries))
    once = [
        needed_gap_pair(measure.sd * sqrt(float(variances[is_new == many].max())), df)
        if bool((is_new == many).any()) else 0.0
        for many in (1, 2)
    ]  # fmt: skip
    return OnceShown(*once)
