"""Analysis of variance of a trial: the lines, the adjusted means, the error."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from swardbook.foundation.errors import NotEnoughDataError
from swardbook.trials.least_squares import (
    Line,
    Tested,
    each_after_others,
    fit,
    mean_rows,
    tested,
)
from swardbook.trials.means import Means
from swardbook.trials.plots import Array, Factor, PlotTable


@dataclass(frozen=True, slots=True)
class Analysis:
    """One trait on one day, analysed.

    Parameters
    ----------
    design : str
        What the trial was taken for.
    lines : tuple of Tested
        Blocks, mixtures and so on, each after all others.
    error : Line
        What is left over.
    means : Means
        Adjusted means.
    block_means : tuple of (str, float)
        Adjusted mean of each block. [unit of the figures]
    """

    design: str
    lines: tuple[Tested, ...]
    error: Line
    means: Means
    block_means: tuple[tuple[str, float], ...] = ()

    @property
    def entries(self) -> Tested:
        """The line of what was compared: the last of them."""
        return self.lines[-1]

    @property
    def spread(self) -> float:
        """Standard deviation from plot to plot [unit of the figures]."""
        return float(np.sqrt(self.error.ms))

    @property
    def cv(self) -> float:
        """Spread over the mean [-]; without sense on a scale whose nought is arbitrary."""
        return self.spread / float(np.average(self.means.values, weights=self.means.plots))


def analyse(table: PlotTable) -> Analysis:
    """Analyse plots shuffled within blocks, or over the whole ground.

    By sums where every mixture stands once in every block, by least squares otherwise.

    Parameters
    ----------
    table : PlotTable
        One figure a plot.

    Returns
    -------
    Analysis
        Mixtures tested after blocks; means adjusted for blocks.

    Raises
    ------
    NotEnoughDataError
        If there is one mixture only, no repeat, or plots share no blocks.
    """
    if table.block is None or len(table.block.levels) == 1:
        return analyse_after(table.values, table.entry, (), "shuffled over the whole ground")
    if is_complete(table.entry, table.block):
        return _by_sums(table.values, table.entry, table.block)
    return analyse_after(table.values, table.entry, (table.block,), "randomised blocks")


def analyse_after(figures: Array, entry: Factor, others: Sequence[Factor], design: str) -> Analysis:
    """Analyse what was compared after any others: rows and columns, blocks, a covariate's classes.

    Parameters
    ----------
    figures : array
        One figure a plot. [any one unit]
    entry : Factor
        What is compared.
    others : sequence of Factor
        What is taken out before: blocks, or the rows and columns of a Latin square.
    design : str
        What to call it.

    Raises
    ------
    NotEnoughDataError
        If there is nothing to compare, no error left, or means that nothing joins.
    """
    terms = [*((factor,) for factor in others), (entry,)]
    lines = each_after_others(figures, terms)
    _require(entry, lines[-1].df)
    fitted = fit(figures, terms)
    _, rows = mean_rows(terms, [entry])
    values = fitted.estimate(rows)[:, 0]
    means = _means(entry, values, float(fitted.mse[0]) * fitted.spread(rows), fitted.df)
    blocks: list[tuple[str, float]] = []
    if others:
        cells, block_rows = mean_rows(terms, [others[0]])
        told = fitted.estimate(block_rows)[:, 0]
        blocks = [(cell[0], float(each)) for cell, each in zip(cells, told, strict=True)]
    error = lines[-1]
    return Analysis(
        design, tuple(tested(line, error) for line in lines[:-1]), error, means, tuple(blocks)
    )


def latin_square(figures: Array, entry: Factor, row: Factor, column: Factor) -> Analysis:
    """Analyse a Latin square, whole or with plots missing.

    Parameters
    ----------
    figures : array
        One figure a plot. [any one unit]
    entry, row, column : Factor
        What stands where.

    Raises
    ------
    NotEnoughDataError
        As `analyse_after`.
    """
    return analyse_after(figures, entry, (row, column), "Latin square")


def analyse_many(figures: Array, entry: Factor, block: Factor) -> list[Analysis]:
    """Analyse many traits or dates of the same plots; a missing figure is not a number.

    Parameters
    ----------
    figures : array
        A row a plot, a column a trait or date. [a unit a column]
    entry, block : Factor
        What stands where.

    Returns
    -------
    list of Analysis
        One a column, as `analyse` would give it.
    """
    found: list[Analysis | None] = [None] * figures.shape[1]
    whole = ~np.isnan(figures).any(axis=0)
    if is_complete(entry, block):
        done = _many_by_sums(figures[:, whole], entry, block)
        for place, analysis in zip(np.flatnonzero(whole).tolist(), done, strict=True):
            found[place] = analysis
    names = tuple(str(number) for number in range(len(figures)))
    for column, each in enumerate(found):
        if each is None:
            keep = ~np.isnan(figures[:, column])
            table = PlotTable(names, entry, figures[:, column], block).only(keep)
            found[column] = analyse(table)
    return [each for each in found if each is not None]


def is_complete(entry: Factor, block: Factor) -> bool:
    """Tell whether every mixture stands once in every block."""
    k, b = len(entry.levels), len(block.levels)
    if len(entry.codes) != k * b:
        return False
    return bool((np.bincount(entry.codes * b + block.codes, minlength=k * b) == 1).all())


def _by_sums(figures: Array, entry: Factor, block: Factor) -> Analysis:
    return _many_by_sums(figures[:, None], entry, block)[0]


def _many_by_sums(figures: Array, entry: Factor, block: Factor) -> list[Analysis]:
    """Analyse complete blocks in closed form, all columns at once."""
    from scipy.special import fdtrc

    k, b = len(entry.levels), len(block.levels)
    df = (k - 1) * (b - 1)
    _require(entry, df)
    cube = np.empty((k, b, figures.shape[1]))
    cube[entry.codes, block.codes] = figures
    grand = cube.mean(axis=(0, 1))
    by_entry, by_block = cube.mean(axis=1), cube.mean(axis=0)
    left = cube - by_entry[:, None] - by_block + grand
    ss_error = (left**2).sum(axis=(0, 1))
    sums = (
        (block.name, b - 1, k * ((by_block - grand) ** 2).sum(axis=0)),
        (entry.name, k - 1, b * ((by_entry - grand) ** 2).sum(axis=0)),
    )
    mse = ss_error / df
    with np.errstate(divide="ignore", invalid="ignore"):
        ratios = [np.where(mse > 0, ss / each / mse, np.inf) for _, each, ss in sums]
    chances = [fdtrc(each, df, ratio) for (_, each, _), ratio in zip(sums, ratios, strict=True)]
    shape, plots, every = np.eye(k) / b, np.full(k, b), np.full((k, k), float(df))
    return [
        Analysis(
            "randomised blocks",
            tuple(
                Tested(Line(name, own, float(ss[at])), float(f[at]), float(p[at]))
                for (name, own, ss), f, p in zip(sums, ratios, chances, strict=True)
            ),
            Line("error", df, float(ss_error[at])),
            Means(entry.levels, by_entry[:, at], mse[at] * shape, every, plots),
            tuple(zip(block.levels, by_block[:, at].tolist(), strict=True)),
        )
        for at in range(figures.shape[1])
    ]  # fmt: skip


def _means(entry: Factor, values: Array, covariance: Array, df: float) -> Means:
    k = len(entry.levels)
    return Means(entry.levels, values, covariance, np.full((k, k), float(df)), entry.counts)


def _require(entry: Factor, df: int) -> None:
    if len(entry.levels) < 2:
        raise NotEnoughDataError("a comparison", "at least two mixtures", "one")
    if df < 1:
        raise NotEnoughDataError(
            "a comparison", "repeats, so that plots sown alike show how much plots differ",
            "one plot of each: describe them, do not rank them",
        )  # fmt: skip
