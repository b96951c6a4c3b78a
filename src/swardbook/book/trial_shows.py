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
    needed_gap_any,
    needed_gap_pair,
    repeats_for,
)
from swardbook.trials.row_column import pair_variances


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


def what_it_shows(drawn: Drawn, measure: Measure, within: bool = False) -> Shown | None:
    """Say what a plan can show of a trait.

    Parameters
    ----------
    drawn : Drawn
        The draw.
    measure : Measure
        The trait with its spread and gap.
    within : bool
        Whether between the levels within mixtures of a split plot.

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
    times = design.blocks * (len(design.entries) if within else 1)
    compared = len(design.levels) if within else len(design.entries)
    sed = measure.sd * sqrt(2 / times / drawn.efficiency)
    power, gap = value("trial.power"), measure.gap
    return Shown(
        measure.sd, sed, df, needed_gap_pair(sed, df), needed_gap_any(sed, df, compared), gap,
        chance_pair(gap, sed, df), chance_any(gap, sed, df, compared),
        repeats_for(gap, measure.sd, compared, power),
        repeats_for(gap, measure.sd, compared, power, any_pair=True), power,
    )  # fmt: skip


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
