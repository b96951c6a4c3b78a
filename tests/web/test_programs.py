"""Ways in for other programs: what the commands say, in JSON, to who has a key."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from datetime import date

import icalendar
import pytest
from django.test import Client

from swardbook.book import plan
from swardbook.book.tokens import end_token, make_token, tokens
from swardbook.book.week_calendar import week_calendar
from swardbook.feeds.calendar_file import Event, calendar_text
from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.web import opened
from swardbook.web.asking.questions import questions
from swardbook.web.opened import clock_now, the_book
from swardbook.web.programs.openapi import document
from tests.web.test_done import token


def bearer(secret: str) -> dict[str, str]:
    return {"HTTP_AUTHORIZATION": f"Bearer {secret}"}


@pytest.mark.parametrize("path", ["clock", "zone/show", "lot/show", "programme/list"])
def test_an_answer_is_what_the_command_prints(client: Client, path: str) -> None:
    told = client.get(f"/api/ask/{path}/").json()
    words = [sys.executable, "-m", "swardbook", *path.split("/"), "--json"]
    printed = json.loads(
        subprocess.run(words, capture_output=True, check=True, env=os.environ).stdout
    )
    assert {**told, "today": printed["today"], "made_up": printed["made_up"]} == printed


def test_options_are_given_by_name_and_a_slip_is_told_in_one_sentence(client: Client) -> None:
    told = client.get("/api/ask/fit/?job=verticut&zone=Main court")
    assert told.status_code == 200
    assert client.get("/api/ask/fit/?nonsense=1").status_code == 422
    assert client.get("/api/ask/fit/?zone=Mian court").status_code == 404
    assert "Main court" in client.get("/api/ask/fit/?zone=Mian court").json()["refusal"]
    assert client.get("/api/ask/no/such/").status_code == 404
    assert client.get("/api/ask/cut/").status_code == 405


def test_a_key_writes_once_under_its_own_mark(client: Client) -> None:
    _made, secret = make_token(the_book(), "rain gauge", "worker", "", clock_now())
    before = len(the_book().store.chain())
    body = json.dumps({"job": "verticut", "reason": "dry", "zone": "Main court"})
    answers = []
    for mark in ("one", "one", "other"):
        opened.close()  # as after a restart
        answers.append(
            client.post("/api/ask/hold-off/", body, content_type="application/json",
                        HTTP_IDEMPOTENCY_KEY=mark, **bearer(secret))  # type: ignore[arg-type]
        )  # fmt: skip
    assert [each.status_code for each in answers] == [200, 200, 200]
    assert answers[0].json() == answers[1].json() != answers[2].json()
    assert len(the_book().store.chain()) == before + 2


def test_a_reader_key_writes_nothing_and_an_ended_one_asks_nothing(client: Client) -> None:
    made, secret = make_token(the_book(), "calendar", "reader", "", clock_now())
    body = json.dumps({"job": "verticut", "reason": "dry"})
    send = {"content_type": "application/json", **bearer(secret)}
    assert client.post("/api/ask/hold-off/", body, **send).status_code == 403  # type: ignore[arg-type]
    assert client.get("/api/diary/", **bearer(secret)).status_code == 200  # type: ignore[arg-type]
    assert client.get("/settings/", **bearer(secret)).status_code == 403  # type: ignore[arg-type]
    end_token(the_book(), made.key, clock_now())
    assert client.get("/api/diary/", **bearer(secret)).status_code in {401, 403}  # type: ignore[arg-type]
    assert made not in tokens(the_book())
    with pytest.raises(UnknownNameError):
        end_token(the_book(), made.key, clock_now())


def test_no_key_is_an_owner_and_each_has_a_name() -> None:
    with pytest.raises(BadInputError):
        make_token(the_book(), "all", "owner", "", clock_now())
    with pytest.raises(BadInputError):
        make_token(the_book(), "  ", "reader", "", clock_now())


def test_a_key_is_shown_once_and_kept_nowhere(client: Client) -> None:
    sent = {"csrfmiddlewaretoken": token(client, "/keys/"), "name": "calendar", "role": "reader"}
    text = client.post("/keys/", sent).content.decode()
    secret = text.split("<p><code>")[1].split("</code>")[0]
    assert len(secret) > 40
    assert secret not in client.get("/keys/").content.decode()
    held = the_book().settings.book_file.read_bytes()
    assert secret.encode() not in held


def test_the_diary_of_a_program_is_the_diary(client: Client) -> None:
    entries = client.get("/api/diary/").json()["entries"]
    assert len(entries) == len(the_book().ground().diary)
    some = client.get("/api/diary/?kind=feed&zone=Main court&from=2011-06-01").json()["entries"]
    assert some
    assert all(each["what"]["kind"] == "feed" for each in some)
    assert client.get("/api/diary/?from=never").status_code == 422


def test_the_calendar_holds_the_week_and_is_read_by_a_calendar_library(client: Client) -> None:
    _made, secret = make_token(the_book(), "calendar", "reader", "", clock_now())
    answer = client.get(f"/calendar/{secret}.ics")
    assert answer.headers["Content-Type"].startswith("text/calendar")
    read = icalendar.Calendar.from_ical(answer.content)
    events = list(read.walk("VEVENT"))
    tasks = plan.week(the_book()).tasks
    assert len(events) == len(tasks)
    assert {str(each["LOCATION"]) for each in events} <= {
        ", ".join(task.zones) or "whole site" for task in tasks
    }
    assert client.get("/calendar/nothing.ics").status_code == 404
    assert week_calendar(the_book()) == week_calendar(the_book())


def test_a_calendar_line_is_never_longer_than_it_may_be_and_loses_no_letter() -> None:
    name = "Höhe; 8 mm, „geschnitten“\nund gesammelt " * 6
    text = calendar_text("All", date(2026, 5, 1), [Event("1", date(2026, 5, 2), name, "", "")])
    assert all(len(line.encode()) <= 75 for line in text.split("\r\n"))
    (event,) = icalendar.Calendar.from_ical(text).walk("VEVENT")
    assert str(event["SUMMARY"]) == name


def test_every_question_without_a_file_is_described() -> None:
    paths = document("/")["paths"]
    for question in questions().values():
        assert (f"/api/ask/{question.path}/" in paths) == (not question.takes_a_file)
    names = [way["operationId"] for told in paths.values() for way in told.values()]
    assert len(names) == len(set(names))
