"""Rows and columns at once: a good plan by exchanging pairs, and how good any plan is."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from swardbook.foundation.chance import Chance
from swardbook.foundation.errors import BadInputError, NotEnoughDataError

Array = NDArray[np.float64]
Codes = NDArray[np.intp]
_STARTS = 6
"""Plans the search begins from; the best of what they come to is taken."""
_BETTER = 1e-9


def pair_variances(entries: Codes, nuisances: Sequence[Codes]) -> Array:
    """Give the variance of each difference of two entries once rows or blocks are taken out.

    Parameters
    ----------
    entries : array of int
        Entry of each plot, from 0. [-]
    nuisances : sequence of array of int
        Block, row or column of each plot, one array for each kind. [-]

    Returns
    -------
    array
        One number for each pair, in units of the variance of one plot. [-]

    Raises
    ------
    NotEnoughDataError
        If some pair cannot be compared at all.

    Notes
    -----
    From the generalised inverse of ``X'(I - P)X``, P the projection on rows and columns: John, J.
    A. and Williams, E. R., 1995, Cyclic and Computer Generated Designs, 2nd edition.
    """
    wanted = np.asarray(entries[:, None] == np.arange(int(entries.max()) + 1), dtype=np.float64)
    ones = [np.ones((len(entries), 1))]
    ones += [np.asarray(each[:, None] == np.unique(each), dtype=np.float64) for each in nuisances]
    basis = np.linalg.svd(np.hstack(ones), full_matrices=False)
    lengths = basis.S
    kept = basis.U[:, lengths > 1e-9 * float(lengths[0])]
    swept = wanted - kept @ (kept.T @ wanted)
    information = swept.T @ swept
    values = np.linalg.eigvalsh(information)
    if int((values > 1e-8).sum()) < len(values) - 1:
        raise NotEnoughDataError(
            "every pair of entries", "entries that meet in the same blocks", "two groups apart"
        )
    inverse = np.linalg.pinv(information, rcond=1e-9, hermitian=True)
    spread = np.diag(inverse)
    table = spread[:, None] + spread[None, :] - 2 * inverse
    return np.asarray(table[np.triu_indices(len(spread), 1)], dtype=np.float64)


def a_efficiency(entries: Codes, nuisances: Sequence[Codes]) -> float:
    """Give the mean precision of differences against the same plots with no rows or blocks.

    Parameters
    ----------
    entries : array of int
        Entry of each plot, from 0. [-]
    nuisances : sequence of array of int
        Block, row or column of each plot. [-]

    Returns
    -------
    float
        1 where blocks cost nothing, below it otherwise. [-]
    """
    bare = pair_variances(entries, ())
    return float(bare.mean() / pair_variances(entries, nuisances).mean())


def good_rows_and_columns(
    names: Sequence[str], repeats: int, rows: int, chance: Chance
) -> tuple[tuple[tuple[str, ...], ...], float]:
    """Search a plan in which rows and columns both serve as blocks.

    From chance plans, pairs of plots are exchanged for as long as that makes differences sharper;
    labels, rows and columns are then shuffled.

    Parameters
    ----------
    names : sequence of str
        The entries.
    repeats : int
        Times each stands.
    rows : int
        Rows of the oblong.
    chance : Chance
        Where numbers come from.

    Returns
    -------
    tuple of tuple of tuple of str, and float
        The plan row by row, and its A-efficiency. [-]

    Raises
    ------
    BadInputError
        If the plots do not fill the rows, or are too many to search.
    """
    plots = len(names) * repeats
    if rows < 2 or plots % rows or plots // rows < 2:
        raise BadInputError("--rows", rows, f"2 or more that divide {plots} plots, and 2 columns")
    if plots > 120:
        raise BadInputError("the plots", plots, "at most 120 in rows and columns", "Take blocks.")
    row, column = np.divmod(np.arange(plots), plots // rows)
    best: tuple[float, Codes] | None = None
    for start in range(_STARTS):
        order = np.argsort(chance.uniforms(f"start {start}", plots), kind="stable")
        found = _improved((order % len(names)).astype(np.intp), row, column)
        if found is not None and (best is None or found[0] < best[0] - _BETTER):
            best = found
    if best is None:
        raise BadInputError(
            "the rows and columns", f"{rows} by {plots // rows}",
            "enough plots to tell entries, rows and columns apart",
        )  # fmt: skip
    letters = np.argsort(chance.uniforms("letters", len(names)), kind="stable")
    grid = letters[best[1]].reshape(rows, -1)
    grid = grid[np.argsort(chance.uniforms("rows", rows), kind="stable")]
    grid = grid[:, np.argsort(chance.uniforms("columns", grid.shape[1]), kind="stable")]
    bare = 2.0 / repeats
    return tuple(tuple(names[each] for each in line) for line in grid), bare / best[0]


def _improved(entries: Codes, row: Codes, column: Codes) -> tuple[float, Codes] | None:
    """Exchange pairs of plots, each time the best one with a plot, while differences sharpen."""
    by_row, by_column = (_counts(entries, each) for each in (row, column))
    value = float(_mean_variance(by_row[None], by_column[None])[0])
    before = np.inf
    while value < before - _BETTER or (before == np.inf and value == np.inf):
        before = value
        for one in range(len(entries)):
            others = np.flatnonzero(entries != entries[one])
            rows, columns = (
                _exchanged(table, entries, place, one, others)
                for table, place in ((by_row, row), (by_column, column))
            )
            tried = _mean_variance(rows, columns)
            place = int(np.flatnonzero(tried <= tried.min() + _BETTER)[0])
            if tried[place] < value - _BETTER:
                value, other = float(tried[place]), others[place]
                by_row, by_column = rows[place], columns[place]
                entries[[one, other]] = entries[[other, one]]
        if not np.isfinite(value):
            return None
    return value, entries.copy()


def _counts(entries: Codes, place: Codes) -> Array:
    """How often each entry stands in each row or column."""
    table = np.zeros((int(entries.max()) + 1, int(place.max()) + 1))
    np.add.at(table, (entries, place), 1.0)
    return table


def _exchanged(table: Array, entries: Codes, place: Codes, one: int, others: Codes) -> Array:
    """Counts after one plot's entry was exchanged with each of the others'."""
    tables = np.repeat(table[None], len(others), axis=0)
    each = np.arange(len(others))
    mine, theirs = entries[one], entries[others]
    tables[each, mine, place[one]] -= 1
    tables[each, theirs, place[others]] -= 1
    tables[each, mine, place[others]] += 1
    tables[each, theirs, place[one]] += 1
    return tables


def _mean_variance(by_row: Array, by_column: Array) -> Array:
    """Mean variance of a difference, by the counts of entries in rows and columns alone."""
    _, number, rows = by_row.shape
    columns = by_column.shape[2]
    repeats = rows * columns / number
    information = (
        repeats * np.eye(number) - by_row @ by_row.swapaxes(1, 2) / columns
        - by_column @ by_column.swapaxes(1, 2) / rows + repeats / number
    )  # fmt: skip
    values = np.linalg.eigvalsh(information)[:, 1:]
    told_apart = values[:, 0] > 1e-8
    found = np.full(len(values), np.inf)
    found[told_apart] = 2.0 * (1.0 / values[told_apart]).sum(axis=1) / (number - 1)
    return found
