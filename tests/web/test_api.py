"""The way in for phones: once, never refused for what was typed, and only with its token."""

from __future__ import annotations

import json
from typing import Any
from uuid import uuid4

import pytest
from django.test import Client

from swardbook.book.diary import find
from swardbook.web.opened import the_book


def send(client: Client, body: Any) -> Any:
    client.get("/")
    token = client.cookies["csrftoken"].value
    text = body if isinstance(body, str) else json.dumps(body)
    return client.post(
        "/api/entries/", text, content_type="application/json", HTTP_X_CSRFTOKEN=token
    )


def entry(**fields: Any) -> dict[str, Any]:
    return {
        "id": str(uuid4()),
        "kind": "cut",
        "zone": "Main court",
        "fields": {"boxed": "yes"},
        **fields,
    }


def test_an_entry_is_kept_once_however_often_it_comes(client: Client) -> None:
    one, before = entry(), len(the_book().store.chain())
    assert send(client, one).status_code == 201
    again = send(client, {**one, "note": "typed since"})
    assert (again.status_code, again.json()["was_there"]) == (200, True)
    assert len(the_book().store.chain()) == before + 1


def test_yesterday_is_counted_from_the_day_it_was_typed(client: Client) -> None:
    one = entry(when="yesterday", said_on="2011-10-03")
    send(client, one)
    assert find(the_book(), one["id"]).day.isoformat() == "2011-10-02"


@pytest.mark.parametrize(
    "odd",
    [
        {"fields": {"height_of_cut_mm": "tall"}}, {"kind": "mowing about"}, {"zone": "Mian court"},
        {"when": "31 September"}, {"fields": {"nothing_of_ours": "1"}}, {"when": "tomorrow"},
        {"fields": {"height_of_cut_mm": "9" * 5000}}, {"kind": "", "fields": {}},
    ],
)  # fmt: skip
def test_nothing_typed_is_refused_or_lost(client: Client, odd: dict[str, Any]) -> None:
    one = entry(**odd)
    answer = send(client, one)
    assert answer.status_code == 201
    kept = find(the_book(), one["id"])
    assert kept.needs_a_look
    assert kept.what.kind == "note"


@pytest.mark.parametrize("body", ["", "[]", "null", "{", '{"id": 7}', '{"id": "x", "kind": "cut"}'])
def test_what_is_no_entry_is_answered_with_a_sentence(client: Client, body: str) -> None:
    before = len(the_book().store.chain())
    answer = send(client, body)
    assert answer.status_code in {400, 422}
    assert answer.json()["refusal"]
    assert len(the_book().store.chain()) == before


def test_a_letter_of_a_hundred_kilobytes_is_too_long(client: Client) -> None:
    assert send(client, entry(note="x" * 100_001)).status_code == 413


def test_without_its_token_nothing_comes_in(client: Client) -> None:
    answer = client.post("/api/entries/", json.dumps(entry()), content_type="application/json")
    assert answer.status_code == 403


def test_looking_at_the_way_in_takes_nothing(client: Client) -> None:
    assert client.get("/api/entries/").status_code == 405


def test_the_worker_names_every_page_that_opens_without_signal(client: Client) -> None:
    answer = client.get("/worker.js")
    assert answer.headers["Content-Type"].startswith("text/javascript")
    text = answer.content.decode()
    for page in ('"/"', '"/week/"', '"/done/cut/"', '"/done/water/"', "capture.js"):
        assert page in text
    assert "{%" not in text
    assert "&quot;" not in text
