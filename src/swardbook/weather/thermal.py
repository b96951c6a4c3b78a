"""Warmth: degree-days by four methods, growth potential and growing weeks."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import inf

import numpy as np
from numpy.typing import NDArray

from swardbook.foundation.errors import OutOfRangeError
from swardbook.handbook.parameters import value
from swardbook.weather import equations
from swardbook.weather.series import Values


class Method(StrEnum):
    """How a day's course is drawn between its extremes."""

    AVERAGE = "average"
    MODIFIED_AVERAGE = "modified-average"
    SINGLE_SINE = "single-sine"
    SINGLE_TRIANGLE = "single-triangle"


class Kind(StrEnum):
    """Which family of grasses a growth curve is for."""

    COOL = "cool"
    WARM = "warm"


def degree_days(
    tmin: Values,
    tmax: Values,
    *,
    base: float,
    upper: float = inf,
    method: Method | str = Method.SINGLE_SINE,
) -> Values:
    """Warmth of each day above a base, with what lies over the upper limit cut off.

    A total means something only beside its method, base and upper limit: on a spring day of 4 to
    16 °C and base 10 the average method finds nothing and the sine 1.9.

    Parameters
    ----------
    tmin, tmax : array
        Air temperature. [°C]
    base : float
        Lower limit. [°C]
    upper : float
        Upper limit, cut off level; none by default. [°C]
    method : Method or str
        ``average``, ``modified-average``, ``single-sine`` or ``single-triangle``.

    Returns
    -------
    array
        Degree-days. [°C d]

    Raises
    ------
    OutOfRangeError
        If the upper limit is not above the base.

    Notes
    -----
    Single sine: Baskerville and Emin (1969). Single triangle: Sevacherian and others (1977).
    """
    if not base < upper:
        raise OutOfRangeError("upper limit", float(upper), f"above the base of {base:g}", "°C")
    kind = Method(method)
    if kind is Method.AVERAGE:
        return np.clip((tmin + tmax) / 2.0, base, upper) - base
    if kind is Method.MODIFIED_AVERAGE:
        return (np.clip(tmin, base, upper) + np.clip(tmax, base, upper)) / 2.0 - base
    above = equations.sine_above if kind is Method.SINGLE_SINE else _triangle_above
    total: Values = above(tmin, tmax, base)
    return total if upper == inf else np.maximum(total - above(tmin, tmax, upper), 0.0)


def growth_potential(celsius: Values, kind: Kind | str = Kind.COOL) -> Values:
    """Growth that temperature alone allows, as a share of the best.

    It knows nothing of light, water or nitrogen, and puts the peak of a British lawn in July
    though ryegrass is measured to grow most around the end of May. Use it to compare days, not
    to replace what was measured.

    Parameters
    ----------
    celsius : array
        Mean air temperature. [°C]
    kind : Kind or str
        ``cool`` or ``warm``-season grasses.

    Returns
    -------
    array
        0 to 1. [-]

    Notes
    -----
    Gelernter and Stowell (2005).
    """
    if Kind(kind) is Kind.COOL:
        optimum, width = value("weather.growth_cool_optimum"), value("weather.growth_cool_width")
    else:
        optimum, width = value("weather.growth_warm_optimum"), value("weather.growth_warm_width")
    found: Values = equations.growth(celsius, optimum, width)
    return found


@dataclass(frozen=True, slots=True)
class GrowingWeeks:
    """How many of the weeks since a day were warm enough to count as growth.

    Parameters
    ----------
    grown : int
        Weeks with weather for every day and a mean that is warm enough. [weeks]
    unknown : int
        Weeks that are over and lack weather for a day or more. [weeks]
    """

    grown: int
    unknown: int = 0

    @property
    def at_most(self) -> int:
        """Growing weeks if all that are not known were warm [weeks]."""
        return self.grown + self.unknown


def growing_weeks(tmean: Values) -> GrowingWeeks:
    """Count the growing weeks since a day, such as that of a sowing.

    Weeks run on from that day, seven days each: the first is the seven days after it, so that
    what was sown on a Monday is a week old on Monday evening. A week counts when its mean air
    is at least `weather.growing_week_mean`, though some of its days were colder. The week that
    runs counts only once it is over. A week with a missing day neither counts nor is lost: it is
    told apart.

    Parameters
    ----------
    tmean : array
        Mean air temperature of each day, from the day after that day; not a number where it is
        missing. [°C]

    Returns
    -------
    GrowingWeeks
        Weeks that count, and weeks that are not known.
    """
    counts, unknown = _by_week(tmean)
    return GrowingWeeks(int(np.count_nonzero(counts)), int(np.count_nonzero(unknown)))


def days_to_growing_weeks(tmean: Values, wanted: float) -> int | None:
    """Find the day on which so many growing weeks are reached, as `growing_weeks` counts them.

    Parameters
    ----------
    tmean : array
        As of `growing_weeks`, as far ahead as there is weather. [°C]
    wanted : float
        Growing weeks that are wanted. [weeks]

    Returns
    -------
    int or None
        Days from the day that weeks are counted from, 0 where none are wanted; None where the
        weather given does not reach them. [d]
    """
    if wanted <= 0:
        return 0
    counts, _ = _by_week(tmean)
    reached = np.flatnonzero(np.cumsum(counts) >= wanted)
    return int(7 * (reached[0] + 1)) if len(reached) else None


def _by_week(tmean: Values) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
    """Tell of each week that is over whether it counts, and whether a day of it is missing."""
    whole = len(tmean) // 7
    weeks = np.asarray(tmean[: whole * 7], dtype=np.float64).reshape(whole, 7)
    means = weeks.mean(axis=1) if whole else np.empty(0)
    return means >= value("weather.growing_week_mean"), np.isnan(means)


def _triangle_above(tmin: Values, tmax: Values, level: float) -> Values:
    middle, swing = (tmax + tmin) / 2.0, tmax - tmin
    part = (tmax - level) ** 2 / (2.0 * np.maximum(swing, 1e-12))
    return np.where(tmax <= level, 0.0, np.where(tmin >= level, middle - level, part))
