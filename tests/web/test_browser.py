"""The pages in Debian's Chromium, where there is one: as wide as a phone, a tablet and a desk."""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from urllib.request import urlopen

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, sync_playwright

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
pytestmark = [
    pytest.mark.skipif(CHROMIUM is None, reason="there is no Chromium on this machine"),
    pytest.mark.xdist_group("browser"),
]
PAGES = (
    "/", "/week/", "/ground/", "/ground/Main%20court/", "/ground/Main%20court/fit/verticut/",
    "/done/", "/done/cut/", "/done/water/", "/done/note/", "/ground/Nowhere/",
)  # fmt: skip
TAPPED = "nav a, button, .button, .zones a, .choices label, summary"
LEAST_TARGET = 44
"""Height of anything that is tapped, but links in running text [px]."""


@pytest.fixture(scope="module")
def site(home: Path) -> Iterator[str]:
    """Serve the made-up ground, as a person would."""
    with socket.socket() as asked:
        asked.bind(("127.0.0.1", 0))
        port = asked.getsockname()[1]
    command = [sys.executable, "-m", "swardbook", "serve", "--port", str(port), "--no-browser"]
    environment = {**os.environ, "SWARDBOOK_HOME": str(home)}
    served = subprocess.Popen(command, env=environment, stdout=subprocess.DEVNULL)
    address = f"http://127.0.0.1:{port}"
    for _ in range(300):
        try:
            urlopen(address, timeout=30).close()
            break
        except OSError:
            time.sleep(0.2)
    yield address
    served.terminate()
    served.wait(20)


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with sync_playwright() as play:
        opened = play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield opened
        opened.close()


@pytest.fixture
def phone(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 360, "height": 740})
    yield context.new_page()
    context.close()


@pytest.mark.parametrize("width", [360, 768, 1440])
def test_no_page_is_wider_than_its_screen_or_complains(
    site: str, browser: Browser, width: int
) -> None:
    page = browser.new_page(viewport={"width": width, "height": 800})
    said: list[str] = []
    page.on("console", lambda told: said.append(told.text))
    for path in PAGES[:-1]:
        page.goto(site + path)
        assert page.evaluate("document.documentElement.scrollWidth") <= width, path
    page.close()
    assert said == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_everybody_can_read_and_work_every_page(site: str, browser: Browser, scheme: str) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 800})
    page = context.new_page()
    page.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
    for path in PAGES:
        page.goto(site + path)
        found = Axe().run(page)
        assert found.violations_count == 0, f"{path}: {found.generate_report()}"
    context.close()


def test_a_boxed_cut_takes_two_taps_from_the_morning_look(site: str, phone: Page) -> None:
    phone.goto(f"{site}/")
    phone.get_by_role("link", name="Write down a cut").click()
    phone.locator("#main-court").get_by_role("button", name="Boxed").click()
    assert phone.get_by_role("heading", level=1).inner_text() == "Kept"
    phone.get_by_role("button", name="Take it back").click()
    assert phone.get_by_role("heading", level=1).inner_text() == "Taken back"


def test_what_is_tapped_is_large_enough_for_a_glove(site: str, phone: Page) -> None:
    for path in ("/", "/ground/", "/done/", "/done/cut/", "/done/water/"):
        phone.goto(site + path)
        for each in phone.locator(
            "nav a, button, .button, .zones a, .choices label, summary"
        ).all():
            box = each.bounding_box()
            assert box is not None
            assert box["height"] >= LEAST_TARGET, f"{path}: {each.inner_text()}"


def test_the_keyboard_alone_writes_a_note(site: str, phone: Page) -> None:
    phone.goto(f"{site}/done/note/")
    phone.keyboard.press("Tab")
    assert phone.evaluate("document.activeElement.textContent") == "To what the page says"
    phone.get_by_label("What you saw").focus()
    phone.keyboard.type("Moss by the gate")
    phone.keyboard.press("Enter")
    assert "Moss by the gate" in phone.locator("main").inner_text()
