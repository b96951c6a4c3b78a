"""Split plots: what is compared between whole plots, and what within them, each with its error."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

import numpy as np

from swardbook.foundation.errors import NotEnoughDataError, RefusedError
from swardbook.trials.least_squares import (
    Line,
    Term,
    Tested,
    columns_of,
    mean_rows,
    new_directions,
    term_name,
    tested,
)
from swardbook.trials.means import Means
from swardbook.trials.plots import Array, Factor
from swardbook.trials.reml import Components, fit_components


@dataclass(frozen=True, slots=True)
class Stratum:
    """Lines that share an error.

    Parameters
    ----------
    name : str
        Between blocks, between whole plots, or within them.
    lines : tuple of Line
        What is compared there.
    error : Line
        What is left over there.
    """

    name: str
    lines: tuple[Line, ...]
    error: Line

    def tests(self) -> tuple[Tested, ...]:
        """Test each line against the error of the stratum."""
        return tuple(tested(line, self.error) for line in self.lines)


@dataclass(frozen=True, slots=True)
class SplitPlot:
    """A split plot analysed.

    Parameters
    ----------
    whole, sub : Means
        Means of the whole-plot and of the sub-plot treatments.
    sub_within_whole, whole_within_sub : float
        Standard errors of difference of two cells that share a whole-plot treatment, and of two
        that do not. [unit of the figures]
    df_whole_within_sub : float
        Degrees of freedom of the second, by Satterthwaite. [-]
    strata : tuple of Stratum
        The lines; empty where the trial is not balanced.
    components : Components or None
        The mixed model; None where it is balanced and sums give all.
    """

    whole: Means
    sub: Means
    sub_within_whole: float
    whole_within_sub: float
    df_whole_within_sub: float
    strata: tuple[Stratum, ...]
    components: Components | None = None


def in_strata(
    figures: Array, random: Sequence[Factor], terms: Sequence[Term]
) -> tuple[Stratum, ...]:
    """Give the analysis of variance stratum by stratum.

    Parameters
    ----------
    figures : array
        One figure a plot. [any one unit]
    random : sequence of Factor
        Nested units, largest first: blocks, whole plots.
    terms : sequence of Term
        What is compared; each has to lie wholly in one stratum.

    Raises
    ------
    RefusedError
        If a term lies in two strata: the trial is not balanced.
    """
    n = len(figures)
    done = np.full((n, 1), 1 / sqrt(n))
    bases = []
    for factor in random:
        own = new_directions(factor.indicators, done)
        bases.append((factor.name, own))
        done = np.hstack([done, own])
    bases.append(("within", new_directions(np.eye(n), done)))
    found, ranks = [], dict.fromkeys((term_name(term) for term in terms), 0)
    for name, basis in bases:
        y = basis.T @ figures
        used = np.empty((len(y), 0))
        lines = []
        for term in terms:
            added = new_directions(basis.T @ columns_of(term), used)
            if added.shape[1]:
                lines.append(
                    Line(term_name(term), added.shape[1], float(((added.T @ y) ** 2).sum()))
                )
                ranks[term_name(term)] += 1
                used = np.hstack([used, added])
        left = y - used @ (used.T @ y)
        error = Line("error", len(y) - used.shape[1], float(left @ left))
        found.append(Stratum(name, tuple(lines), error))
    if any(strata > 1 for strata in ranks.values()):
        raise RefusedError("Sums by strata", "the trial is not balanced.", "Components are fitted.")
    return tuple(found)


def split_plot(figures: Array, block: Factor, whole: Factor, sub: Factor) -> SplitPlot:
    """Analyse a split plot: by sums where it is balanced, by components otherwise.

    Parameters
    ----------
    figures : array
        One figure a sub-plot. [any one unit]
    block : Factor
        Blocks.
    whole : Factor
        What was shuffled over whole plots.
    sub : Factor
        What was shuffled within them.

    Raises
    ------
    NotEnoughDataError
        If there are no repeats.
    """
    cells = np.bincount(
        (block.codes * len(whole.levels) + whole.codes) * len(sub.levels) + sub.codes,
        minlength=len(block.levels) * len(whole.levels) * len(sub.levels),
    )
    if len(block.levels) < 2:
        raise NotEnoughDataError("a split plot", "at least two blocks", "one")
    if (cells == 1).all():
        return _balanced(figures, block, whole, sub)
    return _by_components(figures, block, whole, sub)


def _balanced(figures: Array, block: Factor, whole: Factor, sub: Factor) -> SplitPlot:
    terms: list[Term] = [(whole,), (sub,), (whole, sub)]
    strata = in_strata(figures, [block, block.by(whole)], terms)
    a, b, r = len(whole.levels), len(sub.levels), len(block.levels)
    ea, eb = strata[1].error, strata[2].error
    within = (b - 1) * eb.ms + ea.ms
    df = within**2 / (((b - 1) * eb.ms) ** 2 / eb.df + ea.ms**2 / ea.df)
    return SplitPlot(
        _plain(figures, whole, ea.ms / (r * b), ea.df),
        _plain(figures, sub, eb.ms / (r * a), eb.df),
        sqrt(2 * eb.ms / r), sqrt(2 * within / (r * b)), df, strata,
    )  # fmt: skip


def _plain(figures: Array, of: Factor, variance: float, df: int) -> Means:
    k = len(of.levels)
    values = np.bincount(of.codes, weights=figures) / of.counts
    return Means(of.levels, values, variance * np.eye(k), np.full((k, k), float(df)), of.counts)


def _by_components(figures: Array, block: Factor, whole: Factor, sub: Factor) -> SplitPlot:
    terms: list[Term] = [(whole,), (sub,), (whole, sub)]
    model = fit_components(figures, terms, [(block,), (block.by(whole),)])
    _, rows = mean_rows(terms, [whole, sub])
    a, b = len(whole.levels), len(sub.levels)
    cells = rows.reshape(a, b, -1)
    alike = [cells[i, 0] - cells[i, 1] for i in range(a)]
    apart = [cells[i, j] - cells[0, j] for i in range(1, a) for j in range(b)]

    def error(contrasts: list[Array]) -> float:
        return sqrt(float(np.mean([c @ model.covariance @ c for c in contrasts])))

    return SplitPlot(
        model.means(whole), model.means(sub), error(alike), error(apart),
        float(np.mean([model.degrees(c) for c in apart])), (), model,
    )  # fmt: skip
