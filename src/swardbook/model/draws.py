"""Draws from the ranges of the handbook: one standard normal score a number and draw.

The score is the parameter on a scale without bounds, which learning works on; the value is the
same quantile of the number's own distribution.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache

import numpy as np
from scipy.special import betaincinv, ndtr

from swardbook.foundation.errors import BadInputError
from swardbook.foundation.provenance import Sourced
from swardbook.handbook.parameters import parameter
from swardbook.model.chance import Array, Chance

RANGE_SCORE = 1.6448536269514722
"""A 90 % range reaches this many standard deviations either side (normal distribution)."""

_FAR, _STEPS = 6.0, 400.0
"""A beta distribution is tabulated this far out, with so many steps to a standard deviation."""


@dataclass(frozen=True, slots=True)
class MeasuredRange:
    """A number of the handbook narrowed by what was measured on a ground.

    Parameters
    ----------
    key : str
        The number.
    shift, scale : float
        Middle and spread on the scale of scores, where the handbook's are 0 and 1: a draw stays
        within what the number's own distribution can give. [-]
    """

    key: str
    shift: float
    scale: float

    def values(self, score: Array) -> Array:
        """Turn scores into values within the narrowed range [unit of the number]."""
        return value_at(parameter(self.key), self.shift + self.scale * score)


@dataclass(frozen=True)
class Constants:
    """Drawn numbers of the handbook, by key.

    Parameters
    ----------
    scores : mapping of str to array
        Standard normal score of each number that is drawn, one a draw. [-]
    draws : int
        How many draws.
    ranges : tuple of MeasuredRange
        Numbers that were narrowed by what was measured on the ground.
    """

    scores: Mapping[str, Array]
    draws: int
    _values: dict[str, Array] = field(default_factory=dict, repr=False, compare=False)
    ranges: tuple[MeasuredRange, ...] = ()

    def kept(self, scores: Mapping[str, Array]) -> dict[str, Array]:
        """Give the values of numbers whose scores these are as well."""
        return {
            key: values
            for key, values in self._values.items()
            if np.array_equal(scores[key], self.scores[key])
        }

    def __getitem__(self, key: str) -> Array:
        """Values of one number [its unit]; one that is not drawn is the same in every draw."""
        if key not in self.scores:
            return np.full(self.draws, parameter(key).value)
        # Two components of a kind, and weeds, share numbers: each is worked out once.
        if key not in self._values:
            narrowed = next((each for each in self.ranges if each.key == key), None)
            score = self.scores[key]
            self._values[key] = (
                value_at(parameter(key), score) if narrowed is None else narrowed.values(score)
            )
        return self._values[key]


def value_at(number: Sourced, score: Array) -> Array:
    """Turn scores into values: the quantile of the number's distribution.

    A normal or lognormal one has the stated value as its median and reaches the stated bounds,
    each side with its own spread; a beta one has its mean and a matching spread; a uniform one
    fills the range.

    Parameters
    ----------
    number : Sourced
        The number with its range and shape.
    score : array
        Standard normal scores. [-]

    Returns
    -------
    array
        Values. [unit of the number]

    Raises
    ------
    BadInputError
        If the shape is unknown.
    """
    if not number.shape or number.low == number.high:
        return np.full_like(score, number.value)
    if number.shape == "uniform":
        return number.low + (number.high - number.low) * ndtr(score)
    if number.shape == "beta":
        return _beta(number, score)
    if number.shape == "normal":
        spread = np.where(score < 0, number.value - number.low, number.high - number.value)
        return number.value + score * spread / RANGE_SCORE
    if number.shape == "lognormal":
        below, above = np.log(number.value / number.low), np.log(number.high / number.value)
        return number.value * np.exp(score * np.where(score < 0, below, above) / RANGE_SCORE)
    shapes = "normal, lognormal, beta or uniform"
    raise BadInputError(f"the shape of {number.key}", number.shape, shapes)


def draw_constants(
    keys: Sequence[str], draws: int, chance: Chance, first: int = 0,
    ranges: tuple[MeasuredRange, ...] = (),
) -> Constants:  # fmt: skip
    """Draw numbers of the handbook, each keyed by its own name.

    Parameters
    ----------
    keys : sequence of str
        Keys of the handbook; those without a range are not drawn.
    draws : int
        How many draws; the first of a longer row are those of a shorter one.
    chance : Chance
        The source, keyed by book and zone.
    first : int
        Number of the first draw.
    ranges : tuple of MeasuredRange
        Numbers that were narrowed by what was measured on the ground.
    """
    drawn = {key: chance.normals(key, draws, first) for key in keys if is_drawn(key)}
    return Constants(drawn, draws, ranges=ranges)


def central_constants(draws: int = 1) -> Constants:
    """Give every number its stated value, in each draw."""
    return Constants({}, draws)


def is_drawn(key: str) -> bool:
    """Tell whether a number has a range and a shape to draw from."""
    number = parameter(key)
    return bool(number.shape) and number.low < number.high


def _beta(number: Sourced, score: Array) -> Array:
    spread = (number.high - number.low) / (2 * RANGE_SCORE)
    count = max(number.value * (1 - number.value) / spread**2 - 1, 1.0)
    values = _beta_table(number.value, count)
    place = (np.clip(score, -_FAR, _FAR) + _FAR) * _STEPS
    left = np.minimum(place.astype(np.int64), len(values) - 2)
    return np.asarray(values[left] + (place - left) * (values[left + 1] - values[left]))


@cache
def _beta_table(mean: float, count: float) -> Array:
    """Tabulate a beta distribution's quantiles: its inverse is far too slow to take each time."""
    scores = np.linspace(-_FAR, _FAR, round(2 * _FAR * _STEPS) + 1)
    return np.asarray(betaincinv(mean * count, (1 - mean) * count, ndtr(scores)))
