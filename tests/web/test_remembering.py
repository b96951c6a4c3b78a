"""Answers held while the book stands, and long ones worked out beside the page."""

from __future__ import annotations

import threading
import time
from pathlib import Path

import pytest

from swardbook.book.diary import write
from swardbook.book.opening import Book
from swardbook.foundation.dates import When
from swardbook.husbandry.happenings import Note
from swardbook.web import remembering
from swardbook.web.opened import the_book
from swardbook.web.remembering import Working, remembered, soon

pytestmark = pytest.mark.usefixtures("home")


def waited_for(question: str, work: object) -> object:
    """Ask until it is there."""
    found: object = Working("", 0, 0.0)
    for _ in range(200):
        found = soon(question, work, "It", 1)  # type: ignore[arg-type]
        if not isinstance(found, Working):
            return found
        time.sleep(0.05)
    return found


def test_an_answer_is_worked_out_once_until_something_is_written(home: Path) -> None:
    assert home.is_dir()
    asked: list[Book] = []

    def work(book: Book) -> int:
        asked.append(book)
        return len(asked)

    assert [remembered("count", work) for _ in range(3)] == [1, 1, 1]
    book = the_book()
    write(book, Note("a mole"), When.on(book.today))
    assert remembered("count", work) == 2


def test_a_fault_beside_the_page_is_told_once_and_the_page_does_not_wait_for_ever() -> None:
    def work(book: Book) -> int:
        raise ZeroDivisionError(book.today)

    with pytest.raises(ZeroDivisionError):
        waited_for("broken", work)
    assert isinstance(soon("broken", work, "It", 1), Working)


def test_a_quick_answer_does_not_wait_for_a_slow_one() -> None:
    done = threading.Event()
    assert isinstance(soon("slow", lambda _: done.wait(20), "Slow", 20), Working)
    assert waited_for("quick", lambda _: "here") == "here"
    assert isinstance(soon("slow", lambda _: True, "Slow", 20), Working)
    done.set()
    assert waited_for("slow", lambda _: True) is True
    remembering.forget()
