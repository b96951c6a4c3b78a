"""Letting people in: waits that grow and end, grounds apart, initials that stay."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from swardbook.book.ground import begin
from swardbook.book.opening import Book, at_ground
from swardbook.book.people import (
    LASTS,
    WrongLogInError,
    add_person,
    change_password,
    change_role,
    end_access,
    give_password,
    has_owner,
    initials_of,
    log_in,
    log_out,
    people,
    who_is,
    writing_as,
)
from swardbook.book.waits import BY_ADDRESS, BY_NAME, WaitError, count_try
from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.husbandry.ground import Site
from tests.support.books import TODAY, entry, small_book
from tests.support.people import hash_lightly

NOW = datetime(2026, 4, 3, 8, 0, tzinfo=UTC)
WORDS, OTHERS = "four quiet moles dig", "seven grey herons"


@pytest.fixture(autouse=True)
def lightly(monkeypatch: pytest.MonkeyPatch) -> None:
    hash_lightly(monkeypatch)


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    opened = small_book(tmp_path / "book")
    yield opened
    opened.store.close()


def test_waits_double_and_end_at_their_longest() -> None:
    waits = [BY_NAME.wait(wrong).total_seconds() for wrong in range(1, 12)]
    assert waits == [0, 0, 0, 2, 4, 8, 16, 32, 60, 60, 60]
    assert BY_ADDRESS.wait(19) == timedelta(0)
    assert BY_ADDRESS.wait(10_000) == timedelta(minutes=15)


def test_a_wait_is_told_in_words_and_over_when_it_is_over(book: Book) -> None:
    add_person(book, "Ines Marlow", "", "owner", WORDS, NOW)
    for _ in range(4):
        with pytest.raises(WrongLogInError):
            log_in(book, "Ines Marlow", "guess", "192.0.2.7", NOW)
    with pytest.raises(WaitError, match="Try again in 2 seconds"):
        log_in(book, "INES  marlow", WORDS, "192.0.2.8", NOW)
    found = log_in(book, "INES  marlow", WORDS, "192.0.2.8", NOW + timedelta(seconds=3))
    assert found.person.initials == "IM"
    assert log_in(book, "Ines Marlow", WORDS, "192.0.2.7", NOW + timedelta(seconds=3)).token
    assert str(WaitError(900)).count("15 minutes") == 1


def test_many_names_from_one_address_are_slowed_down_and_others_are_not(book: Book) -> None:
    for number in range(20):
        with pytest.raises(WrongLogInError):
            log_in(book, f"name {number}", "guess", "192.0.2.7", NOW)
    with pytest.raises(WaitError):
        log_in(book, "one more", "guess", "192.0.2.7", NOW)
    with pytest.raises(WrongLogInError):
        log_in(book, "one more", "guess", "192.0.2.8", NOW)


def test_right_log_ins_from_one_address_slow_nobody_down(book: Book) -> None:
    add_person(book, "Ines Marlow", "", "owner", WORDS, NOW)
    given = {log_in(book, "Ines Marlow", WORDS, "192.0.2.7", NOW).token for _ in range(22)}
    assert len(given) == 22


def test_wrong_log_ins_are_forgotten_after_a_day(book: Book) -> None:
    for _ in range(4):
        count_try(book, {"one": BY_NAME}, NOW)
    later = NOW + timedelta(hours=25)
    for wrong in (1, 2):
        count_try(book, {"one": BY_NAME}, later)
        tries = book.store.people().wrong_tries("one")
        assert tries is not None
        assert tries[0] == wrong


def test_a_token_is_good_until_it_ends_or_is_ended(book: Book) -> None:
    add_person(book, "Ines Marlow", "", "owner", WORDS, NOW)
    one, two = (log_in(book, "Ines Marlow", WORDS, "192.0.2.7", NOW).token for _ in range(2))
    assert one != two
    assert who_is(book, one, NOW + LASTS - timedelta(seconds=1)) is not None
    assert who_is(book, one, NOW + LASTS) is None
    log_out(book, one)
    assert who_is(book, one, NOW) is None
    assert who_is(book, two, NOW) is not None
    three = change_password(book, "Ines Marlow", WORDS, OTHERS, OTHERS, NOW).token
    assert who_is(book, two, NOW) is None
    assert who_is(book, three, NOW) is not None
    give_password(book, "Ines Marlow", WORDS, None)
    assert who_is(book, three, NOW) is None
    for nonsense in ("", "x", "\x00", one.upper()):
        assert who_is(book, nonsense, NOW) is None


def test_access_that_ended_opens_nothing_and_comes_back_under_the_same_initials(
    book: Book,
) -> None:
    add_person(book, "Ines Marlow", "", "owner", WORDS, NOW)
    add_person(book, "Odalys Fenn", "OX", "worker", OTHERS, NOW)
    token = log_in(book, "Odalys Fenn", OTHERS, "192.0.2.7", NOW).token
    end_access(book, "Odalys Fenn")
    assert who_is(book, token, NOW) is None
    with pytest.raises(WrongLogInError):
        log_in(book, "Odalys Fenn", OTHERS, "192.0.2.7", NOW)
    with pytest.raises(BadInputError, match="initials that nobody here has yet"):
        add_person(book, "Owen Xavier", "ox", "reader", WORDS, NOW)
    assert add_person(book, "odalys fenn", "", "reader", WORDS, NOW).initials == "OX"
    with pytest.raises(WrongLogInError):
        log_in(book, "Odalys Fenn", OTHERS, "192.0.2.7", NOW)


def test_each_ground_of_a_book_has_people_of_its_own(tmp_path: Path) -> None:
    book = small_book(tmp_path / "book")
    begin(book.settings, lambda: TODAY, Site("Second ground", 52.0, 10.0)).store.close()
    other = at_ground(book, "Second ground", lambda: TODAY)
    add_person(book, "Ines Marlow", "", "owner", WORDS, NOW)
    assert has_owner(book)
    assert has_owner(other), "whoever owns one of them can log in"
    assert [each.role for each in people(other)] == ["owner"], "the first owner owns all there is"
    add_person(other, "Odalys Fenn", "", "owner", OTHERS, NOW)
    end_access(other, "Ines Marlow")
    token = log_in(book, "Ines Marlow", WORDS, "192.0.2.7", NOW).token
    there = who_is(other, token, NOW)
    assert there is not None
    assert there.role == ""
    with pytest.raises(UnknownNameError):
        change_role(other, "Ines Marlow", "reader")
    change_role(other, "Ines Marlow", "reader", is_own_machine=True)
    odalys = other.store.people().named("Odalys Fenn").key
    with pytest.raises(BadInputError, match="no other"):
        give_password(other, "Ines Marlow", OTHERS, odalys)
    end_access(other, "Ines Marlow")
    assert who_is(book, token, NOW) is not None, "still let in where she was"
    book.store.close()


def test_entries_that_name_nobody_carry_the_initials_of_who_writes(book: Book) -> None:
    with writing_as("OX"):
        kept = book.store.add([entry(1), entry(2, who="Ines")])
        again = book.store.add([entry(1)])
    assert [each.who for each in kept] == ["OX", "Ines"]
    assert again == kept[:1]
    assert book.store.add([entry(3)])[0].who == ""


@pytest.mark.parametrize(
    ("name", "initials"), [("Ines Marlow", "IM"), ("cher", "C"), ("a b c d e f g", "ABCDE")]
)
def test_initials_are_made_from_a_name(name: str, initials: str) -> None:
    assert initials_of(name) == initials


@pytest.mark.parametrize(
    ("name", "initials"), [("", "X"), ("x" * 61, "X"), ("a\x00b", "X"), ("Ines", "toolong"),
                           ("Ines", "I.M")],
)  # fmt: skip
def test_a_name_or_initials_that_will_not_do_are_refused(
    book: Book, name: str, initials: str
) -> None:
    with pytest.raises(BadInputError):
        add_person(book, name, initials, "owner", WORDS, NOW)
    assert not has_owner(book)
