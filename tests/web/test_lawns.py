"""Several lawns in one book: each under its own address, none leaking into another."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date
from uuid import uuid4

import pytest
from django.test import Client

from swardbook.demo.many_lawns import Firm, write_firm
from swardbook.settings import Settings
from swardbook.web import opened, remembering


@pytest.fixture(scope="module")
def firm(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[str, ...]]:
    """Write three lawns into one book, each with a year behind it."""
    home = tmp_path_factory.mktemp("firm")
    patch = pytest.MonkeyPatch()
    patch.setenv("SWARDBOOK_HOME", str(home))
    opened.close()
    slugs = write_firm(Settings(home), Firm(lawns=3, years=1, seed=7, today=date(2026, 10, 1)))
    yield tuple(slugs)
    opened.close()
    remembering.forget()
    patch.undo()


@pytest.fixture
def client(firm: tuple[str, ...]) -> Client:
    assert firm
    return Client(enforce_csrf_checks=True, HTTP_HOST="localhost")


def test_without_a_name_the_pages_show_which_lawns_there_are(
    client: Client, firm: tuple[str, ...]
) -> None:
    answer = client.get("/")
    assert answer.status_code == 302
    assert answer.headers["Location"] == "/all-lawns/"
    text = client.get("/all-lawns/").content.decode()
    assert all(f'href="/at/{slug}/"' in text for slug in firm)
    assert "3 lawns" in text


def test_a_lawn_is_found_by_a_word_of_its_name(client: Client, firm: tuple[str, ...]) -> None:
    text = client.get(f"/all-lawns/?q={firm[1]}").content.decode()
    assert f'href="/at/{firm[1]}/"' in text
    assert "1 lawn<" in text
    assert "None of that word." in client.get("/all-lawns/?q=zzzz").content.decode()


def test_every_address_on_a_lawns_page_leads_to_the_same_lawn(
    client: Client, firm: tuple[str, ...]
) -> None:
    text = client.get(f"/at/{firm[0]}/").content.decode()
    inner = re.findall(r'(?:href|action|data-\w+)="(/[^"]*)"', text)
    own = [each for each in inner if not each.startswith("/static/")]
    assert len(own) > 5
    assert all(each.startswith(f"/at/{firm[0]}/") for each in own)


def test_what_is_sent_to_one_lawn_is_in_no_other(client: Client, firm: tuple[str, ...]) -> None:
    def entries(slug: str) -> int:
        with opened.at_ground(slug):
            return len(opened.the_book().store.whole_diary())

    before = [entries(slug) for slug in firm]
    page = client.get(f"/at/{firm[0]}/done/note/").content.decode()
    token = re.search(r'name="csrfmiddlewaretoken" value="(\w+)"', page)
    assert token is not None
    sent = {"csrfmiddlewaretoken": token[1], "id": str(uuid4()), "text": "a mole", "when": "today"}
    assert client.post(f"/at/{firm[0]}/done/note/", sent).status_code == 302
    assert [entries(slug) for slug in firm] == [before[0] + 1, *before[1:]]


def test_an_unknown_lawn_is_answered_with_the_nearest(client: Client) -> None:
    answer = client.get("/at/no-such-lawn/")
    assert answer.status_code == 404
    assert client.get("/at/no-such-lawn").status_code == 404


def test_answers_of_two_lawns_are_never_mixed(client: Client, firm: tuple[str, ...]) -> None:
    shown = [client.get(f"/at/{slug}/ground/").content.decode() for slug in firm]
    titles = {re.search(r"<strong>([^<]+)</strong>", text)[1] for text in shown}  # type: ignore[index]
    assert len(titles) == 3


def test_programs_are_told_in_json_that_a_lawn_must_be_named(client: Client) -> None:
    answer = client.post("/api/entries/", b"{}", content_type="application/json")
    assert answer.status_code in {403, 422, 409}
    assert answer.headers["Content-Type"].startswith("application/json")
