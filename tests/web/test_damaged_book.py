"""A damaged book on a server: read by whoever is in, and said plainly to who would come in."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from django.test import Client

from swardbook.book.opening import open_book
from swardbook.records.chain import Damage
from swardbook.records.damaged import remember_damage
from swardbook.settings import Settings
from swardbook.web import opened
from swardbook.web.asker import cookie_name
from tests.support.books import TODAY, small_book
from tests.support.people import (
    NAMES,
    OTHERS,
    PASSWORDS,
    browser,
    hash_lightly,
    let_people_in,
    token_of,
)


@pytest.fixture
def reader(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Client]:
    """Give somebody who was logged in before damage was found."""
    home = tmp_path / "home"
    small_book(home).store.close()
    monkeypatch.setenv("SWARDBOOK_HOME", str(home))
    for name, text in OTHERS.told().items():
        monkeypatch.setenv(name, text)
    hash_lightly(monkeypatch)
    opened.close()
    book = open_book(Settings(home), lambda: TODAY)
    let_people_in(book)
    found = browser(enforce_csrf=False)
    found.cookies[cookie_name()] = token_of(book, "reader", opened.clock_now())
    book.store.close()
    remember_damage(home / "book.sqlite3", [Damage(7, "Entry 7", "it is not what was written")])
    yield found
    opened.close()


def test_who_would_log_in_is_told_what_is_wrong_and_asked_for_no_password(reader: Client) -> None:
    stranger = browser(enforce_csrf=False)
    typed = {"name": NAMES["owner"], "password": PASSWORDS["owner"]}
    for answer in (stranger.get("/log-in/"), stranger.post("/log-in/", typed)):
        told = answer.content.decode()
        assert answer.status_code == 503
        assert "The book is damaged" in told
        assert "swardbook restore newest" in told
        assert 'name="password"' not in told
        assert "Entry 7" not in told  # a stranger learns nothing of what is in it
    assert cookie_name() not in stranger.cookies
    assert stranger.get("/log-in/code/").status_code == 302
    assert reader.get("/log-in/").status_code == 302


def test_who_is_logged_in_goes_on_reading_and_sees_what_is_damaged(reader: Client) -> None:
    for address in ("/", "/diary/", "/ground/"):
        answer = reader.get(address)
        assert answer.status_code == 200
        assert "only read and nothing is written: Entry 7" in answer.content.decode()
