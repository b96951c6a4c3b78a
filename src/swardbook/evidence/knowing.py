"""What it is worth to know something before choosing: simulated data, regressed, never refitted.

Each draw says what every alternative would lead to, and what a measurement would show. What each
alternative leads to is regressed on what is shown (Strong, Oakley, Brennan and Breeze 2015); the
best by the regression is the choice with that knowledge. The regression that chooses for a draw
has not seen it, nor any draw of its group, and the worth is told from what the draw's own
alternatives lead to. So chance that a regression took for a pattern does not count as worth.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri

from swardbook.evidence.ranks import ranks
from swardbook.foundation.errors import OutOfRangeError

Array = NDArray[np.float64]
Places = NDArray[np.int64]
FOLDS = 8
KNOTS = (0.05, 0.275, 0.5, 0.725, 0.95)
"""Quantiles of the knots of a restricted cubic spline (Harrell 2001, five knots)."""
_PENALTIES = 10.0 ** np.arange(-6.0, 4.0)
_LEAST = 1e-10


@dataclass(frozen=True, slots=True)
class Knowing:
    """What knowing something is worth before choosing, in the unit of the losses.

    Parameters
    ----------
    worth : float
        Loss spared on average; may come out a little below 0 where there is nothing to know.
        [unit of the losses]
    error : float
        Its standard error over the draws. [unit of the losses]
    changes : float
        Share of the draws in which another alternative is chosen. [-]
    gains : array
        Loss spared in each draw. [unit of the losses]
    chosen : array of int
        Alternative chosen in each draw. [-]
    """

    worth: float
    error: float
    changes: float
    gains: Array
    chosen: Places

    @classmethod
    def of(cls, losses: Array, chosen: Places, groups: Places) -> Knowing:
        """Hold what is chosen in each draw against the best single alternative.

        Parameters
        ----------
        losses : array
            What each alternative leads to, a row each, a column a draw. [any one unit]
        chosen : array of int
            Alternative chosen in each draw. [-]
        groups : array of int
            Which draws are alike in something that is not known, such as the weather to
            come. [-]
        """
        base = best_of(losses)
        gains = losses[base] - losses[chosen, np.arange(losses.shape[1])]
        return cls(
            float(np.mean(gains)),
            standard_error(gains, groups),
            float(np.mean(chosen != base)),
            gains,
            chosen,
        )


def best_of(losses: Array) -> int:
    """Give the alternative with the least mean loss; the first of equals."""
    return int(np.argmin(np.mean(losses, axis=1)))


def standard_error(values: Array, groups: Places) -> float:
    """Give the standard error of a mean, by draws or by groups of draws, whichever is larger.

    Parameters
    ----------
    values : array
        One value a draw. [any one unit]
    groups : array of int
        Group of each draw. [-]

    Returns
    -------
    float
        Standard error. [unit of the values]
    """
    draws = len(values)
    apart = values - np.mean(values)
    single = float(np.sqrt(np.sum(apart**2)) / draws)
    sums = np.bincount(groups, weights=apart)
    number = len(np.unique(groups))
    if number < 2:
        return single
    grouped = float(np.sqrt(np.sum(sums**2) * number / (number - 1)) / draws)
    return max(single, grouped)


def worth_of_everything(losses: Array, groups: Places) -> Knowing:
    """Give the worth of knowing every draw's outcome beforehand: no knowledge is worth more.

    Parameters
    ----------
    losses : array
        What each alternative leads to, a row each, a column a draw. [any one unit]
    groups : array of int
        Group of each draw. [-]
    """
    return Knowing.of(losses, np.argmin(losses, axis=0).astype(np.int64), groups)


def worth_of_knowing(losses: Array, facts: Array, groups: Places) -> Knowing:
    """Give the worth of knowing some facts before choosing.

    With what a measurement would show as facts it is the expected value of sample information;
    with an unknown itself as the fact, the expected value of (partial) perfect information.

    Parameters
    ----------
    losses : array
        What each alternative leads to, a row each, a column a draw. [any one unit]
    facts : array
        What would be known, a row each fact, a column a draw; only their order counts.
        [any unit]
    groups : array of int
        Group of each draw: a choice in a group rests on the other groups. [-]

    Returns
    -------
    Knowing
        The worth. [unit of the losses]

    Raises
    ------
    OutOfRangeError
        If there are fewer than two groups.

    Notes
    -----
    Strong, Oakley, Brennan and Breeze 2015, Medical Decision Making 35. The regression is a sum
    of restricted cubic splines of the facts' normal scores with products of each two scores,
    shrunk by a ridge penalty that generalised cross-validation chooses (Golub, Heath and Wahba
    1979).
    """
    folds = _folds(groups)
    base = best_of(losses)
    extra = losses - losses[base]
    basis = _basis(facts)
    if not len(basis):
        return Knowing.of(losses, np.full(losses.shape[1], base), groups)
    expected = _from_the_others(basis, extra, folds)
    expected[base] = 0.0
    return Knowing.of(losses, _least(expected, base), groups)


def _least(expected: Array, base: int) -> Places:
    """Choose the least expected extra loss; the usual choice unless another is truly below it."""
    least: Places = np.where(np.min(expected, axis=0) < 0, np.argmin(expected, axis=0), base)
    return least


def _folds(groups: Places) -> Places:
    _, place = np.unique(groups, return_inverse=True)
    if place.max(initial=0) < 1:
        raise OutOfRangeError(
            "groups of draws", int(place.max(initial=0)) + 1, "at least 2", "-",
            "A choice in one group rests on the others.",
        )  # fmt: skip
    return np.asarray(place % FOLDS, dtype=np.int64)


def _basis(facts: Array) -> Array:
    """Lay out the terms of the regression, each with mean 0 and spread 1."""
    told = [row for row in facts if np.ptp(row) > 0]
    scores = [_scores(row) for row in told]
    rows = [term for score in scores for term in _spline(score)]
    rows += [first * second for n, first in enumerate(scores) for second in scores[:n]]
    kept = []
    for row in rows:
        apart = row - np.mean(row)
        spread = float(np.std(apart))
        if spread > _LEAST:
            kept.append(apart / spread)
    return np.array(kept).reshape(len(kept), facts.shape[1])


def _scores(fact: Array) -> Array:
    """Give normal scores by rank; equals share their middle rank."""
    return np.asarray(ndtri((ranks(fact) - 0.5) / len(fact)), dtype=np.float64)


def _spline(score: Array) -> list[Array]:
    """Give the terms of a restricted cubic spline: straight beyond the outer knots."""
    knots = np.unique(np.quantile(score, KNOTS))
    if len(knots) < 3:
        return [score]
    *inner, before, last = knots

    def beyond(knot: float) -> Array:
        return np.asarray(np.maximum(score - knot, 0.0) ** 3)

    curved = [
        beyond(knot)
        - beyond(before) * (last - knot) / (last - before)
        + beyond(last) * (before - knot) / (last - before)
        for knot in inner
    ]
    return [score, *curved]


def _from_the_others(basis: Array, targets: Array, folds: Places) -> Array:
    """Say what is expected of each target in each fold, by a regression on the other folds."""
    middle = np.mean(targets, axis=1)[:, None]
    aims = targets - middle
    parts = [np.flatnonzero(folds == fold) for fold in range(int(folds.max()) + 1)]
    known = [_Moments.of(basis[:, part], aims[:, part]) for part in parts]
    total = known[0]
    for each in known[1:]:
        total = total.plus(each)
    told = np.empty_like(targets)
    for part, own in zip(parts, known, strict=True):
        constant, slopes = total.plus(own, -1.0).fitted()
        told[:, part] = middle + constant[:, None] + slopes.T @ basis[:, part]
    return told


@dataclass(frozen=True, slots=True)
class _Moments:
    """Sums of a regression: of draws, terms, targets and their products."""

    draws: float
    terms: Array
    aims: Array
    terms_terms: Array
    terms_aims: Array
    aims_aims: Array

    @classmethod
    def of(cls, basis: Array, aims: Array) -> _Moments:
        """Sum over some draws."""
        return cls(
            float(basis.shape[1]),
            np.sum(basis, axis=1),
            np.sum(aims, axis=1),
            basis @ basis.T,
            basis @ aims.T,
            np.sum(aims**2, axis=1),
        )

    def plus(self, other: _Moments, times: float = 1.0) -> _Moments:
        """Add other draws, or take them out again."""
        return _Moments(
            self.draws + times * other.draws,
            self.terms + times * other.terms,
            self.aims + times * other.aims,
            self.terms_terms + times * other.terms_terms,
            self.terms_aims + times * other.terms_aims,
            self.aims_aims + times * other.aims_aims,
        )

    def fitted(self) -> tuple[Array, Array]:
        """Regress each target on the terms; gives the constants and the slopes."""
        middle, mean = self.terms / self.draws, self.aims / self.draws
        inner = self.terms_terms - np.outer(middle, self.terms)
        sizes, turned = np.linalg.eigh(inner)
        sizes = np.maximum(sizes, _LEAST * sizes[-1])
        along = turned.T @ (self.terms_aims - np.outer(middle, self.aims))
        spread = self.aims_aims - mean * self.aims
        kept = along / (sizes[:, None] + _penalties(sizes, along, spread, self.draws))
        slopes = np.asarray(turned @ kept)
        return np.asarray(mean - slopes.T @ middle), slopes


def _penalties(sizes: Array, along: Array, spread: Array, draws: float) -> Array:
    """Choose each target's ridge penalty by generalised cross-validation [-]."""
    tried = draws * _PENALTIES[:, None]
    taken = 1 + np.sum(sizes / (sizes + tried), axis=1)
    explained = (along.T**2)[:, None, :] * (sizes + 2 * tried) / (sizes + tried) ** 2
    left = spread[:, None] - np.sum(explained, axis=2)
    criterion = left / (1 - taken / draws) ** 2
    best: Array = draws * _PENALTIES[np.argmin(criterion, axis=1)]
    return best
