"""The six verdicts: what a comparison lets one say."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from math import exp, log

from swardbook.evidence.estimates import Interval
from swardbook.foundation.errors import OutOfRangeError
from swardbook.foundation.workings import Workings


class Verdict(StrEnum):
    """What a comparison lets one say, in the words that are shown."""

    NOT_ENOUGH = "not enough data"
    CLEAR = "clear"
    CLEAR_BUT_SMALL = "clear but small"
    AS_GOOD_AS_EQUAL = "as good as equal"
    LEANING = "leaning"
    TOO_CLOSE = "too close to call"


@dataclass(frozen=True, slots=True)
class Spread:
    """The ranges of one difference at the three levels the verdicts ask for."""

    at95: Interval
    at90: Interval
    at80: Interval

    @classmethod
    def of(cls, interval_at: Callable[[float], Interval]) -> Spread:
        """Take the three levels from a function of the level."""
        return cls(interval_at(0.95), interval_at(0.90), interval_at(0.80))


def verdict(difference: float, spread: Spread, smallest: float) -> Verdict:
    """Choose one of the five verdicts on a comparison whose smallest design is met.

    The rules are tried in this order: `clear` and `clear but small` if the 95 % range excludes
    no difference; `as good as equal` if the 90 % range lies wholly inside plus or minus
    `smallest`; `leaning` if the 80 % range excludes no difference; else `too close to call`.

    Parameters
    ----------
    difference : float
        The difference found. [unit of `smallest`]
    spread : Spread
        Its ranges at 95, 90 and 80 %. [unit of `smallest`]
    smallest : float
        The smallest difference worth acting on, above 0. [points, or log ratio]

    Raises
    ------
    OutOfRangeError
        If `smallest` is not above 0.
    """
    if not smallest > 0:
        raise OutOfRangeError("smallest difference worth acting on", smallest, "above 0", "")
    if spread.at95.excludes(0):
        return Verdict.CLEAR if abs(difference) >= smallest else Verdict.CLEAR_BUT_SMALL
    if spread.at90.within(smallest):
        return Verdict.AS_GOOD_AS_EQUAL
    if spread.at80.excludes(0):
        return Verdict.LEANING
    return Verdict.TOO_CLOSE


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two things compared: the difference, its ranges, and the verdict.

    Parameters
    ----------
    difference : float
        The later, or treated, less the earlier, or untreated; a log ratio for densities. [`unit`]
    spread : Spread
        Its ranges. [`unit`]
    unit : str
        ``points`` of ground cover, or ``log ratio``.
    smallest : float
        The smallest difference worth acting on. [`unit`]
    verdict : Verdict
        What may be said.
    before, after : float
        The two figures that are compared. [`value_unit`]
    value_unit : str
        ``%`` or ``plants/m2``.
    n : int
        Places, or pairs of places, it rests on.
    method : str
        How it was reached, in words.
    workings : Workings
        Everything needed to do it again by hand.
    cautions : tuple of str
        What stands beside the verdict.
    """

    difference: float
    spread: Spread
    unit: str
    smallest: float
    verdict: Verdict
    before: float
    after: float
    value_unit: str
    n: int
    method: str
    workings: Workings
    cautions: tuple[str, ...] = ()

    @property
    def is_log_ratio(self) -> bool:
        """Whether the difference is a log ratio."""
        return self.unit == LOG_RATIO

    @property
    def ratio(self) -> float | None:
        """The later as a multiple of the earlier [-]; None for points."""
        return exp(self.difference) if self.is_log_ratio else None

    @property
    def ratio_at95(self) -> Interval | None:
        """The 95 % range of the ratio [-]; None for points."""
        if not self.is_log_ratio:
            return None
        return Interval(exp(self.spread.at95.low), exp(self.spread.at95.high))

    @property
    def direction(self) -> str:
        """``less``, ``more`` or ``the same``, of the later against the earlier."""
        if self.difference == 0:
            return "the same"
        return "less" if self.difference < 0 else "more"


POINTS = "points"
LOG_RATIO = "log ratio"


def log_of(ratio: float) -> float:
    """Put a smallest ratio worth acting on, such as 1.5, on the log scale.

    Parameters
    ----------
    ratio : float
        Above 1. [-]

    Returns
    -------
    float
        Its natural logarithm. [log ratio]

    Raises
    ------
    OutOfRangeError
        If it is 1 or below.
    """
    if not ratio > 1:
        raise OutOfRangeError("smallest ratio worth acting on", ratio, "above 1", "-")
    return log(ratio)
