"""A sending under a mark of its own is answered once, also after a restart or a crash."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from swardbook.book.diary import write
from swardbook.book.once import answered_once
from swardbook.book.opening import Book
from swardbook.foundation.dates import When
from swardbook.foundation.errors import BadInputError
from swardbook.husbandry.happenings import Cut
from swardbook.records.answered import LASTS
from tests.support.books import MAIN, TODAY, small_book

NOW = datetime(2011, 10, 8, 7, tzinfo=UTC)
SENDING = ("Ines", "cut", "one")


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return small_book(tmp_path)


def cut(book: Book) -> Mapping[str, Any]:
    return {"id": str(write(book, Cut(8.0, True), When.on(TODAY), zone=MAIN.name).id)}


@pytest.mark.parametrize("is_quick", [True, False])
def test_a_sending_that_comes_again_writes_nothing_and_is_answered_as_before(
    book: Book, is_quick: bool
) -> None:
    answers = [
        answered_once(book, sending, NOW, lambda: cut(book), is_quick=is_quick)
        for sending in (SENDING, SENDING, ("Ines", "cut", "two"), ("Odalys", "cut", "one"))
    ]
    assert answers[0] == answers[1]
    assert len({each["id"] for each in answers}) == 3
    assert len(book.store.whole_diary()) == 3


def test_what_fails_keeps_neither_entry_nor_mark_and_may_be_sent_again(book: Book) -> None:
    def crash() -> Mapping[str, Any]:
        cut(book)
        raise RuntimeError("the power failed")

    with pytest.raises(RuntimeError):
        answered_once(book, SENDING, NOW, crash, is_quick=True)
    assert book.store.whole_diary() == ()
    answered_once(book, SENDING, NOW, lambda: cut(book), is_quick=True)
    assert len(book.store.whole_diary()) == 1


@pytest.mark.parametrize("is_quick", [True, False])
def test_something_else_under_the_same_mark_is_refused_and_not_taken_for_a_second_sending(
    book: Book, is_quick: bool
) -> None:
    def sent(height: str) -> Mapping[str, Any]:
        said = {"height": height}
        return answered_once(book, SENDING, NOW, lambda: cut(book), is_quick=is_quick, said=said)

    first = sent("8")
    with pytest.raises(BadInputError, match="another mark"):
        sent("9")
    assert sent("8") == first
    assert len(book.store.whole_diary()) == 1


def test_marks_go_after_a_month(book: Book) -> None:
    answered_once(book, SENDING, NOW, lambda: cut(book), is_quick=True)
    later = NOW + LASTS + timedelta(seconds=1)
    answered_once(book, ("Ines", "cut", "two"), later, lambda: cut(book), is_quick=True)
    answered_once(book, SENDING, later, lambda: cut(book), is_quick=True)
    assert len(book.store.whole_diary()) == 3
