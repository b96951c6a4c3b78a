"""What an analysis gives back: an interval, an estimate with its design, a comparison."""

from __future__ import annotations

from dataclasses import dataclass
from statistics import NormalDist
from typing import NamedTuple

from swardbook.foundation.errors import OutOfRangeError
from swardbook.foundation.workings import Workings


class Interval(NamedTuple):
    """Lower and upper end of a range, in the unit of the figure it belongs to."""

    low: float
    high: float

    @property
    def half_width(self) -> float:
        """Half the distance from end to end, in the unit of the figure."""
        return (self.high - self.low) / 2

    def excludes(self, number: float) -> bool:
        """Tell whether a number lies outside."""
        return number < self.low or number > self.high

    def within(self, bound: float) -> bool:
        """Tell whether the whole interval lies inside plus or minus a bound."""
        return -bound < self.low and self.high < bound


@dataclass(frozen=True, slots=True)
class Estimate:
    """One figure with its interval and what it rests on.

    Parameters
    ----------
    value : float
        The figure. [`unit`]
    interval : Interval
        Its range at `level`. [`unit`]
    unit : str
        ``%``, ``plants/m2``, ``points`` ...
    level : float
        Share of such intervals that hold the truth. [-]
    n : int
        Places the figure rests on: the unit of replication, never single points.
    method : str
        How it was reached, in words.
    workings : Workings
        Everything needed to do it again by hand.
    cautions : tuple of str
        What stands beside the figure.
    """

    value: float
    interval: Interval
    unit: str
    level: float
    n: int
    method: str
    workings: Workings
    cautions: tuple[str, ...] = ()


def normal_quantile(level: float) -> float:
    """Give the two-sided quantile [-] of the standard normal distribution.

    Parameters
    ----------
    level : float
        Share inside, such as 0.95. [-]

    Raises
    ------
    OutOfRangeError
        If the level is not between 0 and 1.
    """
    _check_level(level)
    return NormalDist().inv_cdf((1 + level) / 2)


def t_quantile(level: float, degrees: float) -> float:
    """Give the two-sided quantile [-] of Student's t distribution.

    Parameters
    ----------
    level : float
        Share inside, such as 0.95. [-]
    degrees : float
        Degrees of freedom, above 0. [-]

    Raises
    ------
    OutOfRangeError
        If the level is not between 0 and 1, or there is no degree of freedom.
    """
    from scipy.special import stdtrit

    _check_level(level)
    if not degrees > 0:
        raise OutOfRangeError("degrees of freedom", degrees, "above 0", "")
    return float(stdtrit(degrees, (1 + level) / 2))


def _check_level(level: float) -> None:
    if not 0 < level < 1:
        raise OutOfRangeError("level", float(level), "between 0 and 1", "-", "95 % is 0.95.")
