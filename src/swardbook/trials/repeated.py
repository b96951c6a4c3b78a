"""The same plots on several dates: one mean over time, or a split plot in time."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError, RefusedError
from swardbook.trials.analysis import analyse_after
from swardbook.trials.least_squares import Line, Term, Tested, tested
from swardbook.trials.plots import Array, Factor
from swardbook.trials.strata import Stratum, in_strata


@dataclass(frozen=True, slots=True)
class OverTime:
    """One figure a plot for a whole spell.

    Parameters
    ----------
    means : array
        Time-weighted mean of each plot; not a number where an end is missing. [unit of figures]
    filled : tuple of (int, int)
        Plot and date of each gap that lay between two figures and was drawn straight.
    """

    means: Array
    filled: tuple[tuple[int, int], ...]


def area_under(figures: Array, days: Sequence[float]) -> Array:
    """Give the area under each plot's line by trapezia [unit of the figures × d]."""
    return np.asarray(np.trapezoid(figures, np.asarray(days, dtype=np.float64), axis=1))


def time_weighted(figures: Array, days: Sequence[date]) -> OverTime:
    """Give the mean of each plot over time, dates counting for the time they stand for.

    Parameters
    ----------
    figures : array
        A row a plot, a column a date; a missing figure is not a number. [any one unit]
    days : sequence of date
        The dates, in order.

    Returns
    -------
    OverTime
        Gaps inside are drawn straight and listed; past an end nothing is made up.

    Raises
    ------
    NotEnoughDataError
        If there are fewer than two dates.
    """
    if len(days) < 2:
        raise NotEnoughDataError("a mean over time", "at least two dates", str(len(days)))
    at = np.array([(day - days[0]).days for day in days], dtype=np.float64)
    if (np.diff(at) <= 0).any():
        raise OutOfRangeError("the dates", "not in order", "each after the one before", "")
    full, filled = figures.astype(np.float64).copy(), []
    for plot, row in enumerate(figures):
        known = np.flatnonzero(~np.isnan(row))
        if len(known) and known[0] == 0 and known[-1] == len(days) - 1:
            gaps = np.flatnonzero(np.isnan(row))
            full[plot, gaps] = np.interp(at[gaps], at[known], row[known])
            filled += [(plot, int(gap)) for gap in gaps]
    return OverTime(area_under(full, at.tolist()) / float(at[-1]), tuple(filled))


@dataclass(frozen=True, slots=True)
class InTime:
    """A split plot in time.

    Parameters
    ----------
    entries : Tested
        Mixtures, over plots.
    dates, crossing : Tested
        Dates, and mixtures by dates, corrected: chances are for the degrees of freedom times
        `epsilon`.
    epsilon : float
        How near the dates are to being alike, from 1 / (dates - 1) to 1. [-]
    strata : tuple of Stratum
        The lines before correction; empty where plots are missing and blocks by dates are taken
        out as well.
    """

    entries: Tested
    dates: Tested
    crossing: Tested
    epsilon: float
    strata: tuple[Stratum, ...]


def split_plot_in_time(figures: Array, entry: Factor, block: Factor) -> InTime:
    """Analyse plots on several dates, dates within plots, with Greenhouse and Geisser's correction.

    Parameters
    ----------
    figures : array
        A row a plot, a column a date, without holes. [any one unit]
    entry, block : Factor
        What stands on each plot.

    Raises
    ------
    NotEnoughDataError
        If a figure is missing, or there are fewer than two dates.

    Notes
    -----
    Greenhouse, S. W. and Geisser, S., 1959, Psychometrika 24, 95-112.
    """
    plots, dates = figures.shape
    if dates < 2 or np.isnan(figures).any():
        raise NotEnoughDataError(
            "a split plot in time", "every plot on each of two dates or more", "some missing"
        )

    def each(factor: Factor) -> Factor:
        return Factor(factor.name, factor.levels, np.repeat(factor.codes, dates))

    plot = Factor.of("plot", [number for number in range(plots) for _ in range(dates)])
    when = Factor.of("date", list(range(dates)) * plots)
    terms: list[Term] = [(each(entry),), (when,), (each(entry), when)]
    epsilon = sphericity(figures, entry, block)
    try:
        strata = in_strata(figures.ravel(), [each(block), plot], terms)
    except RefusedError:
        return _by_contrasts(figures, entry, block, epsilon)
    between, within = strata[1].tests(), strata[2].tests()
    return InTime(
        between[0], _corrected(within[0], strata[2].error, epsilon),
        _corrected(within[1], strata[2].error, epsilon), epsilon, strata,
    )  # fmt: skip


def _by_contrasts(figures: Array, entry: Factor, block: Factor, epsilon: float) -> InTime:
    """Analyse differences between dates plot by plot, where mixtures lack plots."""
    dates = figures.shape[1]
    across = np.linalg.qr(np.hstack([np.ones((dates, 1)), np.eye(dates)[:, 1:]]))[0]
    means = analyse_after(figures @ across[:, 0], entry, (block,), "over dates")
    moves = [analyse_after(figures @ own, entry, (block,), "") for own in across[:, 1:].T]
    df = moves[0].error.df * (dates - 1)
    error = Line("error", df, sum(each.error.ss for each in moves))
    crossing = Line(
        "mixture:date", (len(entry.levels) - 1) * (dates - 1),
        sum(each.entries.line.ss for each in moves),
    )  # fmt: skip
    whole = figures.mean(axis=0)
    line = Line("date", dates - 1, len(figures) * float(((whole - whole.mean()) ** 2).sum()))
    return InTime(
        means.entries, _corrected(tested(line, error), error, epsilon),
        _corrected(tested(crossing, error), error, epsilon), epsilon, (),
    )  # fmt: skip


def sphericity(figures: Array, entry: Factor, block: Factor) -> float:
    """Give Greenhouse and Geisser's epsilon of dates, from what is left within plots [-]."""
    dates = figures.shape[1]
    columns = np.hstack([np.ones((len(figures), 1)), entry.indicators, block.indicators])
    left = figures - columns @ np.linalg.lstsq(columns, figures, rcond=None)[0]
    centre = np.eye(dates) - 1 / dates
    spread = centre @ (left.T @ left) @ centre
    total = float(np.trace(spread))
    if total <= 0:
        return 1.0
    return float(total**2 / ((dates - 1) * np.sum(spread**2)))


def _corrected(made: Tested, error: Line, epsilon: float) -> Tested:
    from scipy.special import fdtrc

    p = float(fdtrc(epsilon * made.line.df, epsilon * error.df, made.f))
    return Tested(made.line, made.f, p)
