"""Ratings as steps in order: a second opinion beside the means, never in place of them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swardbook.foundation.errors import NotEnoughDataError
from swardbook.trials.plots import Array, Codes, Factor

_NODES = 30


@dataclass(frozen=True, slots=True)
class OrdinalModel:
    """Cumulative logits of ratings.

    Parameters
    ----------
    thresholds : array
        Between each step and the next. [logit]
    effects : array
        One a column of the design; above 0 leads to higher steps. [logit]
    errors : array
        Standard errors of the effects. [logit]
    log_likelihood : float
        At the best fit. [-]
    rater_sd : float
        Spread of what raters, or other groups, have in common; 0 without groups. [logit]
    is_stable : bool
        Whether the search settled and no effect ran off; if not, it says nothing.
    """

    thresholds: Array
    effects: Array
    errors: Array
    log_likelihood: float
    rater_sd: float
    is_stable: bool


def ordinal_model(
    steps: Codes, design: Array, group: Factor | None = None, times: Array | None = None
) -> OrdinalModel:
    """Fit ratings in steps by cumulative logits, with groups in common or without.

    Parameters
    ----------
    steps : array of int
        Step of each rating, from 0. [-]
    design : array
        Columns of what they are put down to, without one for the mean. [-]
    group : Factor, optional
        What ratings have in common at random, such as the rater.
    times : array, optional
        How often each row stands; once if not given. [-]

    Raises
    ------
    NotEnoughDataError
        If all ratings are one step.

    Notes
    -----
    McCullagh, P., 1980, Journal of the Royal Statistical Society B 42, 109-142; groups by
    Gauss-Hermite quadrature.
    """
    top = _top(steps)
    rows = np.ones(len(steps)) if times is None else times
    natural, against = _search(steps, design, group, rows)
    errors = _errors(natural, steps, design, group, rows, top)
    effects = natural[top : top + design.shape[1]]
    with np.errstate(invalid="ignore"):
        fine = bool(np.isfinite(errors).all() and (np.abs(effects) < 15).all())
    return OrdinalModel(
        natural[:top], effects, errors[top : top + design.shape[1]], -against,
        0.0 if group is None else float(np.exp(natural[-1])), fine,
    )  # fmt: skip


def null_scores(steps: Codes, block: Factor | None) -> Array:
    """Give each rating's score when only blocks count: what a shuffle within blocks tests [-].

    Raises
    ------
    NotEnoughDataError
        If all ratings are one step.
    """
    top = _top(steps)
    columns = np.empty((len(steps), 0)) if block is None else block.indicators[:, 1:]
    natural, _ = _search(steps, columns, None, np.ones(len(steps)))
    eta = columns @ natural[top:]
    edges = np.concatenate([[-np.inf], natural[:top], [np.inf]])
    high, low = _logistic(edges[steps + 1] - eta), _logistic(edges[steps] - eta)
    return np.asarray(high + low - 1)


def _top(steps: Codes) -> int:
    if len(np.unique(steps)) < 2:
        raise NotEnoughDataError("an ordinal model", "ratings of two steps or more", "one step")
    return int(steps.max())


def _search(steps: Codes, design: Array, group: Factor | None, rows: Array) -> tuple[Array, float]:
    """Give the best thresholds and effects, and minus the log-likelihood there."""
    from scipy.optimize import minimize

    top = _top(steps)
    shares = np.cumsum(np.bincount(steps, weights=rows, minlength=top + 1)) / rows.sum()
    first = np.log(np.clip(shares[:-1], 0.01, 0.99) / np.clip(1 - shares[:-1], 0.01, 0.99))
    gaps = np.log(np.maximum(np.diff(first), 0.05))
    start = np.concatenate([first[:1], gaps, np.zeros(design.shape[1])])
    if group is not None:
        start = np.append(start, 0.0)

    def against(guess: Array) -> float:
        return -_likelihood(guess, steps, design, group, rows, top)

    found = minimize(against, start, method="BFGS", options={"gtol": 1e-6})
    return _natural(np.asarray(found.x), top), float(found.fun)


def _natural(guess: Array, top: int) -> Array:
    thresholds = np.cumsum(np.concatenate([guess[:1], np.exp(guess[1:top])]))
    return np.concatenate([thresholds, guess[top:]])


def _likelihood(
    guess: Array, steps: Codes, design: Array, group: Factor | None, rows: Array, top: int
) -> float:
    return _of_natural(_natural(guess, top), steps, design, group, rows, top)


def _of_natural(
    natural: Array, steps: Codes, design: Array, group: Factor | None, rows: Array, top: int
) -> float:
    edges = np.concatenate([[-np.inf], natural[:top], [np.inf]])
    eta = design @ natural[top : top + design.shape[1]]
    if group is None:
        chance = _logistic(edges[steps + 1] - eta) - _logistic(edges[steps] - eta)
        return float((rows * np.log(np.maximum(chance, 1e-300))).sum())
    z, weight = np.polynomial.hermite_e.hermegauss(_NODES)
    moved = eta[:, None] + np.exp(natural[-1]) * z
    chance = _logistic(edges[steps + 1][:, None] - moved) - _logistic(edges[steps][:, None] - moved)
    logs = rows[:, None] * np.log(np.maximum(chance, 1e-300))
    together = group.indicators.T @ logs
    peak = together.max(axis=1, keepdims=True)
    inner = (np.exp(together - peak) * (weight / np.sqrt(2 * np.pi))).sum(axis=1)
    return float((np.log(inner) + peak[:, 0]).sum())


def _errors(
    natural: Array, steps: Codes, design: Array, group: Factor | None, rows: Array, top: int
) -> Array:
    count, step = len(natural), 1e-4
    curve = np.empty((count, count))
    for one in range(count):
        for two in range(one + 1):
            total = 0.0
            for first in (-1, 1):
                for second in (-1, 1):
                    at = natural.copy()
                    at[one] += first * step
                    at[two] += second * step
                    total += first * second * _of_natural(at, steps, design, group, rows, top)
            curve[one, two] = curve[two, one] = -total / (4 * step**2)
    try:
        with np.errstate(invalid="ignore"):
            return np.asarray(np.sqrt(np.diag(np.linalg.inv(curve))))
    except np.linalg.LinAlgError:
        return np.full(count, np.nan)


def _logistic(x: Array) -> Array:
    from scipy.special import expit

    return np.asarray(expit(x))
