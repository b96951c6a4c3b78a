"""A ground taken out of its book: read as in the book, and never written to."""

import pickle
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import numpy as np
import pytest

from swardbook.foundation.errors import RefusedError
from swardbook.records.extract import (
    Known,
    _TakenOut,
    extract_of,
    grounds_by_key,
    store_at,
    store_of,
)
from swardbook.records.opening import create_store
from swardbook.records.rows import Rows
from swardbook.records.store import Store
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
    first = extract_of(store_at(store, key), known)
    assert len(known) == 1
    assert extract_of(store_at(store, key), known).weather is first.weather


def test_what_is_damaged_is_found_in_it_too(tmp_path: Path) -> None:
    from django.db import connections

    store = filled(create_store(emptied(tmp_path / "home")))
    with connections[store._rows.alias].cursor() as cursor:
        cursor.execute("UPDATE records_thing SET checksum='no' WHERE kind='zone'")
    assert store_of(extract_of(store)).check() == store.check() != ()
    store.close()
