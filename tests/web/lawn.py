"""What journeys on the lawn share: a phone on the made-up ground, its signal, its taps."""

from __future__ import annotations

import time
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

from playwright.sync_api import Browser, BrowserContext, Locator, Page

from swardbook.husbandry.diary import DiaryEntry
from swardbook.web.opened import close, the_book

UNDER_THE_WORKER = """() => new Promise((done) => navigator.serviceWorker.controller
  ? done() : navigator.serviceWorker.addEventListener("controllerchange", () => done()))"""
"""Waits until the worker has the page; asked whole, since the policy lets no text be run later."""
TAP_SECONDS = 1.2
"""How long a person takes to find and make one tap with a glove on [s]."""


def new_phone(browser: Browser, site: str, path: str = "/") -> tuple[BrowserContext, Page]:
    """Give a phone that has been on the pages once, so that they are kept on it."""
    context = browser.new_context(
        viewport={"width": 360, "height": 740}, has_touch=True, is_mobile=True
    )
    page = context.new_page()
    page.goto(f"{site}{path}")
    page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    page.evaluate(UNDER_THE_WORKER)
    return context, page


def the_diary() -> tuple[DiaryEntry, ...]:
    """Read the diary in a thread of its own: the browser's loop runs in this one."""

    def read() -> tuple[DiaryEntry, ...]:
        try:
            return the_book().store.whole_diary()
        finally:
            close()

    with ThreadPoolExecutor(1) as pool:
        return pool.submit(read).result()


@dataclass
class Hand:
    """A hand that taps, counting its taps, while the waits between are measured."""

    page: Page
    taps: int = 0
    waited: float = 0.0

    def tap(self, what: Locator) -> None:
        """Tap once."""
        what.tap()
        self.taps += 1

    def wait(self, what: Locator) -> None:
        """Wait until something shows, and count the time."""
        begun = time.monotonic()
        what.wait_for()
        self.waited += time.monotonic() - begun

    @property
    def seconds(self) -> float:
        """How long a person takes in all [s]."""
        return self.taps * TAP_SECONDS + self.waited


def throttled(page: Page, times: float = 4) -> None:
    """Let the page's processor run that much slower, as a cheap phone's does."""
    session = page.context.new_cdp_session(page)
    session.send("Emulation.setCPUThrottlingRate", {"rate": times})
