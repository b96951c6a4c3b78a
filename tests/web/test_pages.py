"""Pages that show: what is on them, and what they never do."""

import re

import pytest
from django.test import Client

from swardbook.book import plan
from swardbook.web import opened, remembering
from swardbook.web.opened import the_book
from tests.support.addresses import answered, html_addresses, slow_addresses

PAGES = tuple(html_addresses())


@pytest.mark.parametrize("page", PAGES)
def test_a_page_opens_and_loads_nothing_from_outside(client: Client, page: str) -> None:
    answer = answered(client, page)
    assert answer.status_code == 200
    policy = answer.headers["Content-Security-Policy"]
    assert policy.startswith("default-src 'none'")
    assert "unsafe" not in policy
    text = answer.content.decode()
    assert "{#" not in text
    assert not re.search(r"""(?:src|href|action)=["']?(?:https?:)?//""", text)
    assert " style=" not in text
    assert set(re.findall(r"<script[^>]*>([^<]*)", text)) == {""}


@pytest.mark.parametrize("page", ["/week/?worth", *slow_addresses()])
def test_a_page_that_takes_long_says_so_and_comes_by_itself(client: Client, page: str) -> None:
    remembering.forget()
    first = client.get(page)
    if "worth" in page or first.status_code != 200:
        assert first.status_code == 202
        assert "seconds so far" in first.content.decode()
    before = len(the_book().store.chain())
    assert answered(client, page).status_code == 200
    assert len(the_book().store.chain()) == before


@pytest.mark.parametrize("page", PAGES)
def test_looking_writes_nothing(client: Client, page: str) -> None:
    before = len(the_book().store.chain())
    client.get(page)
    client.head(page)
    assert len(the_book().store.chain()) == before


def test_the_morning_look_says_what_the_book_says_in_its_order(client: Client) -> None:
    text = client.get("/").content.decode()
    titles = [section.title for section in plan.morning(the_book()).sections]
    places = [text.index(f">{title}</h2>") for title in titles]
    assert places == sorted(places)
    assert len(places) >= 5


def test_what_is_held_off_has_its_reason_on_the_page(client: Client) -> None:
    held = [task for task in plan.week(the_book(), "Main court").tasks if task.held_off_because]
    text = client.get("/ground/Main court/").content.decode()
    due = plan.week(the_book(), "Main court").tasks
    assert all(task.name in text for task in due)
    assert all(task.held_off_because[1:20] in text for task in held)


def test_every_page_of_a_made_up_ground_says_so_and_states_its_day(client: Client) -> None:
    for page in PAGES:
        text = client.get(page).content.decode()
        assert "made-up ground" in text
        assert "8 October 2011" in text


def test_a_zone_that_is_not_there_is_answered_with_the_nearest_name(client: Client) -> None:
    answer = client.get("/ground/Mian court/")
    assert answer.status_code == 404
    assert "Main court" in answer.content.decode()


def test_another_machine_is_not_answered(client: Client) -> None:
    assert client.get("/", HTTP_HOST="192.168.1.20").status_code == 400


def test_a_page_that_shows_takes_nothing(client: Client) -> None:
    for page in ("/", "/week/", "/ground/"):
        assert client.post(page).status_code in {403, 405}


def test_pages_are_in_the_units_chosen_and_forms_still_send_metric(
    client: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SWARDBOOK_UNITS", "imperial")
    opened.close()
    told = client.get("/ground/Main court/").content.decode()
    cut = client.get("/done/cut/").content.decode()
    monkeypatch.undo()
    opened.close()
    assert "980\N{NO-BREAK SPACE}yd²" in told
    assert "5/16\N{NO-BREAK SPACE}in" in told
    assert "m²" not in re.sub(r"g/m²|a m²", "", told)
    assert "5/16\N{NO-BREAK SPACE}in" in cut
    assert 'name="height_of_cut_mm" value="8.0"' in cut
