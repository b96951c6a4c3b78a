"""On which days of the ways ahead a programme does what: each rhythm is worked out once.

A rhythm hangs on a course's weather and on one or two numbers of a programme, so programmes that
share them, as those of a search do, share the days.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import date

import numpy as np
from numpy.typing import NDArray

from swardbook.foundation.dates import season_day
from swardbook.handbook.parameters import value

Flags = NDArray[np.bool_]
WEEK = 7.0


@dataclass(frozen=True, slots=True)
class Calendar:
    """The days ahead as every programme meets them.

    Parameters
    ----------
    season : array of int
        Day of the year of each day, as the north numbers it. [d]
    growth : array
        Growth potential of each course and day, averaged over a week. [-]
    """

    season: NDArray[np.int64]
    growth: NDArray[np.float64]
    _known: dict[tuple[object, ...], Flags] = field(default_factory=dict, compare=False)

    @classmethod
    def of(cls, days: Sequence[date], growth: NDArray[np.float64], latitude: float) -> Calendar:
        """Lay out consecutive days under one or more courses of weather.

        Parameters
        ----------
        days : sequence of date
            The days.
        growth : array
            Growth potential of each course and day, averaged over a week. [-]
        latitude : float
            Latitude, south negative. [°]
        """
        return cls(np.array([season_day(day, latitude) for day in days]), np.atleast_2d(growth))

    @property
    def heads(self) -> Flags:
        """Days on which heads stand, in any course."""
        return self._kept(("heads",), lambda: self._between("heads_season_from", "heads_season_to"))

    def cuts(self, days: float) -> Flags:
        """Mark the cuts of each course.

        Parameters
        ----------
        days : float
            Days between them. [d]
        """
        return self._kept(
            ("cuts", days), lambda: _every(self._growing("programme.cut_growth_least"), days)
        )

    def verticuts(self, days: float, depth: float) -> Flags:
        """Mark the verticuts of each course.

        Parameters
        ----------
        days : float
            Days between them; 0 for none. [d]
        depth : float
            Depth below the height of cut. [mm]
        """
        touches = bool(depth > value("verticut_fine_depth"))
        return self._kept(("verticuts", days, touches), lambda: self._verticuts(days, touches))

    def feeds(self, number: int) -> Flags:
        """Mark so many feeds a season, in each course."""
        return self._kept(("feeds", number), lambda: self._feeds(number))

    def pulls(self) -> Flags:
        """Mark a pull each week with heads and growth, in each course."""
        return self._kept(
            ("pulls",), lambda: _every(self.heads & self._growing("growing_now_potential"), WEEK)
        )

    def refills(self) -> Flags:
        """Mark the rounds of refills of each course."""
        return self._kept(("refills",), self._refills)

    def watered(self) -> Flags:
        """Mark the days on which a round of refills is watered, in each course."""
        return self._kept(
            ("watered",), lambda: _after(self.refills(), int(value("programme.refill_water_days")))
        )

    def none(self) -> Flags:
        """Mark nothing."""
        return np.zeros(self.growth.shape, dtype=np.bool_)

    def _kept(self, key: tuple[object, ...], work: Callable[[], Flags]) -> Flags:
        if key not in self._known:
            self._known[key] = work()
        return self._known[key]

    def _growing(self, key: str) -> Flags:
        return np.asarray(self.growth >= value(key))

    def _refills(self) -> Flags:
        fit = self._growing("growing_strong_potential")
        fit = fit & self._between("germination_spring_from", "germination_autumn_to")
        return _every(fit, value("programme.refill_days"))

    def _between(self, first: str, last: str) -> Flags:
        return np.asarray((self.season >= value(first)) & (self.season <= value(last)))

    def _verticuts(self, days: float, touches: bool) -> Flags:
        if not days:
            return self.none()
        fit = self._growing("growing_now_potential")
        fit = fit & self._between("germination_spring_from", "germination_autumn_to")
        if touches:
            # Touching the soil in the germination flush lets the ground to the nearest seed.
            fit &= ~self._between("germination_spring_from", "germination_spring_to")
            fit &= ~self._between("germination_autumn_from", "germination_autumn_to")
        return _every(fit, days)

    def _feeds(self, number: int) -> Flags:
        if not number:
            return self.none()
        first, last = value("feed_season_from"), value("feed_season_to")
        fit = self._between("feed_season_from", "feed_season_to")
        return _every(
            fit & (self.growth >= value("growing_now_potential")), (last - first) / number
        )


def _every(allowed: Flags, days: float) -> Flags:
    """Mark every so many days, each time on the first day that allows it."""
    chosen = np.zeros_like(allowed)
    for course, row in enumerate(allowed):
        due = 0.0
        for at in np.flatnonzero(row):
            if at >= due:
                chosen[course, at] = True
                due = at + days
    return chosen


def _after(marked: Flags, days: int) -> Flags:
    """Mark each marked day and as many days, that one included."""
    found = marked.copy()
    for course, at in np.argwhere(marked):
        found[course, at : at + days] = True
    return found
