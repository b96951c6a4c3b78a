"""The weather of a season: warmth added up, rain, and the warmth of the soil."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from swardbook.figures.picture import (
    FEW_DAYS,
    INK,
    PALE,
    QUIET,
    WIDTH,
    Picture,
    Table,
    data,
    date_axis,
    finish,
)
from swardbook.foundation.dates import say
from swardbook.foundation.unit_words import unit_name
from swardbook.foundation.units import METRIC, Unit, Units
from swardbook.weather.derive import Derived
from swardbook.weather.months import summarise_months
from swardbook.weather.series import DailyWeather, Values
from swardbook.weather.usual import Usual

if TYPE_CHECKING:
    from swardbook.figures.picture import Panel

HEIGHT = 130


@dataclass(frozen=True, slots=True)
class SeasonWeather:
    """A season's weather, and what is usual of its days.

    Parameters
    ----------
    weather : DailyWeather
        The days.
    derived : Derived
        What was derived of the same days.
    warmth, rain, soil : Usual or None
        Of degree-days added up, of rain added up, and of the soil at 5 cm; None if not known.
    """

    weather: DailyWeather
    derived: Derived
    warmth: Usual | None = None
    rain: Usual | None = None
    soil: Usual | None = None


def picture_of_weather(season: SeasonWeather, note: str = "", units: Units = METRIC) -> Picture:
    """Draw a season's degree-days added up, rain and soil temperature against past years.

    Parameters
    ----------
    season : SeasonWeather
        The season.
    note : str
        What has to stand beside it.
    units : Units
        What the axes are drawn in; the words stay in metric until they are shown.
    """
    import altair as alt

    derived = season.derived
    warmth = f"°C·d above {derived.base:g} °C, added up"
    soil, degrees = units.unit("°C"), "soil at 5 cm, °C"
    chart = alt.vconcat(
        _line(season, np.cumsum(derived.degree_days), season.warmth, warmth),
        _rain(season, units),
        _line(season, derived.soil_temperature_5cm, season.soil,
              degrees if soil is None else f"soil at 5 cm, {soil.name}", soil),
        spacing=14,
    )  # fmt: skip
    months = summarise_months(season.weather, derived)
    rows = [
        (
            f"{month.first:%B %Y}", str(month.days), f"{month.degree_days:.0f}",
            f"{month.rain:.0f}", _whole(month.soil_temperature),
        )
        for month in months
    ]  # fmt: skip
    heads = ("month", "days", "degree-days °C·d", "rain mm", "soil 5 cm °C")
    return finish(
        chart, _sentence(season), _key(season), [Table("By month", heads, tuple(rows))], note
    )


def _line(
    season: SeasonWeather, values: Values, usual: Usual | None, title: str, unit: Unit | None = None
) -> Panel:
    import altair as alt

    def short(numbers: Values) -> Sequence[float]:
        return _short(numbers if unit is None else numbers * unit.factor + unit.offset)

    days = _days(season)
    y = alt.Y("value:Q", title=title, scale=alt.Scale(nice=True))
    layers: list[Any] = []
    if usual is not None:
        band = [
            {"day": day, "low": low, "middle": middle, "high": high}
            for day, low, middle, high in zip(
                days, short(usual.low), short(usual.middle), short(usual.high), strict=True
            )
        ]
        base = alt.Chart(data(band)).encode(x=_x(len(days)))
        layers += [
            base.mark_area(fill=PALE, stroke=QUIET, strokeWidth=0.5, opacity=1)
            .encode(y=alt.Y("low:Q", title=title), y2="high:Q"),
            base.mark_line(stroke=QUIET, strokeWidth=1.3, strokeDash=[4, 3])
            .encode(y=alt.Y("middle:Q", title=title)),
        ]  # fmt: skip
    rows = [{"day": day, "value": each} for day, each in zip(days, short(values), strict=True)]
    line = alt.Chart(data(rows)).mark_line(stroke=INK, strokeWidth=2.2)
    layers.append(line.encode(x=_x(len(days)), y=y))
    return alt.layer(*layers).properties(width=WIDTH, height=HEIGHT)


def _rain(season: SeasonWeather, units: Units) -> Panel:
    """Draw rain in bars; a last week that is not whole is as wide as its days."""
    import altair as alt

    unit = units.unit("mm")
    name = unit_name("mm", units)
    factor, decimals = (1.0, 1) if unit is None else (unit.factor, 3)
    days, rain = _days(season), season.weather.rain * factor
    ends = [*days[1:], str(season.weather.days[-1] + 1)]
    step = 1 if len(days) <= FEW_DAYS else 7
    rows = [
        {
            "day": days[start],
            "end": ends[min(start + step, len(days)) - 1],
            "rain": round(float(rain[start : start + step].sum()), decimals),
        }
        for start in range(0, len(days), step)
    ]
    title = f"rain, {name} a {'day' if step == 1 else 'week'}"
    bars = alt.Chart(data(rows)).mark_rect(fill=PALE, stroke=INK, strokeWidth=0.7)
    y = alt.Y("rain:Q", title=title, scale=alt.Scale(domainMin=0, nice=True))
    return alt.layer(bars.encode(x=_x(len(days)), x2="end:T", y=y, y2=alt.datum(0))).properties(
        width=WIDTH, height=HEIGHT
    )


def _x(days: int) -> Any:
    import altair as alt

    return alt.X("day:T", scale=alt.Scale(type="utc"), axis=date_axis(days))


def _sentence(season: SeasonWeather) -> str:
    weather, derived = season.weather, season.derived
    warm = f"{derived.degree_days.sum():,.0f} °C·d of warmth{_beside(season.warmth)}"
    wet = f"{weather.rain.sum():,.0f} mm of rain{_beside(season.rain)}"
    soil = f"the soil at 5 cm last at {derived.soil_temperature_5cm[-1]:.0f} °C"
    return f"{say(weather.first)} to {say(weather.last)}: {warm}, {wet}, {soil}."


def _beside(usual: Usual | None) -> str:
    if usual is None:
        return ""
    return f" (usually {usual.low[-1]:,.0f} to {usual.high[-1]:,.0f})"


def _key(season: SeasonWeather) -> str:
    known = season.warmth or season.soil
    if known is None:
        return "Line: these days. There are too few past years for a usual range."
    first, last = known.years[0], known.years[-1]
    return (
        "Thick line: these days. Band with dashes: four of five past years and the middle one,"
        f" {len(known.years)} years, {first} to {last}. Soil warmth is worked out from the air."
    )


def _whole(number: float | None) -> str:
    """Write a whole number, with no sign before nought."""
    return "" if number is None else f"{round(number) + 0.0:.0f}"


def _days(season: SeasonWeather) -> list[str]:
    return [str(day) for day in season.weather.days]


def _short(values: Values) -> Sequence[float]:
    return [round(float(each), 2) for each in values]
