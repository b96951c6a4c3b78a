"""Every page of the web app, as tests open it: by its example on the made-up ground."""

from __future__ import annotations

import time
from collections.abc import Iterator
from typing import Any

from django.test import Client
from django.urls import reverse

from swardbook.web.page import Page, Role
from swardbook.web.urls import PAGES

LONGEST = 240.0
"""How long a page may be worked out beside a test [s]."""


def shown_pages() -> Iterator[tuple[str, Page]]:
    """Give address and page of all that can be looked at on the made-up ground.

    Those for strangers are left out: on the machine that holds the book nobody is one.
    """
    for page in PAGES:
        is_html = "GET" in page.methods and not page.name.startswith(("api-", "file-"))
        is_html = is_html and page.role > Role.STRANGER
        if is_html and ("<" not in page.route or page.example):
            yield reverse(page.name, kwargs=dict(page.example)), page


def html_addresses() -> list[str]:
    """Give the addresses of all pages that are read by people and come at once."""
    return [
        address for address, page in shown_pages()
        if not page.is_slow and not address.endswith((".js", ".webmanifest"))
    ]  # fmt: skip


def slow_addresses() -> list[str]:
    """Give the addresses of pages that are worked out first."""
    return [address for address, page in shown_pages() if page.is_slow]


def answered(client: Client, address: str) -> Any:
    """Ask for a page until it is there."""
    end = time.monotonic() + LONGEST
    answer = client.get(address)
    while answer.status_code == 202 and time.monotonic() < end:
        time.sleep(0.2)
        answer = client.get(address)
    return answer
