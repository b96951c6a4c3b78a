"""Coming in and going out: log-in, waits, sessions, cookies, passwords, and the page of people."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from django.contrib.auth.hashers import Argon2PasswordHasher
from django.test import Client

from swardbook.book import people
from swardbook.web import opened
from swardbook.web.asker import cookie_name
from swardbook.web.opened import the_book
from swardbook.web.views.entering import own_path
from tests.support.people import (
    NAMES,
    OTHERS,
    PASSWORDS,
    Watched,
    browser,
    hash_lightly,
    let_people_in,
    send,
    token_in,
)

WRONG = "This name and this password do not belong together."


@pytest.fixture(scope="module")
def peopled(home: Path) -> Iterator[Path]:
    with pytest.MonkeyPatch.context() as patch:
        for name, text in OTHERS.told().items():
            patch.setenv(name, text)
        hash_lightly(patch)
        let_people_in(the_book())
        yield home


@pytest.fixture
def client(peopled: Path) -> Client:
    """Give the browser of a stranger from another machine, whom nothing slows down yet."""
    assert peopled.is_dir()
    the_book().store.people().forget_tries(before=opened.clock_now() + timedelta(days=2))
    return browser()


def log_in(client: Client, role: str, to: str = "") -> Any:
    page = f"/log-in/?to={to}" if to else "/log-in/"
    return send(client, page, name=NAMES[role], password=PASSWORDS[role], to=to)


def test_a_stranger_comes_to_the_page_asked_for_after_the_log_in(client: Client) -> None:
    asked = client.get("/ground/Main%20court/?view=all")
    assert asked.headers["Location"] == "/log-in/?to=/ground/Main%2520court/%3Fview%3Dall"
    shown = client.get(asked.headers["Location"]).content.decode()
    assert 'name="to" value="/ground/Main%20court/?view=all"' in shown
    answer = log_in(client, "reader", "/week/")
    assert (answer.status_code, answer.headers["Location"]) == (302, "/week/")
    assert client.get("/ground/").status_code == 200


@pytest.mark.parametrize(
    "elsewhere",
    ["//elsewhere.example/", "https://elsewhere.example/", "/\\elsewhere.example", "javascript:x",
     "\\\\elsewhere.example", " //elsewhere.example", "/\t/elsewhere.example", "elsewhere", ""],
)  # fmt: skip
def test_nobody_is_led_elsewhere_by_a_log_in(client: Client, elsewhere: str) -> None:
    assert own_path(elsewhere) == "/"
    assert log_in(client, "reader", elsewhere).headers["Location"] == "/"


def test_cookies_go_by_tls_alone_and_scripts_do_not_see_the_session(client: Client) -> None:
    answer = log_in(client, "worker")
    kept = answer.cookies[cookie_name()]
    assert cookie_name().startswith("__Host-")
    assert (kept["secure"], kept["httponly"], kept["samesite"]) == (True, True, "Lax")
    assert (kept["path"], kept["domain"]) == ("/", "")


def test_each_log_in_has_a_token_of_its_own_and_the_one_before_ends(client: Client) -> None:
    client.cookies[cookie_name()] = "planted-by-somebody"
    log_in(client, "worker")
    first = client.cookies[cookie_name()].value
    form = client.cookies["csrftoken"].value
    assert first != "planted-by-somebody"
    page = client.get("/more/").content.decode()
    again = client.post(
        "/log-in/",
        {"csrfmiddlewaretoken": token_in(page), "name": NAMES["worker"],
         "password": PASSWORDS["worker"]},
    )  # fmt: skip
    assert again.status_code == 302
    assert client.cookies[cookie_name()].value != first
    assert client.cookies["csrftoken"].value != form
    assert people.who_is(the_book(), first, opened.clock_now()) is None


def test_the_book_holds_no_token_and_no_password(peopled: Path, client: Client) -> None:
    log_in(client, "owner")
    kept = b"".join(each.read_bytes() for each in peopled.glob("book.sqlite3*"))
    assert client.cookies[cookie_name()].value.encode() not in kept
    assert PASSWORDS["owner"].encode() not in kept
    assert b"argon2id" in kept


def test_a_wrong_name_and_a_wrong_password_are_answered_alike_and_both_are_hashed(
    client: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    hashed: list[str] = []
    encode, verify = Argon2PasswordHasher.encode, Argon2PasswordHasher.verify

    def counted_encode(self: Any, password: str, salt: str) -> Any:
        hashed.append("made")
        return encode(self, password, salt)

    def counted_verify(self: Any, password: str, encoded: str) -> Any:
        hashed.append("compared")
        return verify(self, password, encoded)

    monkeypatch.setattr(Argon2PasswordHasher, "encode", counted_encode)
    monkeypatch.setattr(Argon2PasswordHasher, "verify", counted_verify)
    told = []
    for name in (NAMES["owner"], "Nobody Known"):
        answer = send(client, "/log-in/", name=name, password="not this one at all")
        told.append((answer.status_code, WRONG in answer.content.decode()))
        assert cookie_name() not in answer.cookies
    assert told == [(403, True), (403, True)]
    assert hashed == ["compared", "made"]


def test_wrong_log_ins_slow_the_next_down_in_words_and_never_for_ever(
    client: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    now = opened.clock_now()
    monkeypatch.setattr("swardbook.web.views.entering.clock_now", lambda: now)
    answers = [send(client, "/log-in/", name=NAMES["reader"], password="guess") for _ in range(6)]
    assert [each.status_code for each in answers] == [403, 403, 403, 403, 429, 429]
    text = answers[-1].content.decode()
    assert "Try again in 2 seconds" in text
    assert log_in(client, "reader").status_code == 429
    opened.close()  # as after a restart
    assert log_in(client, "reader").status_code == 429
    now += timedelta(seconds=61)
    assert log_in(client, "reader").status_code == 302


def test_a_log_in_without_the_token_of_its_page_is_refused(client: Client) -> None:
    sent = {"name": NAMES["owner"], "password": PASSWORDS["owner"]}
    answer = client.post("/log-in/", sent)
    assert answer.status_code == 403
    assert cookie_name() not in answer.cookies
    client.get("/log-in/")
    elsewhere = client.post(
        "/log-in/", {**sent, "csrfmiddlewaretoken": client.cookies["csrftoken"].value},
        headers={"origin": "https://elsewhere.example"},
    )  # fmt: skip
    assert elsewhere.status_code == 403


def test_after_the_log_out_the_token_opens_nothing(client: Client) -> None:
    log_in(client, "reader")
    token = client.cookies[cookie_name()].value
    page = client.get("/more/").content.decode()
    assert "Bram Tidewell (BT), reader" in page
    out = client.post("/log-out/", {"csrfmiddlewaretoken": token_in(page)}, follow=True)
    assert "Logged out" in out.content.decode()
    assert out.headers["Clear-Site-Data"] == '"cache"'
    client.cookies[cookie_name()] = token
    assert client.get("/ground/").status_code == 302


def test_a_session_ends_by_itself(client: Client, monkeypatch: pytest.MonkeyPatch) -> None:
    log_in(client, "reader")
    later = opened.clock_now() + people.LASTS + timedelta(seconds=1)
    monkeypatch.setattr("swardbook.web.opened.clock_now", lambda: later)
    assert client.get("/ground/").status_code == 302


def test_looking_while_logged_in_writes_nothing(peopled: Path, client: Client) -> None:
    log_in(client, "worker")
    watched = Watched(peopled)
    for page in ("/", "/more/", "/password/", "/log-in/", "/people/"):
        client.get(page)
    assert not watched.is_written()
    watched.close()


def test_a_reader_is_offered_no_page_that_writes(client: Client) -> None:
    log_in(client, "reader")
    text = client.get("/more/").content.decode()
    for address in ('href="/done/"', 'href="/people/"'):
        assert address not in text
    assert 'href="/ground/"' in text


def test_somebody_let_in_chooses_a_password_of_their_own_before_anything_else(
    client: Client,
) -> None:
    log_in(client, "owner")
    lent, own = "a lent one for now", "under nine old oaks"
    added = send(client, "/people/", do="add", name="Perrin Holt", role="worker", password=lent)
    assert added.status_code == 302
    theirs = browser()
    assert send(theirs, "/log-in/", name="perrin  holt", password=lent).headers[
        "Location"
    ] == "/password/"  # fmt: skip
    assert theirs.get("/ground/").headers["Location"] == "/password/"
    told = theirs.post(
        "/api/entries/", {}, headers={"x-csrftoken": theirs.cookies["csrftoken"].value}
    )
    assert told.status_code == 403
    for new, again in ((own, "another"), ("short", "short"), (lent, lent)):
        assert send(theirs, "/password/", old=lent, new=new, again=again).status_code == 422
    assert send(theirs, "/password/", old="no", new=own, again=own).status_code == 403
    before = theirs.cookies[cookie_name()].value
    assert send(theirs, "/password/", old=lent, new=own, again=own).status_code == 302
    assert theirs.cookies[cookie_name()].value != before
    assert theirs.get("/ground/").status_code == 200


def people_key(role: str) -> int:
    """Give the number of somebody in the book."""
    return the_book().store.people().named(NAMES[role]).key


def test_an_owner_changes_roles_and_ends_access_at_once(client: Client) -> None:
    log_in(client, "owner")
    log_in(theirs := browser(), "worker")
    assert theirs.get("/done/").status_code == 200
    page = f"/people/{people_key('worker')}/"
    send(client, page, do="role", role="reader")
    assert theirs.get("/done/").status_code == 403
    assert send(client, page, do="end").status_code == 422
    send(client, page, do="end", sure="yes", nothing_more="yes")
    assert theirs.get("/ground/").status_code == 302
    assert client.get(page).status_code == 404
    assert "Those who have left" in client.get("/people/").content.decode()
    send(client, "/people/", do="add", name=NAMES["worker"], role="worker",
         password=PASSWORDS["worker"])  # fmt: skip
    text = client.get("/people/").content.decode()
    assert "OF, worker." in text, "comes back under the initials of before"


def test_a_ground_keeps_an_owner_and_slips_come_back_as_typed(client: Client) -> None:
    log_in(client, "owner")
    for sent in ({"do": "role", "role": "reader"}, {"do": "end", "sure": "yes"}):
        answer = send(client, f"/people/{people_key('owner')}/", **sent)
        assert (answer.status_code, "at least one owner" in answer.content.decode()) == (422, True)
    slip = send(client, "/people/", do="add", name="Ida Marlow", initials="im", role="worker",
                password="under nine old oaks")  # fmt: skip
    text = slip.content.decode()
    assert slip.status_code == 422
    assert "initials that nobody here has yet" in text
    assert 'value="Ida Marlow"' in text
    assert "under nine old oaks" not in text
    assert send(client, "/people/", do="fly").status_code == 422
