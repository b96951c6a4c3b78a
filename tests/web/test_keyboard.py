"""The keyboard alone: every control in the order of the page, and the work done by it."""

from __future__ import annotations

from itertools import pairwise

import pytest
from playwright.sync_api import Browser, Page, expect

from swardbook.husbandry.happenings import Count, Cut
from tests.support.addresses import html_addresses
from tests.support.keyboard import tab_to, walked
from tests.web.conftest import needs_chromium
from tests.web.lawn import PATIENT, diary_with, go, the_diary, wait_until_sent

pytestmark = needs_chromium
CORE = ("/done/water/", "/lawn/frame/", "/ask/fit/", "/plan/")
ALL = pytest.param("all", marks=pytest.mark.long)


def check(page: Page, address: str) -> None:
    walk = walked(page)
    assert walk.missed == [], address
    assert -1 not in walk.order, address
    assert all(one < other for one, other in pairwise(walk.order)), address
    assert walk.unseen == (), address
    assert walk.outside == (), address


@pytest.mark.parametrize("which", ["core", ALL])
def test_the_tab_key_reaches_every_control_in_the_order_of_the_page_and_is_seen_there(
    site: str, browser: Browser, which: str
) -> None:
    for address in CORE if which == "core" else html_addresses():
        page = browser.new_page(viewport={"width": 900, "height": 800})
        page.set_default_timeout(PATIENT)
        go(page, site + address)
        check(page, address)
        page.close()


@pytest.mark.long
def test_a_cut_is_written_down_and_taken_back_by_the_keyboard(site: str, phone: Page) -> None:
    before = len(the_diary())
    phone.goto(f"{site}/")
    tab_to(phone, phone.get_by_role("link", name="Write down a cut"))
    phone.keyboard.press("Enter")
    phone.get_by_role("heading", name="Cut today").wait_for()
    tab_to(phone, phone.locator("#short-court").get_by_role("button", name="Boxed"))
    phone.keyboard.press("Enter")
    expect(phone.locator("#said")).to_contain_text("Sent: it is in the book.")
    assert isinstance(diary_with(before + 1)[-1].what, Cut)
    tab_to(phone, phone.locator("#said").get_by_role("button", name="Take it back"))
    phone.keyboard.press("Enter")
    expect(phone.locator("#said")).to_contain_text("Taken back.")


def test_a_frame_is_counted_by_the_keyboard(site: str, phone: Page) -> None:
    before = len(the_diary())
    phone.goto(f"{site}/lawn/frame/")
    place = phone.locator("[data-place]:visible").first
    tab_to(phone, place)
    name = place.inner_text()
    phone.keyboard.press("Enter")
    kinds = phone.locator("#kinds button")
    expect(kinds.first).to_be_focused()
    for _ in range(24):
        phone.keyboard.press("Enter")
    tab_to(phone, kinds.nth(1))
    phone.keyboard.press("Space")
    expect(phone.locator("#keep")).to_be_focused()
    phone.keyboard.press("Enter")
    expect(phone.locator("#said")).to_contain_text("Frame count")
    wait_until_sent(phone)
    what = diary_with(before + 1)[-1].what
    assert isinstance(what, Count)
    assert (what.places[0].place, what.places[0].found["sown"]) == (name, 24)


@pytest.mark.long
def test_a_question_is_asked_and_answered_by_the_keyboard(site: str, phone: Page) -> None:
    go(phone, f"{site}/ask/fit/")
    tab_to(phone, phone.locator("details.asks > summary"))
    phone.keyboard.press("Enter")
    zones = phone.locator("main form input[name=zone]")
    tab_to(phone, zones.and_(phone.locator(":checked")))
    phone.keyboard.press("ArrowUp")
    chosen = zones.and_(phone.locator(":checked")).input_value()
    phone.keyboard.press("Enter")
    phone.wait_for_url("**/ask/fit/?*zone=*")
    expect(phone.get_by_role("region", name="Answer")).to_contain_text(chosen)
