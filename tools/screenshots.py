"""Pictures of every page on the made-up ground, as wide as a phone, a tablet and a desk.

Run: ``make screenshots``, or ``python -m tools.screenshots [--dark] [ADDRESS ...]``. The pictures
lie in ``build/screenshots`` and are for looking at; nothing compares them.
"""

from __future__ import annotations

import re
import sys
import tempfile
from collections.abc import Iterable
from pathlib import Path

from playwright.sync_api import Browser, sync_playwright

from swardbook.book.opening import prepare_pages
from swardbook.web.wiring import pages_settings

prepare_pages(pages_settings())  # before anything below that holds tables is read
from tests.support.addresses import html_addresses, slow_addresses  # noqa: E402
from tests.support.books import standing_on_made_up_ground  # noqa: E402
from tests.web.conftest import CHROMIUM, Server  # noqa: E402

WHERE = Path(__file__).resolve().parent.parent / "build" / "screenshots"
WIDTHS = (360, 768, 1440)
WORKING = "script[src*='wait.js']"
"""What a page holds while what it shows is being worked out."""
LONGEST_MS = 240_000
"""How long a page may be worked out [ms]."""


def take(
    browser: Browser, site: str, addresses: Iterable[str], folder: Path, is_dark: bool = False
) -> int:
    """Take a picture of each page at each width; give how many there are."""
    taken = 0
    for width in WIDTHS:
        (folder / str(width)).mkdir(parents=True, exist_ok=True)
        page = browser.new_page(
            viewport={"width": width, "height": 800}, color_scheme="dark" if is_dark else "light"
        )
        for address in addresses:
            page.goto(site + address)
            page.wait_for_selector(WORKING, state="detached", timeout=LONGEST_MS)
            name = re.sub(r"\W+", "-", address).strip("-") or "morning"
            shade = "-dark" if is_dark else ""
            page.screenshot(path=folder / str(width) / f"{name}{shade}.png", full_page=True)
            taken += 1
        page.close()
    return taken


def main() -> None:
    """Build the ground, serve it, and take every picture."""
    chosen = [each for each in sys.argv[1:] if each != "--dark"]
    with (
        tempfile.TemporaryDirectory() as kept,
        standing_on_made_up_ground(Path(kept)) as home,
        sync_playwright() as play,
    ):
        server = Server(home)
        server.begin()
        browser = play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        try:
            addresses = chosen or [*html_addresses(), *slow_addresses()]
            taken = take(browser, server.address, addresses, WHERE, "--dark" in sys.argv)
        finally:
            browser.close()
            server.end()
    print(f"{taken} pictures in {WHERE}")


if __name__ == "__main__":
    main()
