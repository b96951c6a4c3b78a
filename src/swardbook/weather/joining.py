"""Join weather that is there with newly read weather."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from swardbook.weather.readings import EXTRA, Readings
from swardbook.weather.series import DailyWeather, Flag, Values

_TEMPERATURE = int(Flag.FILLED_TEMPERATURE | Flag.SWAPPED | Flag.ODD | Flag.FETCHED_TEMPERATURE)
_RAIN = int(Flag.FILLED_RAIN | Flag.TRACE | Flag.FETCHED_RAIN)
_FILLED = int(Flag.FILLED_TEMPERATURE | Flag.FILLED_RAIN)
_HOW = int(Flag.FROM_OTHER_YEARS | Flag.FROM_DAYS_AROUND)
_NOT_OWN_TEMPERATURE = int(Flag.FILLED_TEMPERATURE | Flag.FETCHED_TEMPERATURE)
_NOT_OWN_RAIN = int(Flag.FILLED_RAIN | Flag.FETCHED_RAIN)


def as_readings(weather: DailyWeather) -> Readings:
    """Take weather back to readings, with its flags, to join it with others."""
    extra: dict[str, Any] = {name: getattr(weather, name) for name in EXTRA}
    return Readings(
        days=weather.days,
        lines=np.zeros(len(weather), dtype=np.int64),
        tmin=weather.tmin,
        tmax=weather.tmax,
        rain=weather.rain,
        flags=weather.flags & ~int(Flag.MISSING),  # found again by who fills the gaps
        **extra,
    )


def join(old: Readings, new: Readings) -> tuple[Readings, int]:
    """Put new readings over old ones; a value that the new ones lack keeps the old.

    Parameters
    ----------
    old, new : Readings
        What is there, and what was read now.

    Returns
    -------
    tuple of Readings and int
        Both together, and how many days of the old ones were read again.
    """
    days = np.union1d(old.days, new.days)
    of_old, of_new = np.searchsorted(days, old.days), np.searchsorted(days, new.days)
    again = int(np.isin(old.days, new.days).sum())

    def over(before: Values | None, after: Values | None) -> Values | None:
        if before is None and after is None:
            return None
        both = np.full(len(days), np.nan)
        if before is not None:
            both[of_old] = before
        if after is not None:
            both[of_new] = np.where(np.isnan(after), both[of_new], after)
        return both

    lines = np.zeros(len(days), dtype=np.int64)
    lines[of_new] = new.lines
    series: dict[str, Any] = {
        name: over(getattr(old, name), getattr(new, name))
        for name in ("tmin", "tmax", "rain", *EXTRA)
    }
    flags = np.zeros(len(days), dtype=np.int64)
    flags[of_old] = old.flags
    flags[of_new] = _flags(flags[of_new], new)
    return Readings(days=days, lines=lines, flags=flags, **series), again


def join_under(there: DailyWeather, fetched: Readings) -> Readings:
    """Put fetched readings under those measured at the place, and over what only stands in.

    Parameters
    ----------
    there : DailyWeather
        What is there: measured, fetched before, or filled.
    fetched : Readings
        What a service reckoned for the place.

    Returns
    -------
    Readings
        All together; each fetched value carries its flag.
    """
    held = as_readings(there)
    no_air = (held.flags & _NOT_OWN_TEMPERATURE) != 0
    no_rain = (held.flags & _NOT_OWN_RAIN) != 0
    below, _ = join(_only(held, no_air, no_rain, stands_in=True), as_fetched(fetched))
    joined, _ = join(below, _only(held, ~no_air, ~no_rain, stands_in=False))
    return joined


def as_fetched(readings: Readings) -> Readings:
    """Mark readings as reckoned by a service."""
    air = ~(np.isnan(readings.tmin) | np.isnan(readings.tmax))
    marks = np.where(air, int(Flag.FETCHED_TEMPERATURE), 0)
    marks |= np.where(np.isnan(readings.rain), 0, int(Flag.FETCHED_RAIN))
    return replace(readings, flags=readings.flags | marks)


def _only(
    held: Readings, air: NDArray[np.bool_], rain: NDArray[np.bool_], *, stands_in: bool
) -> Readings:
    """Give the values of some days, and the flags that are theirs."""
    both = _NOT_OWN_TEMPERATURE | _NOT_OWN_RAIN | _HOW
    flags = held.flags & both if stands_in else held.flags & ~both
    extra: dict[str, Any] = {
        name: None if (series := getattr(held, name)) is None else np.where(air, series, np.nan)
        for name in EXTRA
    }
    return replace(
        held,
        tmin=np.where(air, held.tmin, np.nan),
        tmax=np.where(air, held.tmax, np.nan),
        rain=np.where(rain, held.rain, np.nan),
        flags=flags,
        **extra,
    )


def _flags(before: NDArray[np.int64], new: Readings) -> NDArray[np.int64]:
    """Drop what no longer holds where a value was read again, and add what was found now."""
    measured = ~(np.isnan(new.tmin) | np.isnan(new.tmax))
    left = np.where(measured, before & ~_TEMPERATURE, before)
    left = np.where(np.isnan(new.rain), left, left & ~_RAIN)
    left = np.where(left & _FILLED, left, left & ~_HOW)
    joined: NDArray[np.int64] = left | new.flags
    return joined
