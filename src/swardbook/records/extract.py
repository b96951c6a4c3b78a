"""A ground taken out of its book, to be read elsewhere: without a database, and never written to.

What is kept as text stays the text it is, so that checksums are tested where the ground is read.
"""

from __future__ import annotations

from collections.abc import MutableMapping, Sequence
from contextlib import AbstractContextManager
from dataclasses import dataclass
from datetime import date
from typing import Any

from swardbook.records.chain import Link, entry_id
from swardbook.records.grounds import GroundName, grounds_in
from swardbook.records.guard import guarded
from swardbook.records.looking import OnlyLookingError
from swardbook.records.store import Store
from swardbook.records.weather_store import up_to
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
    entries : sequence of (int, str, str)
        Place, text and checksum of each entry of the diary.
    kept_results : sequence of (int, str, str, str, str)
        Place, kind, name, text and checksum of each kept result.
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
    entries: Sequence[tuple[int, str, str]]
    kept_results: Sequence[tuple[int, str, str, str, str]]
    things: Sequence[tuple[str, str, str]]
    weather: DailyWeather | None
    weather_name: str
    forecast: Forecast | None
    is_weather_whole: bool
    is_forecast_whole: bool


Known = MutableMapping[int, tuple[DailyWeather | None, bool]]
"""Weather that was read before, and whether it is what was saved: many grounds share one."""


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
    """Only read: nothing can be written to it."""

    def grounds(self) -> tuple[GroundName, ...]:
        """Give the one ground that was taken out."""
        held: Extract = self._rows.held  # type: ignore[attr-defined]
        return (GroundName(held.slug, held.name, held.is_made_up),)


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
        return [
            Link(place, entry_id(text), text, checked)
            for place, text, checked in self.held.entries if place > after
        ]  # fmt: skip

    def kept_links(self) -> list[Link]:
        return [
            Link(place, name, text, checked)
            for place, _, name, text, checked in self.held.kept_results
        ]

    def kept(self, kind: str = "") -> list[tuple[str, str, str]]:
        return [
            (sort, name, text) for _, sort, name, text, _ in self.held.kept_results
            if not kind or sort == kind
        ]  # fmt: skip

    def things(self, kind: str = "") -> list[tuple[str, str, str]]:
        return [each for each in self.held.things if not kind or each[0] == kind]

    def last_position(self) -> int:
        return max((place for place, _, _ in self.held.entries), default=0)

    def weather(self, until: date | None) -> DailyWeather | None:
        return up_to(self.held.weather, until)

    def weather_mark(self) -> tuple[int, str] | None:
        return None if self.held.weather is None else (0, "taken out")

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
