"""The record of people only grows; who saw what goes after its day and not before."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
from django.db import DatabaseError

from swardbook.book.opening import Book, only_looking
from swardbook.book.people import add_person, end_access, log_in, people, who_is
from swardbook.book.who_did_what import (
    EXPORTED,
    acting_as,
    tell_done,
    tell_saw,
    wait_for_marks,
    who_did_what,
)
from swardbook.records.beside import forget_marks
from swardbook.records.chain import Damage
from swardbook.records.damaged import remember_damage
from swardbook.records.happened import MOST_UNKNOWN, UNKNOWN
from swardbook.records.opening import open_store
from swardbook.records.people_models import HappenedRow, SawRow
from swardbook.records.setup import add_connection, drop_connection, sqlite_database
from tests.support.books import small_book
from tests.support.people import hash_lightly, let_people_in

NOW = datetime(2026, 4, 3, 8, 0, tzinfo=UTC)


@pytest.fixture
def book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Book]:
    hash_lightly(monkeypatch)
    forget_marks()
    opened = small_book(tmp_path / "book")
    let_people_in(opened)
    yield opened
    assert wait_for_marks()
    opened.store.close()


def alias(book: Book) -> str:
    return book.store._rows.alias


def test_what_was_done_is_neither_changed_nor_taken_away(book: Book) -> None:
    rows = HappenedRow.objects.using(alias(book))
    assert rows.count() >= 6
    with pytest.raises(DatabaseError, match="only grows"):
        rows.update(what="nothing")
    with pytest.raises(DatabaseError, match="only grows"):
        rows.all().delete()


def test_who_saw_what_goes_after_its_day_and_not_before(book: Book) -> None:
    key, today = people(book)[0].key, datetime.now(UTC).date()
    rows = SawRow.objects.using(alias(book))
    ground = book.store.people().key()
    for number, until in enumerate((today - timedelta(days=1), today + timedelta(days=1))):
        rows.create(ground_id=ground, person_id=key, day=date(2026, 1, 1 + number), what="x",
                    kept_until=until)  # fmt: skip
    with pytest.raises(DatabaseError, match="only grows"):
        rows.update(what="y")
    with pytest.raises(DatabaseError, match="only grows"):
        rows.all().delete()
    tell_saw(book, key, "the diary", datetime.now(UTC))
    assert wait_for_marks()
    assert {(row.what, row.kept_until > today) for row in rows.all()} == {
        ("x", True), ("the diary", True),
    }  # fmt: skip


def test_a_look_leaves_its_line_and_can_leave_nothing_else(book: Book) -> None:
    key = people(book)[0].key
    before = book.store.writes()
    with only_looking(), acting_as(key, "session"):
        tell_done(book, EXPORTED)
        for _ in range(3):
            tell_saw(book, key, "the diary", datetime.now(UTC))
    assert wait_for_marks()
    newest = who_did_what(book).done[0]
    assert (newest.what, newest.initials, newest.by) == (EXPORTED, "IM", "session")
    assert [each.what for each in who_did_what(book).saw] == ["the diary"]
    assert book.store.writes() == before


def test_marks_of_many_threads_are_all_written_once(book: Book) -> None:
    keys = [each.key for each in people(book)]

    def look() -> None:
        for key in keys:
            for what in ("the diary", "the people"):
                tell_saw(book, key, what, datetime.now(UTC))

    looks = [threading.Thread(target=look) for _ in range(8)]
    for each in looks:
        each.start()
    for each in looks:
        each.join()
    assert wait_for_marks()
    assert SawRow.objects.using(alias(book)).count() == len(keys) * 2


def test_nothing_is_written_beside_into_a_book_with_damage(book: Book) -> None:
    file, key = book.settings.book_file, people(book)[0].key
    remember_damage(file, (Damage(1, "An entry", "it is not what was saved"),))
    tell_saw(book, key, "the diary", datetime.now(UTC))
    assert wait_for_marks()
    assert SawRow.objects.using(alias(book)).count() == 0


def test_strangers_fill_no_book(book: Book) -> None:
    record = book.store.people().record()
    for _ in range(MOST_UNKNOWN + 5):
        record.add_refused(None)
    assert HappenedRow.objects.using(alias(book)).filter(what=UNKNOWN).count() == MOST_UNKNOWN


def test_a_book_without_people_has_no_record(tmp_path: Path) -> None:
    alone = small_book(tmp_path / "alone")
    tell_done(alone, EXPORTED)
    assert wait_for_marks()
    assert who_did_what(alone).done == ()
    alone.store.close()


def test_the_part_before_is_asked_for_by_its_number(book: Book) -> None:
    end_access(book, "Bram Tidewell")
    add_person(book, "Wim Astley", "", "reader", "nine brown hares run", NOW)
    whole = who_did_what(book).done
    first = who_did_what(book, most=2)
    rest = who_did_what(book, before=first.earlier)
    assert first.done + rest.done == whole
    assert rest.earlier == 0


def test_a_book_from_before_keeps_its_people_and_their_log_ins(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from django.core.management import call_command

    hash_lightly(monkeypatch)
    before = small_book(tmp_path / "before")
    let_people_in(before)
    token = log_in(before, "Odalys Fenn", "seven grey herons", "192.0.2.7", NOW).token
    before.store.close()
    connection = add_connection(sqlite_database(str(before.settings.book_file)))
    call_command("migrate", "records", "0008", database=connection, verbosity=0)
    drop_connection(connection)
    after = replace(before, store=open_store(before.settings))
    assert [each.role for each in people(after)] == ["owner", "worker", "reader"]
    person = who_is(after, token, NOW)
    assert person is not None
    assert (person.name, person.seen_on) == ("Odalys Fenn", NOW.date())
    assert who_did_what(after).done == ()
    end_access(after, "Bram Tidewell")
    with pytest.raises(DatabaseError, match="only grows"):
        HappenedRow.objects.using(alias(after)).all().delete()
    after.store.close()
