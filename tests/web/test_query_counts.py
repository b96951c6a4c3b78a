"""What a page asks of the database does not grow with the lawns of the book."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from django.db import connections
from django.test import Client
from django.test.utils import CaptureQueriesContext

from swardbook.demo.many_lawns import Firm, write_firm
from swardbook.settings import Settings
from swardbook.web import opened, remembering

FEW, MANY, LAWN, MOST = 3, 12, "1-plover-row", 5
OF_ONE = ("", "week/", "ground/", "done/", "done/cut/", "done/water/", "lawn/pull/", "more/",
          "diary/", "seed/", "settings/")  # fmt: skip
PAGES = (*(f"/at/{LAWN}/{page}" for page in OF_ONE), "/all-lawns/")


@pytest.fixture(scope="module")
def homes(tmp_path_factory: pytest.TempPathFactory) -> dict[int, Path]:
    made = {many: tmp_path_factory.mktemp(f"lawns-{many}") for many in (FEW, MANY)}
    for many, home in made.items():
        write_firm(Settings(home), Firm(lawns=many, years=1))
    return made


@pytest.fixture(autouse=True)
def _closed() -> Iterator[None]:
    opened.close()
    yield
    opened.close()
    remembering.forget()


def counted(home: Path, monkeypatch: pytest.MonkeyPatch) -> dict[str, int]:
    """Count the questions of each page of one lawn, asked a second time."""
    monkeypatch.setenv("SWARDBOOK_HOME", str(home))
    opened.close()
    client, made = Client(HTTP_HOST="localhost"), {}
    for address in PAGES:
        assert client.get(address).status_code == 200
        held = connections[opened.any_book().store._rows.alias]
        with CaptureQueriesContext(held) as caught:
            client.get(address)
        made[address] = len(caught)
    return made


def test_a_page_asks_as_little_among_twelve_lawns_as_among_three(
    homes: dict[int, Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    few, many = (counted(homes[each], monkeypatch) for each in (FEW, MANY))
    assert few == many
    assert all(0 < each <= MOST for each in few.values())
