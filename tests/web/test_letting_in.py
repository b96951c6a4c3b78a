"""From no book to a second pair of hands, in a browser: code, account, ground, people, log-in."""

from __future__ import annotations

import json
import os
import shutil
import socket
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect, sync_playwright

from tests.web.conftest import CHROMIUM, needs_chromium
from tests.web.lawn import PATIENT, wait_until_sent

pytestmark = [
    needs_chromium,
    pytest.mark.skipif(shutil.which("openssl") is None, reason="there is no openssl"),
]
OWNERS, LENT, OWN = "four quiet moles dig", "seven grey herons", "ten loud larks up"


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[dict[str, Any]]:
    home: Path = tmp_path_factory.mktemp("letting-in") / "book"
    with socket.socket() as asked:
        asked.bind(("127.0.0.1", 0))
        port = asked.getsockname()[1]
    command = [sys.executable, "-m", "swardbook", "serve", "--host", "0.0.0.0", "--port", str(port),
               "--make-certificate", "--json"]  # fmt: skip
    environment = {**os.environ, "SWARDBOOK_HOME": str(home)}
    with subprocess.Popen(command, env=environment, stdout=subprocess.PIPE, text=True) as server:
        assert server.stdout is not None
        told = json.loads(server.stdout.readline())
        yield {"site": f"https://localhost:{port}", "code": told["code"]}
        server.terminate()


@pytest.fixture(scope="module")
def trusting() -> Iterator[Browser]:
    """Give a browser that takes our certificate for a trusted one."""
    with sync_playwright() as play:
        opened = play.chromium.launch(
            executable_path=CHROMIUM, args=["--no-sandbox", "--ignore-certificate-errors"]
        )
        yield opened
        opened.close()


def a_phone(trusting: Browser) -> Page:
    page = trusting.new_context(viewport={"width": 360, "height": 740}).new_page()
    page.set_default_timeout(PATIENT)
    expect.set_options(timeout=PATIENT)
    return page


def look_at(page: Page) -> None:
    """Make sure that everybody can read and work a page, on a phone and at a desk."""
    for width in (1440, 360):
        page.set_viewport_size({"width": width, "height": 740})
        assert page.evaluate("document.documentElement.scrollWidth") <= width, page.url
    for scheme in ("dark", "light"):
        page.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
        found = Axe().run(page)
        assert found.violations_count == 0, f"{page.url}: {found.generate_report()}"


def log_in(page: Page, name: str, password: str) -> None:
    page.get_by_label("Name").fill(name)
    page.get_by_label("Password").fill(password)
    page.get_by_role("button", name="Log in").click()


def begin(page: Page, served: dict[str, Any]) -> None:
    for _ in range(400):
        try:
            page.goto(f"{served['site']}/week/")
            break
        except Exception:  # the server is not there yet
            page.wait_for_timeout(500)
    look_at(page)
    for name, text in {"code": served["code"], "name": "Ines Marlow", "password": OWNERS,
                       "again": OWNERS, "site": "Home", "latitude": "52.1", "zone": "Front",
                       "size": "12x9", "height": "25"}.items():  # fmt: skip
        page.locator(f"[name={name}]").fill(text)
    for name, value in (("use", "family lawn"), ("mower", "rotary"), ("box", "yes")):
        page.locator(f"[name={name}][value='{value}']").check()
    page.get_by_role("button", name="Begin").click()
    page.get_by_role("heading", name="Morning look").wait_for()


def let_in(page: Page, site: str) -> None:
    page.goto(f"{site}/people/")
    page.locator("[name=name][required]").fill("Odalys Fenn")
    page.locator("[name=password]").last.fill(LENT)
    page.locator(".one [value=worker]").check()
    page.get_by_role("button", name="Let them in").click()
    page.get_by_role("heading", name="Odalys Fenn").wait_for()
    page.locator("summary").first.click()
    look_at(page)
    page.get_by_role("link", name="Change what Odalys Fenn may do").click()
    page.get_by_role("heading", name="When they leave").wait_for()
    look_at(page)


@pytest.mark.long
def test_from_no_book_to_a_second_pair_of_hands(served: dict[str, Any], trusting: Browser) -> None:
    site, page = served["site"], a_phone(trusting)
    begin(page, served)
    let_in(page, site)
    page.goto(f"{site}/more/")
    page.get_by_role("button", name="Log out").click()
    page.get_by_role("heading", name="Logged out").wait_for()
    look_at(page)
    page.goto(f"{site}/join/#abcd-efgh")
    page.wait_for_function("document.getElementById('code').value === 'abcd-efgh'")
    assert "#" not in page.url
    look_at(page)
    page.goto(f"{site}/ground/")
    look_at(page)
    log_in(page, "odalys fenn", LENT)
    page.get_by_role("heading", name="Your password").wait_for()
    look_at(page)
    for name, text in (("old", LENT), ("new", OWN), ("again", OWN)):
        page.locator(f"[name={name}]").fill(text)
    page.get_by_role("button", name="Change it").click()
    page.get_by_role("heading", name="Morning look").wait_for()
    page.goto(f"{site}/people/")
    expect(page.locator("main")).to_contain_text("You are a worker of this ground")

    page.goto(f"{site}/done/note/")
    page.context.clear_cookies(name="__Host-swardbook")  # as after thirty days
    page.get_by_label("What you saw").fill("Moss by the gate")
    page.get_by_role("button", name="Keep").click()
    page.get_by_role("link", name="Log in to send it").click()
    log_in(page, "Odalys Fenn", OWN)
    wait_until_sent(page)
    page.goto(f"{site}/diary/")
    expect(page.locator("main")).to_contain_text("Moss by the gate")
    expect(page.locator("main")).to_contain_text("OF")
