"""A firm's pages: lawns a line each, weeks, a lot in three taps, and only what somebody may see."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from html import unescape
from pathlib import Path

import pytest
from django.test import Client

from swardbook.book import people
from swardbook.book.lot_trace import trace_lot
from swardbook.web import opened, remembering
from tests.support.firms import LAWNS, YARD, at, firm_book

CODE = "BB-0100"
NOW = datetime(2011, 10, 8, 9, tzinfo=UTC)


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """Lay the firm's book where pages look for it."""
    home = tmp_path_factory.mktemp("firm") / "home"
    patch = pytest.MonkeyPatch()
    patch.setenv("SWARDBOOK_HOME", str(home))
    opened.close()
    firm_book(home).store.close()
    yield home
    opened.close()
    remembering.forget()
    patch.undo()


@pytest.fixture
def firm(kept: Path) -> Iterator[Path]:
    """Give the book as it was before the last test."""
    held = (kept / "book.sqlite3").read_bytes()
    yield kept
    opened.close()
    for ending in ("-wal", "-shm"):
        (kept / f"book.sqlite3{ending}").unlink(missing_ok=True)
    (kept / "book.sqlite3").write_bytes(held)


@pytest.fixture
def client(firm: Path) -> Client:
    assert firm
    return Client(enforce_csrf_checks=True, HTTP_HOST="localhost")


def text_of(client: Client, address: str) -> str:
    answer = client.get(address)
    assert answer.status_code == 200, answer.content.decode()[:2000]
    return unescape(answer.content.decode())


def post(client: Client, address: str, **sent: str) -> int:
    token = re.search(r'name="csrfmiddlewaretoken" value="(\w+)"', text_of(client, address))
    assert token is not None
    return client.post(address, {"csrfmiddlewaretoken": token[1], **sent}).status_code


def links(text: str) -> list[str]:
    return re.findall(r'href="([^"]+)"', text.partition("<main")[2])


def test_from_all_lawns_a_lot_is_traced_to_every_lawn_in_three_taps(client: Client) -> None:
    """Each step takes a link that the page before it shows; the last page has it all."""
    address, taps = "/all-lawns/", 0
    for wanted in ("/firm-seed/", f"/firm-seed/lot/?code={CODE}"):
        assert wanted in links(text_of(client, address))
        address, taps = wanted, taps + 1
    text = text_of(client, address)
    found = trace_lot(opened.any_book(), CODE)
    assert all(f'href="/at/{slug}/"' in text for slug, _, _ in found.notes)
    assert all(f"{each.zone} " in text for each in found.sown)
    assert "To the owner of" in text
    table = next(each for each in links(text) if "/table/" in each)
    taps += 1
    answer = client.get(table)
    assert answer.content.decode().count("\r\n") == len(found.sown) + 1
    assert answer.headers["Content-Disposition"].startswith("attachment")
    assert taps <= 3


def test_lawns_are_narrowed_by_stage_person_and_next_thing(client: Client) -> None:
    text = text_of(client, "/all-lawns/")
    assert f"{LAWNS + 1} lawns" in text
    choices = re.findall(r'<option value="([^"]+)">[^<]*\((\d+)\)</option>', text)
    assert choices
    for name in ("stage", "who", "due"):
        part = text.partition(f'<select name="{name}">')[2].partition("</select>")[0]
        for word, many in re.findall(r'value="([^"]+)">[^<]*\((\d+)\)', part):
            shown = client.get("/all-lawns/", {name: word}).content.decode()
            assert len(re.findall(r'<li><a href="/at/', shown)) == int(many)
    assert "None of that word." in text_of(client, "/all-lawns/?who=Nobody+Here")
    assert client.get("/all-lawns/?page=-3").status_code == 200
    assert client.get("/all-lawns/?page=99999999999").status_code == 200


def test_somebodys_week_names_each_lawn_and_comes_as_a_paper(client: Client) -> None:
    assert "?who=Ines" in links(text_of(client, "/firm-week/"))
    text = text_of(client, "/firm-week/?who=Ines")
    lawns = set(re.findall(r'href="/at/([\w-]+)/"', text))
    assert lawns
    assert "Mon 10 October 2011" in text
    paper = client.get("/firm-week/sheet/?who=Ines")
    assert paper.headers["Content-Type"] == "application/pdf"
    assert paper.content.startswith(b"%PDF")
    assert client.get("/firm-week/?who=Zed").status_code == 404
    assert client.get("/firm-week/sheet/").status_code == 422


def test_who_comes_is_kept_at_the_lawn_and_a_slip_is_given_back_as_typed(client: Client) -> None:
    page = "/at/1-lime-walk/who-comes/"
    assert post(client, page, who="Odalys", days="mon", between="9:00-12:00") == 302
    assert 'value="9:00-12:00"' in text_of(client, page)
    assert "?who=Odalys" in links(text_of(client, "/firm-week/"))
    token = re.search(r'name="csrfmiddlewaretoken" value="(\w+)"', text_of(client, page))
    assert token is not None
    odd = {"csrfmiddlewaretoken": token[1], "who": "Bram", "days": "someday", "between": ""}
    answer = client.post(page, odd)
    assert answer.status_code == 404
    assert 'value="someday"' in answer.content.decode()


def test_two_lawns_are_put_together_and_parted_on_a_page(client: Client) -> None:
    first, second = "1-kitchen-wall", "1-lime-walk"
    assert post(client, "/firm-together/", do="together", first=first, second=second) == 302
    listed = text_of(client, "/all-lawns/")
    assert f'href="/at/{first}-put-together/"' in listed
    assert f'href="/at/{second}/"' not in listed
    both = f"{first}-put-together"
    lawn = text_of(client, f"/at/{both}/ground/")
    assert "This lawn was put together from two that are one: " in lawn
    assert f'href="/at/{both}/firm-together/">Part them again' in lawn
    assert "put together from two" not in text_of(client, f"/at/{first}/ground/")
    assert "Part them again" in text_of(client, f"/at/{both}/firm-together/")
    assert post(client, "/firm-together/", do="part", ground=both, bring_to="") == 302
    assert f'href="/at/{second}/"' in text_of(client, "/all-lawns/")
    assert "put together from two" not in text_of(client, f"/at/{both}/ground/")
    assert post(client, "/firm-together/", do="together", first=first, second=first) == 422


def let_in(name: str, initials: str, roles: dict[str, str]) -> None:
    book = opened.any_book()
    for slug, role in roles.items():
        there = at(book, slug).store.people()
        try:
            person = there.named(name)
        except LookupError:
            person = there.add(name, initials, "a hash", False, NOW)
        there.set_role(person, role)


@pytest.fixture
def outside(firm: Path, monkeypatch: pytest.MonkeyPatch) -> Client:
    """Somebody logged in from elsewhere: owner of one lawn, reader of another."""
    assert firm
    monkeypatch.setattr("swardbook.web.asker.by_own_machine", lambda _: None)
    monkeypatch.setattr(
        "swardbook.web.asker.WAYS",
        [__import__("swardbook.web.asker", fromlist=["by_session"]).by_session],
    )
    let_in("Head Owner", "HO", {slug.slug: "owner" for slug in opened.any_book().store.grounds()})
    let_in("Ines", "I", {"1-kitchen-wall": "owner", "1-lime-walk": "reader"})
    now = opened.clock_now()
    there = at(opened.any_book(), "1-kitchen-wall").store.people()
    there.begin_session("Ines", "a token of hers", now, timedelta(days=1))
    client = Client(enforce_csrf_checks=True, HTTP_HOST="localhost")
    client.cookies["swardbook-session"] = "a token of hers"
    return client


def test_somebody_sees_only_lawns_they_have_access_to_on_every_page(outside: Client) -> None:
    theirs = {"1-kitchen-wall", "1-lime-walk"}
    names = {each.name: each.slug for each in opened.any_book().store.grounds()}
    for address in ("/all-lawns/", "/firm-week/", "/firm-week/?who=Ines", "/firm-week/?who=Bram",
                    "/firm-seed/", f"/firm-seed/lot/?code={CODE}",
                    f"/firm-seed/lot/table/?code={CODE}"):  # fmt: skip
        text = text_of(outside, address)
        for name, slug in names.items():
            if slug not in theirs and slug != YARD:
                assert name not in text, address
                assert slug not in text, address
    assert people.roles_of(opened.any_book(), "Ines").keys() == theirs


def test_only_an_owner_of_both_puts_lawns_together(outside: Client) -> None:
    shown = text_of(outside, "/firm-together/")
    assert "1-lime-walk" not in shown
    sent = {"do": "together", "first": "1-kitchen-wall", "second": "1-lime-walk"}
    assert post(outside, "/firm-together/", **sent) == 422
    sent = {"do": "together", "first": "1-plover-row", "second": "1-kitchen-wall"}
    assert post(outside, "/firm-together/", **sent) == 422
    slugs = {each.slug for each in opened.any_book().store.grounds()}
    assert not any("put-together" in each for each in slugs)
    assert outside.get("/at/1-lime-walk/who-comes/").status_code == 403
    assert outside.get("/at/1-plover-row/who-comes/").status_code == 403
