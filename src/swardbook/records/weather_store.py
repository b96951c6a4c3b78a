"""The weather of one book: what was measured, and apart from it what was told ahead."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable
from contextlib import AbstractContextManager
from datetime import date
from typing import TYPE_CHECKING, TypeVar

import numpy as np

from swardbook.foundation.errors import DamagedBookError
from swardbook.records.guard import REMEDY, guarded
from swardbook.weather.forecast import Forecast
from swardbook.weather.series import DailyWeather

if TYPE_CHECKING:
    from swardbook.records.rows import Rows

Read = TypeVar("Read")
_BROKEN = (ValueError, TypeError, OverflowError)


class WeatherStore(ABC):
    """The weather of an opened book; `Store` is one."""

    _rows: Rows
    _where: str
    _read_weather: tuple[tuple[int, str] | None, DailyWeather | None] = (None, None)

    @abstractmethod
    def _writing(self) -> AbstractContextManager[None]:
        """Write all that is done inside, or none of it."""

    def weather(self, until: date | None = None) -> DailyWeather | None:
        """Read the daily weather that was measured, up to a day; None if there is none."""
        return self._unbroken(lambda: up_to(self._whole_weather(), until), "weather")

    def _whole_weather(self) -> DailyWeather | None:
        """Read the weather in use once: one that was saved never changes."""
        mark = self._rows.weather_mark()
        if self._read_weather[0] != mark:
            self._read_weather = mark, self._rows.weather(None)
        return self._read_weather[1]

    def weather_name(self) -> str:
        """Give the name of the weather in use; empty if there is none."""
        with guarded(self._where):
            return self._rows.weather_name()

    def save_weather(self, weather: DailyWeather, name: str) -> None:
        """Put daily weather in the place of what is there; a forecast stays as it is."""
        with self._writing():
            self._rows.put_weather(weather, name)

    def forecast(self) -> Forecast | None:
        """Read the days that were told ahead, also those that are past now; None without any."""
        return self._unbroken(self._rows.forecast, "forecast")

    def save_forecast(self, forecast: Forecast | None) -> None:
        """Put a forecast in the place of the one there is; None leaves none."""
        with self._writing():
            self._rows.put_forecast(forecast)

    def _unbroken(self, read: Callable[[], Read], what: str) -> Read:
        try:
            with guarded(self._where):
                return read()
        except _BROKEN as slip:
            raise DamagedBookError(self._where, f"its {what} is broken: {slip}", REMEDY) from slip

    def _broken_weather(self) -> tuple[str, ...]:
        """Name what of the weather is not what was saved."""
        asked = (
            ("The weather", self._rows.is_weather_whole),
            ("The forecast", self._rows.is_forecast_whole),
        )
        return tuple(name for name, is_whole in asked if not holds(is_whole))


def up_to(weather: DailyWeather | None, until: date | None) -> DailyWeather | None:
    """Leave out the days after one; None where no day is left."""
    if weather is None or until is None:
        return weather
    chosen = weather.days <= np.datetime64(until, "D")
    if chosen.all():
        return weather
    return weather.until(until) if chosen.any() else None


def holds(is_whole: Callable[[], bool]) -> bool:
    """Tell whether something is what was saved; what cannot be read is not."""
    try:
        return is_whole()
    except _BROKEN:
        return False
