"""Answers held while the book stands, and long ones worked out beside the page."""

from __future__ import annotations

import threading
import time
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest
from django.db import connections
from django.test import Client
from django.test.utils import CaptureQueriesContext

from swardbook.book.diary import write
from swardbook.book.opening import Book
from swardbook.foundation.dates import When
from swardbook.husbandry.happenings import Note
from swardbook.web import remembering
from swardbook.web.opened import standing_still, the_book
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


def test_the_day_of_a_page_follows_the_site_at_once() -> None:
    def day_shown() -> date:
        with standing_still():
            return the_book().today

    book = the_book()
    before = day_shown()
    assert before == book.today
    site = book.store.site()
    assert site is not None
    later = before + timedelta(days=3)
    book.store.save_site(replace(site, made_up_today=later))
    assert [day_shown(), day_shown()] == [later, later]
    book.store.save_site(replace(site, made_up_today=before))
    assert day_shown() == before


def test_a_page_that_only_looks_asks_a_ground_for_its_state_once(client: Client) -> None:
    client.get("/lawn/phone/")
    with CaptureQueriesContext(connections[the_book().store._rows.alias]) as caught:
        client.get("/lawn/phone/")
    assert len(caught) == 1
