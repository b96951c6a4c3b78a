"""Rows in and out; values are texts here, and the meaning of a text is `store`'s."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from contextlib import AbstractContextManager
from dataclasses import fields
from datetime import date
from hashlib import sha256
from typing import Any, TypeVar

import numpy as np
from django.db import connections, transaction
from django.db.models import Max, Model, QuerySet

from swardbook.foundation.errors import UnknownNameError
from swardbook.records.chain import FIRST, Link, checksum, entry_id, joined
from swardbook.records.forecast_beside import about_text, members_text, with_beside
from swardbook.records.grounds import free_slug
from swardbook.records.models import (
    Entry,
    ForecastDay,
    ForecastSeries,
    GroundRow,
    Kept,
    Thing,
    WeatherDay,
    WeatherSeries,
)
from swardbook.records.questions import About, Question
from swardbook.records.schema import full_check
from swardbook.records.state import site_text, state_of, told_to
from swardbook.weather.forecast import Forecast
from swardbook.weather.series import DailyWeather, Values

Row = TypeVar("Row", bound=Model)
_SLUG = Question(lambda: GroundRow.objects.filter(pk=About("ground")).values_list("slug"))
_LINKS = Question(
    lambda: Entry.objects.filter(ground_id=About("ground"), position__gt=About("after"))
    .order_by("position").values_list("position", "text", "checksum")
)  # fmt: skip
_LAST = Question(
    lambda: Entry.objects.filter(ground_id=About("ground"))
    .order_by("-position").values_list("position", "checksum")[:1]
)  # fmt: skip
_COUNT = "UPDATE records_groundrow SET writes = writes + 1 WHERE id = %s"
_REMEMBER = """\
INSERT INTO records_summary (ground_id, day, writes, text) VALUES (%s, %s, %s, %s)
ON CONFLICT (ground_id) DO UPDATE
  SET day = excluded.day, writes = excluded.writes, text = excluded.text
"""
SERIES = tuple(each.name for each in fields(DailyWeather) if each.name not in {"days", "flags"})


class Rows:
    """The rows of one ground in an opened database; what is another ground's is not seen."""

    def __init__(self, alias: str, ground: int) -> None:
        self.alias = alias
        self.ground = ground

    def _of(self, table: type[Row]) -> QuerySet[Row]:
        """Give this ground's rows of a table."""
        return table._default_manager.using(self.alias).filter(ground_id=self.ground)

    def _row(self) -> QuerySet[GroundRow]:
        return GroundRow.objects.using(self.alias).filter(pk=self.ground)

    def transaction(self) -> AbstractContextManager[object]:
        """Give a transaction that takes the write lock at its start."""
        return transaction.atomic(using=self.alias, durable=False)

    def lock(self) -> None:
        """Count a write; that also lets one writer at a time append to this ground."""
        if not told_to(self.alias, _COUNT, [self.ground]):
            raise UnknownNameError("ground", str(self.ground), [])

    def slug(self) -> str:
        """Give the short name of the ground."""
        [(slug,)] = _SLUG(self.alias, ground=self.ground)
        return str(slug)

    def name_ground(self, name: str, made_up: bool) -> None:
        """Let the ground be known by its site's name; its short name stays, once it has one."""
        row = self._row().get()
        slug = row.slug or free_slug(name, self._slugs())
        if (row.slug, row.name, row.made_up) != (slug, name, made_up):
            self._row().update(slug=slug, name=name, made_up=made_up)

    def add_ground(self, name: str) -> Rows:
        """Make a further ground in this database, and give its rows."""
        slug = free_slug(name, self._slugs())
        made = GroundRow.objects.using(self.alias).create(slug=slug, name=name)
        return Rows(self.alias, made.pk)

    def _slugs(self) -> list[str]:
        return list(GroundRow.objects.using(self.alias).values_list("slug", flat=True))

    def writes(self) -> int:
        """Give the count of what was written in this ground."""
        return self._row().values_list("writes", flat=True).get()

    def put_summary(self, day: date, writes: int, text: str) -> None:
        """Remember what was made out about the ground as a whole."""
        told_to(self.alias, _REMEMBER, [self.ground, day, writes, text])

    def check_pages(self, where: str) -> None:
        """Ask SQLite whether its pages hang together; a server looks after its own."""
        if connections[self.alias].vendor == "sqlite":
            full_check(self.alias, where)

    def stamp(self) -> str:
        """Name the state of this ground's rows: it changes whenever anything was written."""
        return state_of(self.alias, self.ground)

    def site(self) -> str:
        """Give the text of the site; empty if there is none yet."""
        return site_text(self.alias, self.ground)

    def links(self, after: int = 0) -> list[Link]:
        """Give the entries written after a position, as kept."""
        rows = _LINKS(self.alias, ground=self.ground, after=after)
        return [Link(place, entry_id(text), text, checked) for place, text, checked in rows]

    def append_entries(self, texts: Sequence[tuple[str, dict[str, Any]]]) -> None:
        """Add entries, each a text and its columns, to the end of the chain."""
        [(position, previous)] = _LAST(self.alias, ground=self.ground) or [(0, FIRST)]
        chained = joined([text for text, _ in texts], previous)
        rows = [
            {"ground_id": self.ground, "position": place, "text": text, "checksum": checked}
            | columns
            for place, ((text, checked), (_, columns)) in enumerate(
                zip(chained, texts, strict=True), position + 1
            )
        ]
        self.insert("entries", rows)

    def things(self, kind: str = "") -> list[tuple[str, str, str]]:
        """Give kind, text and checksum of each piece of the ground, or of those of one kind."""
        rows = self._of(Thing).order_by("position")
        chosen = rows.filter(kind=kind) if kind else rows
        return list(chosen.values_list("kind", "text", "checksum"))

    def put_thing(self, kind: str, name: str, text: str) -> str | None:
        """Write one piece of the ground; gives the text that was there before."""
        rows = self._of(Thing).filter(kind=kind, name=name)
        before = rows.values_list("text", flat=True).first()
        if before is None:
            Thing.objects.using(self.alias).create(
                ground_id=self.ground, kind=kind, name=name, text=text,
                checksum=checksum(FIRST, text),
            )  # fmt: skip
        elif before != text:
            rows.update(text=text, checksum=checksum(FIRST, text))
        return before

    def _series(self) -> WeatherSeries | None:
        return WeatherSeries.objects.using(self.alias).filter(users=self.ground).first()

    def _days(self, series: WeatherSeries) -> QuerySet[WeatherDay]:
        return WeatherDay.objects.using(self.alias).filter(of=series)

    def weather(self, until: date | None) -> DailyWeather | None:
        """Read the daily weather that was measured, or None if there is none."""
        about = self._series()
        if about is None:
            return None
        rows = self._days(about)
        return weather_in(rows.filter(day__lte=until) if until else rows, about.series)

    def weather_mark(self) -> tuple[int, str] | None:
        """Name the weather in use by its key and its checksum; None if there is none."""
        about = self._series()
        return (about.pk, about.checksum) if about else None

    def weather_name(self) -> str:
        """Give the name of the weather in use; empty if there is none."""
        about = self._series()
        return about.name if about else ""

    def is_weather_whole(self) -> bool:
        """Tell whether the weather is what was saved, where that was vouched for."""
        about = self._series()
        return about is None or not about.checksum or self._is_whole(about)

    def _is_whole(self, about: WeatherSeries) -> bool:
        return is_vouched_for(weather_in(self._days(about), about.series), about)

    def put_weather(self, weather: DailyWeather, name: str) -> int:
        """Replace the daily weather; one that another ground has already is shared with it.

        Gives the key of the weather, for `use_weather`.
        """
        tables = WeatherSeries.objects.using(self.alias)
        if connections[self.alias].vendor == "postgresql":
            with connections[self.alias].cursor() as cursor:  # or one could be taken away here
                cursor.execute("LOCK TABLE records_weatherseries IN EXCLUSIVE MODE")
        before = self._series()
        about = {
            "name": name,
            "series": " ".join(_has(weather)),
            "checksum": checksum_of(weather),
        }
        found = next((each for each in tables.filter(**about) if self._is_whole(each)), None)
        if found is None:
            found = tables.create(**about)
            rows = [WeatherDay(of=found, **each) for each in day_columns(weather)]
            WeatherDay.objects.using(self.alias).bulk_create(rows, batch_size=500)
        self.use_weather(found.pk)
        if before is not None and not before.users.exists():
            self._days(before).delete()
            before.delete()
        return found.pk

    def use_weather(self, key: int) -> None:
        """Let this ground have a weather that is there."""
        self._row().update(weather=key)

    def forecast(self) -> Forecast | None:
        """Read what was told ahead, or None if nothing was."""
        about = self._of(ForecastSeries).first()
        if about is None:
            return None
        return forecast_in(weather_in(self._of(ForecastDay), about.series), about)

    def is_forecast_whole(self) -> bool:
        """Tell whether the forecast is what was saved."""
        about = self._of(ForecastSeries).first()
        if about is None:
            return not self._of(ForecastDay).exists()
        forecast = self.forecast()
        return forecast is not None and forecast_checksum(forecast) == about.checksum

    def put_forecast(self, forecast: Forecast | None) -> None:
        """Replace the forecast."""
        self._of(ForecastDay).delete()
        self._of(ForecastSeries).delete()
        if forecast is None:
            return
        told = forecast.weather
        ForecastSeries.objects.using(self.alias).create(
            ground_id=self.ground,
            made_on=forecast.made_on,
            series=" ".join(_has(told)),
            checksum=forecast_checksum(forecast),
            about=about_text(forecast),
            members=members_text(forecast),
        )
        rows = [ForecastDay(ground_id=self.ground, **each) for each in day_columns(told)]
        ForecastDay.objects.using(self.alias).bulk_create(rows, batch_size=500)

    def append_kept(self, kind: str, name: str, text: str) -> None:
        """Add a result to the end of the chain of kept ones."""
        last = self._of(Kept).order_by("-position").values_list("position", "checksum").first()
        position, previous = last or (0, FIRST)
        [(_, checked)] = joined([text], previous)
        Kept.objects.using(self.alias).create(
            ground_id=self.ground, position=position + 1, kind=kind, name=name, text=text,
            checksum=checked,
        )  # fmt: skip

    def kept(self, kind: str = "") -> list[tuple[str, str, str]]:
        """Give kind, name and text of kept results, in the order written."""
        rows = self._of(Kept).order_by("position")
        chosen = rows.filter(kind=kind) if kind else rows
        return list(chosen.values_list("kind", "name", "text"))

    def kept_links(self) -> list[Link]:
        """Give the kept results as a chain."""
        rows = self._of(Kept).order_by("position")
        found = rows.values_list("position", "name", "text", "checksum")
        return [Link(place, str(uuid), text, checked) for place, uuid, text, checked in found]

    def insert(self, what: str, rows: Sequence[Mapping[str, Any]]) -> None:
        """Write many whole rows of ``entries`` or ``things``, of any grounds, at once."""
        if not rows:
            return
        table, connection = {"entries": Entry, "things": Thing}[what]._meta, connections[self.alias]
        known = {field.attname: field for field in table.concrete_fields}
        fields = [known[name] for name in rows[0]]
        names = ", ".join(connection.ops.quote_name(str(field.column)) for field in fields)
        values = ", ".join(["%s"] * len(fields))
        with connection.cursor() as cursor:
            cursor.executemany(
                f"INSERT INTO {table.db_table} ({names}) VALUES ({values})",
                [
                    tuple(
                        field.get_db_prep_save(value, connection)
                        for field, value in zip(fields, row.values(), strict=True)
                    )
                    for row in rows
                ],
            )

    def last_position(self) -> int:
        """Give the position of the last entry; 0 if there is none."""
        found = self._of(Entry).aggregate(last=Max("position"))["last"]
        return int(found or 0)


def weather_in(rows: QuerySet[Any], named: str) -> DailyWeather | None:
    """Read daily weather from rows of it, or None if there are none.

    Parameters
    ----------
    rows : query set
        Rows of days.
    named : str
        Names of the series they have, apart by spaces.
    """
    return weather_from(list(rows.order_by("day").values_list("day", "flags", *has(named))), named)


def has(named: str) -> list[str]:
    """Give those series that are named, in the order of columns."""
    return [name for name in SERIES if name in named.split()]


def weather_from(days: Sequence[tuple[Any, ...]], named: str) -> DailyWeather | None:
    """Make daily weather of days with their flags and the named series, in order."""
    if not days:
        return None
    day, flags, *columns = zip(*days, strict=True)
    series = {
        name: np.array(column, dtype=np.float64)
        for name, column in zip(has(named), columns, strict=True)
    }
    return DailyWeather(
        days=np.array(day, dtype="datetime64[D]"), flags=np.array(flags, dtype=np.int64), **series
    )


def day_columns(weather: DailyWeather) -> list[dict[str, Any]]:
    """Give the columns of each day's row."""
    columns = {each: _or_null(getattr(weather, each)) for each in _has(weather)}
    return [
        {"day": day, "flags": int(weather.flags[n])}
        | {each: column[n] for each, column in columns.items()}
        for n, day in enumerate(weather.days.astype(object))
    ]


def _has(weather: DailyWeather) -> list[str]:
    return [each for each in SERIES if getattr(weather, each) is not None]


def is_vouched_for(weather: DailyWeather | None, about: WeatherSeries) -> bool:
    """Tell whether weather is what was saved, where a checksum was kept with it."""
    found = sha256().hexdigest() if weather is None else checksum_of(weather)  # no day, no byte
    return about.checksum in {"", found}


def checksum_of(weather: DailyWeather) -> str:
    """Give the checksum of daily weather."""
    parts = [weather.days.astype("datetime64[D]").astype("<i8"), weather.flags.astype("<i8")]
    series = [getattr(weather, name) for name in SERIES]
    whole = sha256()
    for part in (*parts, *(_same_bits(each) for each in series if each is not None)):
        whole.update(part.tobytes())
    return whole.hexdigest()


def forecast_in(weather: DailyWeather | None, about: ForecastSeries) -> Forecast | None:
    """Make a forecast of its days and what is known of it; None if there are no days."""
    if weather is None:
        return None
    return with_beside(Forecast(weather, about.made_on), about.about, about.members)


def forecast_checksum(forecast: Forecast) -> str:
    """Give the checksum of a forecast: its days, the day it was made, and what stands beside it."""
    plain = checksum(str(forecast.made_on), checksum_of(forecast.weather))
    beside = about_text(forecast) + members_text(forecast)
    return checksum(plain, beside) if beside else plain


def _same_bits(values: Values) -> Values:
    """Give every gap and every zero one form, as the database does."""
    return np.where(np.isnan(values), np.nan, values + 0.0).astype("<f8")


def _or_null(values: Values) -> list[float | None]:
    return [None if np.isnan(each) else float(each) for each in values]
