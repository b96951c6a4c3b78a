"""The plan works from the first minute, an edit can be undone, and what was said is kept."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path
from uuid import UUID, uuid4

import pytest

from swardbook.book.archive import export_book, import_book
from swardbook.book.diary import write
from swardbook.book.lots_there import lots_at
from swardbook.book.opening import Book, open_book
from swardbook.book.peg_finding import find_peg
from swardbook.book.plan_drawing import draw_plan, drawn_plan
from swardbook.book.plan_edits import (
    add_fixed_point,
    draw_zone,
    move_corner,
    move_zone,
    place_peg,
    tie_to_globe,
    undo_edit,
)
from swardbook.book.sent import Sent, take_in
from swardbook.book.telling_where import read_where
from swardbook.foundation.dates import When
from swardbook.foundation.errors import BadInputError, RefusedError, UnknownNameError
from swardbook.husbandry.attachments import Attachment
from swardbook.husbandry.happenings import Changed, DigClumps, Refill, RefillCheck, Sow
from swardbook.husbandry.spots import SpotState, spots
from swardbook.husbandry.where import By, Where
from swardbook.settings import Settings
from tests.support.books import MAIN, SHORT, TODAY, small_book

COURT = [(10.0, 5.0), (42.0, 5.0), (42.0, 30.6), (10.0, 30.6)]


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    made = small_book(tmp_path)
    yield made
    made.store.close()


def test_zones_that_nobody_drew_are_laid_out_apart_and_said_so(book: Book) -> None:
    plan = drawn_plan(book)
    assert plan.undrawn == (MAIN.name, SHORT.name)
    assert "Not drawn yet" in plan.drawn.key
    assert not any(area.is_drawn for area in plan.drawn.areas)
    one, other = (plan.frames[zone.name].outline for zone in (MAIN, SHORT))
    assert one.area_m2 == pytest.approx(MAIN.area_m2)
    assert other.east_m >= one.east_m + one.corners[2][0] or other.north_m != one.north_m


def test_what_was_placed_before_a_zone_was_drawn_stays_where_it_is_in_it(book: Book) -> None:
    place_peg(book, "P1", "4.2, 3.1")
    draw_zone(book, MAIN.name, COURT)
    plan = drawn_plan(book)
    [peg] = [mark for mark in plan.drawn.marks if mark.name == "P1"]
    assert peg.at == pytest.approx((14.2, 8.1))
    move_zone(book, MAIN.name, 5.0, -1.0)
    [peg] = [mark for mark in drawn_plan(book).drawn.marks if mark.name == "P1"]
    assert peg.at == pytest.approx((19.2, 7.1))


def test_a_drawing_of_another_area_is_kept_and_asked_about(book: Book) -> None:
    found = draw_zone(book, MAIN.name, [(0, 0), (20, 0), (20, 20), (0, 20)])
    assert "The drawing has 400.0 m², the book 819.2 m²" in found.notes[0]
    assert book.ground().zone(MAIN.name).area_m2 == 819.2


def test_an_outline_that_crosses_itself_is_not_kept(book: Book) -> None:
    draw_zone(book, MAIN.name, COURT)
    with pytest.raises(BadInputError, match="cross"):
        move_corner(book, MAIN.name, 1, (50.0, 20.0))
    with pytest.raises(BadInputError, match="1 to 4"):
        move_corner(book, MAIN.name, 5, (50.0, 40.0))
    assert book.ground().zone(MAIN.name).outline.on_site[0] == tuple(COURT)  # type: ignore[union-attr]


def test_an_edit_is_undone_edit_by_edit_and_the_diary_only_grows(book: Book) -> None:
    draw_zone(book, MAIN.name, COURT)
    move_corner(book, MAIN.name, 1, (9.0, 5.0))
    place_peg(book, "P1", "4.2, 3.1")
    add_fixed_point(book, "gate post", (0.0, 0.0))
    entries = len(book.store.whole_diary())
    told = [undo_edit(book).what for _ in range(3)]
    assert [each.thing for each in told if isinstance(each, Changed)] == [
        "site", "peg P1", f"zone {MAIN.name}",
    ]  # fmt: skip
    ground = book.ground()
    assert ground.site.plan is None
    assert ground.pegs[0].at is None
    assert ground.zone(MAIN.name).outline.on_site[0] == tuple(COURT)  # type: ignore[union-attr]
    undo_edit(book)
    assert book.ground().zone(MAIN.name).outline is None
    assert len(book.store.whole_diary()) == entries + 4
    with pytest.raises(RefusedError, match="not edited"):
        undo_edit(book)


def test_two_tapes_place_a_peg_inside_its_zone_and_find_it_again(book: Book) -> None:
    draw_zone(book, MAIN.name, COURT)
    add_fixed_point(book, "gate post", (10.0, 5.0))
    add_fixed_point(book, "shed", (42.0, 5.0))
    at = place_peg(book, "P1", "tape 5 gate post, 29.3 shed").thing.at
    assert at is not None
    assert (at.east_m, at.north_m) == pytest.approx((2.975, 4.019), abs=0.01)
    found = find_peg(book, "p1")
    assert [(each.start, round(each.length_m, 2)) for each in found.tapes] == [
        ("gate post", 5.0), ("shed", 29.3),
    ]  # fmt: skip
    assert found.tapes[0].wind == "north-east"
    assert "It has no picture yet." in found.missing


def test_tapes_that_tell_two_places_ask_for_the_side(book: Book) -> None:
    draw_zone(book, MAIN.name, COURT)
    add_fixed_point(book, "north post", (20.0, 18.0))
    add_fixed_point(book, "south post", (30.0, 18.0))
    with pytest.raises(BadInputError, match="One is to the north, the other to the south"):
        place_peg(book, "P1", "tape 6 north post, 6 south post")
    at = place_peg(book, "P1", "tape 6 north post, 6 south post, north").thing.at
    assert at is not None
    assert at.north_m > 13.0
    with pytest.raises(UnknownNameError, match="gate"):
        place_peg(book, "P1", "tape 6 gate, 6 south post")


def test_a_side_and_a_phone_place_a_peg_too(book: Book) -> None:
    draw_zone(book, MAIN.name, COURT)
    ground = book.ground()
    assert read_where(ground, MAIN.name, "side 2 3 4.0 1.2").point == pytest.approx((30.8, 4.0))
    with pytest.raises(BadInputError, match="tied to the globe"):
        read_where(ground, MAIN.name, "phone 52.1 -0.5 6")
    tie_to_globe(book, 52.1, -0.5)
    where = read_where(book.ground(), MAIN.name, "phone 52.1001 -0.4997 6")
    assert (where.by, where.within_m) == (By.PHONE, 6.0)
    assert where.point == pytest.approx((10.55, 6.13), abs=0.02)


@pytest.mark.parametrize("text", ["", "4.2", "here", "tape 4 gate", "side 1 9 2 1", "4, 5, 6"])
def test_what_is_no_place_is_told_with_an_example(book: Book, text: str) -> None:
    draw_zone(book, MAIN.name, COURT)
    with pytest.raises(BadInputError):
        read_where(book.ground(), MAIN.name, text)


def test_a_spot_goes_from_dug_to_sown_to_look_again_to_taken(book: Book) -> None:
    def at(what: object, on: date, place: Where) -> UUID:
        return write(book, what, When.on(on), zone=MAIN.name, at=[place]).id  # type: ignore[arg-type]

    near = Where(4.1, 3.0)
    at(DigClumps(clumps=1, margin_mm=100), date(2011, 8, 1), Where(4.0, 3.0))
    at(Refill("BB-0417", 1, 80), date(2011, 8, 2), near)
    states = [spots(book.ground().diary, day)[0].state
              for day in (date(2011, 8, 1), date(2011, 8, 3), date(2011, 10, 7))]  # fmt: skip
    assert states == [SpotState.DUG, SpotState.SOWN, SpotState.LOOK_AGAIN]
    at(RefillCheck(1, 1), date(2011, 10, 8), near)
    [spot] = spots(book.ground().diary, TODAY)
    assert (spot.state, spot.lot, len(spot.steps)) == (SpotState.TAKEN, "BB-0417", 3)
    assert "spot: taken" in draw_plan(book, drawn_plan(book, zone=MAIN.name)).svg


def test_a_check_of_many_spots_does_not_say_which_took(book: Book) -> None:
    places = [Where(1.0, 1.0), Where(5.0, 5.0)]
    write(book, Refill("BB-0417", 2), When.on(date(2011, 8, 2)), zone=MAIN.name, at=places)
    write(book, RefillCheck(2, 1), When.on(TODAY), zone=MAIN.name, at=places)
    assert {each.state for each in spots(book.ground().diary, TODAY)} == {SpotState.LOOKED_AT}


def test_from_a_blade_back_to_the_bag_the_newest_first(book: Book) -> None:
    draw_zone(book, MAIN.name, COURT)
    for day, what in ((date(2010, 9, 1), Sow("BB-0417", 20)),
                      (date(2011, 4, 1), Sow("BB-0417", 20, area_m2=40.0))):  # fmt: skip
        write(book, what, When.on(day), zone=MAIN.name)
    write(book, Refill("BB-0417", 1), When.on(TODAY), zone=MAIN.name, at=[Where(4.0, 3.0)])
    there = lots_at(book, 14.0, 8.0)
    assert [each.kind for each in there.here] == ["refill", "sow"]
    assert [each.day for each in there.perhaps] == [date(2011, 4, 1)]
    elsewhere = lots_at(book, 30.0, 20.0)
    assert [each.kind for each in elsewhere.here] == ["sow"]
    with pytest.raises(BadInputError, match="inside a zone"):
        lots_at(book, 0.0, 0.0)


def test_what_a_phone_sends_says_where_and_an_unclear_place_is_kept_and_asked_about(
    book: Book,
) -> None:
    sent = Sent(uuid4(), "dig clumps", {"clumps": "1"}, MAIN.name, said_on=TODAY, at="plan 4.2 3.1")
    kept = take_in(book, sent).entry
    assert kept.at == (Where(4.2, 3.1),)
    assert take_in(book, sent).was_there
    unclear = replace(sent, id=uuid4(), at="by the old tree")
    entry = take_in(book, unclear).entry
    assert entry.at == ()
    assert "by the old tree" in entry.note
    assert "Where it is was not understood" in entry.needs_a_look


def test_the_archive_carries_outlines_places_and_fixed_points(book: Book, tmp_path: Path) -> None:
    draw_zone(book, MAIN.name, COURT, [((20, 10), (25, 10), (25, 15), (20, 15))])
    add_fixed_point(book, "gate post", (0.0, 0.0))
    place_peg(book, "P1", "4.2, 3.1")
    write(book, Refill("BB-0417", 1), When.on(TODAY), zone=MAIN.name, at=[Where(4.0, 3.0)])
    export_book(book, tmp_path / "out.zip")
    settings = Settings(tmp_path / "other")
    import_book(settings, tmp_path / "out.zip")
    other = open_book(settings, lambda: TODAY)
    assert other.ground() == book.ground()
    other.store.close()


def test_a_peg_is_shown_by_its_last_picture(book: Book) -> None:
    for day, file in ((date(2011, 3, 1), "a" * 64), (date(2011, 9, 1), "b" * 64)):
        write(book, Attachment(file=file, ending="jpg", peg="P1"), When.on(day), zone=MAIN.name)
    found = find_peg(book, "P1")
    assert (found.picture, found.picture_on) == ("b" * 64, date(2011, 9, 1))
    assert found.missing == ("It has no place on the plan yet.",)


def test_the_plan_says_what_is_no_layer(book: Book) -> None:
    with pytest.raises(UnknownNameError, match="layer"):
        drawn_plan(book, layer="moon")


def test_the_plan_may_be_tied_to_the_globe_at_any_known_place(book: Book) -> None:
    draw_zone(book, MAIN.name, COURT)
    tie_to_globe(book, 52.1, -0.5, at=(42.0, 30.6))
    where = read_where(book.ground(), MAIN.name, "phone 52.1 -0.5")
    assert where.point == pytest.approx((32.0, 25.6), abs=0.01)
