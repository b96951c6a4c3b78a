"""The made-up book is built whole, the same everywhere, and never over somebody's own."""

from datetime import date
from pathlib import Path

import pytest

from swardbook.book.diary import write
from swardbook.book.ground import begin
from swardbook.demo.build import FOLDER, Outcome, build, settings_for
from swardbook.demo.names import MAIN, TODAY
from swardbook.demo.scenario import made_up_entries, made_up_ground
from swardbook.foundation.dates import When
from swardbook.foundation.errors import BadInputError
from swardbook.husbandry.ground import Site
from swardbook.husbandry.happenings import Note
from swardbook.settings import Settings


def clock() -> date:
    return date(2026, 1, 5)


def quiet(_: str) -> None:
    return None


def own_book(home: Path) -> Settings:
    settings = Settings(home)
    begin(settings, clock, Site("Ours", 52.0, 20.0)).store.close()
    return settings


def test_the_book_holds_the_scenario_entry_for_entry(tmp_path: Path) -> None:
    built = build(Settings(tmp_path), clock, tell=quiet)
    book = built.book
    assert built.outcome is Outcome.BUILT
    assert book.is_made_up
    assert book.today == TODAY
    assert book.store.whole_diary() == made_up_entries()
    assert book.store.ground() == made_up_ground()
    assert book.store.check() == ()
    weather = book.weather()
    assert weather is not None
    assert (weather.first, weather.last) == (date(1991, 1, 1), TODAY)
    book.store.close()


def test_built_again_it_is_left_as_it_is(tmp_path: Path) -> None:
    build(Settings(tmp_path), clock, tell=quiet).book.store.close()
    again = build(Settings(tmp_path), clock, tell=quiet)
    again.book.store.close()
    assert again.outcome is Outcome.AS_BUILT


def test_what_somebody_wrote_in_it_is_kept_unless_asked_for_afresh(tmp_path: Path) -> None:
    settings = Settings(tmp_path)
    book = build(settings, clock, tell=quiet).book
    mine = write(book, Note("mine"), When.on(TODAY), zone=MAIN)
    book.store.close()
    kept = build(settings, clock, tell=quiet)
    assert kept.outcome is Outcome.WRITTEN_IN
    assert mine in kept.book.store.whole_diary()
    kept.book.store.close()
    fresh = build(settings, clock, fresh=True, tell=quiet)
    assert fresh.outcome is Outcome.BUILT
    assert fresh.book.store.whole_diary() == made_up_entries()
    fresh.book.store.close()


def test_somebodys_own_book_is_never_touched(tmp_path: Path) -> None:
    settings = own_book(tmp_path)
    before = settings.book_file.read_bytes()
    for fresh in (False, True):
        with pytest.raises(BadInputError):
            build(settings, clock, fresh=fresh, tell=quiet)
    assert settings.book_file.read_bytes() == before
    assert settings_for(settings, True, clock).home == tmp_path / FOLDER


def test_a_folder_set_by_hand_without_a_book_is_used_as_it_is(tmp_path: Path) -> None:
    settings = Settings(tmp_path, database="postgres://somewhere")
    assert settings_for(settings, True, clock) == Settings(tmp_path)
    assert settings_for(settings, False, clock).home == tmp_path / FOLDER


def test_a_made_up_book_in_a_folder_set_by_hand_is_found_again(tmp_path: Path) -> None:
    build(Settings(tmp_path), clock, tell=quiet).book.store.close()
    assert settings_for(Settings(tmp_path), True, clock).home == tmp_path


def test_a_build_that_was_cut_short_is_finished(tmp_path: Path) -> None:
    from swardbook.book.opening import new_book

    new_book(Settings(tmp_path), clock).store.close()
    built = build(Settings(tmp_path), clock, tell=quiet)
    built.book.store.close()
    assert built.outcome is Outcome.BUILT
