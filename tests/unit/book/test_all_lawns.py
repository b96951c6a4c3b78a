"""All grounds of a book side by side, by one question, and honest about what is remembered."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from swardbook.book.all_lawns import (
    WAITS,
    all_lawns,
    look_over_lawns,
    remember_if_written,
    remember_lawn,
)
from swardbook.book.look_over import look_over
from swardbook.book.opening import Book, at_ground, open_any_book
from swardbook.demo.many_lawns import TODAY, Firm, write_firm
from swardbook.settings import Settings
from tests.support.books import entry


def clock() -> date:
    return TODAY


@pytest.fixture(scope="module")
def homes(tmp_path_factory: pytest.TempPathFactory) -> dict[int, Path]:
    """A book of few lawns and one of more, looked over."""
    made = {}
    for many in (3, 12):
        made[many] = tmp_path_factory.mktemp("firm") / "home"
        write_firm(Settings(made[many]), Firm(lawns=many, years=1))
        book = open_any_book(Settings(made[many]), clock)
        look_over_lawns(book, clock)
        book.store.close()
    return made


def copied(home: Path, to: Path) -> Iterator[Book]:
    to.mkdir()
    (to / "book.sqlite3").write_bytes((home / "book.sqlite3").read_bytes())
    opened = open_any_book(Settings(to), clock)
    yield opened
    opened.store.close()


@pytest.fixture
def book(homes: dict[int, Path], tmp_path: Path) -> Iterator[Book]:
    """A copy of the book of three."""
    yield from copied(homes[3], tmp_path / "home")


@pytest.fixture
def more(homes: dict[int, Path], tmp_path: Path) -> Iterator[Book]:
    """A copy of the book of twelve."""
    yield from copied(homes[12], tmp_path / "more")


def asked(book: Book) -> int:
    """Count the questions that a listing puts to the database."""
    from django.db import connections
    from django.test.utils import CaptureQueriesContext

    with CaptureQueriesContext(connections[book.store._rows.alias]) as caught:
        all_lawns(book)
    return len(caught)


def test_a_listing_is_one_question_however_many_lawns_there_are(homes: dict[int, Path]) -> None:
    counts = {}
    for many, home in homes.items():
        opened = open_any_book(Settings(home), clock)
        assert len(all_lawns(opened).lawns) == many
        counts[many] = asked(opened)
        opened.store.close()
    assert counts == {3: 1, 12: 1}


def test_what_is_listed_is_what_each_lawn_says_of_itself(book: Book) -> None:
    for lawn in all_lawns(book).lawns:
        own = at_ground(book, lawn.slug, clock)
        ground = own.ground()
        assert lawn.to_look == len(look_over(own))
        assert lawn.last_day == max(each.when.first for each in ground.diary)
        assert lawn.entries == len(own.store.whole_diary())
        assert lawn.silent_days == (TODAY - lawn.last_day).days
        assert (lawn.not_of_now, lawn.fault, lawn.looked_on) == ("", "", TODAY)


def test_they_are_sorted_by_the_share_that_needs_a_look(homes: dict[int, Path]) -> None:
    opened = open_any_book(Settings(homes[12]), clock)
    found = all_lawns(opened)
    shares = [each.share for each in found.lawns]
    assert shares == sorted(shares, reverse=True)
    assert shares[-1] <= found.share <= shares[0]
    opened.store.close()


@pytest.mark.parametrize("odd", ["Look.", ""])
def test_a_lawn_of_one_entry_is_put_neither_first_nor_last(more: Book, odd: str) -> None:
    with more.store.together():
        small = more.store.beside("New lawn")
        small.save_site(replace(more.ground().site, name="New lawn"))
        small.add([entry(1, zone="", needs_a_look=odd, day=TODAY)])
    order = [each.slug for each in look_over_lawns(more, clock).lawns]
    assert 0 < order.index("new-lawn") < len(order) - 1


def test_a_lawn_that_was_written_in_says_that_its_summary_is_from_before(book: Book) -> None:
    own = at_ground(book, "1-lime-walk", clock)
    before = own.store.writes()
    own.store.add([entry(1, zone="", day=TODAY)])
    told = {each.slug: each.not_of_now for each in all_lawns(book).lawns}
    assert "written in since" in told.pop("1-lime-walk")
    assert {*told.values()} == {""}
    assert remember_if_written(own, before)
    assert all_lawns(book).stale == 0
    assert not remember_if_written(own, own.store.writes())


def test_changed_ground_or_weather_makes_a_summary_old_too(book: Book) -> None:
    own = at_ground(book, "1-lime-walk", clock)
    own.store.save_forecast(None)
    assert all_lawns(book).stale == 1
    remember_lawn(own)
    zone = own.ground().zones[0]
    own.store.save_zone(replace(zone, note="sown by hand"), on=TODAY)
    assert all_lawns(book).stale == 1


def test_on_another_day_every_summary_says_which_day_it_is_of(book: Book) -> None:
    later = replace(book, today=TODAY + timedelta(days=1))
    assert {each.not_of_now for each in all_lawns(later).lawns} == {
        "looked over for Sat 8 October 2011"
    }
    assert all_lawns(later).lawns[0].silent_days == (
        (all_lawns(book).lawns[0].silent_days or 0) + 1
    )


def test_only_those_that_no_longer_hold_are_looked_over_again(book: Book) -> None:
    at_ground(book, "1-lime-walk", clock).store.add([entry(1, zone="", day=TODAY)])
    told: list[str] = []
    look_over_lawns(book, clock, tell=told.append)
    assert told == ["1 Lime Walk"]
    look_over_lawns(book, clock, all_anew=True, tell=told.append)
    assert len(told) == 4


def test_a_lawn_that_cannot_be_read_is_named_first_and_stops_no_other(book: Book) -> None:
    from swardbook.records.models import Thing

    alias, key = book.store._rows.alias, at_ground(book, "1-lime-walk", clock).store._rows.ground
    Thing.objects.using(alias).filter(ground_id=key, kind="zone").update(text="{")
    found = look_over_lawns(book, clock, all_anew=True)
    assert found.lawns[0].slug == "1-lime-walk"
    assert found.lawns[0].fault
    assert [each.fault for each in found.lawns[1:]] == ["", ""]


def test_lawns_never_looked_over_say_so_and_are_listed_all_the_same(tmp_path: Path) -> None:
    write_firm(Settings(tmp_path / "new"), Firm(lawns=2, years=1))
    opened = open_any_book(Settings(tmp_path / "new"), clock)
    found = all_lawns(opened)
    assert {each.not_of_now for each in found.lawns} == {WAITS}
    assert {each.to_look for each in found.lawns} == {None}
    assert all(each.entries for each in found.lawns)
    opened.store.close()
