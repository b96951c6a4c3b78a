"""A ground taken out of its book, to be read elsewhere: without a database, and never written to.

What is kept as text stays the text it is, so that checksums are tested where the ground is read.
"""

from __future__ import annotations

from collections.abc import MutableMapping, Sequence
from contextlib import AbstractContextManager
from dataclasses import dataclass
from datetime import date
from typing import Any

import numpy as np

from swardbook.husbandry.ground import Ground
from swardbook.records.chain import Link
from swardbook.records.grounds import GroundName, grounds_in
from swardbook.records.guard import guarded
from swardbook.records.looking import OnlyLookingError
from swardbook.records.store import Store
from swardbook.records.weather_store import holds
from swardbook.weather.forecast import Forecast
from swardbook.weather.series import DailyWeather


@dataclass(frozen=True, slots=True)
class Extract:
    """All that a book holds of one ground, for reading.

    Parameters
    ----------
    slug, name : str
        Its names.
    is_made_up : bool
        Whether it is a made-up ground.
    where : str
        The book it is from, as the person knows it.
    writes : int
        The ground's count of writes.
    stamp : str
        Names the state of the ground.
    links, kept_links : sequence of Link
        The diary and the kept results, as kept.
    kept : sequence of (str, str, str)
        Kind, name and text of kept results.
    things : sequence of (str, str, str)
        Kind, text and checksum of each piece of ground.
    weather : DailyWeather or None
        What was measured.
    weather_name : str
        What it is called.
    forecast : Forecast or None
        What was told ahead.
    is_weather_whole, is_forecast_whole : bool
        Whether they are what was saved.
    """

    slug: str
    name: str
    is_made_up: bool
    where: str
    writes: int
    stamp: str
    links: Sequence[Link]
    kept_links: Sequence[Link]
    kept: Sequence[tuple[str, str, str]]
    things: Sequence[tuple[str, str, str]]
    weather: DailyWeather | None
    weather_name: str
    forecast: Forecast | None
    is_weather_whole: bool
    is_forecast_whole: bool


Known = MutableMapping[int, tuple[DailyWeather | None, bool]]
"""Weather that was read before, by its key: many grounds share one."""
MOST_KNOWN = 64


def extract_of(store: Store, known: Known | None = None) -> Extract:
    """Take one ground out of its book.

    What cannot be read at all is told where it stands, as `Store` tells it.

    Parameters
    ----------
    store : Store
        The ground.
    known : mapping or None
        Weather that was read before; what is read now is put in.
    """
    rows = store._rows
    with guarded(store._where):
        row = rows._row().get()  # first: what is written meanwhile shows as written since
        weather, is_whole = _weather(store, row.weather_id, {} if known is None else known)
        return Extract(
            slug=row.slug,
            name=row.name,
            is_made_up=row.made_up,
            where=store._where,
            writes=row.writes,
            stamp=rows.stamp(),
            links=tuple(rows.links()),
            kept_links=tuple(rows.kept_links()),
            kept=tuple(rows.kept()),
            things=tuple(rows.things()),
            weather=weather,
            weather_name=rows.weather_name(),
            forecast=store.forecast(),
            is_weather_whole=is_whole,
            is_forecast_whole=holds(rows.is_forecast_whole),
        )


def _weather(store: Store, key: int | None, known: Known) -> tuple[DailyWeather | None, bool]:
    """Read a weather, or give what was read: a weather that was saved never changes."""
    if key is None:
        return None, True
    if key not in known:
        if len(known) >= MOST_KNOWN:
            known.clear()
        weather, about = store.weather(), store._rows._series()
        vouched = about.checksum if about is not None else ""
        known[key] = weather, not vouched or _is(weather, vouched)
    return known[key]


def _is(weather: DailyWeather | None, checksum: str) -> bool:
    from swardbook.records.rows import checksum_of

    return weather is not None and checksum_of(weather) == checksum


def store_at(store: Store, key: int) -> Store:
    """Give another ground of the same book by its key, over the same connection."""
    from swardbook.records.rows import Rows

    return Store(Rows(store._rows.alias, key), store._where)


def grounds_by_key(store: Store) -> dict[str, int]:
    """Give the key of each ground that has a site, by its short name, in the order begun."""
    with guarded(store._where):
        return {name.slug: key for key, name in grounds_in(store._rows.alias) if name.slug}


def store_of(extract: Extract) -> Store:
    """Give the store of a ground that was taken out; every write is refused."""
    rows: Any = _TakenOut(extract)
    return _OnlyRead(rows, extract.where)


class _OnlyRead(Store):
    """Reads the ground once for each day: nothing can be written to it meanwhile."""

    def __init__(self, rows: Any, where: str) -> None:
        super().__init__(rows, where)
        self._grounds: dict[date | None, Ground] = {}

    def grounds(self) -> tuple[GroundName, ...]:
        """Give the one ground that was taken out."""
        held: Extract = self._rows.held  # type: ignore[attr-defined]
        return (GroundName(held.slug, held.name, held.is_made_up),)

    def ground(self, until: date | None = None) -> Ground:
        """Read the ground as it stands."""
        if until not in self._grounds:
            self._grounds[until] = super().ground(until)
        return self._grounds[until]


class _TakenOut:
    """Answers as `Rows` does, from what was taken out."""

    def __init__(self, held: Extract) -> None:
        self.held = held
        self.alias = ""
        self.ground = 0

    def slug(self) -> str:
        return self.held.slug

    def writes(self) -> int:
        return self.held.writes

    def stamp(self) -> str:
        return self.held.stamp

    def site(self) -> str:
        return next((text for _, text, _ in self.things("site")), "")

    def links(self, after: int = 0) -> list[Link]:
        return [each for each in self.held.links if each.position > after]

    def kept_links(self) -> list[Link]:
        return list(self.held.kept_links)

    def kept(self, kind: str = "") -> list[tuple[str, str, str]]:
        return [each for each in self.held.kept if not kind or each[0] == kind]

    def things(self, kind: str = "") -> list[tuple[str, str, str]]:
        return [each for each in self.held.things if not kind or each[0] == kind]

    def last_position(self) -> int:
        return max((each.position for each in self.held.links), default=0)

    def weather(self, until: date | None) -> DailyWeather | None:
        return _up_to(self.held.weather, until)

    def weather_name(self) -> str:
        return self.held.weather_name

    def forecast(self) -> Forecast | None:
        return self.held.forecast

    def is_weather_whole(self) -> bool:
        return self.held.is_weather_whole

    def is_forecast_whole(self) -> bool:
        return self.held.is_forecast_whole

    def check_pages(self, where: str) -> None:
        """Leave pages to the book itself, which went through them when it was opened."""

    def transaction(self) -> AbstractContextManager[object]:
        raise OnlyLookingError(
            "Nothing was written", "a ground that was taken out is only read.",
            "Write into the book it came from.",
        )  # fmt: skip


def _up_to(weather: DailyWeather | None, until: date | None) -> DailyWeather | None:
    """Leave out the days after one, as the database does; None where no day is left."""
    if weather is None or until is None:
        return weather
    chosen = weather.days <= np.datetime64(until, "D")
    if chosen.all():
        return weather
    return weather.until(until) if chosen.any() else None
