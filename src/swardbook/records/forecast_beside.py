"""What stands beside a forecast, as text: where it was fetched, and the courses that were told."""

from __future__ import annotations

import json
from datetime import datetime
from typing import Any

import numpy as np

from swardbook.records.chain import canonical
from swardbook.weather.forecast import Forecast, Source
from swardbook.weather.series import DailyWeather, Values

_SERIES = ("tmin", "tmax", "rain")


def about_text(forecast: Forecast) -> str:
    """Write where a forecast was fetched; empty for one that was brought in by hand."""
    source = forecast.source
    if source is None:
        return ""
    return canonical({
        "credit": source.credit, "fetched_at": source.fetched_at.isoformat(), "host": source.host,
    })  # fmt: skip


def members_text(forecast: Forecast) -> str:
    """Write the courses that were told; empty where there was one alone."""
    if not forecast.members:
        return ""
    return canonical([
        {name: _numbers(getattr(each, name)) for name in _SERIES} for each in forecast.members
    ])  # fmt: skip


def with_beside(forecast: Forecast, about: str, members: str) -> Forecast:
    """Give a forecast with what stands beside it.

    Parameters
    ----------
    forecast : Forecast
        The forecast alone.
    about, members : str
        As `about_text` and `members_text` wrote them.

    Raises
    ------
    ValueError
        If they are no such text.
    """
    told: list[dict[str, list[float | None]]] = json.loads(members) if members else []
    try:
        courses = tuple(_course(forecast.weather, each) for each in told)
        return Forecast(forecast.weather, forecast.made_on, _source(about), courses)
    except (KeyError, TypeError, AttributeError) as slip:
        raise ValueError(f"what stands beside the forecast: {slip!r}") from slip


def _source(about: str) -> Source | None:
    if not about:
        return None
    read: dict[str, Any] = json.loads(about)
    when = datetime.fromisoformat(read["fetched_at"])
    return Source(when, str(read["host"]), str(read["credit"]))


def _course(weather: DailyWeather, told: dict[str, list[float | None]]) -> DailyWeather:
    series = {name: np.array(told[name], dtype=np.float64) for name in _SERIES}
    return DailyWeather(days=weather.days, flags=weather.flags * 0, **series)


def _numbers(values: Values) -> list[float | None]:
    return [None if np.isnan(each) else float(each) for each in values]
