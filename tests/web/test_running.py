"""What the one who runs the server sees: well or not, figures, lines; never who asked or what."""

from __future__ import annotations

import json
import logging

import pytest
from django.core.signals import got_request_exception
from django.test import Client, RequestFactory

from swardbook.foundation.errors import StorageError
from swardbook.web import opened, watching


def test_a_server_that_answers_and_reads_its_book_is_well(client: Client) -> None:
    answer = client.get("/health")
    assert answer.status_code == 200
    assert answer.json() == {"is_well": True, "book": "can be read"}
    assert answer["Cache-Control"] == "no-store"


def test_a_server_without_a_book_is_well_too(
    client: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(opened, "is_begun", lambda: False)
    assert client.get("/health").json() == {"is_well": True, "book": "none yet"}


def test_a_book_that_cannot_be_read_is_told_by_its_status(
    client: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken() -> None:
        raise StorageError("/somewhere/book.sqlite3", "the disk is gone")

    monkeypatch.setattr(opened, "any_book", broken)
    answer = client.get("/health")
    assert answer.status_code == 503
    assert answer.json() == {"is_well": False, "book": "StorageError"}
    assert b"somewhere" not in answer.content


def test_answers_are_counted_and_timed_by_page(client: Client) -> None:
    client.get("/health")
    before = watching.ANSWERED.labels("api-health", "GET", 200)._value.get()
    client.get("/health")
    told = client.get("/metrics")
    assert told["Content-Type"].startswith("text/plain; version=0.0.4")
    lines = told.content.decode().splitlines()
    name = 'swardbook_answers_total{method="GET",page="api-health",status="200"}'
    assert f"{name} {before + 1}" in lines
    assert any(line.startswith("swardbook_answer_seconds_bucket") for line in lines)
    assert any(line.startswith("swardbook_book_bytes ") for line in lines)


def test_no_line_and_no_figure_holds_a_word_of_what_was_asked(
    client: Client, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("SWARDBOOK_LOG", "json")
    asked = watching.with_watching(lambda request: client.get(request.get_full_path()))
    asked(RequestFactory().get("/diary/?word=marigold", REMOTE_ADDR="192.0.2.44"))
    client.get("/nowhere/marigold/?word=marigold")
    written = [line for line in capsys.readouterr().err.splitlines() if line.startswith("{")]
    told = [json.loads(line) for line in written]
    names = {"at", "event", "page", "method", "status", "milliseconds"}
    assert [set(each) for each in told] == [names] * len(told)
    assert {each["status"] for each in told} == {200, 404}
    for word in ("marigold", "192.0.2.44"):
        assert word not in "".join(written)
        assert word not in watching.figures().decode()


def test_lines_of_the_frame_below_which_hold_addresses_are_left_out(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    below = logging.getLogger("django")
    monkeypatch.setattr(below, "handlers", [])
    monkeypatch.setattr(below, "propagate", True)
    watching.keep_addresses_out()
    logging.getLogger("django.request").warning("Not Found: /zone/marigold/")
    assert capsys.readouterr().err == ""


def test_a_fault_is_told_by_kind_and_place_without_its_words(
    capsys: pytest.CaptureFixture[str],
) -> None:
    request = RequestFactory().get("/diary/")
    try:
        raise LookupError("the note of Ines Marlow")
    except LookupError:
        got_request_exception.send(sender=None, request=request)
    told = json.loads(capsys.readouterr().err)
    assert (told["event"], told["kind"]) == ("fault", "LookupError")
    assert told["places"][-1].startswith("test_running.py:")
    assert "Marlow" not in json.dumps(told)
    assert watching.FAULTS.labels("none", "LookupError")._value.get() >= 1


def test_the_book_stays_shut_for_a_look_at_the_figures(client: Client) -> None:
    writes = opened.the_book().store.writes()
    client.get("/metrics")
    assert opened.the_book().store.writes() == writes
