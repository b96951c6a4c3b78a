"""What is usual at a place: this year's days against the same days of its past years."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np

from swardbook.handbook.parameters import value
from swardbook.weather.series import Days, Values


@dataclass(frozen=True, slots=True)
class Usual:
    """The range of four in five past years, day by day.

    Parameters
    ----------
    years : tuple of int
        The years in which each span of days ended.
    low, middle, high : array
        The tenth, fiftieth and ninetieth part of a hundred of the years. [unit of the series]
    """

    years: tuple[int, ...]
    low: Values
    middle: Values
    high: Values


def usual(days: Days, values: Values, first: date, length: int, *, adds_up: bool) -> Usual | None:
    """Take what the same days of past years came to.

    A past year is left out unless all its days are there; none of its days is in the span asked.

    Parameters
    ----------
    days : array of datetime64[D]
        Consecutive days.
    values : array
        A value a day. [any]
    first : date
        First day of the span that is looked at.
    length : int
        Days in the span. [d]
    adds_up : bool
        Whether values are added up from the first day, as rain is; else taken as they are.

    Returns
    -------
    Usual or None
        None with fewer whole past years than the handbook asks for.
    """
    spans, years = [], []
    for back in range(1, len(days) // 365 + 2):
        start = _years_before(first, back)
        low = int((np.datetime64(start, "D") - days[0]).astype(int))
        if low < 0:
            break
        part = values[low : low + length]
        is_over = np.datetime64(start, "D") + length <= np.datetime64(first, "D")
        if is_over and len(part) == length and bool(np.isfinite(part).all()):
            spans.append(np.cumsum(part) if adds_up else part)
            years.append(int(str(np.datetime64(start, "D") + (length - 1))[:4]))
    if len(spans) < value("usual_years_least"):
        return None
    low_, middle, high = np.quantile(np.stack(spans), (0.1, 0.5, 0.9), axis=0)
    return Usual(tuple(sorted(years)), low_, middle, high)


def _years_before(day: date, years: int) -> date:
    try:
        return day.replace(year=day.year - years)
    except ValueError:
        return day.replace(year=day.year - years, day=28)
