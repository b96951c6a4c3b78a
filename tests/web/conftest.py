"""A browser without a screen, on a small made-up ground."""

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
from django.test import Client
from playwright.sync_api import Browser, Page, expect, sync_playwright

from swardbook.web import opened
from tests.support.books import standing_on_made_up_ground
from tests.web.lawn import PATIENT

os.environ.setdefault("DJANGO_ALLOW_ASYNC_UNSAFE", "true")
"""The browser's loop goes on in the thread of the tests, which is not one that asks the book."""
CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
LONGEST = 300.0
"""How long a server may take to begin [s]."""
needs_chromium = pytest.mark.skipif(CHROMIUM is None, reason="there is no Chromium here")


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """Build the made-up ground once for the tests of a file."""
    with standing_on_made_up_ground(tmp_path_factory.mktemp("pages")) as folder:
        yield folder
        opened.close()


@pytest.fixture
def client(home: Path) -> Client:
    """Give a client that is held to the rules for forms, as a browser is."""
    assert (home / "book.sqlite3").is_file()
    return Client(enforce_csrf_checks=True, HTTP_HOST="localhost")


class Server:
    """The pages of a book, served as a person would, stopped and begun again on one address."""

    def __init__(self, home: Path) -> None:
        self.home = home
        with socket.socket() as asked:
            asked.bind(("127.0.0.1", 0))
            self.port = asked.getsockname()[1]
        self.address = f"http://127.0.0.1:{self.port}"

    def begin(self) -> None:
        """Serve, and wait until the first page comes."""
        command = [sys.executable, "-m", "swardbook", "serve", "--port", str(self.port),
                   "--no-browser"]  # fmt: skip
        environment = {**os.environ, "SWARDBOOK_HOME": str(self.home)}
        self.served = subprocess.Popen(command, env=environment, stdout=subprocess.DEVNULL)
        end = time.monotonic() + LONGEST
        while self.served.poll() is None and time.monotonic() < end:
            try:
                urlopen(self.address, timeout=LONGEST).close()
                return
            except OSError:
                time.sleep(0.2)
        raise RuntimeError(f"nothing is served at {self.address}")

    def end(self) -> None:
        """Stop serving."""
        self.served.terminate()
        self.served.wait(20)


@pytest.fixture(scope="module")
def server(home: Path) -> Iterator[Server]:
    """Serve the made-up ground, in a way that can be stopped and begun again."""
    made = Server(home)
    made.begin()
    yield made
    made.end()


@pytest.fixture(scope="module")
def site(server: Server) -> str:
    """Serve the made-up ground, as a person would."""
    return server.address


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    expect.set_options(timeout=PATIENT)
    with sync_playwright() as play:
        opened = play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield opened
        opened.close()


@pytest.fixture
def phone(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 360, "height": 740})
    context.set_default_timeout(PATIENT)
    yield context.new_page()
    context.close()
