"""Hours of pulling: area times searching plus plants times handling."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError


@dataclass(frozen=True, slots=True)
class Pass:
    """One pass of pulling, as logged.

    Parameters
    ----------
    area_m2 : float
        Ground searched, above 0. [m²]
    plants : float
        Plants taken. [plants]
    hours : float
        Hours of work, all people together. [h]
    """

    area_m2: float
    plants: float
    hours: float

    def __post_init__(self) -> None:
        for name, value, least in (
            ("area searched", self.area_m2, "above 0"),
            ("hours", self.hours, "above 0"),
        ):
            if not value > 0:
                raise OutOfRangeError(name, float(value), least, "")


@dataclass(frozen=True, slots=True)
class Pace:
    """How fast this ground is searched and a plant handled.

    Parameters
    ----------
    search_h_m2 : float
        Walking and looking. [h m⁻²]
    handling_h : float
        Taking one plant out. [h]
    spread_h : float or None
        Standard deviation of a pass about the fit; None where nothing is left to judge by. [h]
    n : int
        Passes it is fitted to.
    """

    search_h_m2: float
    handling_h: float
    spread_h: float | None
    n: int

    def hours(self, area_m2: float, plants: float) -> float:
        """Give the hours [h] for an area [m²] with so many plants taken."""
        return area_m2 * self.search_h_m2 + plants * self.handling_h


def fit_pace(passes: Sequence[Pass]) -> Pace:
    """Fit searching and handling to a zone's own passes; neither can be below nothing.

    Parameters
    ----------
    passes : sequence of Pass
        At least two, that differ in plants per area.

    Returns
    -------
    Pace
        By least squares.

    Raises
    ------
    NotEnoughDataError
        If there are fewer than two passes, or all are alike.
    """
    if len(passes) < 2:
        raise NotEnoughDataError("your own pace of pulling", "two timed passes", f"{len(passes)}")
    aa = sum(each.area_m2**2 for each in passes)
    ap = sum(each.area_m2 * each.plants for each in passes)
    pp = sum(each.plants**2 for each in passes)
    ah = sum(each.area_m2 * each.hours for each in passes)
    ph = sum(each.plants * each.hours for each in passes)
    determinant = aa * pp - ap * ap
    if determinant <= 1e-9 * aa * max(pp, 1.0):
        raise NotEnoughDataError(
            "your own pace of pulling",
            "two timed passes that differ in plants per area",
            "passes that are all alike",
        )
    search = (ah * pp - ph * ap) / determinant
    handling = (ph * aa - ah * ap) / determinant
    if search < 0:
        search, handling = 0.0, ph / pp
    elif handling < 0:
        search, handling = ah / aa, 0.0
    left_over = [each.hours - each.area_m2 * search - each.plants * handling for each in passes]
    free = len(passes) - 2
    spread = sqrt(sum(each**2 for each in left_over) / free) if free else None
    return Pace(search, handling, spread, len(passes))
