"""Weather by month: the table a person reads first."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np

from swardbook.weather.derive import Derived
from swardbook.weather.series import DailyWeather, Flag, Values


@dataclass(frozen=True, slots=True)
class Month:
    """One month's weather.

    Parameters
    ----------
    first : date
        First day of it that is there.
    days : int
        Days that are there.
    tmin, tmax : float
        Mean minimum and maximum. [°C]
    rain : float
        Rain. [mm]
    frosts : int
        Days with a minimum below 0 °C.
    filled, odd : int
        Days with a filled value, and days that are questioned.
    et0 : float or None
        Reference evapotranspiration, where it was derived. [mm]
    degree_days : float or None
        Warmth, where it was derived. [°C d]
    growth_potential : float or None
        Mean of the days, where it was derived. [-]
    soil_temperature : float or None
        Mean at 5 cm, where it was derived. [°C]
    """

    first: date
    days: int
    tmin: float
    tmax: float
    rain: float
    frosts: int
    filled: int
    odd: int
    et0: float | None = None
    degree_days: float | None = None
    growth_potential: float | None = None
    soil_temperature: float | None = None


def summarise_months(weather: DailyWeather, derived: Derived | None = None) -> tuple[Month, ...]:
    """Summarise weather, and what was derived of it, month by month.

    Parameters
    ----------
    weather : DailyWeather
        The weather.
    derived : Derived, optional
        What was derived of the same days.

    Returns
    -------
    tuple of Month
        In order; months without a day are not there.
    """
    if len(weather) == 0:
        return ()
    months = weather.days.astype("datetime64[M]").astype(np.int64)
    starts = np.flatnonzero(np.diff(months, prepend=months[0] - 1))
    ends = np.append(starts[1:], len(months))
    spans = [slice(first, end) for first, end in zip(starts.tolist(), ends.tolist(), strict=True)]
    return tuple(_month(weather, derived, span) for span in spans)


def dry_spell(rain: Values, below: float = 1.0) -> int:
    """Longest run of days with less than some rain.

    Parameters
    ----------
    rain : array
        Rain. [mm d⁻¹]
    below : float
        A day with less than this is dry. [mm d⁻¹]

    Returns
    -------
    int
        Days.
    """
    longest = current = 0
    for dry in (rain < below).tolist():
        current = current + 1 if dry else 0
        longest = max(longest, current)
    return longest


def _month(weather: DailyWeather, derived: Derived | None, span: slice) -> Month:
    flags = weather.flags[span]
    filled = int(Flag.FILLED_TEMPERATURE | Flag.FILLED_RAIN)
    odd = int(Flag.ODD | Flag.SWAPPED)
    first: date = weather.days[span][0].astype(object)
    return Month(
        first=first,
        days=len(flags),
        tmin=float(weather.tmin[span].mean()),
        tmax=float(weather.tmax[span].mean()),
        rain=float(weather.rain[span].sum()),
        frosts=int((weather.tmin[span] < 0).sum()),
        filled=int(((flags & filled) != 0).sum()),
        odd=int(((flags & odd) != 0).sum()),
        et0=None if derived is None else float(derived.et0[span].sum()),
        degree_days=None if derived is None else float(derived.degree_days[span].sum()),
        growth_potential=None if derived is None else float(derived.growth_potential[span].mean()),
        soil_temperature=(
            None if derived is None else float(derived.soil_temperature_5cm[span].mean())
        ),
    )
