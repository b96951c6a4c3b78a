"""A ground taken out of its book: read as in the book, and never written to."""

import pickle
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

import numpy as np
import pytest

from swardbook.foundation.errors import DamagedBookError, RefusedError, UnknownNameError
from swardbook.records.extract import Extract, Known, _TakenOut, grounds_by_key, store_at, store_of
from swardbook.records.opening import create_store
from swardbook.records.rows import Rows
from swardbook.records.store import Store
from swardbook.records.taking_out import extract_of, extracts_of
from swardbook.weather.series import DailyWeather
from tests.support.books import TODAY, entry, filled
from tests.support.databases import emptied

DAYS = np.arange(np.datetime64("2011-09-01"), np.datetime64("2011-12-01"))
WARM = np.linspace(4, 9, len(DAYS))
WEATHER = DailyWeather(DAYS, WARM, WARM + 7, WARM * 0, np.zeros(len(DAYS), dtype=np.int64))
WRITING = {
    "add_ground", "append_entries", "append_kept", "insert", "lock", "name_ground", "put_forecast",
    "put_summary", "put_thing", "put_weather", "use_weather",
}  # fmt: skip


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    store = filled(create_store(emptied(tmp_path_factory.mktemp("book") / "home")))
    store.add([entry(1), entry(2, day=date(2011, 11, 1))])
    store.save_weather(WEATHER, "station")
    store.keep("some", "thing", {"a": 1})
    yield store
    store.close()


@pytest.fixture
def taken(store: Store) -> Store:
    return store_of(pickle.loads(pickle.dumps(extract_of(store))))


def test_all_of_it_reads_as_in_the_book(store: Store, taken: Store) -> None:
    for until in (None, TODAY, date(2000, 1, 1)):
        assert taken.ground(until) == store.ground(until)
        ours, theirs = taken.weather(until), store.weather(until)
        assert (ours is None) == (theirs is None)
        if ours is not None and theirs is not None:
            assert ours.days.tolist() == theirs.days.tolist()
            assert ours.tmin.tolist() == theirs.tmin.tolist()
    for ask in ("chain", "check", "forecast", "grounds", "made_up_today", "all_kept", "site",
                "slug", "stamp", "weather_name", "whole_diary", "writes"):  # fmt: skip
        assert getattr(taken, ask)() == getattr(store, ask)(), ask


def test_nothing_can_be_written_to_it(taken: Store) -> None:
    before = taken.chain()
    with pytest.raises(RefusedError):
        taken.add([entry(3)])
    with pytest.raises(RefusedError):
        taken.keep("some", "thing", {})
    assert taken.chain() == before


def test_whatever_can_be_read_of_a_book_can_be_read_of_it() -> None:
    names = {name for name in vars(Rows) if not name.startswith("_")} - WRITING
    assert names <= {name for name in vars(_TakenOut) if not name.startswith("_")}


def test_a_weather_that_grounds_share_is_read_once(store: Store) -> None:
    [key] = grounds_by_key(store).values()
    known: Known = {}
    first = extracts_of(store, [key], known)[key]
    assert len(known) == 1
    again = extracts_of(store, [key], known)[key]
    assert isinstance(first, Extract)
    assert isinstance(again, Extract)
    assert again.weather is first.weather


@pytest.fixture
def three(tmp_path: Path) -> Iterator[tuple[Store, list[int]]]:
    """One ground with all there can be, one with a forecast and no more, one with a site alone."""
    from swardbook.weather.forecast import Forecast

    store = filled(create_store(emptied(tmp_path / "home")))
    store.add([entry(1)])
    store.save_weather(WEATHER, "station")
    store.keep("some", "thing", {"a": 1})
    store.save_forecast(Forecast(WEATHER, date(2011, 8, 31)))
    told, bare = store.beside("Told"), store.beside("Bare")
    for each, name in ((told, "Told"), (bare, "Bare")):
        each.save_site(replace(store.ground().site, name=name))
    told.save_forecast(Forecast(WEATHER, None))
    yield store, list(grounds_by_key(store).values())
    store.close()


def test_several_are_read_together_as_each_by_itself(three: tuple[Store, list[int]]) -> None:
    store, keys = three
    together = extracts_of(store, keys, {})
    for key in keys:
        alone, found = store_at(store, key), together[key]
        assert isinstance(found, Extract)
        for ask in ("chain", "check", "ground", "made_up_today", "all_kept", "slug", "stamp",
                    "weather_name", "whole_diary", "writes"):  # fmt: skip
            assert getattr(store_of(found), ask)() == getattr(alone, ask)(), (key, ask)
        ours, theirs = found.forecast, alone.forecast()
        assert (ours is None) == (theirs is None)
        if ours is not None and theirs is not None:
            assert ours.made_on == theirs.made_on
            assert np.array_equal(ours.weather.tmax, theirs.weather.tmax)


def test_one_that_cannot_be_read_stops_no_other(three: tuple[Store, list[int]]) -> None:
    from django.db import connections

    store, keys = three
    with connections[store._rows.alias].cursor() as cursor:
        cursor.execute(
            "UPDATE records_forecastseries SET about='{no' WHERE ground_id=%s", [keys[1]]
        )
    found = extracts_of(store, [*keys, 77], {})
    assert isinstance(found[keys[1]], DamagedBookError)
    assert isinstance(found[77], UnknownNameError)
    assert [isinstance(found[key], Extract) for key in keys] == [True, False, True]


def test_what_is_damaged_is_found_in_it_too(tmp_path: Path) -> None:
    from django.db import connections

    store = filled(create_store(emptied(tmp_path / "home")))
    with connections[store._rows.alias].cursor() as cursor:
        cursor.execute("UPDATE records_thing SET checksum='no' WHERE kind='zone'")
    assert store_of(extract_of(store)).check() == store.check() != ()
    store.close()
