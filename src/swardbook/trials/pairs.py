"""Every pair of means side by side, allowing for how many pairs there are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

import numpy as np

from swardbook.evidence import Interval
from swardbook.trials.means import Difference, Means
from swardbook.trials.plots import Array
from swardbook.trials.studentised import studentised_range


@dataclass(frozen=True, slots=True)
class AllPairs:
    """All pairs of means by Tukey's and Kramer's method.

    Parameters
    ----------
    means : Means
        The adjusted means.
    p : array
        Chance of so large a gap between any two if there were no differences; a row and a
        column a mean. [-]
    """

    means: Means
    p: Array

    def interval(self, one: int, two: int, level: float = 0.95) -> Interval:
        """Give the range of first less second, for any pair picked after looking.

        In the unit of the figures.
        """
        half = self.needed(one, two, level)
        value = float(self.means.values[one] - self.means.values[two])
        return Interval(value - half, value + half)

    def needed(self, one: int, two: int, level: float = 0.95) -> float:
        """Give the gap that a pair picked after looking must pass, in the unit of the figures."""
        df = float(self.means.df[one, two])
        q = studentised_range(self.means.count, df).quantile(1 - level)
        return q / sqrt(2) * float(self.means.errors[one, two])

    def needed_by_all(self, level: float = 0.95) -> Array:
        """Give that gap for each pair, a row and a column a mean. [unit of the figures]."""
        needed = np.zeros_like(self.p)
        for df in np.unique(self.means.df[_above(self.means.count)]):
            q = studentised_range(self.means.count, float(df)).quantile(1 - level)
            needed = np.where(self.means.df == df, q / sqrt(2) * self.means.errors, needed)
        return np.asarray(needed)


def all_pairs(means: Means) -> AllPairs:
    """Compare all pairs of means.

    Parameters
    ----------
    means : Means
        Adjusted means, with equal or unequal standard errors of difference.

    Returns
    -------
    AllPairs
        Chances and ranges that hold for all pairs together.

    Notes
    -----
    Kramer, C. Y., 1956, Biometrics 12, 307-310.
    """
    return all_pairs_of([means])[0]


def all_pairs_of(several: Sequence[Means]) -> list[AllPairs]:
    """Compare all pairs of each of several sets of means, such as traits or dates.

    Parameters
    ----------
    several : sequence of Means
        Sets of adjusted means; those of one size share the work.

    Returns
    -------
    list of AllPairs
        One a set, as `all_pairs` would give it.
    """
    found: list[AllPairs | None] = [None] * len(several)
    for count in {means.count for means in several}:
        own = [at for at, means in enumerate(several) if means.count == count]
        values = np.stack([several[at].values for at in own])
        errors = np.stack([several[at].errors for at in own])
        df = np.stack([several[at].df for at in own])
        for at, p in zip(own, _chances(values, errors, df), strict=True):
            found[at] = AllPairs(several[at], p)
    return [each for each in found if each is not None]


def _chances(values: Array, errors: Array, df: Array) -> Array:
    """Chances of all pairs of several sets: set, mean, mean [-]."""
    count = values.shape[1]
    rows, columns = np.triu_indices(count, 1)
    gaps = np.abs(values[:, rows] - values[:, columns])
    error, own_df = errors[:, rows, columns], df[:, rows, columns]
    with np.errstate(divide="ignore", invalid="ignore"):
        q = np.where(error > 0, sqrt(2) * gaps / error, np.where(gaps > 0, np.inf, 0.0))
    above = np.empty_like(q)
    for each in np.unique(own_df):
        here = own_df == each
        above[here] = studentised_range(count, float(each)).chance(q[here])
    p = np.ones((len(values), count, count))
    p[:, rows, columns] = p[:, columns, rows] = above
    return p


def planned_pairs(means: Means, pairs: list[tuple[str, str]]) -> list[Difference]:
    """Compare pairs that were named before anything was looked at.

    Raises
    ------
    UnknownNameError
        If one is not in the trial.
    """
    return [means.difference(means.place(one), means.place(two)) for one, two in pairs]


def planned_p(means: Means) -> Array:
    """Give the chance of each pair's gap taken by itself (Student's t), as a table [-]."""
    from scipy.special import stdtr

    errors = means.errors
    gaps = np.abs(means.values[:, None] - means.values)
    with np.errstate(divide="ignore", invalid="ignore"):
        t = np.where(errors > 0, gaps / errors, np.where(gaps > 0, np.inf, 0.0))
    return np.asarray(2 * stdtr(means.df, -t))


def group_marks(
    means: Means, p: Array, lower_first: bool = False, alpha: float = 0.05
) -> list[str]:
    """Mark the means so that those that share a mark are not told apart.

    Parameters
    ----------
    means : Means
        The adjusted means.
    p : array
        Chance of each pair's gap. [-]
    lower_first : bool
        Whether the lowest mean is the first, as for weeds; ``a`` is the first's.
    alpha : float
        Pairs with less than this chance are told apart. [-]

    Returns
    -------
    list of str
        Marks of each mean, in the order of `means.names`.

    Notes
    -----
    Insert and absorb: Piepho, H.-P., 2004, Journal of Computational and Graphical Statistics 13,
    456-466.
    """
    order = means.ordered(lower_first)
    sets: list[set[int]] = [set(order)]
    for place, one in enumerate(order):
        for two in order[place + 1 :]:
            if p[one, two] < alpha:
                sets = _absorbed(_parted(sets, one, two))
    sets.sort(key=lambda held: sorted(order.index(each) for each in held))
    return [
        "".join(_mark(number) for number, held in enumerate(sets) if at in held)
        for at in range(means.count)
    ]


def _parted(sets: list[set[int]], one: int, two: int) -> list[set[int]]:
    found: list[set[int]] = []
    for held in sets:
        found += [held - {one}, held - {two}] if {one, two} <= held else [held]
    return found


def _absorbed(sets: list[set[int]]) -> list[set[int]]:
    kept: list[set[int]] = []
    for place, held in enumerate(sets):
        others = [*kept, *sets[place + 1 :]]
        if not any(held <= other for other in others):
            kept.append(held)
    return kept


def _mark(number: int) -> str:
    letters = "abcdefghijklmnopqrstuvwxyz"
    return letters[number] if number < len(letters) else letters[number % 26] + str(number // 26)


def _above(count: int) -> tuple[Array, Array]:
    return np.triu_indices(count, 1)  # type: ignore[return-value]
