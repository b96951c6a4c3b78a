"""Two passes of pulling over the same ground: how many there were, and how many are left."""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

from swardbook.evidence.estimates import Interval, normal_quantile
from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError


@dataclass(frozen=True, slots=True)
class TwoPasses:
    """What two passes of equal care over one area say.

    Parameters
    ----------
    first, second : int
        Plants taken in each pass.
    """

    first: int
    second: int

    def __post_init__(self) -> None:
        if self.first < 0 or self.second < 0:
            raise OutOfRangeError(
                "plants taken", min(self.first, self.second), "0 or more", "plants"
            )

    @property
    def seen(self) -> int:
        """Plants taken in both passes together."""
        return self.first + self.second

    @property
    def catch_rate(self) -> float:
        """Share [-] of the plants standing that one pass takes."""
        return 1 - self.second / self.first if self.first else 0.0

    @property
    def total(self) -> float:
        """Estimated plants before the first pass."""
        self._check()
        return self.first**2 / (self.first - self.second)

    @property
    def standard_error(self) -> float:
        """Standard error of the total, in plants."""
        self._check()
        product, gap = self.first * self.second, self.first - self.second
        return sqrt(product**2 * self.seen) / gap**2

    def interval(self, level: float = 0.95) -> Interval:
        """Give the range of the total, in plants; never below what was seen."""
        half = normal_quantile(level) * self.standard_error
        low = max(float(self.seen), self.total - half)
        return Interval(low, max(low, self.total + half))

    @property
    def left(self) -> float:
        """Estimated plants still standing after both passes."""
        return self.total - self.seen

    def left_interval(self, level: float = 0.95) -> Interval:
        """Give the range of what is left, in plants; never below 0."""
        total = self.interval(level)
        return Interval(total.low - self.seen, total.high - self.seen)

    def require_catch_rate(self, least: float) -> TwoPasses:
        """Give the passes back if a pass took enough of what stood.

        Parameters
        ----------
        least : float
            Least catch rate that makes an estimate. [-]

        Raises
        ------
        NotEnoughDataError
            If the second pass found nearly as many as the first.
        """
        if self.first == 0 or self.catch_rate < least:
            raise NotEnoughDataError(
                "how many are left",
                f"a pass that takes at least {least:.0%} of what stands",
                f"{self.first} plants, then {self.second}: barely fewer the second time"
                if self.first
                else "a first pass that took none",
            )
        return self

    def _check(self) -> None:
        if self.second >= self.first:
            raise NotEnoughDataError(
                "how many there were",
                "fewer plants in the second pass",
                f"{self.first} plants, then {self.second}",
            )


def two_pass_removal(first: int, second: int, least_catch_rate: float) -> TwoPasses:
    """Estimate how many plants two passes of equal care had to do with.

    Parameters
    ----------
    first, second : int
        Plants taken in each pass over the same ground.
    least_catch_rate : float
        Least share a pass must take for the estimate to be worth anything. [-]

    Returns
    -------
    TwoPasses
        Total, what is left, and their ranges.

    Raises
    ------
    NotEnoughDataError
        If the second pass found nearly as many as the first.

    Notes
    -----
    Seber, G. A. F. and Le Cren, E. D., 1967, Journal of Animal Ecology 36, 631-643: total
    ``n1² / (n1 - n2)``, variance ``n1² n2² (n1 + n2) / (n1 - n2)⁴``. It needs the same catch
    rate at both passes and no newcomers between them.
    """
    return TwoPasses(first, second).require_catch_rate(least_catch_rate)
