"""The pages in Debian's Chromium, where there is one: as wide as a phone, a tablet and a desk."""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from tests.support.addresses import html_addresses
from tests.web.conftest import needs_chromium
from tests.web.lawn import PATIENT, go

pytestmark = needs_chromium
PAGES = (*html_addresses(), "/ground/Nowhere/")
SOME = tuple(
    each for place, each in enumerate(PAGES)
    if place % 5 == 0 or each in {"/", "/week/", "/done/cut/", "/ground/", "/plan/"}
)  # fmt: skip
"""Enough of them for each day; all of them in the long run."""
ALL = pytest.param(PAGES, marks=pytest.mark.long, id="all")
TAPPED = "nav a, button, .button, .zones a, .choices label, summary"
LEAST_TARGET = 44
"""Height of anything that is tapped, but links in running text [px]."""


@pytest.mark.parametrize("pages", [pytest.param(SOME, id="some"), ALL])
@pytest.mark.parametrize(
    "width", [360, *(pytest.param(each, marks=pytest.mark.long) for each in (768, 1440))]
)
def test_no_page_is_wider_than_its_screen_or_complains(
    site: str, browser: Browser, width: int, pages: tuple[str, ...]
) -> None:
    page = browser.new_page(viewport={"width": width, "height": 800})
    page.set_default_timeout(PATIENT)
    said: list[str] = []
    page.on("console", lambda told: said.append(told.text))
    for path in pages:
        if path == PAGES[-1]:
            continue
        go(page, site + path)
        assert page.evaluate("document.documentElement.scrollWidth") <= width, path
    page.close()
    assert said == []


@pytest.mark.parametrize("pages", [pytest.param(SOME, id="some"), ALL])
@pytest.mark.parametrize("scheme", ["light", pytest.param("dark", marks=pytest.mark.long)])
def test_everybody_can_read_and_work_every_page(
    site: str, browser: Browser, scheme: str, pages: tuple[str, ...]
) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 800})
    context.set_default_timeout(PATIENT)
    page = context.new_page()
    page.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
    for path in pages:
        go(page, site + path)
        found = Axe().run(page)
        assert found.violations_count == 0, f"{path}: {found.generate_report()}"
    context.close()


def test_a_boxed_cut_takes_two_taps_from_the_morning_look(site: str, phone: Page) -> None:
    phone.goto(f"{site}/")
    phone.get_by_role("link", name="Write down a cut").click()
    phone.locator("#main-court").get_by_role("button", name="Boxed").click()
    said = phone.locator("#said")
    said.get_by_text("Sent: it is in the book.").wait_for()
    expect(said).to_contain_text("Cut, Main court: Boxed. Sent")
    said.get_by_role("button", name="Take it back").click()
    said.get_by_text("Taken back.").wait_for()


def test_pages_work_without_scripts_too(site: str, browser: Browser) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{site}/done/cut/")
    page.locator("#main-court").get_by_role("button", name="Left lying").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Kept")
    page.get_by_role("button", name="Take it back").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Taken back")
    context.close()


def test_what_is_tapped_is_large_enough_for_a_glove(site: str, phone: Page) -> None:
    for path in ("/", "/ground/", "/done/", "/done/cut/", "/done/water/"):
        phone.goto(site + path)
        for each in phone.locator(
            "nav a, button, .button, .zones a, .choices label, summary"
        ).all():
            box = each.bounding_box() if each.is_visible() else None
            assert box is None or box["height"] >= LEAST_TARGET, f"{path}: {each.inner_text()}"


def test_the_keyboard_alone_writes_a_note(site: str, phone: Page) -> None:
    phone.goto(f"{site}/done/note/")
    phone.keyboard.press("Tab")
    assert phone.evaluate("document.activeElement.textContent") == "To what the page says"
    phone.get_by_label("What you saw").focus()
    phone.keyboard.type("Moss by the gate")
    phone.keyboard.press("Enter")
    phone.locator("#said").get_by_text("Moss by the gate").wait_for()
