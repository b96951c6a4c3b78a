"""What swardbook never says, shows or does, looked for in all that it could say."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
SOURCE = ROOT / "src" / "swardbook"
MODULES = sorted(SOURCE.rglob("*.py"))
TEXTS = sorted(
    each
    for kind in ("*.toml", "*.csv", "*.txt", "*.html")
    for each in SOURCE.rglob(kind)
    if each.is_file()
)
PAGES = [ROOT / "README.md", *sorted((ROOT / "docs").rglob("*.md"))]

PROMISE = re.compile(
    r"\b(eradicat\w+|weed-free|guarantee\w*|gone for good|will be gone"
    r"|(grass|fog|weeds?|it|they) (is|are) gone\b(?! over))",
    re.IGNORECASE,
)
GAME = re.compile(
    r"\b(streak|badge|trophy|winner|congratulations|well done|you failed|you forgot"
    r"|you should have|oops)\b",
    re.IGNORECASE,
)
PESTICIDE = re.compile(
    r"glypho\w+|mecoprop|dicamba|2,4-d\b|ethofumesate|propyzamide|acetic acid|pelargonic|iprodione"
    r"|propiconazole|chlorothalonil|fludioxonil|azoxystrobin|chlorpyrifos|imidacloprid",
    re.IGNORECASE,
)
ARROW = re.compile("[\u2190-\u21ff\u25b2\u25b4\u25bc\u25be]")


LISTENS = SOURCE / "feeds" / "ports.py"
"""Asks whether a port of this machine is free; it must not call anybody."""
FETCHES = SOURCE / "feeds" / "fetching.py"
"""Asks the weather service that somebody has set; the only module that calls anybody."""


def said(path: Path) -> Iterator[str]:
    """Give the text of a data file or page, or the strings that a module holds."""
    text = path.read_text(encoding="utf-8")
    if path.suffix != ".py":
        yield text
        return
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield node.value


@pytest.mark.parametrize("path", [*MODULES, *TEXTS], ids=lambda path: path.name)
def test_nothing_is_promised_scored_or_shown_by_arrows(path: Path) -> None:
    """N11, N13 and N30."""
    for text in said(path):
        for never in (PROMISE, GAME, ARROW):
            assert not never.search(text), text


@pytest.mark.parametrize("path", [*MODULES, *TEXTS, *PAGES], ids=lambda path: path.name)
def test_no_pesticide_is_named(path: Path) -> None:
    """N07."""
    for text in said(path):
        assert not PESTICIDE.search(text), text


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.name)
def test_nothing_leaves_the_machine_and_no_state_is_told_by_colour(path: Path) -> None:
    """N30."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    imported = {
        name
        for node in ast.walk(tree)
        if isinstance(node, ast.Import | ast.ImportFrom)
        for name in _modules(node)
    }
    never = {"socket", "http", "urllib.request", "ftplib", "smtplib", "requests", "httpx"}
    if path == LISTENS:
        never -= {"socket"}
    if path == FETCHES:
        never -= {"socket", "http", "urllib.request"}
    assert not {name for name in imported if name in never or name.split(".")[0] in never}
    called = {
        node.func.attr
        for node in ast.walk(tree)
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute)
    }
    assert not called & {"secho", "style"}
    assert path != LISTENS or not called & {"connect", "connect_ex", "create_connection"}
    assert not any("\x1b" in text for text in said(path))


def _modules(node: ast.Import | ast.ImportFrom) -> list[str]:
    if isinstance(node, ast.Import):
        return [alias.name for alias in node.names]
    return [node.module or "", *(f"{node.module}.{alias.name}" for alias in node.names)]


@pytest.mark.parametrize(
    ("text", "never"),
    [
        ("annual meadow-grass is gone", PROMISE),
        ("weed-free by spring", PROMISE),
        ("A streak of 7 days", GAME),
        ("glyphosate", PESTICIDE),
        ("up \u2191", ARROW),
    ],
)
def test_the_nets_catch_what_they_are_for(text: str, never: re.Pattern[str]) -> None:
    assert never.search(text)
