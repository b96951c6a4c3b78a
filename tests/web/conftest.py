"""A browser without a screen, on a small made-up ground."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from django.test import Client

from swardbook.web import opened
from tests.support.books import standing_on_made_up_ground


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
