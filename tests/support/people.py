"""People on a made-up book, and browsers of theirs, for tests."""

from __future__ import annotations

import re
import sqlite3
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from django.contrib.auth.hashers import Argon2PasswordHasher
from django.test import Client

from swardbook.book.opening import Book
from swardbook.book.people import add_person, log_in
from swardbook.book.serving import Served

NOW = datetime(2026, 4, 3, 8, 0, tzinfo=UTC)
PASSWORDS = {
    "owner": "four quiet moles dig", "worker": "seven grey herons", "reader": "ten loud larks up",
}  # fmt: skip
NAMES = {"owner": "Ines Marlow", "worker": "Odalys Fenn", "reader": "Bram Tidewell"}
OTHERS = Served(to_others=True, names=("lawns.example",), has_tls=True, code="bcdf-ghkm-npqr")


def hash_lightly(patch: pytest.MonkeyPatch) -> None:
    """Let hashing be as it is, but light: tests hash often, and guard nothing."""
    for name, value in (("time_cost", 1), ("memory_cost", 64), ("parallelism", 1)):
        patch.setattr(Argon2PasswordHasher, name, value)


def let_people_in(book: Book) -> None:
    """Give the book an owner, a worker and a reader."""
    for role, name in NAMES.items():
        add_person(book, name, "", role, PASSWORDS[role], NOW, must_change=False)


def token_of(book: Book, role: str, now: datetime) -> str:
    """Log somebody in, and give the token of their session."""
    return log_in(book, NAMES[role], PASSWORDS[role], "192.0.2.7", now).token


class Browser(Client):
    """A browser that speaks TLS."""

    def request(self, **request: Any) -> Any:
        """Ask by TLS."""
        return super().request(**{**request, "wsgi.url_scheme": "https"})


def browser(enforce_csrf: bool = True) -> Client:
    """Give a browser that speaks TLS."""
    here = {"host": "localhost", "origin": "https://localhost"}
    return Browser(enforce_csrf_checks=enforce_csrf, headers=here)


def token_in(text: str) -> str:
    """Find the token of a form."""
    found = re.search(r'name="csrfmiddlewaretoken" value="(\w+)"', text)
    assert found is not None
    return found.group(1)


def send(client: Client, page: str, **fields: str) -> Any:
    """Fill in the form of a page, and send it as a browser does."""
    shown = client.get(page)
    return client.post(
        page.partition("?")[0],
        {"csrfmiddlewaretoken": token_in(shown.content.decode()), **fields},
    )


class Watched:
    """Tells whether anything at all was written into a book, by whomever."""

    def __init__(self, home: Path) -> None:
        self._file = sqlite3.connect(f"{(home / 'book.sqlite3').as_uri()}?mode=ro", uri=True)
        self._seen = self._version()

    def _version(self) -> int:
        return int(self._file.execute("PRAGMA data_version").fetchone()[0])

    def is_written(self) -> bool:
        """Tell whether it was written to since."""
        before, self._seen = self._seen, self._version()
        return before != self._seen

    def close(self) -> None:
        """Let go of the file."""
        self._file.close()
