"""Several trials of the same mixtures together, with the error that such a claim needs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from swardbook.foundation.errors import NotEnoughDataError
from swardbook.trials.analysis import Analysis, analyse, analyse_after
from swardbook.trials.least_squares import Line, Tested, tested
from swardbook.trials.plots import Factor, PlotTable


@dataclass(frozen=True, slots=True)
class SeveralTrials:
    """Mixtures over trials.

    Parameters
    ----------
    over_trials : Analysis
        Mixtures tested against how they change from trial to trial: what holds elsewhere.
    crossing : Tested
        Whether mixtures change from trial to trial by more than plots do.
    each : mapping of str to Analysis
        Every trial by itself.
    """

    over_trials: Analysis
    crossing: Tested
    each: Mapping[str, Analysis]


def together(trials: Mapping[str, PlotTable]) -> SeveralTrials:
    """Analyse several trials: a trial is one repeat of what mixtures do in another place.

    Parameters
    ----------
    trials : mapping of str to PlotTable
        Each trial by name, with repeats of its own.

    Returns
    -------
    SeveralTrials
        The claim over trials rests on mixtures by trials, never on plots.

    Raises
    ------
    NotEnoughDataError
        If there are fewer than two trials, or they share fewer than two mixtures.
    """
    if len(trials) < 2:
        raise NotEnoughDataError("trials together", "at least two trials", str(len(trials)))
    each = {name: analyse(table) for name, table in trials.items()}
    names = [n for n in next(iter(each.values())).means.names
             if all(n in made.means.names for made in each.values())]  # fmt: skip
    if len(names) < 2:
        raise NotEnoughDataError("trials together", "two mixtures in common", str(len(names)))
    cells = [(trial, name) for trial in each for name in names]
    figures = np.array([each[t].means.values[each[t].means.place(n)] for t, n in cells])
    over = analyse_after(
        figures, Factor.of("mixture", [n for _, n in cells]),
        (Factor.of("trial", [t for t, _ in cells]),), "trials as repeats",
    )  # fmt: skip
    error = Line(
        "plots", sum(m.error.df for m in each.values()), sum(m.error.ss for m in each.values())
    )
    return SeveralTrials(over, tested(_in_plots(over, each, names), error), each)


def _in_plots(over: Analysis, each: Mapping[str, Analysis], names: list[str]) -> Line:
    """Put mixtures by trials on the scale of single plots."""
    plots = [made.means.plots[made.means.place(name)] for made in each.values() for name in names]
    repeats = len(plots) / sum(1 / count for count in plots)
    return Line("mixture:trial", over.error.df, over.error.ss * repeats)
