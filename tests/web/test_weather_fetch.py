"""The weather fetched from a page, as a worker would."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from django.test import Client

from swardbook.web import opened
from tests.support.books import small_book
from tests.support.weather_service import Service, as_bytes, days_told, serving, tell


@pytest.fixture
def service(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Service]:
    small_book(tmp_path / "home").store.close()
    monkeypatch.setenv("SWARDBOOK_HOME", str(tmp_path / "home"))
    told = as_bytes(days_told(opened.clock_today() - timedelta(days=3), 10))
    with serving(lambda asked: tell(asked, told)) as made:
        monkeypatch.setenv("SWARDBOOK_WEATHER_ADDRESS", f"{made.address}/?lat={{latitude}}")
        monkeypatch.setenv("SWARDBOOK_WEATHER_CREDIT", "Weather data by the Example Office")
        yield made
        opened.close()


def test_a_page_fetches_when_it_is_sent_and_never_when_it_is_looked_at(service: Service) -> None:
    client = Client(HTTP_HOST="localhost")
    assert client.get("/ask/weather/fetch/").status_code == 200
    assert service.asked == []
    answer = client.post("/ask/weather/fetch/", {"keeps": "yes"})
    assert answer.status_code == 200
    text = answer.content.decode()
    assert "Fetched from 127.0.0.1" in text
    assert "Weather data by the Example Office" in text
    assert len(service.asked) == 1
    service.say = lambda asked: tell(asked, b"", 503)
    again = client.post("/ask/weather/fetch/", {"again": "yes"}).content.decode()
    assert "Stale" in again
    assert "the server answered 503" in again
