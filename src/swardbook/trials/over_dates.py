"""Mixtures over dates as lines: the same plots read again and again, at any times, by likelihood.

The mean over time comes first, since it needs no model of how a plot's readings are alike. This is
the second look: where mixtures start, how fast they change, and whether they part.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from math import log, pi

import numpy as np

from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError
from swardbook.trials.plots import Array, Codes, Factor


class Alike(StrEnum):
    """How the readings of one plot are alike."""

    OWN_LINE = "each plot has a line of its own"
    FADING = "alike, less as they lie further apart in time"


@dataclass(frozen=True, slots=True)
class Lines:
    """A line of each mixture over time.

    Parameters
    ----------
    alike : Alike
        How the readings of one plot were taken to be alike.
    names : tuple of str
        What each figure is: ``start``, ``change``, and what each further mixture adds to them.
    values, errors : array
        Figures with their standard errors. [unit of the figures; of the changes, over a unit of
        time]
    covariance : array
        Their variances and covariances. [products of these]
    between : array
        Of lines of their own: variances and covariance of start and change from plot to plot.
        Otherwise empty. [squares of the units]
    fading : float or None
        Of readings that fade: how alike two are that lie one unit of time apart. [-]
    sigma : float
        Spread of a reading about its line. [unit of the figures]
    log_likelihood : float
        Restricted. [-]
    """

    alike: Alike
    names: tuple[str, ...]
    values: Array
    errors: Array
    covariance: Array
    between: Array
    fading: float | None
    sigma: float
    log_likelihood: float


def lines_over_time(
    figures: Array, plot: Factor, entry: Factor, when: Array, alike: Alike = Alike.OWN_LINE,
    by_date: bool = False,
) -> Lines:  # fmt: skip
    """Fit a line over time to each mixture.

    Parameters
    ----------
    figures : array
        Readings. [any one unit]
    plot, entry : Factor
        Plot of each reading, and its mixture; the first mixture is the one that others are set
        against.
    when : array
        Time of each reading. [any one unit]
    alike : Alike
        How the readings of one plot are alike.
    by_date : bool
        Whether each date has a mean of its own, not a line through all.

    Raises
    ------
    NotEnoughDataError
        If there are fewer than two times, or no more plots than mixtures.
    OutOfRangeError
        If readings and times are not as many.

    Notes
    -----
    Laird, N. M. and Ware, J. H., 1982, Biometrics 38, 963-974; fading: Diggle, P. J., 1988,
    Biometrics 44, 959-971. From several starts: from a poor one the search stops where nothing
    fades.
    """
    if len(figures) != len(when):
        raise OutOfRangeError("readings", len(figures), f"{len(when)}, as the times", "")
    if len(np.unique(when)) < 2 or len(plot.levels) <= len(entry.levels):
        raise NotEnoughDataError(
            "lines over time",
            "two times, and more plots than mixtures",
            f"{len(plot.levels)} plots",
        )
    order = np.argsort(plot.codes, kind="stable")
    design, names = _design(entry, when, by_date)
    rows = np.split(order, np.flatnonzero(np.diff(plot.codes[order])) + 1)
    likeness = _own_line if alike is Alike.OWN_LINE else _fading
    made = _Readings(figures, design, when, rows, likeness)
    best = made.searched(_STARTS[alike])
    deviance, sigma2, values, spread = made.profile(best)
    return Lines(
        alike, names, values, np.sqrt(np.diag(spread)), spread,
        sigma2 * _root(best) @ _root(best).T if alike is Alike.OWN_LINE else np.empty((0, 0)),
        _per_unit(best) if alike is Alike.FADING else None, float(np.sqrt(sigma2)), -deviance / 2,
    )  # fmt: skip


def _design(entry: Factor, when: Array, by_date: bool) -> tuple[Array, tuple[str, ...]]:
    others, steps, words = entry.indicators[:, 1:], when[:, None], ["change"]
    if by_date:
        dates = np.unique(when)[1:]
        steps = (when[:, None] == dates).astype(float)
        words = [f"change to {date:g}" for date in dates]
    columns, names = [np.ones((len(when), 1)), steps, others], ["start", *words]
    names += [f"start of {name}" for name in entry.levels[1:]]
    for name, each in zip(entry.levels[1:], others.T, strict=True):
        columns.append(steps * each[:, None])
        names += [f"{word} of {name}" for word in words]
    return np.hstack(columns), tuple(names)


_STARTS: dict[Alike, tuple[tuple[float, ...], ...]] = {
    Alike.OWN_LINE: ((0.0, 0.0, 0.0), (1.5, 0.0, -1.0), (-1.5, 0.0, -1.5)),
    Alike.FADING: ((-1.0,), (-3.0,), (-5.0,), (-7.0,), (1.0,)),
}


def _root(guess: Array) -> Array:
    """Root of the variances of start and change over that of a reading, lower triangle [-]."""
    return np.array([[np.exp(guess[0]), 0.0], [guess[1], np.exp(guess[2])]])


def _own_line(guess: Array, when: Array) -> Array:
    line = np.column_stack([np.ones_like(when), when]) @ _root(guess)
    return np.asarray(line @ line.T + np.eye(len(when)))


def _per_unit(guess: Array) -> float:
    return float(np.exp(-np.exp(guess[0])))


def _fading(guess: Array, when: Array) -> Array:
    return np.asarray(np.exp(-np.exp(guess[0]) * np.abs(when[:, None] - when)))


@dataclass(frozen=True, slots=True)
class _Readings:
    """Readings plot by plot, and how those of one plot are alike."""

    figures: Array
    design: Array
    when: Array
    rows: list[Codes]
    likeness: Callable[[Array, Array], Array]

    def profile(self, guess: Array) -> tuple[float, float, Array, Array]:
        """Minus twice the restricted log-likelihood, the variance, effects and covariance."""
        width = self.design.shape[1]
        normal, right, square, logs = np.zeros((width, width)), np.zeros(width), 0.0, 0.0
        roots: dict[bytes, Array] = {}
        for rows in self.rows:
            when = self.when[rows]
            key = when.tobytes()
            if key not in roots:
                roots[key] = np.linalg.inv(np.linalg.cholesky(self.likeness(guess, when)))
            root = roots[key]
            x, y = root @ self.design[rows], root @ self.figures[rows]
            normal += x.T @ x
            right += x.T @ y
            square += float(y @ y)
            logs -= 2 * float(np.log(np.diag(root)).sum())
        back = np.linalg.inv(normal)
        effects = back @ right
        df = len(self.figures) - width
        sigma2 = (square - float(right @ effects)) / df
        logs -= float(np.linalg.slogdet(back)[1])
        return df * (log(2 * pi * sigma2) + 1) + logs, sigma2, effects, sigma2 * back

    def against(self, guess: Array) -> float:
        try:
            return self.profile(guess)[0]
        except np.linalg.LinAlgError:
            return 1e12

    def searched(self, starts: tuple[tuple[float, ...], ...]) -> Array:
        from scipy.optimize import minimize

        def from_start(start: Array, within: float) -> tuple[float, Array]:
            found = minimize(
                self.against, start, method="Nelder-Mead",
                options={"xatol": within, "fatol": within, "maxiter": 2000},
            )  # fmt: skip
            return float(found.fun), np.asarray(found.x)

        rough = [from_start(np.array(start), 1e-3) for start in starts]
        best = min(rough, key=lambda each: each[0])[1]
        return from_start(best, 1e-9)[1]
