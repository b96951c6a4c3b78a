from dataclasses import replace
from datetime import date
from pathlib import Path
from uuid import UUID

import numpy as np
import pytest

from swardbook.foundation.errors import BadInputError, SwardbookError, UnknownNameError
from swardbook.husbandry.happenings import Changed, Cut, Feed, Note
from swardbook.records.opening import create_store, open_store
from swardbook.records.signing import signed_as
from swardbook.records.store import Store
from swardbook.settings import Settings
from swardbook.weather.series import DailyWeather
from tests.support.books import LOT, MAIN, SHORT, SITE, entry, filled
from tests.support.databases import SERVER, emptied, there


@pytest.fixture
def store(tmp_path: Path) -> Store:
    return filled(create_store(emptied(tmp_path / "home")))


def again(store: Store, tmp_path: Path) -> Store:
    """Close a book and open it again."""
    store.close()
    return open_store(there(tmp_path / "home"))


def test_what_was_written_is_there_when_the_book_is_opened_again(
    store: Store, tmp_path: Path
) -> None:
    written = store.add([entry(1), entry(2, Feed("spring feed", 25, 12.0))])
    before = store.ground()
    after = again(store, tmp_path).ground()
    assert after == before
    assert after.diary == written
    assert (after.site, after.zones, after.lots) == (SITE, (MAIN, SHORT), (LOT,))


@pytest.mark.skipif(bool(SERVER), reason="a server has no folder")
def test_the_folder_of_a_book_is_private(store: Store, tmp_path: Path) -> None:
    assert (tmp_path / "home").stat().st_mode & 0o077 == 0
    assert (tmp_path / "home" / "book.sqlite3").stat().st_mode & 0o077 == 0


def test_a_book_is_never_made_over_another(store: Store, tmp_path: Path) -> None:
    with pytest.raises(BadInputError, match="never written over"):
        create_store(there(tmp_path / "home"))
    assert store.ground().zones == (MAIN, SHORT)


def test_an_entry_sent_twice_is_kept_once(store: Store) -> None:
    sent = entry(1, written_on=date(2011, 10, 8))
    first = store.add([sent])
    assert store.add([replace(sent, written_on=date(2011, 10, 9))]) == first
    assert len(store.whole_diary()) == 1


def test_another_content_under_a_taken_id_is_kept_beside_it(store: Store) -> None:
    store.add([entry(1)])
    other = entry(1, Cut(10.0, False))
    [kept] = store.add([other])
    assert kept.id != UUID(int=1)
    assert "Both are kept" in kept.needs_a_look
    assert store.add([other]) == (kept,)
    assert [each.what for each in store.whole_diary()] == [Cut(8.0, True), Cut(10.0, False)]


def test_an_entry_that_comes_again_while_somebody_else_is_logged_in_is_kept_once(
    store: Store,
) -> None:
    with signed_as("IM"):
        [kept] = store.add([entry(1)])
    with signed_as("OF"):
        assert store.add([entry(1)]) == (kept,)
    assert [each.who for each in store.whole_diary()] == ["IM"]


def test_entries_are_written_all_or_none(store: Store) -> None:
    orphan = entry(2, corrects=UUID(int=99))
    with pytest.raises(UnknownNameError):
        store.add([entry(1), orphan])
    assert store.whole_diary() == ()
    assert len(store.add([entry(1)])) == 1


def test_entries_stand_in_the_order_in_which_things_happened(store: Store) -> None:
    days = [date(2011, 10, 8), date(2011, 10, 1), date(2011, 10, 8)]
    store.add([entry(n, day=day) for n, day in enumerate(days)])
    assert [each.id.int for each in store.ground().diary] == [1, 0, 2]


def test_what_began_after_the_day_asked_for_is_left_out(store: Store) -> None:
    store.add([entry(1, day=date(2011, 10, 1)), entry(2, day=date(2011, 10, 2))])
    assert [each.id.int for each in store.ground(until=date(2011, 10, 1)).diary] == [1]
    assert len(store.whole_diary()) == 2


def test_n29_a_correction_takes_the_place_of_the_old_entry_which_is_kept(store: Store) -> None:
    store.add([entry(1), entry(2, Cut(25.0, True), corrects=UUID(int=1), who="Ines")])
    assert [each.id.int for each in store.ground().diary] == [2]
    assert [each.id.int for each in store.whole_diary()] == [1, 2]
    store.add([entry(3, Cut(20.0, True), corrects=UUID(int=2))])
    assert [each.id.int for each in store.ground().diary] == [3]


def test_n29_two_phones_that_correct_one_entry_are_both_kept_and_the_later_is_marked(
    store: Store,
) -> None:
    store.add([entry(1)])
    store.add([entry(2, Cut(20.0), corrects=UUID(int=1), who="Ines")])
    [second] = store.add([entry(3, Cut(25.0), corrects=UUID(int=1), who="Bram")])
    assert "by Ines" in second.needs_a_look
    assert [each.id.int for each in store.ground().diary] == [3]
    assert len(store.whole_diary()) == 3


def test_n29_a_change_of_the_ground_keeps_the_old_value_and_who_and_why(store: Store) -> None:
    lower = replace(MAIN, height_of_cut_mm=7.0)
    store.save_zone(lower, on=date(2011, 5, 1), who="Bram", reason="new blades")
    [told] = store.whole_diary()
    assert told.what == Changed(
        "zone Main court", '{"height_of_cut_mm":8.0}', '{"height_of_cut_mm":7.0}', "new blades"
    )
    assert (told.who, told.zone, told.day) == ("Bram", "Main court", date(2011, 5, 1))
    assert store.ground().zones == (lower, SHORT)
    store.save_zone(lower, on=date(2011, 5, 2))
    assert len(store.whole_diary()) == 1


def test_the_tables_of_what_only_grows_refuse_a_change(store: Store) -> None:
    from swardbook.records.guard import guarded
    from swardbook.records.models import Entry

    store.add([entry(1)])
    alias = store._rows.alias
    with pytest.raises(SwardbookError, match="only grows"), guarded("book"):
        Entry.objects.using(alias).filter(position=1).update(zone="elsewhere")
    with pytest.raises(SwardbookError, match="only grows"), guarded("book"):
        Entry.objects.using(alias).filter(position=1).delete()
    assert store.check() == ()


def test_a_kept_result_stays_as_it_was(store: Store) -> None:
    store.keep("sealed guess", "autumn", {"share": 0.17, "draws": [1, 2]})
    store.keep("sealed guess", "autumn", {"share": 0.2, "draws": []})
    store.keep("other", "x", {})
    assert store.kept("sealed guess") == (
        ("autumn", {"share": 0.17, "draws": [1, 2]}),
        ("autumn", {"share": 0.2, "draws": []}),
    )


def test_weather_comes_back_with_its_gaps_and_without_series_it_never_had(store: Store) -> None:
    assert store.weather() is None
    assert store.weather_name() == ""
    days = np.arange("2011-01-01", "2011-02-01", dtype="datetime64[D]")
    ramp = np.linspace(0.1, 9.7, len(days))
    rain = np.where(ramp > 5, np.nan, ramp)
    weather = DailyWeather(
        days, ramp - 3, ramp + 3, rain, np.arange(len(days)) % 9, wind=np.full(len(days), np.nan)
    )
    store.save_weather(weather, "station")
    back = store.weather()
    assert back is not None
    for name in ("days", "tmin", "tmax", "rain", "flags", "wind"):
        np.testing.assert_array_equal(getattr(back, name), getattr(weather, name))
    assert back.humidity is None
    assert store.weather_name() == "station"
    part = store.weather(until=date(2011, 1, 10))
    assert part is not None
    assert part.last == date(2011, 1, 10)


def test_f38_a_note_is_kept_exactly_as_it_was_typed(store: Store, tmp_path: Path) -> None:
    long = ("Ines’s note, “quoted”; 🌱\r\nsecond line\t=1+1, ünd; " * 100)[:4000]
    store.add([entry(1, Note(long), note=long)])
    [back] = again(store, tmp_path).whole_diary()
    assert back.note == long
    assert back.what == Note(long)


def test_two_books_may_be_open_at_once(store: Store, tmp_path: Path) -> None:
    other = filled(create_store(Settings(tmp_path / "other")))
    other.add([entry(1)])
    assert store.whole_diary() == ()
    other.close()
    other.close()
    assert store.ground().site == SITE


def test_a_book_without_a_site_says_how_to_make_one(tmp_path: Path) -> None:
    with pytest.raises(BadInputError, match="swardbook begin"):
        create_store(Settings(tmp_path)).ground()


def test_the_stamp_changes_with_anything_that_is_written_and_with_nothing_else(
    store: Store, tmp_path: Path
) -> None:
    stamps = [store.stamp()]
    store.whole_diary()
    assert store.stamp() == stamps[0]
    for write in (
        lambda: store.add([entry(1)]),
        lambda: store.save_zone(replace(MAIN, height_of_cut_mm=31.0)),
        lambda: store.keep("answer", "one", {"a": 1}),
    ):
        write()
        stamps.append(store.stamp())
    assert len(set(stamps)) == len(stamps)
    assert again(store, tmp_path).stamp() == stamps[-1]
