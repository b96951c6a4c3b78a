"""Nine days without signal on two phones: forty entries and twenty pictures each, all once."""

from __future__ import annotations

import io
import time
from collections import Counter
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field
from typing import Any

import pytest
from PIL import Image
from playwright.sync_api import Browser, BrowserContext, Error, FilePayload, Page, Route

from swardbook.husbandry.attachments import Attachment
from tests.web.conftest import Server, needs_chromium
from tests.web.lawn import new_phone, the_diary, wait_until_sent

pytestmark = [needs_chromium, pytest.mark.long]

DAYS = 9
ENTRIES, PICTURES = 40, 20
LONGEST = 900.0
"""How long all may take to be sent [s]."""
KEPT = """async () => {
  const box = await import("/static/swardbook/outbox.js");
  const [entries, files] = await Promise.all([box.waiting(), box.filesWaiting()]);
  return [entries.map((each) => each.id), files.map((each) => each.id)];
}"""


@dataclass
class Phone:
    """One phone, the tab that is open on it, and what it lost on the way."""

    site: str
    zone: str
    context: BrowserContext
    page: Page
    lost: list[str] = field(default_factory=list)

    def open(self, path: str) -> Page:
        """Kill the tab, as a phone does that was put away, and open a page anew."""
        self.page.close()
        self.page = self.context.new_page()
        self.page.goto(self.site + path)
        return self.page

    def cut(self) -> None:
        page = self.open("/done/cut/")
        button = page.locator(f"#{self.zone.casefold().replace(' ', '-')}")
        button.get_by_role("button", name="Left lying").tap()
        page.locator("#said").get_by_role("heading", name="Kept").wait_for()

    def note(self, text: str) -> None:
        page = self.open("/done/note/")
        page.get_by_label(self.zone).check()
        page.get_by_label("What you saw").fill(text)
        page.get_by_role("button", name="Keep").tap()
        page.locator("#said").get_by_role("heading", name="Kept").wait_for()

    def take(self, shade: int) -> None:
        page = self.page
        before = len(self.waits()[1])
        held = io.BytesIO()
        Image.effect_noise((320, 240), shade).convert("RGB").save(held, "JPEG")  # no two alike
        file: FilePayload = {"name": "a.jpg", "mimeType": "image/jpeg", "buffer": held.getvalue()}
        page.locator("#there").set_input_files([file])
        page.locator("#waits b", has_text=f"{before + 1} picture").wait_for()

    def until(self, happened: Callable[[], bool]) -> None:
        """Wait, with the browser going on, until something has happened."""
        end = time.monotonic() + LONGEST
        while not happened() and time.monotonic() < end:
            self.page.wait_for_timeout(100)

    def waits(self) -> tuple[list[str], list[str]]:
        entries, files = self.page.evaluate(KEPT)
        return entries, files

    def lose(self, route: Route) -> None:
        """Let the book have it, and lose the answer."""
        with suppress(Error):  # the book may just be away
            route.fetch()
            self.lost.append(route.request.url)
        route.abort()


def days_without_signal(phone: Phone, number: int) -> None:
    written = taken = 0
    for day in range(1, DAYS + 1):
        while written < ENTRIES * day // DAYS:
            if written % 2:
                phone.cut()
            else:
                phone.note(f"Phone {number}, day {day}, entry {written}")
            written += 1
        phone.open("/lawn/picture/")
        while taken < PICTURES * day // DAYS:
            phone.take(40 * number + 2 * taken)
            taken += 1


def send_with_mishaps(phone: Phone, server: Server) -> None:
    """Send, while answers are lost, the book is away for a while, and tabs are killed."""
    for way_in in ("**/api/entries/", "**/api/files/"):
        phone.context.route(way_in, phone.lose, times=2)
    phone.context.set_offline(False)
    phone.until(lambda: bool(phone.lost))
    server.end()
    phone.open("/lawn/waiting/")
    server.begin()
    end = time.monotonic() + LONGEST
    while any(phone.waits()) and time.monotonic() < end:
        phone.open("/lawn/waiting/")
        with suppress(Error):
            wait_until_sent(phone.page)
    assert phone.waits() == ([], [])
    assert {each.rsplit("/", 2)[1] for each in phone.lost} == {"entries", "files"}


def test_nine_days_on_two_phones_come_together_with_none_lost_or_doubled(
    server: Server, browser: Browser
) -> None:
    before = {each.id for each in the_diary()}
    phones = [
        Phone(server.address, zone, *new_phone(browser, server.address))
        for zone in ("Main court", "Short court")
    ]
    server.end()  # a browser that is told it is offline lets a new tab send for a moment
    ids = []
    for number, phone in enumerate(phones, 1):
        phone.context.set_offline(True)
        days_without_signal(phone, number)
        entries, files = phone.waits()
        assert (len(entries), len(files)) == (ENTRIES, PICTURES)
        ids += entries + files
    server.begin()
    assert {each.id for each in the_diary()} == before
    for phone in phones:
        send_with_mishaps(phone, server)
        phone.context.close()
    came: list[Any] = [each for each in the_diary() if each.id not in before]
    assert Counter(str(each.id) for each in came) == Counter(ids)
    pictures = [each for each in came if isinstance(each.what, Attachment)]
    assert len({each.what.file for each in pictures}) == 2 * PICTURES
    assert not [
        each for each in came if each.needs_a_look and "Not understood" in each.needs_a_look
    ]
