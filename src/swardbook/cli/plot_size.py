"""``swardbook plots size``: what larger plots and more plots buy."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options
from swardbook.cli.output import table
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.book.plot_sizes import PlotSizes


@click.command()
@click.argument("sheet", type=click.Path(dir_okay=False, path_type=Path), metavar="FILE.csv")
@door_options
def size(door: Door, sheet: Path) -> None:
    """Say what larger plots and more plots buy, from readings on a grid.

    Readings of ground treated alike, before a trial: each line of the sheet a row of the ground,
    each cell a number, no headings.
    """
    from swardbook.book.plot_sizes import size_plots

    made = size_plots(sheet)
    door.show(_payload(made), _lines(made))


def _lines(made: PlotSizes) -> list[str]:
    rows = [
        [f"{each.rows} x {each.columns}", f"{each.plots}", f"{each.variance**0.5:.3g}"]
        for each in made.shapes
    ]
    apart = [
        [f"{each.distance:.1f}", f"{each.pairs:,}", f"{(2 * each.semivariance) ** 0.5:.3g}"]
        for each in made.lags
    ]
    told = [
        f"Variance falls with area to the power {made.power:.2f}: 1 would be ground without"
        " patches, 0 ground where a larger plot buys nothing.",
        f"Plots of twice the area take {100 * made.saved_by_area:.0f} % off the error of a"
        f" mixture's mean, twice as many plots {100 * made.saved_by_repeats:.0f} %.",
        "One piece of ground, without blocks: those take out more where they lie across the"
        " change. Edges of small plots are not in it.",
    ]
    return [
        f"{made.rows} rows of {made.columns} readings, mean {made.mean:.3g}",
        *table(["cells, down x across", "plots", "SD between plots"], rows),
        *(part for each in told for part in under("-", each)),
        "",
        *table(["cells apart, about", "pairs", "SD of their difference"], apart),
        *under("-", "A block should be no wider than readings stay alike."),
    ]


def _payload(made: PlotSizes) -> dict[str, Any]:
    return {
        "rows": made.rows,
        "columns": made.columns,
        "mean": made.mean,
        "shapes": [
            {"cells_down": each.rows, "cells_across": each.columns, "n_plots": each.plots,
             "variance": each.variance}
            for each in made.shapes
        ],
        "power": made.power,
        "apart": [
            {"cells": each.distance, "n_pairs": each.pairs, "semivariance": each.semivariance}
            for each in made.lags
        ],
        "error_off_by_twice_the_area": made.saved_by_area,
        "error_off_by_twice_the_plots": made.saved_by_repeats,
    }  # fmt: skip
