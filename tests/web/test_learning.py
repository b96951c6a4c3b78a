"""Learning pages: answers come from the book, nothing is written, nothing is marked."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from django.test import Client
from playwright.sync_api import Page, expect

from swardbook.book.practising import practice_set
from swardbook.demo.course import exercises
from swardbook.web.opened import the_book
from swardbook.web.views import learning
from tests.support.addresses import answered
from tests.web.conftest import needs_chromium


def test_every_question_stands_in_the_list_and_opens_unanswered(client: Client) -> None:
    listed = client.get("/learn/").content.decode()
    for each in exercises():
        assert each.title in listed.replace("&#x27;", "'")
        page = client.get(f"/learn/question/{each.key}/").content.decode()
        assert page.count('type="radio"') == len(each.choices)
        assert "What the book answers" not in page
        assert re.search(r'Where to look: <a href="/ask/', page), each.key


def test_an_answer_is_told_as_right_not_so_or_not_to_be_told_with_the_reason(
    client: Client,
) -> None:
    before = len(the_book().store.chain())
    right = answered(client, "/learn/question/bags/?said=plot").content.decode()
    assert "Right." in right
    assert "one bay planned with TC-0771" in right
    wrong = answered(client, "/learn/question/bags/?said=spill").content.decode()
    assert "Not so." in wrong
    cannot = answered(client, "/learn/question/six_places/?said=better").content.decode()
    assert "It cannot be told." in cannot
    assert "How it was reached" in cannot
    assert len(the_book().store.chain()) == before


def test_an_answer_that_is_not_offered_is_refused(client: Client) -> None:
    assert client.get("/learn/question/bags/?said=rain").status_code in {404, 409, 422}
    assert client.get("/learn/question/rain/").status_code == 404


def test_what_if_shows_before_and_after_and_leaves_the_book(client: Client) -> None:
    stamp = the_book().store.stamp()
    page = answered(client, "/learn/what-if/?what=places&value=10").content.decode()
    assert page.index("Clear: ") < page.index("In the copy") < page.index("Leaning: ")
    assert the_book().store.stamp() == stamp


def test_a_value_that_cannot_be_read_comes_back_with_a_sentence(client: Client) -> None:
    for query in ("what=height&value=knee", "what=places&value=2.5"):
        answer = client.get(f"/learn/what-if/?{query}")
        assert answer.status_code == 422
        assert 'role="alert"' in answer.content.decode()
        assert f'value="{query.rsplit("=", 1)[1]}"' in answer.content.decode()


def test_counts_are_set_beside_the_drawing_and_one_that_does_not_add_up_comes_back(
    client: Client,
) -> None:
    asked = practice_set(3)
    typed: dict[str, str | int] = {f"f{frame.frame} {kind}": n for frame in asked.frames
             for kind, n in frame.truth.items()}  # fmt: skip
    told = client.get("/learn/counting/", {**typed, "set": 3, "told": 1})
    assert "You read it as the drawing in every frame." in told.content.decode()
    short = client.get("/learn/counting/", {**typed, "set": 3, "told": 1, "f2 sown": "0"})
    assert short.status_code == 422
    assert "frame 2" in short.content.decode()
    assert client.get("/learn/counting/?set=abc").status_code == 200


def test_on_somebodys_own_ground_the_pages_say_how_the_made_up_one_is_opened(
    client: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(learning, "the_book", lambda: replace(the_book(), is_made_up=False))
    for page in ("/learn/", "/learn/what-if/"):
        answer = client.get(page)
        assert answer.status_code == 200
        assert "swardbook demo" in answer.content.decode()
    assert client.get("/learn/counting/").status_code == 200


@needs_chromium
def test_buttons_count_up_to_all_crossings_and_back_and_never_over(site: str, phone: Page) -> None:
    phone.goto(f"{site}/learn/counting/?set=3")
    frame = phone.locator("[data-frame]").first
    more = frame.get_by_role("button", name="One more: Sown")
    for _ in range(27):
        more.click()
    expect(frame.get_by_role("status")).to_have_text("25 of 25")
    frame.get_by_role("button", name="One less: Sown").click()
    frame.get_by_role("button", name="One more: Moss").click()
    expect(frame.get_by_label("Moss", exact=True)).to_have_value("1")
    expect(frame.get_by_role("status")).to_have_text("25 of 25")


@needs_chromium
def test_what_was_answered_is_known_on_this_device_until_it_is_forgotten(
    site: str, phone: Page
) -> None:
    phone.goto(f"{site}/learn/question/bags/?said=spill")
    phone.get_by_role("heading", name="What the book answers").wait_for()
    phone.goto(f"{site}/learn/")
    seen = phone.get_by_text("answered on this device").filter(visible=True)
    expect(seen).to_have_count(1)
    phone.get_by_role("button", name="Forget what I answered here").click()
    expect(seen).to_have_count(0)
