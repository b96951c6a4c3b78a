"""Pages in a made-up language: what is in the catalogue comes through it, on every page."""

from __future__ import annotations

import re
from collections.abc import Iterator
from html.parser import HTMLParser

import pytest
from django.test import Client
from django.utils.translation import trans_real
from tools.write_texts import texts

from swardbook.web import remembering
from tests.support.addresses import answered, html_addresses

OPENED, CLOSED = "⟦", "⟧"
SHOWN_ATTRIBUTES = frozenset({"aria-label", "alt", "placeholder"})
SAID_BY_THE_BOOK = frozenset({
    "Seeding clock", "Side by side",
    "An audience guesses first; then the counts, and a shuffle to watch.",
})  # fmt: skip
"""Sentences of the book itself that a page says in the same words."""
TRIED = tuple(each for each in html_addresses() if not each.startswith("/api"))


class MadeUp(trans_real.DjangoTranslation):
    """A language in which every text stands between brackets."""

    def gettext(self, message: str) -> str:
        """Put a text into brackets."""
        return f"{OPENED}{message}{CLOSED}"

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        """Put one or the other into brackets."""
        return self.gettext(msgid1 if n == 1 else msgid2)

    def npgettext(self, context: str, msgid1: str, msgid2: str, n: int) -> str:
        """Put one or the other into brackets."""
        return self.ngettext(msgid1, msgid2, n)

    def pgettext(self, context: str, message: str) -> str:
        """Put a text into brackets."""
        return self.gettext(message)


class Shown(HTMLParser):
    """Gathers what a page shows, piece by piece."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []

    def handle_data(self, data: str) -> None:
        self.found.append(data)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        del tag
        self.found += [
            value or ""
            for name, value in attrs
            if name in SHOWN_ATTRIBUTES or name.startswith("data-")
        ]


@pytest.fixture
def made_up_language(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    language = MadeUp("en-gb")
    monkeypatch.setattr(trans_real, "_active", type("", (), {"value": language})())
    remembering.forget()
    yield
    remembering.forget()


def shown(text: str) -> list[str]:
    """Give what a page shows."""
    reader = Shown()
    reader.feed(text)
    return [re.sub(r"\s+", " ", each).strip() for each in reader.found]


@pytest.mark.usefixtures("made_up_language")
@pytest.mark.parametrize(
    "page",
    [
        pytest.param(each, marks=[pytest.mark.long] if place % 4 else [])
        for place, each in enumerate(TRIED)
    ],
)
def test_every_text_of_the_catalogue_comes_through_it(client: Client, page: str) -> None:
    known = {one for one, _more in texts() if re.search(r"[A-Za-z]{2}.* .*[A-Za-z]{2}", one)}
    told = shown(answered(client, page).content.decode())
    assert any(each.startswith(OPENED) for each in told)
    assert [each for each in told if each in known - SAID_BY_THE_BOOK] == []


@pytest.mark.usefixtures("made_up_language")
def test_the_frame_of_a_page_has_no_word_out_of_the_catalogue(client: Client) -> None:
    page = answered(client, "/more/").content.decode()
    allowed = ("Fennowick Croquet Club", "8 October 2011", "swardbook")
    bare = [each for each in shown(page.split("<main", 1)[0]) if re.search("[A-Za-z]{2}", each)]
    held = [each for each in bare if OPENED in each]
    rest = [each for each in bare if OPENED not in each]
    assert len(held) >= 7
    assert [each for each in rest if "/" not in each and not each.startswith("2011")
            and not any(name in each for name in allowed)] == []  # fmt: skip
