"""Two books of the same ground made one: nothing lost, nothing doubled, clashes named."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from swardbook.book.archive import export_book
from swardbook.book.bring_together import bring_together, kept_otherwise
from swardbook.book.diary import put_right, show
from swardbook.book.opening import Book
from swardbook.foundation.errors import BadInputError
from swardbook.husbandry.attachments import Attachment
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


def test_two_contents_of_one_id_brought_to_and_fro_are_each_there_once(
    two: tuple[Book, Book],
) -> None:
    one, two_ = two
    one.store.add([entry(1, Cut(8.0))])
    two_.store.add([entry(1, Cut(9.0))])
    for into, other in ((one, two_), (two_, one), (one, two_), (two_, one)):
        bring_together(into, other.settings.home)
        heights = [each.what for each in into.store.whole_diary()]
        assert sorted(map(str, heights)) == [str(Cut(8.0)), str(Cut(9.0))]


def test_a_correction_stays_with_its_own_where_the_other_book_has_another_under_its_id(
    two: tuple[Book, Book],
) -> None:
    one, two_ = two
    one.store.add([entry(1, Cut(8.0))])
    two_.store.add([entry(1, Cut(9.0))])
    put_right(two_, entry(1).id, {"hours": "2"}, "timed")
    for into, other in ((one, two_), (two_, one), (one, two_)):
        bring_together(into, other.settings.home)
        stand = {(each.what, each.hours) for each in into.store.ground().diary}
        assert stand == {(Cut(8.0), None), (Cut(9.0), 2.0)}
    assert len(one.store.whole_diary()) == len(two_.store.whole_diary()) == 3


def test_a_picture_stays_with_its_own_where_the_other_book_has_another_under_its_id(
    two: tuple[Book, Book],
) -> None:
    one, two_ = two
    one.store.add([entry(1, Cut(8.0))])
    two_.store.add([entry(2, Attachment(file="a", of=entry(1).id)), entry(1, Cut(9.0))])
    bring_together(one, two_.settings.home)
    by_id = {each.id: each.what for each in one.store.whole_diary()}
    (picture,) = [what for what in by_id.values() if isinstance(what, Attachment)]
    assert picture.of is not None
    assert by_id[picture.of] == Cut(9.0)


def test_an_entry_put_right_in_both_is_named_and_listed_until_it_is_put_right_for_both(
    two: tuple[Book, Book],
) -> None:
    one, two_ = two
    for book in two:
        book.store.add([entry(1)])
        put_right(book, entry(1).id, {"hours": "2" if book is one else "3"}, "timed")
    came = bring_together(one, two_.settings.home)
    assert [each.what.partition(", ")[2] for each in came.clashes] == ["cut"]
    (listed,) = show(one, only_to_look_at=True)
    assert listed.entry in one.store.ground().diary
    assert "Both are kept" in listed.entry.needs_a_look
    settled = put_right(one, listed.entry.id, {"hours": "4"}, "asked both")
    assert one.store.ground().diary == (settled,)
    assert show(one, only_to_look_at=True) == ()
    bring_together(two_, one.settings.home)
    assert two_.store.ground().diary == (settled,)
    assert show(two_, only_to_look_at=True) == ()


def test_a_correction_that_gave_way_can_be_taken_after_all(two: tuple[Book, Book]) -> None:
    one, two_ = two
    one.store.add([entry(1)])
    two_.store.add([entry(1)])
    early = replace(two_, written_on=TODAY.replace(day=1))
    gave_way = put_right(early, entry(1).id, {"hours": "3"}, "timed")
    put_right(one, entry(1).id, {"hours": "2"}, "timed")
    bring_together(one, two_.settings.home)
    taken = put_right(one, gave_way.id, {}, "that one")
    assert one.store.ground().diary == (taken,)
    assert taken.hours == 3


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


def test_different_things_of_a_zone_changed_in_two_books_both_stand(
    two: tuple[Book, Book],
) -> None:
    one, two_ = two
    one.store.save_zone(replace(MAIN, height_of_cut_mm=7), on=TODAY.replace(day=2))
    two_.store.save_zone(replace(MAIN, sun_hours=5), on=TODAY.replace(day=1))
    for into, other in ((one, two_), (two_, one)):
        came = bring_together(into, other.settings.home)
        assert came.clashes == ()
        assert into.ground().zone("Main court") == replace(MAIN, height_of_cut_mm=7, sun_hours=5)


def test_of_two_changes_of_one_day_the_one_made_after_the_other_was_known_stands(
    two: tuple[Book, Book],
) -> None:
    one, two_ = two
    one.store.save_zone(replace(MAIN, height_of_cut_mm=9), on=TODAY)
    bring_together(two_, one.settings.home)
    for height in (7, 9, 7):
        one.store.save_zone(replace(MAIN, height_of_cut_mm=height), on=TODAY)
        for into, other in ((one, two_), (two_, one)):
            assert bring_together(into, other.settings.home).clashes == ()
            assert into.ground().zone("Main court").height_of_cut_mm == height


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
