"""What larger plots and more plots buy, from readings on a grid before a trial is sown."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from statistics import fmean

from swardbook.evidence.patchiness import Lag, semivariogram
from swardbook.evidence.plot_size import PlotShape, smiths_b, variance_of_plots
from swardbook.feeds.csv_rows import read_rows
from swardbook.foundation.errors import BadInputError, NotEnoughDataError
from swardbook.foundation.quantities import read_number
from swardbook.handbook.parameters import value

_STEPS = (1, 2, 4, 8, 16)
_MOST_READINGS = 2000


@dataclass(frozen=True, slots=True)
class PlotSizes:
    """How the spread between plots falls with their size on one piece of ground.

    Parameters
    ----------
    rows, columns : int
        Readings down and across.
    mean : float
        Of all readings. [unit of the readings]
    shapes : tuple of PlotShape
        Plots of each shape, by their size.
    power : float
        By which variance falls with area. [-]
    lags : tuple of Lag
        How unlike readings are by how many cells they lie apart.
    """

    rows: int
    columns: int
    mean: float
    shapes: tuple[PlotShape, ...]
    power: float
    lags: tuple[Lag, ...]

    @property
    def saved_by_area(self) -> float:
        """Share [-] of the error of a mean that plots of twice the area take away."""
        return float(1 - 2 ** (-self.power / 2))

    @property
    def saved_by_repeats(self) -> float:
        """Share [-] of the error of a mean that twice as many plots take away."""
        return float(1 - 2**-0.5)


def size_plots(path: Path) -> PlotSizes:
    """Lay plots of every handy shape over a sheet of readings of ground that was treated alike.

    Parameters
    ----------
    path : path
        A CSV sheet of numbers alone: each line a row of the ground, each cell a reading.

    Raises
    ------
    BadInputError
        If the sheet cannot be read, or a cell is no number.
    NotEnoughDataError
        If there are too few readings for plots of three sizes.
    """
    grid = _readings(path)
    least = value("plot_size.plots_least")
    down, across = len(grid), len(grid[0])
    shapes = [
        variance_of_plots(grid, rows, columns)
        for rows in _STEPS for columns in _STEPS
        if (down // rows) * (across // columns) >= least
    ]  # fmt: skip
    if len({each.cells for each in shapes}) < 3:
        raise NotEnoughDataError(
            "what a larger plot buys", f"{least:g} plots or more in each of three sizes",
            f"{down} x {across} readings",
        )  # fmt: skip
    shapes.sort(key=lambda each: (each.cells, each.rows))
    return PlotSizes(
        down, across, fmean(map(fmean, grid)), tuple(shapes), smiths_b(shapes), _lags(grid)
    )


def _lags(grid: list[list[float]]) -> tuple[Lag, ...]:
    """Give how unlike readings are, cell by cell, to half the longer side."""
    down, across = len(grid), len(grid[0])
    x = [float(column) for _ in range(down) for column in range(across)]
    y = [float(row) for row in range(down) for _ in range(across)]
    reach = max(down, across) // 2
    ends = [0.5, *(each + 0.5 for each in _STEPS if each <= reach)]
    return semivariogram(x, y, [read for row in grid for read in row], ends)


def _readings(path: Path) -> list[list[float]]:
    try:
        text = path.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as slip:
        raise BadInputError(
            "the sheet", str(path), "a CSV file in UTF-8 that can be read"
        ) from slip
    mark = ";" if ";" in text else ","
    rows = [row for row in read_rows(text.splitlines(), mark, path.name) if any(row)]
    if not rows:
        raise BadInputError("the sheet", str(path), "rows of numbers")
    if len(rows) * len(rows[0]) > _MOST_READINGS:
        raise BadInputError(
            "the sheet", f"{len(rows)} x {len(rows[0])} readings", f"at most {_MOST_READINGS}",
            "Take the mean of neighbouring cells first.",
        )  # fmt: skip
    grid = []
    for number, row in enumerate(rows, 1):
        if len(row) != len(rows[0]):
            raise BadInputError(
                f"row {number}", f"{len(row)} cells", f"{len(rows[0])} cells, as in row 1",
                "Decimal commas? Then put ; between columns.",
            )  # fmt: skip
        grid.append([_cell(number, place, text) for place, text in enumerate(row, 1)])
    return grid


def _cell(row: int, column: int, text: str) -> float:
    number = read_number(text)
    if number is None:
        raise BadInputError(
            f"row {row}, column {column}", text, "a number in every cell",
            "No headings; leave out a row that has a gap.",
        )  # fmt: skip
    return number
