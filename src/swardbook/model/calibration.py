"""How the model stands against what was published, and what that says of its numbers.

Nothing is tuned here. Draws from the handbook's ranges are held against a result; draws that come
near may be given more weight, to see how far a result would narrow a range if it were trusted.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from swardbook.handbook.parameters import parameter
from swardbook.model.chance import Array
from swardbook.model.draws import value_at

RANGE = (0.05, 0.5, 0.95)
"""Quantiles that are told: the median and a 90 % range."""
_ERRORS = 3.0
_MEDIAN_ERROR = 1.2533
"""Standard error of a normal median, times the root of the number of draws."""
_WIDTH_ERROR = 0.86
"""The same of the width of a 90 % range, as a part of that width."""


@dataclass(frozen=True, slots=True)
class Target:
    """Something that was seen, and may be asked of the model.

    Parameters
    ----------
    key : str
        Short name.
    what : str
        What was seen, in words with its unit.
    source : str
        Key of the work, or ``practice``.
    place : str
        Where it stands in the work, and what is not alike.
    low, high : float
        Between what the model's median is to lie. [unit of `what`]
    published : str
        As it was published.
    informs : tuple of str
        Numbers of the handbook that it says something of.
    independent : bool
        Whether the numbers were chosen without it; if not, agreement is no evidence.
    likeness : tuple of float or None
        Value and tolerance that draws may be weighed by, if any. [unit of `what`]
    """

    key: str
    what: str
    source: str
    place: str
    low: float
    high: float
    published: str
    informs: tuple[str, ...]
    independent: bool = True
    likeness: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class Found:
    """What the model has for a target.

    Parameters
    ----------
    target : Target
        What was asked.
    central : float
        With every number at its stated value. [unit of the target]
    draws : array
        One a draw. [unit of the target]
    """

    target: Target
    central: float
    draws: Array

    @property
    def spread(self) -> tuple[float, float, float]:
        """Lower end, median and upper end of the 90 % range of draws [unit of the target]."""
        low, middle, high = np.quantile(self.draws, RANGE)
        return float(low), float(middle), float(high)

    @property
    def verdict(self) -> str:
        """Say whether the model shows it: ``inside``, ``within the draws`` or ``missed``."""
        low, middle, high = self.spread
        if self.target.low <= middle <= self.target.high:
            return "inside"
        reaches = low <= self.target.high and high >= self.target.low
        return "within the draws" if reaches else "missed"


@dataclass(frozen=True, slots=True)
class Moved:
    """How a number's range would move if the targets were trusted.

    Parameters
    ----------
    key : str
        Number of the handbook.
    before, after : tuple of float
        Lower end, median and upper end of 90 %. [unit of the number]
    narrowing : float
        Part of the width of its scores that goes. [-]
    shift : float
        Standard deviations of its scores that the median moves. [-]
    """

    key: str
    before: tuple[float, float, float]
    after: tuple[float, float, float]
    narrowing: float
    shift: float


def likeness(found: Sequence[Found]) -> Array:
    """Weigh draws by how near they come to every target that has a likeness.

    Parameters
    ----------
    found : sequence of Found
        What the model has, on the same draws in each.

    Returns
    -------
    array
        Weights that sum to one. [-]
    """
    total = np.zeros(len(found[0].draws))
    for each in found:
        if each.target.likeness is not None:
            middle, tolerance = each.target.likeness
            total -= 0.5 * ((each.draws - middle) / tolerance) ** 2
    weights = np.exp(total - total.max())
    return np.asarray(weights / weights.sum())


def effective(weights: Array) -> float:
    """Draws that carry the weight [-] (Kong, Liu and Wong 1994)."""
    return float(weights.sum() ** 2 / (weights**2).sum())


def moved(scores: Mapping[str, Array], weights: Array) -> list[Moved]:
    """Tell how each number's range would move under weights, as far as chance does not explain it.

    Left out is what so many effective draws would show by luck alone: a median that moves, or a
    range whose width changes, by less than three of its standard errors (normal scores).

    Parameters
    ----------
    scores : mapping of str to array
        Scores of each drawn number. [-]
    weights : array
        One a draw. [-]
    """
    rows = []
    luck = _ERRORS / np.sqrt(effective(weights))
    for key, score in scores.items():
        number = parameter(key)
        before, after = np.quantile(score, RANGE), weighted_quantiles(score, weights, RANGE)
        rows.append(
            Moved(
                key,
                _triple(value_at(number, before)),
                _triple(value_at(number, after)),
                float(1 - (after[2] - after[0]) / (before[2] - before[0])),
                float(after[1] - before[1]),
            )
        )
    told = [
        row
        for row in rows
        if abs(row.shift) > luck * _MEDIAN_ERROR or abs(row.narrowing) > luck * _WIDTH_ERROR
    ]
    return sorted(told, key=lambda row: (-max(abs(row.narrowing), abs(row.shift)), row.key))


def weighted_quantiles(values: Array, weights: Array, levels: Sequence[float]) -> Array:
    """Find the smallest values up to which so much of the weight lies.

    Parameters
    ----------
    values : array
        Values. [any]
    weights : array
        Weights. [-]
    levels : sequence of float
        Shares of the weight. [-]

    Returns
    -------
    array
        Values. [same as values]
    """
    order = np.argsort(values)
    reached = np.cumsum(weights[order]) / weights.sum()
    places = np.searchsorted(reached, np.asarray(levels) - 1e-12)
    return np.asarray(values[order][np.minimum(places, len(values) - 1)])


def _triple(values: Array) -> tuple[float, float, float]:
    low, middle, high = (float(each) for each in values)
    return low, middle, high
