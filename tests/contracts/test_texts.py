"""Every text of the pages is in the catalogue, and none stands bare in a template or a script."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from pathlib import Path

import pytest
from django.template.base import Lexer, TokenType
from tools.write_texts import CATALOGUE, TEMPLATES, WEB, catalogue, texts

SHOWN_ATTRIBUTES = frozenset({"aria-label", "alt", "title", "placeholder"})
UNITS = frozenset({"m", "m²", "mm", "kg", "g", "L/min", "px", "kB", "A4", "°C", "s", "ha"})
NAMES = frozenset({"swardbook"})
AS_IT_IS = frozenset({"Authorization: Bearer …", "gCO₂"})
"""What is typed letter for letter in every language."""
HOLE = "\x01"
"""Stands where a tag stood."""
SCRIPTS = sorted((WEB / "static" / "swardbook").glob("*.js"))
PAGES = sorted(TEMPLATES.glob("*.html"))


class Bare(HTMLParser):
    """Gathers text and shown attributes of a page whose tags are blanked out."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []
        self.is_typed = False
        """Whether it stands in a command, which is typed as it is in every language."""

    def handle_data(self, data: str) -> None:
        if not self.is_typed:
            self.found.append(data)

    def handle_endtag(self, tag: str) -> None:
        self.is_typed = self.is_typed and tag != "code"

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.is_typed = self.is_typed or tag == "code"
        self.found += [value or "" for name, value in attrs if name in SHOWN_ATTRIBUTES]


def bare_texts(source: str) -> list[str]:
    """Give what a template shows in letters outside of the tags that look texts up."""
    parts, is_looked_up = [], False
    for token in Lexer(source).tokenize():
        word = token.contents.split()[0] if token.contents.split() else ""
        if token.token_type is TokenType.BLOCK and word in {"blocktranslate", "comment"}:
            is_looked_up = True
        elif token.token_type is TokenType.BLOCK and word in {"endblocktranslate", "endcomment"}:
            is_looked_up = False
        elif (
            token.token_type is TokenType.BLOCK
            and word == "block"
            and ("class" in token.contents or token.contents == "block about")
        ):
            is_looked_up = True  # what it holds is the name of a class, or attributes
        elif token.token_type is TokenType.BLOCK and word == "endblock":
            is_looked_up = False
        elif token.token_type is TokenType.TEXT and not is_looked_up:
            parts.append(token.contents)
        else:
            parts.append(HOLE)
    reader = Bare()
    reader.feed("".join(parts))
    words = (
        each.strip(" .,:;()%·–-\n0123456789") for text in reader.found for each in text.split(HOLE)
    )
    allowed = UNITS | NAMES | AS_IT_IS
    return [each for each in words if re.search(r"[^\W\d_]", each) and each not in allowed]


def test_the_catalogue_is_up_to_date() -> None:
    assert CATALOGUE.read_text(encoding="utf-8") == catalogue(), "run tools/write_texts.py"
    assert len(texts()) > 500


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.stem)
def test_no_text_stands_bare_in_a_template(page: Path) -> None:
    assert bare_texts(page.read_text(encoding="utf-8")) == []


def test_a_bare_text_would_be_seen() -> None:
    assert bare_texts("<p>Bare {{ x }}</p>") == ["Bare"]
    assert bare_texts("<img alt='Bare {{ x }}'>") == ["Bare"]
    assert bare_texts('<p>{% translate "Held" %} 3 m²</p>') == []


@pytest.mark.parametrize("script", SCRIPTS, ids=lambda script: script.stem)
def test_no_script_brings_texts_of_its_own(script: Path) -> None:
    plain = re.sub(r"(?m)^\s*//.*$", "", script.read_text(encoding="utf-8"))
    shown = re.findall(
        r"(?:textContent|innerText|alt|title|ariaLabel)\s*[=:]\s*\"([^\"]+)\"", plain
    )
    shown += re.findall(r"(?:alert|confirm|prompt)\(\s*[\"'`]([^\"'`]+)", plain)
    told = re.findall(r"\"([A-Z][^\"]* [^\"]*)\"|`([A-Z][a-z]+ [^`]*)`", plain)
    assert [each for each in shown if re.search(r"[^\W\d_]", each)] == []
    assert [one or other for one, other in told] == []
