"""Every page and every way in, for owner, worker, reader and stranger: as the table says."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from django.http import HttpRequest, HttpResponse
from django.test import Client, RequestFactory
from django.urls import reverse

from swardbook.book.diary import write
from swardbook.book.serving import ENVIRONMENT
from swardbook.foundation.dates import When
from swardbook.foundation.errors import RefusedError
from swardbook.husbandry.happenings import Cut
from swardbook.web.asker import cookie_name, who_asks
from swardbook.web.gate import allowed_methods, guarded
from swardbook.web.opened import clock_now, the_book
from swardbook.web.page import Page, Role
from swardbook.web.urls import PAGES, urlpatterns
from tests.support.addresses import shown_pages
from tests.support.people import (
    OTHERS,
    Watched,
    browser,
    hash_lightly,
    let_people_in,
    token_of,
)

ROLES = {"stranger": Role.STRANGER, "reader": Role.READER, "worker": Role.WORKER,
         "owner": Role.OWNER}  # fmt: skip
METHODS = ("GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS", "TRACE")
INSIDE = "was let in"


@pytest.fixture(scope="module")
def tokens(home: Path) -> Iterator[dict[str, str]]:
    """Let other machines in, and log one of each role in."""
    assert home.is_dir()
    with pytest.MonkeyPatch.context() as patch:
        for name, text in OTHERS.told().items():
            patch.setenv(name, text)
        hash_lightly(patch)
        let_people_in(the_book())
        yield {
            role: token_of(the_book(), role, clock_now()) for role in ("owner", "worker", "reader")
        }


def asked(page: Page, method: str, role: str, tokens: dict[str, str]) -> Any:
    """Ask for a page whose view only says that it was reached."""

    def inside(request: HttpRequest, **parts: Any) -> HttpResponse:
        del request, parts
        return HttpResponse(INSIDE)

    request = RequestFactory().generic(method, "/somewhere/", secure=True)
    if role in tokens:
        request.COOKIES[cookie_name()] = tokens[role]
    return guarded(replace(page, view=inside))(request, **dict(page.example))


@pytest.mark.parametrize("role", ROLES)
@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_whoever_asks_is_answered_as_the_table_says(
    page: Page, role: str, tokens: dict[str, str]
) -> None:
    for method in METHODS:
        answer = asked(page, method, role, tokens)
        is_in = answer.content.decode() == INSIDE
        if method not in allowed_methods(page):
            assert (answer.status_code, is_in) == (405, False)
        elif ROLES[role] >= page.role:
            assert (answer.status_code, is_in) == (200, True)
        elif page.name.startswith("api-"):
            assert (answer.status_code, is_in) == (401 if role == "stranger" else 403, False)
            assert answer.headers["Content-Type"] == "application/json"
        elif role == "stranger":
            assert (answer.status_code, is_in) == (302, False)
            assert answer.headers["Location"].startswith(reverse("log-in"))
        else:
            assert (answer.status_code, is_in) == (403, False)
            assert f"You are a {role}" in answer.content.decode()


def test_every_address_there_is_stands_behind_the_gate() -> None:
    assert [getattr(each.callback, "page", None) for each in urlpatterns] == list(PAGES)


def test_only_a_few_pages_are_for_strangers_and_none_tells_of_the_ground(
    tokens: dict[str, str],
) -> None:
    assert tokens
    for_strangers = [page.name for page in PAGES if page.role is Role.STRANGER]
    assert set(for_strangers) == {
        "worker", "manifest", "log-in", "log-in-code", "log-out", "logged-out", "join",
        "begin-here", "file-calendar", "api-health",
    }  # fmt: skip
    assert browser().get(reverse("file-calendar", args=["made-up"])).status_code == 404
    for name in ("worker", "manifest", "log-in", "logged-out"):
        text = browser().get(reverse(name)).content.decode()
        assert "Fennowick" not in text
        assert "2011" not in text


def test_what_is_not_listed_is_not_there(tokens: dict[str, str]) -> None:
    assert tokens
    for path in ("/admin/", "/nothing/", "/api/", "/static/../book.sqlite3"):
        answer = browser().get(path)
        assert answer.status_code == 404
        assert "There is no page at this address." in answer.content.decode()


def test_whatever_a_page_does_a_reader_writes_nothing_into_the_book(
    home: Path, tokens: dict[str, str]
) -> None:
    def careless(request: HttpRequest, **parts: Any) -> HttpResponse:
        del request, parts
        write(the_book(), Cut(8.0, True), When.on(the_book().today), zone="Main court")
        return HttpResponse(INSIDE)

    watched = Watched(home)
    page = Page("careless/", careless, "careless", Role.READER, ("GET", "POST"))
    request = RequestFactory().post("/careless/", secure=True)
    request.COOKIES[cookie_name()] = tokens["reader"]
    with pytest.raises(RefusedError, match="looked at"):
        guarded(page)(request)
    assert not watched.is_written()
    request = RequestFactory().post("/careless/", secure=True)
    request.COOKIES[cookie_name()] = tokens["worker"]
    assert guarded(page)(request).status_code == 200
    assert watched.is_written()
    watched.close()


def test_a_stranger_who_looks_leaves_no_trace_in_the_book(
    home: Path, tokens: dict[str, str]
) -> None:
    assert tokens
    watched = Watched(home)
    for address, _ in shown_pages():
        browser().get(address)
        browser().get(address, headers={"cookie": f"{cookie_name()}=made-up"})
    browser().get(reverse("log-in"))
    assert not watched.is_written()
    watched.close()


def test_no_address_lets_a_stranger_write(home: Path, tokens: dict[str, str]) -> None:
    assert tokens
    watched = Watched(home)
    for page in PAGES:
        if page.role > Role.STRANGER and "POST" in page.methods:
            known = {"entry": "00000000-0000-0000-0000-000000000001", "person": 1}
            example = dict(page.example) or known
            keys = {each for each in example if f":{each}>" in page.route}
            address = reverse(page.name, kwargs={each: example[each] for each in keys})
            answer = browser(enforce_csrf=False).post(address, {"id": "x"})
            assert answer.status_code in {302, 401}, address
    assert not watched.is_written()
    watched.close()


def test_the_owner_of_this_machine_is_known_only_on_it(
    home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert home.is_dir()
    monkeypatch.delenv(ENVIRONMENT, raising=False)
    made = RequestFactory()
    assert who_asks(made.get("/")).by == "own machine"
    assert who_asks(made.get("/", REMOTE_ADDR="::1")).role is Role.OWNER
    assert who_asks(made.get("/", REMOTE_ADDR="192.168.1.7")).role is Role.STRANGER
    assert who_asks(made.get("/", headers={"x-forwarded-for": "127.0.0.1"})).by == ""
    for name, text in OTHERS.told().items():
        monkeypatch.setenv(name, text)
    assert who_asks(made.get("/")).role is Role.STRANGER


def test_a_stranger_program_is_answered_in_json_also_without_a_token(
    tokens: dict[str, str],
) -> None:
    assert tokens
    answer = browser().post("/api/entries/", "{}", content_type="application/json")
    assert (answer.status_code, answer.json()) == (401, {"refusal": "Nobody is logged in here."})


def test_an_entry_carries_the_initials_of_who_wrote_it(tokens: dict[str, str]) -> None:
    client: Client = browser(enforce_csrf=False)
    client.cookies[cookie_name()] = tokens["worker"]
    for number, who in ((1, ""), (2, "BT")):
        told = {
            "id": f"00000000-0000-4000-8000-00000000000{number}", "kind": "cut",
            "zone": "Main court", "fields": {"boxed": "yes"}, "who": who,
        }  # fmt: skip
        sent = client.post("/api/entries/", told, content_type="application/json")
        assert sent.status_code == 201
    assert [each.who for each in the_book().store.whole_diary()[-2:]] == ["OF", "BT"]
