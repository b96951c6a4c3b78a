"""Private words: told to owners and workers, and to nobody else, page by page."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from django.test import Client

from swardbook.book.diary import write
from swardbook.book.opening import open_book, privately
from swardbook.foundation.dates import When
from swardbook.husbandry.happenings import Cut, Note
from swardbook.settings import Settings
from swardbook.web import opened
from swardbook.web.asker import cookie_name
from tests.support.books import TODAY, small_book
from tests.support.people import OTHERS, browser, hash_lightly, let_people_in, token_of

SECRET = "the neighbour complained"
TOLD = ("/diary/", "/api/diary/", "/", "/ask/diary/show/", "/in-and-out/finds.csv", "/more/")


@pytest.fixture(scope="module")
def browsers(tmp_path_factory: pytest.TempPathFactory) -> Iterator[dict[str, Client]]:
    home = tmp_path_factory.mktemp("private") / "home"
    small_book(home).store.close()
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("SWARDBOOK_HOME", str(home))
        for name, text in OTHERS.told().items():
            patch.setenv(name, text)
        hash_lightly(patch)
        book = open_book(Settings(Path(home)), lambda: TODAY)
        with privately():
            write(book, Note(SECRET), When.on(TODAY), zone="Main court")
            write(book, Cut(8.0, boxed=True), When.on(TODAY), zone="Main court", note=SECRET)
        let_people_in(book)
        found = {}
        for role in ("worker", "reader"):
            found[role] = browser(enforce_csrf=False)
            found[role].cookies[cookie_name()] = token_of(book, role, opened.clock_now())
        book.store.close()
        yield found
        opened.close()


@pytest.mark.parametrize("address", TOLD)
def test_a_reader_is_never_told_private_words_not_even_after_a_worker_asked(
    browsers: dict[str, Client], address: str
) -> None:
    for role in ("worker", "reader", "worker", "reader"):
        answer = browsers[role].get(address)
        assert answer.status_code == 200
        if role == "reader":
            assert SECRET not in answer.content.decode()


def test_a_worker_is_told_them_and_a_reader_sees_the_cut(browsers: dict[str, Client]) -> None:
    assert browsers["worker"].get("/api/diary/").content.decode().count(SECRET) == 2
    kinds = [
        each["what"]["kind"] for each in browsers["reader"].get("/api/diary/").json()["entries"]
    ]
    assert kinds == ["cut"]


def test_the_whole_book_is_taken_out_by_nobody_but_its_owner(browsers: dict[str, Client]) -> None:
    for each in browsers.values():
        assert each.get("/in-and-out/book.zip").status_code == 403
