"""Work out what is asked first, as soon as pages are served and before anybody asks.

Views, templates and answers are made when they are first needed. Whoever opened the first page of a
new server waited for all of that; now a thread beside the pages has begun on it already, and who
comes earlier waits for the rest of the same work.
"""

from __future__ import annotations

import io
import threading
from collections.abc import Iterable
from contextlib import suppress

from django.core.handlers.wsgi import WSGIRequest
from django.urls import reverse

from swardbook.book.opening import only_looking
from swardbook.web import opened
from swardbook.web.asker import OWN_MACHINE
from swardbook.web.page import Page, every_page

FIRST = "morning"
"""Name of the page that is opened before all others."""


def begin() -> None:
    """Begin to work out what is asked first, beside the pages."""
    threading.Thread(target=warm, daemon=True, name="warming").start()


def warm(pages: Iterable[Page] | None = None) -> None:
    """Look at pages as the owner of this machine would, and show them to nobody.

    Parameters
    ----------
    pages : iterable of Page or None
        Which; None: those that a phone fetches at its first visit, the morning look before all.
    """
    try:
        if opened.is_begun():
            for page in fetched_first() if pages is None else pages:
                with suppress(Exception):  # who asks for the page is told; nobody asked yet
                    _look_at(page)
    finally:
        opened.close()


def fetched_first() -> list[Page]:
    """List the pages that a phone fetches at its first visit, the morning look before all."""
    found = [page for page in every_page() if page.offline and "<" not in page.route]
    return sorted(found, key=lambda page: page.name != FIRST)


def _look_at(page: Page) -> None:
    address = reverse(page.name)
    request = WSGIRequest(
        {"REQUEST_METHOD": "GET", "PATH_INFO": address, "SERVER_NAME": "localhost",
         "SERVER_PORT": "80", "REMOTE_ADDR": "127.0.0.1", "wsgi.input": io.BytesIO()}
    )  # fmt: skip
    request.asker = OWN_MACHINE  # type: ignore[attr-defined]
    with only_looking(), opened.standing_still():
        page.view(request)
