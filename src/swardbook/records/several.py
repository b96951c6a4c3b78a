"""Several grounds of a book read at once: many lawns cost few questions."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from typing import Any

from django.db.models import Model

from swardbook.foundation.errors import UnknownNameError
from swardbook.records.extract import Extract, Known
from swardbook.records.models import (
    Entry,
    ForecastDay,
    ForecastSeries,
    GroundRow,
    Kept,
    Thing,
    WeatherDay,
)
from swardbook.records.rows import (
    SERIES,
    forecast_checksum,
    forecast_in,
    has,
    is_vouched_for,
    weather_from,
    weather_in,
)
from swardbook.records.state import state_name
from swardbook.records.store import Store
from swardbook.weather.forecast import Forecast
from swardbook.weather.series import DailyWeather

MOST_KNOWN = 64
_Told = tuple[ForecastSeries | None, Forecast | None, bool]
_NOTHING_TOLD: _Told = (None, None, True)


class Several:
    """Several grounds, read by one question for each table."""

    def __init__(self, store: Store, keys: Sequence[int], known: Known) -> None:
        self.store, self.known, self.alias = store, known, store._rows.alias
        self.keys = list(keys)

    def taken_out(self) -> Iterator[tuple[int, Extract]]:
        """Read the grounds; their count of writes first: what comes meanwhile shows as later."""
        rows = GroundRow.objects.using(self.alias).filter(pk__in=self.keys)
        grounds = {row.pk: row for row in rows.select_related("weather")}
        entries = self._by_ground(Entry, "position", "text", "checksum")
        things = self._by_ground(Thing, "kind", "text", "checksum")
        kept = self._by_ground(Kept, "position", "kind", "name", "text", "checksum")
        told = self._forecasts()
        for key in self.keys:
            if key not in grounds:
                raise UnknownNameError("ground", str(key), [])
            ground = grounds[key]
            about, forecast, is_forecast_whole = told.get(key, _NOTHING_TOLD)
            weather, is_weather_whole = self._weather(ground)
            yield key, Extract(
                slug=ground.slug, name=ground.name, is_made_up=ground.made_up,
                where=self.store._where, writes=ground.writes,
                stamp=state_name(key, [
                    _ends(entries[key][-1:]), _ends(things[key]),
                    [ground.weather.checksum] if ground.weather else [],
                    [about.checksum] if about else [], _ends(kept[key][-1:]),
                ]),
                entries=entries[key], kept_results=kept[key], things=things[key], weather=weather,
                weather_name=ground.weather.name if ground.weather else "", forecast=forecast,
                is_weather_whole=is_weather_whole, is_forecast_whole=is_forecast_whole,
            )  # fmt: skip

    def _by_ground(
        self, table: type[Model], *columns: str, order: str = "position"
    ) -> dict[int, list[tuple[Any, ...]]]:
        """Read columns of a table, ground by ground."""
        found: dict[int, list[tuple[Any, ...]]] = defaultdict(list)
        rows = table._default_manager.using(self.alias).filter(ground_id__in=self.keys)
        for key, *row in rows.order_by("ground_id", order).values_list("ground_id", *columns):
            found[key].append(tuple(row))
        return found

    def _forecasts(self) -> dict[int, _Told]:
        """Read what was told ahead of each ground, and whether it is what was saved."""
        rows = ForecastSeries.objects.using(self.alias).filter(ground_id__in=self.keys)
        about = {row.ground_id: row for row in rows}
        found: dict[int, _Told] = {}
        days = self._by_ground(ForecastDay, "day", "flags", *SERIES, order="day")
        for key in days.keys() | about.keys():
            if key not in about:
                found[key] = None, None, False  # days of no forecast
                continue
            columns = [0, 1, *(2 + SERIES.index(name) for name in has(about[key].series))]
            those = [tuple(row[n] for n in columns) for row in days[key]]
            found[key] = self._forecast(about[key], those)
        return found

    def _forecast(self, about: ForecastSeries, days: list[tuple[Any, ...]]) -> _Told:
        forecast = self.store._unbroken(
            lambda: forecast_in(weather_from(days, about.series), about), "forecast"
        )
        is_whole = forecast is not None and forecast_checksum(forecast) == about.checksum
        return about, forecast, is_whole

    def _weather(self, ground: GroundRow) -> tuple[DailyWeather | None, bool]:
        """Read a weather, or give what was read: a weather that was saved never changes."""
        series = ground.weather
        if series is None:
            return None, True
        if series.pk not in self.known:
            if len(self.known) >= MOST_KNOWN:
                self.known.clear()
            days = WeatherDay.objects.using(self.alias).filter(of=series)
            weather = self.store._unbroken(lambda: weather_in(days, series.series), "weather")
            self.known[series.pk] = weather, is_vouched_for(weather, series)
        return self.known[series.pk]


def _ends(rows: Sequence[tuple[Any, ...]]) -> list[str]:
    """Give the checksums of rows, which stand at their end."""
    return [str(row[-1]) for row in rows]
