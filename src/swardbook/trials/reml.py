"""Variance components by restricted maximum likelihood, with Satterthwaite's degrees of freedom."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import product
from math import log, pi

import numpy as np

from swardbook.foundation.errors import NotEnoughDataError
from swardbook.trials.least_squares import (
    Term,
    coding_constant,
    columns_of,
    mean_rows,
    new_directions,
)
from swardbook.trials.means import Means
from swardbook.trials.plots import Array, Codes, Factor

_LEAST_ROOT = 0.1
"""Of the error's spread: what units hold back below it cannot be told from rounding."""
_IMPOSSIBLE = 1e12
"""Deviance of ratios that no spread of plots can have."""


@dataclass(frozen=True, slots=True)
class Components:
    """A mixed model as fitted.

    Parameters
    ----------
    names : tuple of str
        The random terms, the error last.
    variances : array
        Their variances; below 0 where plots of one unit were less alike than luck alone makes
        them. [unit of the figures, squared]
    deviance : float
        Minus twice the restricted log-likelihood, each factor coded against its first level. [-]
    effects : array
        Fixed effects, one solution of the normal equations. [unit of the figures]
    covariance : array
        Their generalised covariance. [unit squared]
    """

    names: tuple[str, ...]
    variances: Array
    deviance: float
    effects: Array
    covariance: Array
    fixed: tuple[Term, ...]
    slopes: tuple[Array, ...]
    """How the covariance of effects changes with each component."""
    uncertainty: Array
    """Covariance of the components, from their expected information."""

    def means(self, of: Factor) -> Means:
        """Give adjusted means with Satterthwaite's degrees of freedom for each pair.

        Parameters
        ----------
        of : Factor
            Whose means; it stands in a fixed term.

        Notes
        -----
        Satterthwaite, F. E., 1946, Biometrics Bulletin 2, 110-114; Giesbrecht, F. G. and Burns,
        J. C., 1985, Biometrics 41, 477-486.
        """
        _, rows = mean_rows(self.fixed, [of])
        return self.of_rows(rows, of.levels, of.counts)

    def of_rows(self, rows: Array, names: tuple[str, ...], plots: Codes) -> Means:
        """Give means that are given rows of the fixed effects, in the unit of the figures."""
        count = len(rows)
        df = np.full((count, count), np.inf)
        for one, two in product(range(count), repeat=2):
            if one < two:
                df[one, two] = df[two, one] = self.degrees(rows[one] - rows[two])
        return Means(
            names, rows @ self.effects, rows @ self.covariance @ rows.T, df,
            plots,
        )  # fmt: skip

    def degrees(self, row: Array) -> float:
        """Give Satterthwaite's degrees of freedom of one function of the fixed effects [-]."""
        variance = float(row @ self.covariance @ row)
        gradient = np.array([row @ slope @ row for slope in self.slopes])
        against = float(gradient @ self.uncertainty @ gradient)
        return 2 * variance**2 / against if against > 0 else float("inf")


def fit_components(
    figures: Array, fixed: Sequence[Term], random: Sequence[Term], starts: int = 2
) -> Components:
    """Fit a mixed model: fixed terms, random terms and plots.

    Parameters
    ----------
    figures : array
        One figure a plot. [any one unit]
    fixed : sequence of Term
        Fixed terms after the mean.
    random : sequence of Term
        Random terms, such as blocks and whole plots.
    starts : int
        Starts of the search for each component: one start can stop in the wrong place.

    Raises
    ------
    NotEnoughDataError
        If nothing is left over to estimate an error from.

    Notes
    -----
    Patterson, H. D. and Thompson, R., 1971, Biometrika 58, 545-554.
    """
    design = np.hstack([np.ones((len(figures), 1)), *(columns_of(term) for term in fixed)])
    own = new_directions(design, np.empty((len(figures), 0)))
    if len(figures) - own.shape[1] <= len(random):
        raise NotEnoughDataError("components of variance", "more plots than effects", "too few")
    shapes = [columns_of(term) @ columns_of(term).T for term in random]

    def deviance(ratios: Array) -> float:
        return _profile(ratios, figures, own, shapes)[0]

    ratios = _least(deviance, len(random), starts)
    value, error = _profile(ratios, figures, own, shapes)
    value += coding_constant(fixed)
    names = (*(":".join(factor.name for factor in term) for term in random), "error")
    variances = np.append(ratios * error, error)
    return _assembled(names, variances, value, figures, design, shapes, tuple(fixed))


def _least(deviance: Callable[[Array], float], count: int, starts: int) -> Array:
    """Find the ratios to the error with least deviance, from several starts.

    Ratios may fall below 0, as sums by strata do: held at 0, a component that luck hid would make
    tests of whole plots too bold.
    """
    from scipy.optimize import minimize

    best, where = np.inf, np.zeros(count)
    for start in product((0.3, 4.0, 20.0)[:starts], repeat=count):
        found = minimize(
            deviance, np.array(start), method="Nelder-Mead", options={"xatol": 1e-3, "fatol": 1e-4}
        )
        if found.fun < best - 1e-9:
            best, where = float(found.fun), np.asarray(found.x)
    polished = minimize(
        deviance, where, method="Nelder-Mead",
        options={"xatol": 1e-9, "fatol": 1e-11, "maxiter": 400 * count,
                 "initial_simplex": _around(where)},
    )  # fmt: skip
    return np.asarray(polished.x, dtype=np.float64)


def _around(where: Array) -> Array:
    steps = np.diag(0.02 * np.maximum(np.abs(where), 0.05))
    return np.vstack([where, where + steps])


def _profile(
    ratios: Array, figures: Array, own: Array, shapes: Sequence[Array]
) -> tuple[float, float]:
    """Give minus twice the restricted log-likelihood at ratios, and the error's variance there."""
    total = np.eye(len(figures))
    for ratio, shape in zip(ratios, shapes, strict=True):
        total = total + ratio * shape
    try:
        root = np.linalg.cholesky(total)
    except np.linalg.LinAlgError:
        return _IMPOSSIBLE, 1.0
    if root.diagonal().min() < _LEAST_ROOT:
        return _IMPOSSIBLE, 1.0
    x, y = np.linalg.solve(root, own), np.linalg.solve(root, figures)
    q, r = np.linalg.qr(x)
    left = y - q @ (q.T @ y)
    df = len(figures) - own.shape[1]
    error = float(left @ left) / df
    if error <= 0:
        raise NotEnoughDataError("components of variance", "plots that differ", "none that do")
    logs = 2 * np.log(np.diag(root)).sum() + 2 * np.log(np.abs(np.diag(r))).sum()
    return float(df * (log(2 * pi * error) + 1) + logs), error


def _assembled(
    names: tuple[str, ...], variances: Array, value: float, figures: Array, design: Array,
    shapes: Sequence[Array], fixed: tuple[Term, ...],
) -> Components:  # fmt: skip
    parts = [*shapes, np.eye(len(figures))]
    total = sum(
        (v * part for v, part in zip(variances, parts, strict=True)), np.zeros_like(parts[-1])
    )
    back = np.linalg.inv(total)
    normal = design.T @ back @ design
    covariance = np.asarray(np.linalg.pinv(normal, rcond=1e-10, hermitian=True), dtype=np.float64)
    effects = np.asarray(covariance @ (design.T @ (back @ figures)))
    projection = back - back @ design @ covariance @ design.T @ back
    moved = [projection @ part for part in parts]
    information = np.array([[0.5 * np.sum(a * b.T) for b in moved] for a in moved])
    carried = back @ design @ covariance
    slopes = tuple(carried.T @ part @ carried for part in parts)
    return Components(
        names, variances, value, effects, covariance, fixed, slopes, np.linalg.inv(information)
    )
