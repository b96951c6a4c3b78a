"""Many grounds written at once, as they would stand had each been written entry by entry."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from swardbook.husbandry.codec import to_plain
from swardbook.husbandry.ground import Ground
from swardbook.records.chain import FIRST, canonical, checksum, joined, row_of
from swardbook.records.filling import filled_store
from swardbook.records.ground_store import Thing as Piece
from swardbook.records.store import kept_under
from swardbook.settings import Settings
from swardbook.weather.series import DailyWeather

if TYPE_CHECKING:
    from swardbook.records.rows import Rows


@dataclass(frozen=True, slots=True)
class FilledGround:
    """One ground to be written whole.

    Parameters
    ----------
    ground : Ground
        The ground, its diary in the order written.
    weather : DailyWeather or None
        Its weather.
    weather_name : str
        The name of the weather; grounds of one name share one weather.
    """

    ground: Ground
    weather: DailyWeather | None = None
    weather_name: str = ""


def fill_grounds(settings: Settings, grounds: Iterable[FilledGround]) -> tuple[str, ...]:
    """Write many grounds into a new book at once; gives their short names.

    Raises
    ------
    BadInputError
        If there is a book already.
    StorageError
        If the disk would not take it; nothing is left behind.
    """
    with filled_store(settings) as store, store.together():
        return _filled(store._rows, grounds)


def _filled(first: Rows, grounds: Iterable[FilledGround]) -> tuple[str, ...]:
    """Write the grounds; the entries of all lie in the order written down, as in use."""
    slugs: list[str] = []
    weathers: dict[str, int] = {}
    entries: list[tuple[str, dict[str, Any]]] = []
    things: list[dict[str, Any]] = []
    for each in grounds:
        site = each.ground.site
        rows = first.add_ground(site.name) if slugs else first
        rows.name_ground(site.name, site.made_up_today is not None)
        slugs.append(rows.slug())
        _put_weather(rows, each, weathers)
        things += _things(rows.ground, each.ground)
        entries += _entries(rows.ground, each.ground)
    entries.sort(key=lambda entry: entry[0])
    first.insert("things", things)
    first.insert("entries", [columns for _, columns in entries])
    return tuple(slugs)


def _put_weather(rows: Rows, filled: FilledGround, known: dict[str, int]) -> None:
    if filled.weather is None:
        return
    if filled.weather_name in known:
        rows.use_weather(known[filled.weather_name])
    else:
        known[filled.weather_name] = rows.put_weather(filled.weather, filled.weather_name)


def _things(key: int, ground: Ground) -> Iterator[dict[str, Any]]:
    pieces: list[Piece] = [ground.site, *ground.zones, *ground.pegs, *ground.squares]
    for piece in (*pieces, *ground.plots, *ground.lots):
        kind, name = kept_under(piece)
        text = canonical(to_plain(piece))
        checked = checksum(FIRST, text)
        yield {"ground_id": key, "kind": kind, "name": name, "text": text, "checksum": checked}


def _entries(key: int, ground: Ground) -> Iterator[tuple[str, dict[str, Any]]]:
    """Chain the diary of one ground; gives each entry's columns with the day it was written."""
    rows = [row_of(entry) for entry in ground.diary]
    chained = joined([text for text, _ in rows], FIRST)
    for place, (entry, (text, checked), (_, columns)) in enumerate(
        zip(ground.diary, chained, rows, strict=True), 1
    ):
        own = {"ground_id": key, "position": place, "text": text, "checksum": checked}
        yield str(entry.written_on or entry.when.first), own | columns
