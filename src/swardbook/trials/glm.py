"""Counts and shares as they come: log and logit models, with the clumping there is."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import inf, isinf

import numpy as np

from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError
from swardbook.trials.least_squares import Term, columns_of, mean_rows, new_directions
from swardbook.trials.means import Means
from swardbook.trials.plots import Array, Factor

_ROUNDS = 100
_DONE = 1e-12


@dataclass(frozen=True, slots=True)
class CountModel:
    """Counts or shares fitted on the log or logit scale.

    Parameters
    ----------
    scale : str
        ``log`` of plants a unit of area, or ``logit`` of a share.
    means : Means
        Adjusted means on that scale. [log or logit]
    deviance : float
        Of the model. [-]
    pearson : float
        Sum of squared departures over their variances. [-]
    df : int
        Degrees of freedom left.
    clumping : float
        Of counts: k of the negative binomial, infinite where they do not clump. Of shares: how
        alike two points of one plot are. [-]
    log_likelihood : float
        Of counts; not a number for shares. [-]
    scores : array
        Departure of each plot from its block's expectation, weighed; what a shuffle tests. [-]
    """

    scale: str
    means: Means
    deviance: float
    pearson: float
    df: int
    clumping: float
    log_likelihood: float
    scores: Array


def count_model(
    counts: Array, entry: Factor, block: Factor | None = None, looked: Array | None = None
) -> CountModel:
    """Fit plants counted on plots by a negative binomial, or Poisson where they do not clump.

    Parameters
    ----------
    counts : array
        Plants on each plot. [plants]
    entry, block : Factor
        What stands where.
    looked : array, optional
        Area looked at on each plot; 1 if not given. [m²]

    Raises
    ------
    NotEnoughDataError
        If nothing was found at all, or no plots are left over.
    OutOfRangeError
        If a count is below 0.

    Notes
    -----
    Lawless, J. F., 1987, Canadian Journal of Statistics 15, 209-225; k by its score, so that no
    search stops short.
    """
    if (counts < 0).any():
        raise OutOfRangeError("count", float(counts.min()), "0 or more", "plants")
    if not counts.any():
        raise NotEnoughDataError("a model of counts", "a plant on some plot", "none at all")
    offset = np.zeros(len(counts)) if looked is None else np.log(looked)
    terms = _terms(entry, block)
    design = _design(terms, len(counts))
    basis = _basis(design)
    k = _clumping(counts, basis, offset)
    mu, eta, back = _fit_log(counts, basis, offset, k)
    df = len(counts) - basis.shape[1]
    null = _basis(_design(terms[:-1], len(counts)))
    k0 = _clumping(counts, null, offset)
    mu0 = _fit_log(counts, null, offset, k0)[0]
    return CountModel(
        "log", _means(terms, entry, design, (basis, eta, back)), _nb_deviance(counts, mu, k),
        float(((counts - mu) ** 2 / (mu + mu**2 / k)).sum()), df, k,
        _nb_likelihood(counts, mu, k), (counts - mu0) / (1 + mu0 / k0),
    )  # fmt: skip


def share_model(
    hits: Array, points: Array, entry: Factor, block: Factor | None = None, clumped: bool = True
) -> CountModel:
    """Fit shares of points hit, allowing for points of one plot being alike.

    Parameters
    ----------
    hits, points : array
        Points hit and looked at on each plot. [points]
    entry, block : Factor
        What stands where.
    clumped : bool
        Whether the variance is that of the beta-binomial; else plain binomial.

    Raises
    ------
    NotEnoughDataError
        If no plots are left over, or no plot was hit or every point of all.
    OutOfRangeError
        If a plot has more hits than points.

    Notes
    -----
    Williams, D. A., 1982, Applied Statistics 31, 144-148 (method II): likeness chosen so that
    Pearson's sum equals its degrees of freedom.
    """
    if (hits > points).any() or (hits < 0).any():
        raise OutOfRangeError("points hit", "more than looked at", "0 to all of them", "points")
    if not hits.any() or (hits == points).all():
        raise NotEnoughDataError("a model of shares", "some points hit and some not", "one kind")
    terms = _terms(entry, block)
    design = _design(terms, len(hits))
    basis = _basis(design)
    likeness = _likeness(hits, points, basis) if clumped else 0.0
    weights = 1 / (1 + (points - 1) * likeness)
    p, eta, back = _fit_logit(hits, points, basis, weights)
    df = len(hits) - basis.shape[1]
    p0 = _fit_logit(hits, points, _basis(_design(terms[:-1], len(hits))), weights)[0]
    return CountModel(
        "logit", _means(terms, entry, design, (basis, eta, back)),
        binomial_deviance(hits, points, p),
        _pearson(hits, points, p, weights), df, likeness, float("nan"),
        weights * (hits - points * p0),
    )  # fmt: skip


def deviances(
    hits: Array, points: Array, terms: list[Term]
) -> tuple[list[tuple[float, int]], float, int]:
    """Give the analysis of deviance of shares, each term after those before it.

    Parameters
    ----------
    hits, points : array
        Points hit and looked at. [points]
    terms : list of Term
        In the order in which they are taken out.

    Returns
    -------
    lines : list of tuple
        Deviance and degrees of freedom of each term.
    residual : float
        Deviance left. [-]
    df : int
        Its degrees of freedom.
    """
    plain, lines = np.ones(len(hits)), []
    before, df_before = 0.0, 0
    for upto in range(len(terms) + 1):
        basis = _basis(_design(terms[:upto], len(hits)))
        df = len(hits) - basis.shape[1]
        p = _fit_logit(hits, points, basis, plain)[0]
        now = binomial_deviance(hits, points, p)
        if upto:
            lines.append((before - now, df_before - df))
        before, df_before = now, df
    return lines, before, df_before


def binomial_deviance(hits: Array, points: Array, p: Array) -> float:
    """Give the deviance of shares from what is expected [-]."""
    from scipy.special import xlogy

    missed = points - hits
    with np.errstate(divide="ignore", invalid="ignore"):
        own = xlogy(hits, hits / (points * p)) + xlogy(missed, missed / (points * (1 - p)))
    return float(2 * own.sum())


def _terms(entry: Factor, block: Factor | None) -> list[Term]:
    return [(entry,)] if block is None else [(block,), (entry,)]


def _design(terms: list[Term], n: int) -> Array:
    return np.hstack([np.ones((n, 1)), *(columns_of(term) for term in terms)])


def _means(
    terms: list[Term], entry: Factor, design: Array, fitted: tuple[Array, Array, Array]
) -> Means:
    basis, eta, back = fitted
    _, rows = mean_rows(terms, [entry])
    onto = rows @ np.linalg.pinv(design)
    along = onto @ basis
    k, df = len(entry.levels), float(len(design) - basis.shape[1])
    return Means(
        entry.levels, onto @ eta, along @ back @ along.T, np.full((k, k), df), entry.counts
    )


def _irls(
    basis: Array, start: Array, step: Callable[[Array], tuple[Array, Array]]
) -> tuple[Array, Array]:
    """Repeat weighted least squares till it settles; `step` gives weights and working figures."""
    eta, normal = start, np.eye(basis.shape[1])
    for _ in range(_ROUNDS):
        weights, working = step(eta)
        weighed = basis.T * weights
        normal = weighed @ basis
        fresh = np.clip(basis @ np.linalg.solve(normal, weighed @ working), -30.0, 30.0)
        moved = np.max(np.abs(fresh - eta))
        eta = fresh
        if moved < _DONE * (1 + np.max(np.abs(eta))):
            break
    return eta, np.asarray(np.linalg.inv(normal), dtype=np.float64)


def _basis(design: Array) -> Array:
    """Give as many directions as the design has rank; refuse one that leaves nothing over."""
    basis = new_directions(design, np.empty((len(design), 0)))
    if basis.shape[1] >= len(design):
        raise NotEnoughDataError("a model of counts", "more plots than effects", "too few")
    return basis


def _fit_log(counts: Array, basis: Array, offset: Array, k: float) -> tuple[Array, Array, Array]:
    """Expected counts, their logarithm a unit of area, and the covariance along the basis."""

    def step(eta: Array) -> tuple[Array, Array]:
        mu = np.exp(eta + offset)
        return mu / (1 + mu / k), eta + (counts - mu) / mu

    start = np.log((counts + counts.mean()) / 2 + 1e-9) - offset
    eta, back = _irls(basis, start, step)
    return np.exp(eta + offset), eta, back


def _fit_logit(
    hits: Array, points: Array, basis: Array, weights: Array
) -> tuple[Array, Array, Array]:
    """Expected shares, their logits, and the covariance along the basis."""

    def step(eta: Array) -> tuple[Array, Array]:
        p = 1 / (1 + np.exp(-eta))
        own = np.maximum(p * (1 - p), 1e-12)
        return weights * points * own, eta + (hits / points - p) / own

    start = np.log((hits + 0.5) / (points - hits + 0.5))
    eta, back = _irls(basis, start, step)
    return 1 / (1 + np.exp(-eta)), eta, back


def _clumping(counts: Array, basis: Array, offset: Array) -> float:
    from scipy.optimize import brentq
    from scipy.special import digamma

    def score(log_k: float) -> float:
        k = float(np.exp(log_k))
        mu = _fit_log(counts, basis, offset, k)[0]
        own = digamma(counts + k) - digamma(k) + np.log(k / (k + mu)) + 1
        return float((own - (counts + k) / (k + mu)).sum()) * k

    low, high = np.log(1e-3), np.log(1e5)
    if score(high) >= 0:
        return inf
    return float(np.exp(brentq(score, low, high, xtol=1e-10))) if score(low) > 0 else 1e-3


def _nb_likelihood(counts: Array, mu: Array, k: float) -> float:
    from scipy.special import gammaln, xlogy

    if isinf(k):
        return float((xlogy(counts, mu) - mu - gammaln(counts + 1)).sum())
    own = gammaln(counts + k) - gammaln(k) - gammaln(counts + 1)
    return float((own + k * np.log(k / (k + mu)) + xlogy(counts, mu / (k + mu))).sum())


def _nb_deviance(counts: Array, mu: Array, k: float) -> float:
    from scipy.special import xlogy

    if isinf(k):
        return float(2 * (xlogy(counts, counts / mu) - (counts - mu)).sum())
    own = xlogy(counts, counts / mu) - (counts + k) * np.log((counts + k) / (mu + k))
    return float(2 * own.sum())


def _pearson(hits: Array, points: Array, p: Array, weights: Array) -> float:
    return float((weights * (hits - points * p) ** 2 / (points * p * (1 - p))).sum())


def _likeness(hits: Array, points: Array, basis: Array) -> float:
    from scipy.optimize import brentq

    df = len(hits) - basis.shape[1]

    def excess(likeness: float) -> float:
        weights = 1 / (1 + (points - 1) * likeness)
        p = _fit_logit(hits, points, basis, weights)[0]
        return _pearson(hits, points, p, weights) - float(df)

    if excess(0.0) <= 0:
        return 0.0
    return float(brentq(excess, 0.0, 1.0, xtol=1e-12)) if excess(1.0) < 0 else 1.0
