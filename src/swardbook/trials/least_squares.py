"""Least squares for tables of plots, balanced or not; every rank is found, none assumed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np

from swardbook.foundation.errors import BadInputError, NotEnoughDataError
from swardbook.trials.plots import Array, Factor

Term = tuple[Factor, ...]
"""A main effect, or an interaction of several factors."""
_RANK = 1e-9
"""Of the longest column: what is shorter than this once others are taken out adds no rank."""


@dataclass(frozen=True, slots=True)
class Line:
    """One line of an analysis of variance.

    Parameters
    ----------
    term : str
        What it is for.
    df : int
        Degrees of freedom.
    ss : float
        Sum of squares. [unit of the figures, squared]
    """

    term: str
    df: int
    ss: float

    @property
    def ms(self) -> float:
        """Mean square. [unit of the figures, squared]."""
        return self.ss / self.df if self.df else float("nan")


@dataclass(frozen=True, slots=True)
class Tested:
    """A line with its test against an error line.

    Parameters
    ----------
    line : Line
        What is tested.
    f : float
        Ratio of the mean squares. [-]
    p : float
        Chance of so large a ratio if there were no differences. [-]
    """

    line: Line
    f: float
    p: float


def tested(line: Line, error: Line) -> Tested:
    """Test a line against the line of its error.

    Raises
    ------
    NotEnoughDataError
        If the error has no degrees of freedom.
    """
    from scipy.special import fdtrc

    if error.df < 1:
        raise NotEnoughDataError("a test", "more plots than there are effects", "no error left")
    ratio = line.ms / error.ms if error.ms > 0 else float("inf" if line.ss > 0 else "nan")
    if np.isnan(ratio):
        return Tested(line, 0.0, 1.0)
    chance = 0.0 if np.isinf(ratio) else float(fdtrc(line.df, error.df, ratio))
    return Tested(line, ratio, chance)


@dataclass(frozen=True, slots=True)
class LinearFit:
    """A fitted linear model; figures may be many, a column each.

    Parameters
    ----------
    terms : tuple of Term
        Its terms after the mean, in order.
    design : array
        Columns of ones and noughts: the mean, then each term. [-]
    inverse : array
        Generalised inverse of the normal equations. [-]
    effects : array
        One solution of them, a row a column of the design. [unit of the figures]
    residual : Line
        What is left over; for many figures, of the first.
    mse : array
        Error mean square of each column of figures. [unit of the figures, squared]
    """

    terms: tuple[Term, ...]
    design: Array
    inverse: Array
    effects: Array
    residual: Line
    mse: Array

    @property
    def df(self) -> int:
        """Degrees of freedom of the error."""
        return self.residual.df

    def estimate(self, rows: Array) -> Array:
        """Give linear functions of the effects, a row each. [unit of the figures].

        Raises
        ------
        NotEnoughDataError
            If the plots cannot tell one of them.
        """
        self.require_estimable(rows)
        return np.asarray(rows @ self.effects)

    def spread(self, rows: Array) -> Array:
        """Give the variances and covariances of linear functions, in units of the error's [-]."""
        return np.asarray(rows @ self.inverse @ rows.T)

    def require_estimable(self, rows: Array) -> None:
        """Refuse functions of the effects that no sum of plots can give."""
        normal = self.design.T @ self.design
        if not np.allclose(rows @ self.inverse @ normal, rows, atol=1e-7):
            raise NotEnoughDataError(
                "these means side by side", "plots that join them through common blocks",
                "some that share none",
            )  # fmt: skip


def term_name(term: Term) -> str:
    """Name a term by its factors."""
    return ":".join(factor.name for factor in term)


def columns_of(term: Term) -> Array:
    """Give the indicator columns of a term: one for each combination of its levels."""
    columns = term[0].indicators
    for factor in term[1:]:
        crossed = columns[:, :, None] * factor.indicators[:, None, :]
        columns = crossed.reshape(len(columns), -1)
    return columns


def coding_constant(terms: Sequence[Term]) -> float:
    """Give what the usual coding, each factor against its first level, adds to a deviance [-].

    A restricted likelihood changes by a constant with the coding of the fixed effects; this one is
    that of other programs. It is 0 where some combination of levels is missing.
    """
    parts = [np.ones((len(terms[0][0].codes), 1))] if terms else []
    for term in terms:
        columns = term[0].indicators[:, 1:]
        for factor in term[1:]:
            crossed = columns[:, :, None] * factor.indicators[:, None, 1:]
            columns = crossed.reshape(len(columns), -1)
        parts.append(columns)
    if not parts:
        return 0.0
    design = np.hstack(parts)
    sign, logarithm = np.linalg.slogdet(design.T @ design)
    return float(logarithm) if sign > 0 else 0.0


def new_directions(columns: Array, basis: Array) -> Array:
    """Give an orthonormal basis of what columns add to an orthonormal basis."""
    scale = float(np.sqrt((columns**2).sum(axis=0).max(initial=0.0)))
    rest = columns - basis @ (basis.T @ columns)
    rest -= basis @ (basis.T @ rest)
    left, lengths, _ = np.linalg.svd(rest, full_matrices=False)
    return np.asarray(left[:, lengths > _RANK * max(scale, 1.0)])


def fit(figures: Array, terms: Sequence[Term]) -> LinearFit:
    """Fit the mean and terms by least squares.

    Parameters
    ----------
    figures : array
        One figure a plot, or a column for each of several traits or dates. [any one unit]
    terms : sequence of Term
        What they are put down to.

    Returns
    -------
    LinearFit
        Solutions, error and what is needed for standard errors.
    """
    y = figures.reshape(len(figures), -1)
    design = np.hstack([np.ones((len(y), 1)), *(columns_of(term) for term in terms)])
    inverse = np.linalg.pinv(design.T @ design, rcond=1e-10, hermitian=True)
    basis = new_directions(design, np.empty((len(y), 0)))
    left = y - basis @ (basis.T @ y)
    ss = np.einsum("ij,ij->j", left, left)
    df = len(y) - basis.shape[1]
    mse = ss / df if df else np.full_like(ss, np.nan)
    effects = inverse @ (design.T @ y)
    return LinearFit(tuple(terms), design, inverse, effects, Line("error", df, float(ss[0])), mse)


def in_order(figures: Array, terms: Sequence[Term]) -> list[Line]:
    """Give the analysis of variance, each term after those before it, the error last.

    Parameters
    ----------
    figures : array
        One figure a plot. [any one unit]
    terms : sequence of Term
        In the order in which they are taken out.
    """
    n = len(figures)
    basis = np.full((n, 1), 1 / np.sqrt(n))
    lines = []
    for term in terms:
        added = new_directions(columns_of(term), basis)
        lines.append(Line(term_name(term), added.shape[1], float(((added.T @ figures) ** 2).sum())))
        basis = np.hstack([basis, added])
    left = figures - basis @ (basis.T @ figures)
    return [*lines, Line("error", n - basis.shape[1], float(left @ left))]


def each_after_others(figures: Array, terms: Sequence[Term]) -> list[Line]:
    """Give each term's line after all terms that do not hold it (type II), the error last."""
    lines = []
    for term in terms:
        own = {factor.name for factor in term}
        others = [t for t in terms if t is not term and not own <= {f.name for f in t}]
        lines.append(in_order(figures, [*others, term])[len(others)])
    return [*lines, in_order(figures, terms)[-1]]


def mean_rows(terms: Sequence[Term], of: Sequence[Factor]) -> tuple[list[tuple[str, ...]], Array]:
    """Give the linear functions that are the adjusted means of cells of some factors.

    Every other factor counts with all its levels alike.

    Parameters
    ----------
    terms : sequence of Term
        The terms of the model.
    of : sequence of Factor
        The factors whose cells are wanted.

    Returns
    -------
    cells : list of tuple of str
        Levels of each cell.
    rows : array
        One row a cell. [-]

    Raises
    ------
    BadInputError
        If a factor stands in no term.
    """
    standing = {factor.name for term in terms for factor in term}
    for factor in of:
        if factor.name not in standing:
            raise BadInputError("the means", factor.name, ", ".join(sorted(standing)))
    cells = list(product(*(range(len(factor.levels)) for factor in of)))
    rows = [
        np.concatenate([np.ones(1), *(_weights(term, of, cell) for term in terms)])
        for cell in cells
    ]
    names = [tuple(f.levels[code] for f, code in zip(of, cell, strict=True)) for cell in cells]
    return names, np.asarray(rows)


def _weights(term: Term, of: Sequence[Factor], cell: Sequence[int]) -> Array:
    fixed: Mapping[str, int] = {f.name: code for f, code in zip(of, cell, strict=True)}
    weights = np.ones(1)
    for factor in term:
        count = len(factor.levels)
        own = np.full(count, 1 / count)
        if factor.name in fixed:
            own = np.eye(count)[fixed[factor.name]]
        weights = np.outer(weights, own).ravel()
    return weights
