"""Shares of ground counted by points: their spread goes with their level, and tests allow for it.

A share near 10 % varies less from plot to plot than one near 40 %. So whether two mixtures differ
is judged on the angle whose sine squared is the share, on which spreads are nearly alike; what is
told are the shares themselves, with the error of each pair at its own two levels.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from swardbook.evidence.estimates import t_quantile
from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError
from swardbook.trials.means import Means
from swardbook.trials.plots import Array
from swardbook.trials.power import chance_beyond
from swardbook.trials.studentised import studentised_range


def angle_of(share: Array, points: Array | float) -> Array:
    """Give the angle of shares counted by points.

    Parameters
    ----------
    share : array
        Shares of the points. [-]
    points : array or float
        Points looked at. [-]

    Returns
    -------
    array
        The angles. [rad]

    Notes
    -----
    ``arcsin √((hits + 3/8) / (points + 3/4))``: the angular scale of Bliss, C. I., 1937, Plant
    Protection (Leningrad) 12, 67-77, with the eighths of Anscombe, F. J., 1948, Biometrika 35,
    246-254, so that 0 and 1 have an angle that counts.
    """
    hits = np.clip(share, 0.0, 1.0) * points
    return np.asarray(np.arcsin(np.sqrt((hits + 0.375) / (points + 0.75))))


def share_of(angle: Array, points: Array | float) -> Array:
    """Give back the shares that have these angles [-]; below the angle of 0 it is 0."""
    share = ((points + 0.75) * np.sin(np.clip(angle, 0.0, np.pi / 2)) ** 2 - 0.375) / points
    return np.asarray(np.clip(share, 0.0, 1.0))


def slope(share: Array, points: Array | float) -> Array:
    """Give how fast a share moves with its angle [rad⁻¹]."""
    return np.asarray((points + 0.75) / points * np.sin(2 * angle_of(share, points)))


def by_level(means: Means, angular: Means, points: float, whole: float = 100.0) -> Means:
    """Give means of shares the errors of their angles, each pair at its own two levels.

    Parameters
    ----------
    means : Means
        Adjusted means as found: the ground covered, block for block. [share of `whole`]
    angular : Means
        The same plots analysed as angles; its error is taken. [rad]
    points : float
        Points that a plot's figure rests on, on average. [-]
    whole : float
        What stands for all of the ground. [-]

    Returns
    -------
    Means
        The means as they are. Error and needed gap of a pair are those of its angles, times what
        the share moves from the one angle to the other: the answer is the same on both scales.
    """
    share = np.clip(means.values / whole, 0.0, 1.0)
    angle = angle_of(share, points)
    own = whole * slope(share, points)
    apart = angle[:, None] - angle
    alike = np.abs(apart) < 1e-9
    chord = whole * (share[:, None] - share) / np.where(alike, 1.0, apart)
    return replace(
        means,
        covariance=angular.covariance * np.outer(own, own),
        df=angular.df,
        by_level=np.where(alike, own[:, None], chord) * angular.errors,
    )


def judged_by_level(
    means: Means, shares: Array, points: Array, again: Callable[[Array], Means]
) -> Means:
    """Give means of shares their errors by level, the analysis done once more on angles.

    Parameters
    ----------
    means : Means
        Adjusted means. [%]
    shares : array
        Figure of each plot. [%]
    points : array
        Points of each plot. [-]
    again : callable
        Analyses figures of the same plots as `means` came about.
    """
    angular = again(angle_of(shares / 100, points))
    return by_level(means, angular, float(points.mean()))


@dataclass(frozen=True, slots=True)
class ShareSpread:
    """How shares of plots sown alike spread: by what counting does, and by what the ground does.

    Parameters
    ----------
    counting : float
        Variance by counting points, over ``p (1 - p)``. [-]
    ground : float
        Variance of the ground itself, over ``p² (1 - p)²``: that of the log odds. [-]
    level : float
        Share at which the spread is known; tests take the spread of that level for all. [-]
    """

    counting: float
    ground: float
    level: float

    @classmethod
    def of(cls, sd: float, level: float, counting: float) -> ShareSpread:
        """Part a known spread into what counting does and what is left for the ground.

        Parameters
        ----------
        sd : float
            Standard deviation from plot to plot. [-]
        level : float
            Share at which it holds. [-]
        counting : float
            Variance by counting, over ``p (1 - p)``: ``(1 + (m - 1) ρ) / n`` for n points in frames
            of m whose hits are correlated by ρ; no more of it is taken than the spread holds. [-]

        Raises
        ------
        OutOfRangeError
            If the level is none, or all, of the ground.
        """
        if not 0 < level < 1:
            raise OutOfRangeError("level", 100 * level, "above 0 and below 100", "%")
        odd = level * (1 - level)
        counted = min(counting, sd**2 / odd)
        return cls(counted, (sd**2 / odd - counted) / odd, level)

    def sd(self, share: float) -> float:
        """Give the standard deviation of a plot at a level [-]."""
        odd = share * (1 - share)
        return float(np.sqrt(self.counting * odd + self.ground * odd**2))

    def angular(self, share: float) -> float:
        """Give the variance of a plot's angle at a level [rad²]."""
        return (self.counting + self.ground * share * (1 - share)) / 4


@dataclass(frozen=True, slots=True)
class SharePair:
    """Two levels of cover that a trial is to tell apart.

    Parameters
    ----------
    low, high : float
        The two, supposed. [-]
    spread : ShareSpread
        How plots spread.
    weight : float
        Variance of a difference over that of a plot: 2 over the plots of each, as a rule. [-]
    df : float
        Degrees of freedom of the error. [-]
    points : float
        Points a plot. [-]
    """

    low: float
    high: float
    spread: ShareSpread
    weight: float
    df: float
    points: float

    def _critical(self, entries: int | None, level: float) -> float:
        if self.df < 1:
            raise NotEnoughDataError(
                "what difference the trial can show", "two plots of each mixture or more",
                "one each",
            )  # fmt: skip
        if entries is None:
            return t_quantile(level, self.df)
        return studentised_range(entries, self.df).quantile(1 - level) / float(np.sqrt(2))

    @property
    def _judged(self) -> float:
        """Standard error of the two angles' difference as the analysis will take it [rad]."""
        return float(np.sqrt(self.spread.angular(self.spread.level) * self.weight))

    def chance(self, entries: int | None = None, level: float = 0.95) -> float:
        """Give the chance that the two are called different.

        Parameters
        ----------
        entries : int or None
            How many are compared, if any pair may be picked after looking; None for a planned pair.
        level : float
            Level of the test. [-]

        Returns
        -------
        float
            The chance, either way round. [-]
        """
        ends = np.array([self.low, self.high])
        gap = float(np.ptp(angle_of(ends, self.points)))
        own = sum(self.spread.angular(float(each)) for each in ends) * self.weight / 2
        true = float(np.sqrt(own))
        return chance_beyond(self._critical(entries, level) * self._judged / true, gap / true,
                             self.df)  # fmt: skip

    def needed(self, entries: int | None = None, level: float = 0.95) -> float:
        """Give the gap that is needed from the lower level upward [-]."""
        angle = float(angle_of(np.array(self.low), self.points))
        top = angle + self._critical(entries, level) * self._judged
        return float(share_of(np.array(top), self.points)) - self.low
