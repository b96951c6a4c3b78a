"""A book of any earlier shape is brought up to date with everything that was in it."""

import sqlite3
from pathlib import Path
from typing import Any
from uuid import UUID

import numpy as np
import pytest

from swardbook.husbandry.happenings import Note
from swardbook.records.opening import create_store, open_store
from swardbook.records.setup import (
    add_connection,
    configure,
    drop_connection,
    server_database,
    sqlite_database,
)
from swardbook.records.store import Store
from swardbook.settings import Settings
from swardbook.weather.series import DailyWeather
from tests.support.books import SITE, entry, filled
from tests.support.databases import SERVER, bare

EARLIER = ("0001_book", "0002_only_grows", "0003_checksums", "0004_forecast")


@pytest.fixture
def written(tmp_path: Path) -> Store:
    """A book of today's shape, whose contents go into older ones."""
    store = filled(create_store(Settings(tmp_path / "written")))
    store.add([entry(1), entry(2, Note("“quoted”; ünd"), zone="")])
    store.add([entry(3, corrects=UUID(int=1))])
    store.keep("sealed guess", "autumn", {"share": 0.17})
    store.keep("sealed guess", "spring", {"share": 0.1})
    store.save_weather(weather(), "station")
    return store


def weather() -> DailyWeather:
    days = np.arange("2011-01-01", "2011-02-01", dtype="datetime64[D]")
    ramp = np.linspace(0.1, 9.7, len(days))
    return DailyWeather(
        days, ramp - 3, ramp + 3, np.where(ramp > 5, np.nan, ramp), np.arange(len(days)) % 3
    )


def make_older(settings: Settings, shape: str, written: Store, spoil: str = "") -> None:
    """Make a book as an earlier swardbook left it, with the same contents."""
    configure()
    from django.core.management import call_command

    from swardbook.records.schema import mark_as_book

    if not SERVER:
        settings.home.mkdir(parents=True)
    database = server_database(settings) if SERVER else sqlite_database(str(settings.book_file))
    alias = add_connection(database)
    call_command("migrate", "records", shape, database=alias, verbosity=0)
    if not SERVER:
        mark_as_book(alias)
    put_in(alias, shape, written, spoil)
    drop_connection(alias)


def put_in(alias: str, shape: str, written: Store, spoil: str) -> None:
    from django.db import connections
    from django.db.migrations.executor import MigrationExecutor

    from swardbook.records.rows import checksum_of, day_columns

    state = MigrationExecutor(connections[alias]).loader.project_state(("records", shape))
    has_checksums = shape >= "0003"

    def table(name: str) -> Any:
        return state.apps.get_model("records", name).objects.using(alias)

    for row in rows_of(written, "thing", "kind, name, text, checksum"):
        table("Thing").create(**{k: v for k, v in row.items() if k != "checksum" or has_checksums})
    for row in rows_of(written, "entry", "position, uuid, kind, zone, first_day, last_day, text,"
                                         " checksum"):  # fmt: skip
        text = row["text"].replace(spoil, "spoilt", 1) if spoil else row["text"]
        table("Entry").create(**{**row, "text": text})
    for row in rows_of(written, "kept", "position, kind, name, text, checksum"):
        table("Kept").create(**row)
    known = {"checksum": checksum_of(weather())} if has_checksums else {}
    table("WeatherSeries").create(name="station", series="tmin tmax rain", **known)
    for row in day_columns(weather()):
        table("WeatherDay").create(**row)


def rows_of(store: Store, table: str, columns: str) -> list[dict[str, Any]]:
    with sqlite3.connect(store._where) as raw:
        found = raw.execute(f"SELECT {columns} FROM records_{table} ORDER BY position").fetchall()
    names = columns.split(", ")
    return [dict(zip(names, row, strict=True)) for row in found]


@pytest.mark.parametrize("shape", EARLIER)
def test_an_older_book_is_one_ground_with_all_that_was_in_it(
    written: Store, tmp_path: Path, shape: str
) -> None:
    settings = bare(tmp_path / "older")
    make_older(settings, shape, written)
    store = open_store(settings)
    assert store.ground() == written.ground()
    assert store.chain() == written.chain()
    assert store.all_kept() == written.all_kept()
    there, was = store.weather(), written.weather()
    assert there is not None
    assert was is not None
    for name in ("days", "tmin", "tmax", "rain", "flags"):
        np.testing.assert_array_equal(getattr(there, name), getattr(was, name))
    assert (store.weather_name(), store.check()) == ("station", ())
    assert (store.slug(), len(store.grounds())) == ("fennowick-croquet-club", 1)
    store.add([entry(4)])
    assert [link.position for link in store.chain()] == [1, 2, 3, 4]
    assert store.check() == ()
    store.close()


@pytest.mark.parametrize("shape", EARLIER)
def test_an_upgrade_does_not_vouch_for_what_was_damaged_before(
    written: Store, tmp_path: Path, shape: str
) -> None:
    settings = bare(tmp_path / "older")
    make_older(settings, shape, written, spoil="“quoted”")
    store = open_store(settings)
    assert [each.position for each in store.check()] == [2]
    store.close()


@pytest.mark.parametrize("shape", EARLIER)
def test_what_only_grows_refuses_a_change_after_the_upgrade_too(
    written: Store, tmp_path: Path, shape: str
) -> None:
    from django.db import DatabaseError

    from swardbook.records.models import Entry, Kept

    settings = bare(tmp_path / "older")
    make_older(settings, shape, written)
    store = open_store(settings)
    for table in (Entry, Kept):
        rows = table._default_manager.using(store._rows.alias)
        with pytest.raises(DatabaseError, match="only grows"):
            rows.filter(position=1).update(kind="other")
        with pytest.raises(DatabaseError, match="only grows"):
            rows.filter(position=1).delete()
    store.close()


@pytest.mark.skipif(bool(SERVER), reason="a server is copied by its own tools")
@pytest.mark.parametrize("shape", EARLIER)
def test_the_file_is_copied_beside_itself_before_it_is_brought_up_to_date(
    written: Store, tmp_path: Path, shape: str
) -> None:
    settings = Settings(tmp_path / "older")
    make_older(settings, shape, written)
    open_store(settings).close()
    [copy] = settings.home.glob("book-before-*.sqlite3")
    with sqlite3.connect(copy) as older:
        assert older.execute("SELECT count(*) FROM records_entry").fetchone() == (3,)
        shapes = "SELECT name FROM django_migrations WHERE app = 'records'"
        assert sorted(name for (name,) in older.execute(shapes))[-1] == shape
        assert older.execute("PRAGMA integrity_check").fetchone() == ("ok",)


@pytest.mark.skipif(bool(SERVER), reason="a file is easier to look at")
def test_an_upgrade_that_fails_half_way_leaves_the_book_as_it_was(
    written: Store, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from importlib import import_module

    settings = Settings(tmp_path / "older")
    make_older(settings, "0004_forecast", written)
    before = dump(settings.book_file)
    grounds = import_module("swardbook.records.migrations.0005_grounds")
    with monkeypatch.context() as patch:
        patch.setitem(grounds.COPIED, "Kept", ("ground_id", "position", ["no_such_column"]))
        with pytest.raises(Exception, match="no_such_column"):
            open_store(settings)
    assert dump(settings.book_file) == before
    store = open_store(settings)
    assert store.site() == SITE
    assert store.chain() == written.chain()
    store.close()


def dump(file: Path) -> list[str]:
    with sqlite3.connect(file) as raw:
        return list(raw.iterdump())
