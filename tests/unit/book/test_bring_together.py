"""Two books of the same ground made one: nothing lost, nothing doubled, clashes named."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from swardbook.book.archive import export_book
from swardbook.book.bring_together import bring_together, kept_otherwise
from swardbook.book.opening import Book
from swardbook.foundation.errors import BadInputError
from swardbook.husbandry.ground import Peg
from swardbook.husbandry.happenings import Cut
from swardbook.records.opening import create_store
from swardbook.settings import Settings
from tests.support.books import MAIN, SITE, TODAY, entry, small_book


@pytest.fixture
def two(tmp_path: Path) -> tuple[Book, Book]:
    return small_book(tmp_path / "one"), small_book(tmp_path / "two")


def test_entries_pegs_and_pictures_of_the_other_come_once(
    two: tuple[Book, Book], tmp_path: Path
) -> None:
    one, two_ = two
    one.store.add([entry(1), entry(2)])
    two_.store.add([entry(2), entry(3)])
    two_.store.save_peg(Peg("P9", MAIN.name, "9 m"))
    shared = two_.settings.pictures / "to-share"
    shared.mkdir(parents=True)
    came = bring_together(one, two_.settings.home)
    assert (came.entries, came.there, came.pieces, came.clashes) == (1, 1, 1, ())
    assert {each.id.int for each in one.store.whole_diary()} == {1, 2, 3}
    again = bring_together(one, two_.settings.home)
    assert (again.entries, again.there, again.pieces) == (0, 2, 0)
    assert len(two_.store.whole_diary()) == 2


def test_another_entry_under_the_same_id_is_kept_and_named(two: tuple[Book, Book]) -> None:
    one, two_ = two
    one.store.add([entry(1, Cut(8.0))])
    two_.store.add([entry(1, Cut(9.0))])
    came = bring_together(one, two_.settings.home)
    assert [each.what for each in came.clashes] == ["entry 00000000, cut"]
    assert {each.what for each in one.store.whole_diary()} == {Cut(8.0), Cut(9.0)}


def test_a_zone_changed_in_both_stands_as_changed_last_and_the_other_value_is_kept(
    two: tuple[Book, Book],
) -> None:
    one, two_ = two
    one.store.save_zone(replace(MAIN, height_of_cut_mm=7), on=TODAY)
    two_.store.save_zone(replace(MAIN, height_of_cut_mm=6), on=TODAY.replace(day=1))
    came = bring_together(one, two_.settings.home)
    assert [each.what for each in came.clashes] == ["zone Main court"]
    assert one.ground().zone("Main court").height_of_cut_mm == 7
    ((name, otherwise),) = kept_otherwise(one)
    assert name == "zone Main court"
    assert otherwise == replace(MAIN, height_of_cut_mm=6)


def test_a_change_that_the_other_has_not_heard_of_is_no_clash(two: tuple[Book, Book]) -> None:
    one, two_ = two
    two_.store.save_zone(replace(MAIN, height_of_cut_mm=6), on=TODAY)
    came = bring_together(one, two_.settings.home)
    assert came.clashes == ()
    assert one.ground().zone("Main court").height_of_cut_mm == 6


def test_an_archive_comes_in_as_a_book_does(two: tuple[Book, Book], tmp_path: Path) -> None:
    one, two_ = two
    two_.store.add([entry(3)])
    export_book(two_, tmp_path / "two.zip")
    assert bring_together(one, tmp_path / "two.zip").entries == 1


def test_a_book_about_another_ground_is_refused(two: tuple[Book, Book], tmp_path: Path) -> None:
    one, _ = two
    create_store(Settings(tmp_path / "far")).save_site(replace(SITE, name="Far Lawn"))
    with pytest.raises(BadInputError, match="Far Lawn"):
        bring_together(one, tmp_path / "far")
    with pytest.raises(BadInputError, match="the folder or file"):
        bring_together(one, tmp_path / "nothing")
