"""What a larger plot buys: how the variance of plots falls with their size on the same ground."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import log

import numpy as np
import numpy.typing as npt

from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError

Array = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class PlotShape:
    """Plots of one shape laid over a grid of readings.

    Parameters
    ----------
    rows, columns : int
        Cells of the grid down and across a plot.
    plots : int
        Whole plots that fit.
    variance : float
        Between their means. [square of the readings' unit]
    """

    rows: int
    columns: int
    plots: int
    variance: float

    @property
    def cells(self) -> int:
        """Cells in a plot."""
        return self.rows * self.columns


def variance_of_plots(grid: Sequence[Sequence[float]], rows: int, columns: int) -> PlotShape:
    """Lay plots of one shape over readings of ground that was treated alike.

    Parameters
    ----------
    grid : sequence of sequence of float
        One reading a cell, row by row; what is left over at the far edges is left out. [any one
        unit]
    rows, columns : int
        Cells of the grid down and across a plot.

    Raises
    ------
    OutOfRangeError
        If the rows are not of one length, or a plot has no cell.
    NotEnoughDataError
        If fewer than two plots fit.
    """
    if len({len(row) for row in grid}) != 1:
        raise OutOfRangeError("cells in a row", len(grid[-1]) if grid else 0, "all alike", "")
    if rows < 1 or columns < 1:
        raise OutOfRangeError("cells of a plot", min(rows, columns), "1 or more", "")
    cells: Array = np.asarray(grid, dtype=float)
    down, across = cells.shape[0] // rows, cells.shape[1] // columns
    if down * across < 2:
        raise NotEnoughDataError("a variance between plots", "two plots", f"{down * across}")
    whole = cells[: down * rows, : across * columns]
    means = whole.reshape(down, rows, across, columns).mean(axis=(1, 3))
    return PlotShape(rows, columns, down * across, float(means.var(ddof=1)))


def smiths_b(shapes: Sequence[PlotShape], is_weighted: bool = True) -> float:
    """Give the power by which the variance of plots falls with their area.

    Parameters
    ----------
    shapes : sequence of PlotShape
        Plots of several sizes on the same ground.
    is_weighted : bool
        Whether each counts by its plots less one, or all alike.

    Returns
    -------
    float
        0 where a larger plot buys nothing, 1 where neighbours are no more alike than others. [-]

    Raises
    ------
    NotEnoughDataError
        If there are fewer than three sizes, or plots that do not differ.

    Notes
    -----
    Smith, H. F., 1938, Journal of Agricultural Science 28, 1-23: ``V = V1 / x^b``.
    """
    sizes = {each.cells for each in shapes}
    if len(sizes) < 3 or min(each.variance for each in shapes) <= 0:
        raise NotEnoughDataError(
            "how variance falls with size", "plots of three sizes that differ", f"{len(sizes)}"
        )
    x = np.array([log(each.cells) for each in shapes])
    y = np.array([log(each.variance) for each in shapes])
    weight = np.array([each.plots - 1 if is_weighted else 1 for each in shapes], dtype=float)
    x_off = x - float((weight * x).sum() / weight.sum())
    y_off = y - float((weight * y).sum() / weight.sum())
    return -float((weight * x_off * y_off).sum() / (weight * x_off**2).sum())
