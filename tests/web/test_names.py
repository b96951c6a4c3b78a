"""What a screen reader is told: a name for every control, picture and part of the page."""

from __future__ import annotations

import re
from collections import Counter

import pytest
from playwright.sync_api import Browser

from tests.support.addresses import html_addresses
from tests.web.conftest import needs_chromium
from tests.web.lawn import PATIENT, go

pytestmark = needs_chromium
CORE = ("/", "/done/cut/", "/lawn/picture/", "/plan/")
ALL = pytest.param("all", marks=pytest.mark.long)
NAMED = (
    "alertdialog", "button", "checkbox", "combobox", "dialog", "heading", "img", "link", "listbox",
    "navigation", "option", "radio", "radiogroup", "region", "searchbox", "slider", "spinbutton",
    "switch", "textbox",
)  # fmt: skip
"""Roles that say nothing without a name."""
LANDMARKS = ("banner", "main")
_LINE = re.compile(r'^\s*- (?P<role>[a-z]+)(?P<name> "(?:[^"\\]|\\.)*")?')


def told(snapshot: str) -> list[tuple[str, str]]:
    """List role and name of all that is told, in the order of the page."""
    found = [_LINE.match(line) for line in snapshot.splitlines()]
    return [(each["role"], (each["name"] or "").strip(' "')) for each in found if each]


@pytest.mark.parametrize("which", ["core", ALL])
def test_every_control_picture_and_part_of_a_page_has_a_name(
    site: str, browser: Browser, which: str
) -> None:
    page = browser.new_page(viewport={"width": 390, "height": 800})
    page.set_default_timeout(PATIENT)
    for address in CORE if which == "core" else html_addresses():
        go(page, site + address)
        page.evaluate("for (const each of document.querySelectorAll('details')) each.open = true")
        found = told(page.locator("body").aria_snapshot())
        assert [role for role, name in found if role in NAMED and not name] == [], address
        roles = Counter(role for role, _ in found)
        assert [roles[each] for each in LANDMARKS] == [1, 1], address
        assert roles["navigation"] >= 1, address
        parts = Counter(name for role, name in found if role in {"region", "navigation"})
        assert [name for name, many in parts.items() if many > 1] == [], address
        headings = page.locator("h1:visible").all_inner_texts()
        assert len(headings) == 1, address
        assert page.title().strip(), address
    page.close()
