"""Ranges of the handbook narrowed by what was measured on a ground.

Draws are grown as what was measured grew, and weighed by how near they came. Only the spread that
is left goes on, number by number, so that other draws can be taken from it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from swardbook.handbook.parameters import parameter
from swardbook.model.calibration import effective
from swardbook.model.chance import Array
from swardbook.model.draws import RANGE_SCORE, MeasuredRange, value_at

_ERRORS = 3.0
"""Standard errors by which a range must change before luck does not explain it."""
_EDGE = 0.005
"""Shares nearer to nothing or all than this are taken as this far from it. [-]"""


@dataclass(frozen=True, slots=True)
class Reading:
    """One thing read on several plots or mixtures on one day, and what each draw foretold of it.

    Parameters
    ----------
    measured, error : array
        Share of the ground of each, and its standard error. [-]
    foretold : array
        The same of every draw, an array of (things, draws). [-]
    """

    measured: Array
    error: Array
    foretold: Array


@dataclass(frozen=True, slots=True)
class Narrowed:
    """What readings say of the handbook's ranges.

    Parameters
    ----------
    weights : array
        How much each draw counts; they add up to 1. [-]
    ranges : tuple of MeasuredRange
        Numbers whose range changes by more than luck explains, the most first.
    """

    weights: Array
    ranges: tuple[MeasuredRange, ...]

    @property
    def effective(self) -> float:
        """Draws that carry the weight [-]."""
        return effective(self.weights)


def weigh(readings: Sequence[Sequence[Reading]], off: float) -> Array:
    """Weigh draws by what was read.

    Parameters
    ----------
    readings : sequence of sequence of Reading
        For each thing that was read, its days. The days of one thing tell of the same plots, so
        that together they weigh as one.
    off : float
        How far what a person calls so may lie from what the model calls so: once for all, and again
        for each plot or mixture, as one standard deviation each. [logit]

    Returns
    -------
    array
        How much each draw counts; they add up to 1. [-]
    """
    total = np.zeros(readings[0][0].foretold.shape[1]) if readings else np.zeros(1)
    for days in readings:
        total = total + sum(_likeness(each, off) for each in days) / len(days)
    weights = np.exp(total - total.max())
    return np.asarray(weights / weights.sum())


def narrow(scores: Mapping[str, Array], weights: Array) -> Narrowed:
    """Give the ranges that are left under weights.

    A range never grows: what readings leave open stays as the handbook has it.

    Parameters
    ----------
    scores : mapping of str to array
        Standard normal scores of each number, one a draw. [-]
    weights : array
        How much each draw counts; they add up to 1. [-]
    """
    luck = _ERRORS / np.sqrt(effective(weights))
    found = []
    for key, score in scores.items():
        middle = float(score @ weights)
        spread = min(float(np.sqrt((score - middle) ** 2 @ weights)), 1.0)
        before = float(score.mean()), float(score.std())
        moves, goes = middle - before[0], 1 - spread / before[1]
        if abs(moves) > luck or goes > luck / np.sqrt(2):
            found.append(MeasuredRange(key, middle, spread))
    found.sort(key=lambda each: (each.scale - abs(each.shift), each.key))
    return Narrowed(weights, tuple(found))


def range_of(key: str, narrowed: MeasuredRange | None = None) -> tuple[float, float, float]:
    """Give the lower end, middle and upper end of a number's 90 % range, narrowed or not.

    Parameters
    ----------
    key : str
        The number.
    narrowed : MeasuredRange or None
        How it was narrowed.
    """
    scores = np.array([-RANGE_SCORE, 0.0, RANGE_SCORE])
    values = value_at(parameter(key), scores) if narrowed is None else narrowed.values(scores)
    low, middle, high = (float(each) for each in values)
    return low, middle, high


def _likeness(read: Reading, off: float) -> Array:
    """Logarithm of how well each draw foretold what was read, but for a constant [-].

    Misses of one day share the part of a person's eye, so their covariance is a diagonal and one
    common part, inverted in closed form (Sherman and Morrison 1950).
    """
    share = np.clip(read.measured, _EDGE, 1 - _EDGE)
    spread2 = (read.error / (share * (1 - share))) ** 2 + off**2
    miss = _logit(share)[:, None] - _logit(np.clip(read.foretold, _EDGE, 1 - _EDGE))
    alone = (miss**2 / spread2[:, None]).sum(axis=0)
    common = (miss / spread2[:, None]).sum(axis=0) ** 2
    together = off**2 / (1 + off**2 * (1 / spread2).sum())
    return np.asarray(-0.5 * (alone - together * common))


def _logit(share: Array) -> Array:
    return np.asarray(np.log(share / (1 - share)))
