"""Fill short gaps, and leave a flag on every filled day; long ones are refused."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import numpy as np
from numpy.typing import NDArray

from swardbook.foundation.dates import say
from swardbook.foundation.errors import BadInputError
from swardbook.handbook.parameters import value
from swardbook.weather.readings import EXTRA, Finding, Readings, runs
from swardbook.weather.series import DailyWeather, Days, Flag, Values
from swardbook.weather.sun import day_of_year


def fill_gaps(readings: Readings) -> tuple[DailyWeather, tuple[Finding, ...]]:
    """Make readings into weather: fill short gaps, and name long ones.

    Days without temperature at either end are left off. Temperatures missing for a few days are
    drawn as a straight line; rain missing for a few days is put at 0. Gaps of up to a month are
    filled from the same time of year in other years if there are enough of them, else from the
    fortnight either side, which is poor. Longer ones stay missing, so that the good days are not
    lost with them. Each is a finding, and each day carries a flag.

    Parameters
    ----------
    readings : Readings
        Weather as read.

    Returns
    -------
    tuple of DailyWeather and tuple of Finding
        The weather, and what was filled.

    Raises
    ------
    BadInputError
        If there is no day with both temperatures, or a gap is longer than any outage.
    """
    whole, trimmed = _trim(readings)
    _refuse_ages(whole.days)
    spread = _on_every_day(whole)
    findings = list(trimmed)
    missing = np.isnan(spread.tmin) | np.isnan(spread.tmax)
    air, flags, told = _fill(
        spread.days,
        missing,
        {"tmin": spread.tmin, "tmax": spread.tmax},
        Flag.FILLED_TEMPERATURE,
        "temperature",
    )
    findings += told
    air = _the_right_way_round(air, spread)
    rain, rain_flags, told = _fill(
        spread.days, np.isnan(spread.rain), {"rain": spread.rain}, Flag.FILLED_RAIN, "rain"
    )
    findings += told
    weather = DailyWeather(
        days=spread.days,
        tmin=air["tmin"],
        tmax=air["tmax"],
        rain=rain["rain"],
        flags=spread.flags | flags | rain_flags,
        radiation=spread.radiation,
        humidity=spread.humidity,
        wind=spread.wind,
        et0_given=spread.et0_given,
    )
    return weather, tuple(sorted(findings, key=lambda finding: finding.day or date.min))


def _refuse_ages(days: Days) -> None:
    steps = np.diff(days).astype(np.int64)
    if not len(steps) or steps.max() <= value("weather.gap_most_days"):
        return
    place = int(steps.argmax())
    first, last = (days[place + n].astype(object) for n in (0, 1))
    raise BadInputError(
        f"the weather between {say(first)} and {say(last)}", f"{steps[place] - 1} days missing",
        f"gaps of up to {value('weather.gap_most_days'):g} days", "Is a year mistyped?",
    )  # fmt: skip


def set_strays_aside(readings: Readings) -> tuple[Readings, tuple[Finding, ...]]:
    """Leave out a few days that stand far from all others of a file: a year is mistyped.

    Parameters
    ----------
    readings : Readings
        Weather as read from one file.

    Returns
    -------
    tuple of Readings and tuple of Finding
        The rest, and which days were left out.
    """
    steps = np.diff(readings.days).astype(np.int64)
    edges = np.flatnonzero(steps > value("weather.stray_apart")) + 1
    groups = np.split(np.arange(len(readings.days)), edges)
    few = [len(group) <= value("weather.stray_days") for group in groups]
    if not any(few) or all(few):
        return readings, ()
    findings = tuple(
        Finding(
            f"{len(group)} {'day' if len(group) == 1 else 'days'} far from all others",
            "Left out. Is a year mistyped?",
            readings.day(int(group[0])), readings.day(int(group[-1])),
            readings.line(int(group[0])),
        )
        for group, is_stray in zip(groups, few, strict=True) if is_stray
    )  # fmt: skip
    kept = np.concatenate([group for group, stray in zip(groups, few, strict=True) if not stray])
    return _at_places(readings, kept), findings


def _at_places(readings: Readings, places: NDArray[np.int64] | slice) -> Readings:
    names = ("days", "lines", "tmin", "tmax", "rain", "flags", *EXTRA)
    cut: dict[str, Any] = {
        name: None if (series := getattr(readings, name)) is None else series[places]
        for name in names
    }
    return replace(readings, **cut)


def _trim(readings: Readings) -> tuple[Readings, list[Finding]]:
    known = np.flatnonzero(~(np.isnan(readings.tmin) | np.isnan(readings.tmax)))
    if len(known) == 0:
        raise BadInputError(
            "the weather", "no day with both temperatures", "a minimum and a maximum on a day"
        )
    first, last = int(known[0]), int(known[-1])
    findings = [
        Finding(
            f"{end - start} days without both temperatures at the {place}",
            "They were left off.",
            readings.day(start),
            readings.day(end - 1),
        )
        for start, end, place in ((0, first, "beginning"), (last + 1, len(readings.days), "end"))
        if end > start
    ]
    return _at_places(readings, slice(first, last + 1)), findings


def _on_every_day(readings: Readings) -> Readings:
    first, last = readings.days[0], readings.days[-1]
    days = np.arange(first, last + np.timedelta64(1, "D"))
    places = (readings.days - first).astype(np.int64)

    def spread(series: NDArray[Any] | None, empty: float) -> Any:
        if series is None:
            return None
        wide = np.full(len(days), empty, dtype=series.dtype)
        wide[places] = series
        return wide

    whole: dict[str, Any] = {
        name: spread(getattr(readings, name), 0 if name in {"lines", "flags"} else np.nan)
        for name in ("lines", "flags", "tmin", "tmax", "rain", *EXTRA)
    }
    return replace(readings, days=days, **whole)


def _fill(
    days: Days, missing: NDArray[np.bool_], series: dict[str, Values], flag: Flag, words: str
) -> tuple[dict[str, Values], NDArray[np.int64], list[Finding]]:
    """Fill one or two series that are missing together; the flags and findings beside them."""
    filled = {name: each.copy() for name, each in series.items()}
    flags = np.zeros(len(days), dtype=np.int64)
    findings = []
    places = np.arange(len(days))
    for start, end in runs(missing):
        gap = slice(start, end)
        short = end - start <= value("weather.gap_filled_days")
        usual, how = ({}, Flag.NONE) if short else _stand_in(days, series, places[gap])
        if how is Flag.MISSING:
            flags[gap] |= int(how)
            findings.append(_left_missing(days, start, end, words))
            continue
        marks = flag | how
        for name, each in series.items():
            if not short:
                filled[name][gap] = np.where(np.isnan(each[gap]), usual[name], each[gap])
            elif flag is Flag.FILLED_RAIN:
                filled[name][gap] = 0.0
            else:
                known = ~np.isnan(each)
                filled[name][gap] = np.interp(places[gap], places[known], each[known])
        flags[gap] |= int(marks)
        findings.append(_told(days, start, end, marks, words))
    return filled, flags, findings


def _the_right_way_round(air: dict[str, Values], measured: Readings) -> dict[str, Values]:
    """Where a filled extreme passes the measured other one, let it be equal to it."""
    low, high = air["tmin"], air["tmax"]
    off = low > high
    return {
        "tmin": np.where(off & np.isnan(measured.tmin), high, low),
        "tmax": np.where(off & np.isnan(measured.tmax), low, high),
    }


def _stand_in(
    days: Days, series: dict[str, Values], gap: NDArray[np.int64]
) -> tuple[dict[str, Values], Flag]:
    """Find what stands in for a long gap: other years, or poorly the days around it, or nothing."""
    if len(gap) > value("weather.gap_other_years_days"):
        return {}, Flag.MISSING
    other = {name: _usual(days, each, gap) for name, each in series.items()}
    if (usual := _all_found(other)) is not None:
        return usual, Flag.FROM_OTHER_YEARS
    around = {name: _around(each, gap) for name, each in series.items()}
    if (usual := _all_found(around)) is not None:
        return usual, Flag.FROM_DAYS_AROUND
    return {}, Flag.MISSING


def _all_found(found: dict[str, Values | None]) -> dict[str, Values] | None:
    known = {name: each for name, each in found.items() if each is not None}
    return known if len(known) == len(found) else None


def _around(series: Values, gap: NDArray[np.int64]) -> Values | None:
    """Mean of the fortnight either side of a gap; None where too little of it was measured."""
    wide, first, last = int(value("weather.gap_around")), int(gap[0]), int(gap[-1])
    before, after = series[max(first - wide, 0) : first], series[last + 1 : last + 1 + wide]
    near = np.concatenate((before, after))
    measured = near[~np.isnan(near)]
    if len(measured) < value("weather.gap_around_least"):
        return None
    return np.full(len(gap), measured.mean())


def _usual(days: Days, series: Values, gap: NDArray[np.int64]) -> Values | None:
    """Mean of the same time of year in other years, for each day of a long gap; None if few."""
    number, years = day_of_year(days), days.astype("datetime64[Y]").astype(np.int64)
    known = ~np.isnan(series)
    usual = np.empty(len(gap))
    for n, place in enumerate(gap.tolist()):
        apart = np.abs(number - number[place])
        near = known & (np.minimum(apart, 365 - apart) <= value("weather.gap_window"))
        near &= years != years[place]
        if len(np.unique(years[near])) < value("weather.gap_years"):
            return None
        usual[n] = series[near].mean()
    return usual


def _left_missing(days: Days, start: int, end: int, words: str) -> Finding:
    first, last = days[start].astype(object), days[end - 1].astype(object)
    return Finding(
        f"{words} missing on {end - start} days, too long to fill",
        f"The good days were taken; these stay missing. Filled are gaps of up to"
        f" {value('weather.gap_filled_days'):g} days, or up to"
        f" {value('weather.gap_other_years_days'):g} where {value('weather.gap_years'):g} other"
        f" years have that time of year, or {value('weather.gap_around_least'):g} days of the"
        " fortnight either side were measured. Import a file that has these days; or is a year"
        " mistyped?",
        first, last, flag=Flag.MISSING,
    )  # fmt: skip


def _told(days: Days, start: int, end: int, marks: Flag, words: str) -> Finding:
    count = end - start
    if marks & Flag.FROM_OTHER_YEARS:
        how = "Filled with the mean of that time of year in other years."
    elif marks & Flag.FROM_DAYS_AROUND:
        how = (
            "Filled with the mean of the fortnight either side: poor. Type the days in, or read"
            " them from another station's file."
        )
    elif marks & Flag.FILLED_RAIN:
        how = "Put at 0 mm. If it rained, type the days in."
    else:
        how = "Filled with a straight line between the days around."
    read = f"{words} missing on {count} {'day' if count == 1 else 'days'}"
    dates = days.astype(object)
    return Finding(read, how, dates[start], dates[end - 1], flag=marks)
