"""Adjusted means with what is needed to set any two of them side by side."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swardbook.evidence import Interval, t_quantile
from swardbook.foundation.errors import UnknownNameError
from swardbook.trials.plots import Array, Codes


@dataclass(frozen=True, slots=True)
class Means:
    """Adjusted means of what was compared.

    Parameters
    ----------
    names : tuple of str
        What was compared.
    values : array
        Adjusted means. [unit of the figures]
    covariance : array
        Their variances and covariances; only those of differences are used. [unit squared]
    df : array
        Degrees of freedom of each pair's difference. [-]
    plots : array of int
        Plots that each mean rests on.
    by_level : array or None
        Standard error of each difference where it goes with the two levels, as that of shares
        does; None takes those of the covariance. [unit of the figures]
    """

    names: tuple[str, ...]
    values: Array
    covariance: Array
    df: Array
    plots: Codes
    by_level: Array | None = None

    @property
    def count(self) -> int:
        """How many means."""
        return len(self.names)

    def place(self, name: str) -> int:
        """Find a mean by its name.

        Raises
        ------
        UnknownNameError
            If there is none.
        """
        for place, each in enumerate(self.names):
            if each.casefold() == name.casefold():
                return place
        raise UnknownNameError("entry of this trial", name, self.names)

    @property
    def errors(self) -> Array:
        """Standard error of each difference (SED), a row and a column each. [unit of figures]."""
        if self.by_level is not None:
            return self.by_level
        own = np.diag(self.covariance)
        return np.sqrt(np.maximum(own[:, None] + own - 2 * self.covariance, 0.0))

    def difference(self, one: int, two: int) -> Difference:
        """Give the first mean less the second."""
        return Difference(
            self.names[one], self.names[two],
            float(self.values[one] - self.values[two]),
            float(self.errors[one, two]), float(self.df[one, two]),
        )  # fmt: skip

    def own_interval(self, at: int, level: float = 0.95) -> Interval:
        """Give the interval of one mean by itself, in the unit of the figures.

        Two such intervals that overlap say nothing of the difference.
        """
        df = float(np.median(self.df[at][np.arange(self.count) != at]))
        half = t_quantile(level, df) * float(np.sqrt(self.covariance[at, at]))
        return Interval(float(self.values[at]) - half, float(self.values[at]) + half)

    def ordered(self, lower_first: bool) -> list[int]:
        """Give the places of the means, best first; those alike by name."""
        way = 1 if lower_first else -1
        return sorted(range(self.count), key=lambda at: (way * self.values[at], self.names[at]))

    def only(self, keep: list[int]) -> Means:
        """Keep some of the means, with the error as it is."""
        at = np.ix_(keep, keep)
        names = tuple(self.names[place] for place in keep)
        return Means(
            names, self.values[keep], self.covariance[at], self.df[at], self.plots[keep],
            None if self.by_level is None else self.by_level[at],
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Difference:
    """One mean less another, as a pair that was planned beforehand.

    Parameters
    ----------
    first, second : str
        The two.
    value : float
        First less second. [unit of the figures]
    standard_error : float
        Its standard error (SED). [same unit]
    df : float
        Degrees of freedom. [-]
    """

    first: str
    second: str
    value: float
    standard_error: float
    df: float

    @property
    def p(self) -> float:
        """Chance of so large a difference either way if there were none [-]."""
        from scipy.special import stdtr

        if self.standard_error == 0:
            return 0.0 if self.value else 1.0
        return float(2 * stdtr(self.df, -abs(self.value) / self.standard_error))

    def interval(self, level: float = 0.95) -> Interval:
        """Give its range by Student's t, in the unit of the figures."""
        half = t_quantile(level, self.df) * self.standard_error
        return Interval(self.value - half, self.value + half)

    def needed(self, level: float = 0.95) -> float:
        """Give the gap that a planned pair must pass (LSD), in the unit of the figures."""
        return t_quantile(level, self.df) * self.standard_error
