"""What is asked first is worked out before anybody asks."""

from __future__ import annotations

from pathlib import Path

import pytest
from django.test import Client

from swardbook.book import plan
from swardbook.web import opened, warming
from swardbook.web.page import every_page


def fail(*_: object) -> None:
    raise AssertionError("worked out once more")


def test_the_morning_look_is_there_before_it_is_asked_for(
    client: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    morning = next(page for page in every_page() if page.name == warming.FIRST)
    stamp = opened.the_book().store.stamp()
    warming.warm([morning])
    monkeypatch.setattr(plan, "morning", fail)
    assert client.get("/").status_code == 200
    assert opened.the_book().store.stamp() == stamp


def test_the_morning_look_comes_before_what_else_a_phone_fetches() -> None:
    names = [page.name for page in warming.fetched_first()]
    assert names[0] == warming.FIRST
    assert {"week", "ground", "done", "cut", "more"} <= set(names)


def test_a_page_that_fails_keeps_no_other_from_being_made_ready(
    client: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    pages = {page.name: page for page in every_page()}
    monkeypatch.setattr(plan, "morning", fail)
    warming.warm([pages["lot"], pages["phone"]])
    assert client.get("/lawn/phone/").status_code == 200


def test_where_there_is_no_book_nothing_is_made_ready(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SWARDBOOK_HOME", str(tmp_path))
    opened.close()
    warming.warm()
    assert not list(tmp_path.iterdir())
