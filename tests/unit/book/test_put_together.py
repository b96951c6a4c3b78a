"""Two grounds that are one lawn: put together, written in, and parted as they were."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from uuid import UUID

import pytest

from swardbook.book.all_lawns import all_lawns, look_over_lawns, remember_if_written
from swardbook.book.archive import export_book
from swardbook.book.bring_together import kept_otherwise
from swardbook.book.firm_seed import firm_stock
from swardbook.book.firm_week import firm_week
from swardbook.book.lot_trace import trace_lot
from swardbook.book.opening import Book
from swardbook.book.put_together import part, put_together
from swardbook.foundation.dates import When
from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Peg, Plot
from swardbook.husbandry.happenings import Count, Cut, Note
from tests.support.firms import TODAY, at, clock, firm_book

FIRST, SECOND = "1-kitchen-wall", "1-lime-walk"
BOTH = f"{FIRST}-put-together"
NOW = datetime(2011, 10, 8, 9, tzinfo=UTC)


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    opened = firm_book(tmp_path / "home")
    yield opened
    opened.store.close()


def exports(book: Book, folder: Path, name: str) -> list[bytes]:
    paths = [folder / f"{name}-{slug}.zip" for slug in (FIRST, SECOND)]
    for slug, path in zip((FIRST, SECOND), paths, strict=True):
        export_book(at(book, slug), path)
    return [path.read_bytes() for path in paths]


def listed(book: Book) -> set[str]:
    return {each.slug for each in all_lawns(book).lawns}


def entry(number: int, zone: str = "", what: object = None, **more: object) -> DiaryEntry:
    return DiaryEntry(UUID(int=number), When.on(TODAY), what or Note("here"), zone=zone, **more)  # type: ignore[arg-type]


def zone_of(book: Book, slug: str) -> str:
    return at(book, slug).ground().zones[0].name


def test_parted_again_both_are_byte_for_byte_what_they_were(book: Book, tmp_path: Path) -> None:
    before, names = exports(book, tmp_path, "before"), listed(book)
    put_together(book, clock, FIRST, SECOND)
    at(book, BOTH).store.add([entry(1)])
    assert exports(book, tmp_path, "between") == before
    part(book, clock, BOTH)
    assert exports(book, tmp_path, "after") == before
    assert listed(book) == names
    assert [each.id for each in at(book, BOTH).store.whole_diary()][-1] == UUID(int=1)


def test_every_entry_of_both_is_in_the_one_for_both_in_a_whole_chain(book: Book) -> None:
    first, second = at(book, FIRST).store, at(book, SECOND).store
    found = put_together(book, clock, FIRST, SECOND)
    third = at(book, found.slug).store
    ids = [each.id for each in (*first.whole_diary(), *second.whole_diary())]
    assert [each.id for each in third.whole_diary()] == ids
    assert found.entries == len(ids)
    assert third.check() == first.check() == second.check() == ()
    assert [each.who for each in third.whole_diary()] == [
        each.who for store in (first, second) for each in store.whole_diary()
    ]


def test_the_one_for_both_stands_in_their_place_everywhere(book: Book) -> None:
    put_together(book, clock, FIRST, SECOND)
    assert {FIRST, SECOND} & listed(book) == set()
    assert BOTH in listed(book)
    sown = {each.slug for each in trace_lot(book, "BB-0100").sown}
    assert {FIRST, SECOND} & sown == set()
    assert BOTH in sown
    lawns = {slug for each in firm_stock(book).lots for slug in each.lawns}
    assert BOTH in lawns
    assert not {FIRST, SECOND} & lawns
    [ines] = firm_week(book, "Ines").people
    assert BOTH in {call.slug for day in ines.days for call in day.calls}


def test_zones_that_are_named_one_become_one_with_what_was_done_in_both(book: Book) -> None:
    first, second = zone_of(book, FIRST), zone_of(book, SECOND)
    here, there = (len(at(book, slug).ground().entries(zone))
                   for slug, zone in ((FIRST, first), (SECOND, second)))  # fmt: skip
    put_together(book, clock, FIRST, SECOND, {second: first})
    ground = at(book, BOTH).ground()
    assert [each.name for each in ground.zones] == [
        each.name for each in at(book, FIRST).ground().zones
    ]
    assert len(ground.entries(first)) == here + there
    assert (
        "zone " + first,
        replace(at(book, SECOND).ground().zones[0], name=first),
    ) in kept_otherwise(at(book, BOTH))


def test_places_of_one_name_that_are_not_one_place_are_kept_apart(book: Book) -> None:
    lawn = at(book, SECOND)
    zone = zone_of(book, FIRST)
    old = zone_of(book, SECOND)
    at(book, FIRST).store.save_peg(Peg("X1", zone, "by the gate"))
    lawn.store.save_peg(Peg("X1", old, "by the shed"))
    places = next(each for each in lawn.ground().diary if isinstance(each.what, Count))
    assert isinstance(places.what, Count)
    count = Count((replace(places.what.places[0], place="X1"),))
    lawn.store.add([entry(1, old, count)])
    found = put_together(book, clock, FIRST, SECOND, {old: zone})
    assert f"X1 ({SECOND})" in found.renamed
    ground = at(book, BOTH).ground()
    assert {each.sketch for each in ground.pegs if each.name.startswith("X1")} == {
        "by the gate", "by the shed"
    }  # fmt: skip
    [counted] = [each.what for each in ground.diary if each.id == UUID(int=1)]
    assert isinstance(counted, Count)
    assert counted.places[0].place == f"X1 ({SECOND})"


def test_an_entry_that_both_had_is_kept_once_and_one_with_two_contents_twice(book: Book) -> None:
    for slug, height in ((FIRST, 20.0), (SECOND, 30.0)):
        at(book, slug).store.add([entry(1), entry(2, "", Cut(height, True))])
    found = put_together(book, clock, FIRST, SECOND)
    diary = at(book, BOTH).store.whole_diary()
    assert found.twice == 2
    assert sum(each.what == Note("here") for each in diary) == 1
    assert {
        each.what.height_of_cut_mm for each in diary if isinstance(each.what, Cut) and not each.zone
    } == {20.0, 30.0}
    assert any(each.needs_a_look and "another entry" in each.needs_a_look for each in diary)


def test_what_a_phone_sends_late_to_the_old_address_is_in_the_one_for_both(book: Book) -> None:
    old = zone_of(book, SECOND)
    put_together(book, clock, FIRST, SECOND, {old: "Lime end"})
    lawn = at(book, SECOND)
    writes = lawn.store.writes()
    lawn.store.add([entry(1, old)])
    remember_if_written(lawn, writes)
    [late] = [each for each in at(book, BOTH).store.whole_diary() if each.id == UUID(int=1)]
    assert late.zone == "Lime end"
    at(book, FIRST).store.add([entry(2)])
    look_over_lawns(book, clock)
    assert UUID(int=2) in {each.id for each in at(book, BOTH).store.whole_diary()}


def test_what_was_written_meanwhile_is_brought_back_where_that_is_asked(book: Book) -> None:
    old = zone_of(book, SECOND)
    put_together(book, clock, FIRST, SECOND, {old: "Lime end"})
    third = at(book, BOTH).store
    third.add([entry(1, "Lime end")])
    with pytest.raises(BadInputError, match="zones of 1-kitchen-wall"):
        part(book, clock, BOTH, FIRST)
    assert BOTH in listed(book)
    found = part(book, clock, BOTH, SECOND)
    assert (found.since, found.brought_to) == (1, SECOND)
    assert at(book, SECOND).store.whole_diary()[-1].zone == old


@pytest.mark.long
def test_a_lawn_is_put_together_with_no_second_lawn_twice_and_never_with_itself(book: Book) -> None:
    put_together(book, clock, FIRST, SECOND)
    with pytest.raises(BadInputError, match=BOTH):
        put_together(book, clock, "1-plover-row", SECOND)
    with pytest.raises(BadInputError, match="another than"):
        put_together(book, clock, BOTH, BOTH)
    with pytest.raises(BadInputError, match="put together and not parted"):
        part(book, clock, "1-plover-row")
    part(book, clock, BOTH)
    with pytest.raises(BadInputError, match="put together and not parted"):
        part(book, clock, BOTH)
    again = put_together(book, clock, SECOND, FIRST)
    assert again.slug in listed(book)


@pytest.mark.long
def test_one_for_three_is_parted_step_by_step(book: Book) -> None:
    names = listed(book)
    put_together(book, clock, FIRST, SECOND)
    outer = put_together(book, clock, BOTH, "1-plover-row")
    assert listed(book) == (names - {FIRST, SECOND, "1-plover-row"}) | {outer.slug}
    part(book, clock, outer.slug)
    assert BOTH in listed(book)
    part(book, clock, BOTH)
    assert listed(book) == names


def test_nothing_stays_of_what_is_refused(book: Book) -> None:
    for slug, mixture in ((FIRST, "Bobbin"), (SECOND, "Gatepost")):
        at(book, slug).store.save_plot(Plot("1-01", "Trial", 1, 1, mixture))
    names = {each.slug for each in book.store.grounds()}
    with pytest.raises(BadInputError, match="trial"):
        put_together(book, clock, FIRST, SECOND)
    with pytest.raises(UnknownNameError):
        put_together(book, clock, FIRST, SECOND, {"No such": "Front lawn"})
    assert {each.slug for each in book.store.grounds()} == names
    assert FIRST in listed(book)


def test_only_who_has_access_to_both_has_access_to_the_one_and_as_the_lesser(book: Book) -> None:
    first, second = (at(book, slug).store.people() for slug in (FIRST, SECOND))
    known = {"Odalys": ("owner", "owner"), "Ines": ("owner", "reader"), "Bram": ("worker", "")}
    for name, roles in known.items():
        person = first.add(name, name[0], "a hash", False, NOW)
        for people, role in zip((first, second), roles, strict=True):
            if role:
                people.set_role(person, role)
    found = put_together(book, clock, FIRST, SECOND)
    there = {each.name: each.role for each in at(book, BOTH).store.people().everyone()}
    assert there == {"Odalys": "owner", "Ines": "reader"}
    assert (found.let_in, found.kept_out) == (("Ines", "Odalys"), ("Bram",))


@pytest.mark.long
def test_a_day_later_it_still_stands(book: Book) -> None:
    put_together(book, clock, FIRST, SECOND)
    later = replace(book, today=TODAY + timedelta(days=1))
    assert BOTH in listed(later)
    assert FIRST not in listed(later)
