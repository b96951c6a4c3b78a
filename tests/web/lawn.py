"""What journeys on the lawn share: a phone on the made-up ground, its signal, its taps."""

from __future__ import annotations

import time
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from dataclasses import dataclass

from playwright.sync_api import Browser, BrowserContext, Error, Locator, Page, expect

from swardbook.husbandry.diary import DiaryEntry
from swardbook.web.opened import close, the_book

PATIENT = 90_000
"""How long something on a page is waited for, on a machine that is busy otherwise [ms]."""
WORKED_OUT = 240_000
"""How long a page may be worked out, which comes by itself then [ms]."""
UNDER_THE_WORKER = f"""() => new Promise((done, late) => {{
  setTimeout(() => late(new Error(`no worker: ${{document.body.innerText}}`)), {WORKED_OUT});
  navigator.serviceWorker.controller
    ? done() : navigator.serviceWorker.addEventListener("controllerchange", () => done()); }})"""
"""Waits until the worker has the page; asked whole, since the policy lets no text be run later."""
LONGEST = 60.0
"""How long something on its way to the book is waited for [s]."""
TAP_SECONDS = 1.2
"""How long a person takes to find and make one tap with a glove on [s]."""


def go(page: Page, address: str) -> None:
    """Open a page, and wait until it was worked out where that takes long."""
    page.goto(address)
    expect(page.get_by_text("seconds so far")).to_have_count(0, timeout=WORKED_OUT)


PAGES_OF_THE_LAWN = (
    "/", "/done/", "/done/cut/", "/done/note/", "/lawn/frame/", "/lawn/picture/",
    "/lawn/pull/", "/lawn/waiting/", "/no-signal/",
)  # fmt: skip
KEPT = f"""async (paths) => {{
  for (const end = Date.now() + {WORKED_OUT};;) {{
    const found = await Promise.all(paths.map((path) => caches.match(path)));
    if (found.every(Boolean)) return;
    if (Date.now() > end) throw new Error(`not kept: ${{paths.filter((_, at) => !found[at])}}`);
    await new Promise((on) => setTimeout(on, 100));
  }}
}}"""


def wait_until_kept(page: Page, *paths: str) -> None:
    """Wait until the worker has kept some pages on the phone."""
    page.evaluate(KEPT, paths)


def new_phone(
    browser: Browser, site: str, path: str = "/", keeps: tuple[str, ...] = PAGES_OF_THE_LAWN
) -> tuple[BrowserContext, Page]:
    """Give a phone that has been on the pages once, so that they are kept on it."""
    context = browser.new_context(
        viewport={"width": 360, "height": 740}, has_touch=True, is_mobile=True
    )
    context.set_default_timeout(PATIENT)
    page = context.new_page()
    page.goto(f"{site}{path}")
    page.evaluate(UNDER_THE_WORKER)
    wait_until_kept(page, *keeps)
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


def wait_until_sent(page: Page) -> None:
    """Wait until the page has counted what waits on the phone, and found nothing."""
    page.locator('#waits[data-count="0"]').wait_for(state="attached")


def send_what_waits(page: Page) -> None:
    """Tap to send, unless the phone has sent by itself meanwhile, and wait until all is sent."""
    all_sent, button = page.locator('#waits[data-count="0"]'), page.locator("#waits button")
    page.locator('#waits[data-count="0"], #waits:not([hidden])').wait_for(state="attached")
    while not all_sent.count():
        with suppress(Error):  # gone under the finger: it was sent by itself
            button.click(timeout=1000)
            all_sent.wait_for(state="attached", timeout=1000)


def diary_with(entries: int) -> tuple[DiaryEntry, ...]:
    """Read the diary once it has so many entries; what is on the way may take its time."""
    end = time.monotonic() + LONGEST
    while len(diary := the_diary()) < entries and time.monotonic() < end:
        time.sleep(0.1)
    return diary


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
