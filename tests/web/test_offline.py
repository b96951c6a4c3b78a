"""No signal: pages open as last seen, what is written waits on the phone, and comes once."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Route, expect

from tests.web.conftest import needs_chromium
from tests.web.lawn import (
    UNDER_THE_WORKER,
    new_phone,
    send_what_waits,
    the_diary,
    wait_until_kept,
    wait_until_sent,
)

pytestmark = needs_chromium
LONGEST = 240_000
"""How long the pages may take to be kept, on a machine that is busy otherwise [ms]."""


@pytest.fixture
def at_hand(browser: Browser, site: str) -> tuple[BrowserContext, Page]:
    """Give a phone that has been on the pages once, so that they are kept on it."""
    return new_phone(browser, site)


def cut(page: Page, site: str, zone: str = "main-court") -> None:
    page.goto(f"{site}/done/cut/")
    page.locator(f"#{zone}").get_by_role("button", name="Boxed").click()
    page.locator("#said").get_by_role("heading", name="Kept").wait_for()


def kept() -> int:
    return len(the_diary())


def test_without_signal_pages_open_and_entries_wait_through_a_closed_tab(
    site: str, at_hand: tuple[BrowserContext, Page]
) -> None:
    context, page = at_hand
    before = kept()
    context.set_offline(True)
    page.goto(f"{site}/")
    expect(page.get_by_role("heading", level=1)).to_have_text("Morning look")
    for zone in ("main-court", "short-court", "lime-walk"):
        cut(page, site, zone)
        expect(page.locator("#said")).to_contain_text("On this phone only")
    page.close()
    page = context.new_page()
    page.goto(f"{site}/done/")
    page.get_by_text("3 entries wait on this phone.").wait_for()
    assert kept() == before
    context.set_offline(False)
    send_what_waits(page)
    assert kept() == before + 3
    context.close()


def test_a_page_that_was_never_seen_says_so_without_signal(
    site: str, at_hand: tuple[BrowserContext, Page]
) -> None:
    context, page = at_hand
    context.set_offline(True)
    page.goto(f"{site}/seed/")
    expect(page.get_by_role("heading", level=1)).to_have_text("Not on this phone yet")
    page.locator("main").get_by_role("link", name="Write something down").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Write something down")
    context.close()


@pytest.mark.long
def test_a_phone_whose_first_visit_met_a_fault_keeps_the_pages_all_the_same(
    browser: Browser, site: str
) -> None:
    context = browser.new_context(viewport={"width": 360, "height": 740})
    context.route("**/worker.js", lambda route: route.fulfill(status=500), times=1)
    page = context.new_page()
    page.goto(f"{site}/done/")
    page.evaluate(UNDER_THE_WORKER)
    wait_until_kept(page, "/done/", "/no-signal/")
    context.set_offline(True)
    page.goto(f"{site}/done/")
    expect(page.get_by_role("heading", level=1)).to_have_text("Write something down")
    context.close()


def test_a_lost_reply_doubles_nothing(site: str, at_hand: tuple[BrowserContext, Page]) -> None:
    context, page = at_hand
    before = kept()

    def lose(route: Route) -> None:
        route.fetch()
        route.abort()

    page.route("**/api/entries/", lose, times=1)
    cut(page, site)
    page.get_by_text("1 entry waits on this phone.").wait_for()
    assert kept() == before + 1
    send_what_waits(page)
    assert kept() == before + 1
    context.close()


def test_what_waits_can_be_taken_back_before_it_is_sent(
    site: str, at_hand: tuple[BrowserContext, Page]
) -> None:
    context, page = at_hand
    before = kept()
    context.set_offline(True)
    cut(page, site)
    page.get_by_role("button", name="Take it back").click()
    page.get_by_text("Taken back.").wait_for()
    context.set_offline(False)
    page.goto(f"{site}/")
    wait_until_sent(page)
    assert kept() == before
    context.close()


def test_what_the_book_does_not_understand_is_kept_as_a_note_that_needs_a_look(
    site: str, at_hand: tuple[BrowserContext, Page]
) -> None:
    context, page = at_hand
    page.goto(f"{site}/done/water/")
    page.get_by_label("Depth").fill("a good soak")
    page.get_by_role("button", name="Keep").click()
    page.locator("#said").get_by_text("Needs a look").wait_for()
    last = the_diary()[-1]
    assert "a good soak" in getattr(last.what, "text", "")
    assert "a good soak" in last.needs_a_look
    context.close()


def test_the_morning_look_says_when_all_is_ready_without_signal_zones_too(
    site: str, at_hand: tuple[BrowserContext, Page]
) -> None:
    context, page = at_hand
    page.goto(f"{site}/")
    ready = page.locator("#ready")
    expect(ready).to_contain_text("Ready without signal", timeout=LONGEST)
    context.set_offline(True)
    page.goto(f"{site}/ground/Turf%20nursery/")
    expect(page.get_by_role("heading", level=1)).to_have_text("Turf nursery")
    page.goto(f"{site}/lawn/waiting/")
    expect(ready).to_contain_text("Ready without signal")
    context.close()


@pytest.mark.long
def test_one_file_that_is_missing_holds_up_no_page_and_is_named_until_it_comes(
    site: str, browser: Browser
) -> None:
    context = browser.new_context(viewport={"width": 360, "height": 740})
    page = context.new_page()
    lost = ("spot.js", "/done/rain/")

    def keep_from(route: Route) -> None:
        route.fulfill(status=404) if route.request.url.endswith(lost) else route.continue_()

    context.route("**/*", keep_from)
    page.goto(f"{site}/lawn/waiting/")
    page.evaluate(UNDER_THE_WORKER)
    ready = page.locator("#ready")
    expect(ready).to_contain_text("Still missing: spot.js, Rain.", timeout=LONGEST)
    assert page.evaluate("caches.match('/done/cut/').then(Boolean)")
    context.unroute("**/*")
    ready.get_by_role("button", name="Fetch what is missing").click()
    expect(ready).to_contain_text("Ready without signal", timeout=LONGEST)
    context.close()
