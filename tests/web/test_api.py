"""The way in for phones: once, never refused for what was typed, and only with its token."""

from __future__ import annotations

import json
import re
from io import BytesIO
from typing import Any
from uuid import uuid4

import pytest
from django.test import Client
from PIL import Image

from swardbook.book.diary import find
from swardbook.husbandry.attachments import Attachment
from swardbook.husbandry.happenings import Count, Note, Reading, Seedlings
from swardbook.web.opened import the_book


def send(client: Client, body: Any) -> Any:
    client.get("/done/note/")
    token = client.cookies["csrftoken"].value
    text = body if isinstance(body, str) else json.dumps(body)
    return client.post(
        "/api/entries/", text, content_type="application/json", HTTP_X_CSRFTOKEN=token
    )


def entry(**fields: Any) -> dict[str, Any]:
    return {
        "id": str(uuid4()),
        "kind": "cut",
        "zone": "Main court",
        "fields": {"boxed": "yes"},
        **fields,
    }


def test_an_entry_is_kept_once_however_often_it_comes(client: Client) -> None:
    one, before = entry(), len(the_book().store.chain())
    assert send(client, one).status_code == 201
    again = send(client, one)
    assert (again.status_code, again.json()["was_there"]) == (200, True)
    assert len(the_book().store.chain()) == before + 1


def test_another_content_under_the_same_id_is_kept_beside_it_and_said(client: Client) -> None:
    one, before = entry(), len(the_book().store.chain())
    send(client, one)
    other = {**one, "note": "typed since"}
    for status in (201, 200):
        answer = send(client, other)
        assert (answer.status_code, answer.json()["has_clashed"]) == (status, True)
    assert len(the_book().store.chain()) == before + 2
    beside = find(the_book(), answer.json()["id"])
    assert (beside.note, beside.id == one["id"]) == ("typed since", False)
    assert "Both are kept" in beside.needs_a_look


def test_guesses_of_an_audience_come_once_and_odd_ones_become_a_note(client: Client) -> None:
    sent = {"question": "finest", "Bobbin": "12", "other": "3"}
    one = entry(kind="guesses", zone="Trial ground", fields=sent)
    before = len(the_book().store.chain())
    for status in (201, 200):
        answer = send(client, one)
        assert (answer.status_code, answer.json()["kind"]) == (status, "worked out")
    assert len(the_book().store.chain()) == before + 1
    for odd in ({"Bobbin": "-2"}, {"Nobody": "2"}, {"Bobbin": "x"}, {"question": "tallest"}):
        answer = send(client, entry(kind="guesses", zone="Trial ground", fields={**sent, **odd}))
        assert (answer.status_code, answer.json()["kind"]) == (201, "note"), odd
        assert answer.json()["needs_a_look"]


def test_a_phone_whose_clock_runs_ahead_sends_its_entry_once(client: Client) -> None:
    one, before = entry(said_on="2999-01-01"), len(the_book().store.chain())
    assert send(client, one).status_code == 201
    assert send(client, one).json()["was_there"] is True
    assert len(the_book().store.chain()) == before + 1


def test_taking_back_twice_takes_back_once(client: Client) -> None:
    one = entry()
    send(client, one)
    before = len(the_book().store.chain())
    for _ in range(2):
        answer = client.post(
            f"/api/entries/{one['id']}/take-back/",
            HTTP_X_CSRFTOKEN=client.cookies["csrftoken"].value,
        )
        assert answer.status_code == 200
    assert len(the_book().store.chain()) == before + 1


def test_a_frame_counted_by_thumb_is_the_count_that_the_command_keeps(client: Client) -> None:
    fields = {"place": "P3", "points": "25", "placement": "2",
              "found": "sown=20, annual meadow-grass=3, bare=2, yorkshire fog=0"}  # fmt: skip
    one = entry(kind="count", fields=fields, who="Ines", when="2011-10-07", said_on="2011-10-08")
    assert send(client, one).status_code == 201
    kept = find(the_book(), one["id"])
    assert isinstance(kept.what, Count)
    (place,) = kept.what.places
    assert (place.place, place.looked, place.counter, place.placement) == ("P3", 25, "Ines", 2)
    assert dict(place.found) == {
        "sown": 20, "annual meadow-grass": 3, "bare": 2, "yorkshire fog": 0
    }  # fmt: skip
    assert kept.day.isoformat() == "2011-10-07"
    assert send(client, one).json()["was_there"] is True


def test_a_frame_with_more_than_its_crossings_becomes_a_note_that_needs_a_look(
    client: Client,
) -> None:
    one = entry(kind="count", fields={"place": "P3", "found": "sown=20, bare=9"})
    assert send(client, one).status_code == 201
    kept = find(the_book(), one["id"])
    assert kept.what.kind == "note"
    assert "25 crossings" in kept.needs_a_look


def test_frames_of_seedlings_become_seedlings_a_square_metre(client: Client) -> None:
    one = entry(kind="seedlings", fields={"frames": "80, 90, 70", "side_mm": "100"})
    send(client, one)
    kept = find(the_book(), one["id"])
    assert isinstance(kept.what, Seedlings)
    assert kept.what.per_m2 == pytest.approx(8000)
    assert kept.note == "3 frames of 100 mm: 80, 90, 70."


def test_the_second_pass_brings_how_many_are_left(client: Client) -> None:
    for name, plants in (("A", "220"), ("B", "66")):
        send(client, entry(
            kind="pull", hours="50 min", zone="Short court", when="2011-10-08",
            fields={"species": "yorkshire fog", "plants": plants, "pass_name": name},
        ))  # fmt: skip
    words = client.get("/api/left/Short court/?species=yorkshire_fog").json()["words"]
    assert "28 left (8 to 49)" in " ".join(words)
    assert "One more pass straight after" in " ".join(words)


def test_soil_temperature_is_read_in_either_unit(client: Client) -> None:
    one = entry(kind="reading", fields={"quantity": "soil temperature", "unit": "°C",
                                        "value": "50 F"})  # fmt: skip
    send(client, one)
    kept = find(the_book(), one["id"])
    assert isinstance(kept.what, Reading)
    assert kept.what.value == pytest.approx(10.0)
    assert "Typed 50 F" in kept.note


def test_yesterday_is_counted_from_the_day_it_was_typed(client: Client) -> None:
    one = entry(when="yesterday", said_on="2011-10-03")
    send(client, one)
    assert find(the_book(), one["id"]).day.isoformat() == "2011-10-02"


@pytest.mark.parametrize(
    "odd",
    [
        {"fields": {"height_of_cut_mm": "tall"}}, {"kind": "mowing about"}, {"zone": "Mian court"},
        {"when": "31 September"}, {"fields": {"nothing_of_ours": "1"}}, {"when": "tomorrow"},
        {"fields": {"height_of_cut_mm": "9" * 5000}}, {"kind": "", "fields": {}},
    ],
)  # fmt: skip
def test_nothing_typed_is_refused_or_lost(client: Client, odd: dict[str, Any]) -> None:
    one = entry(**odd)
    answer = send(client, one)
    assert answer.status_code == 201
    kept = find(the_book(), one["id"])
    assert kept.needs_a_look
    assert kept.what.kind == "note"
    again = send(client, one)
    assert (again.status_code, again.json()["id"]) == (200, one["id"])


def test_hours_and_place_of_what_was_not_understood_are_kept_too(client: Client) -> None:
    one = entry(zone="Mian court", hours="2", at="by the gate")
    send(client, one)
    kept = find(the_book(), one["id"])
    assert isinstance(kept.what, Note)
    assert "hours '2', place 'by the gate'" in kept.what.text


@pytest.mark.parametrize("body", ["", "[]", "null", "{", '{"id": 7}', '{"id": "x", "kind": "cut"}'])
def test_what_is_no_entry_is_answered_with_a_sentence(client: Client, body: str) -> None:
    before = len(the_book().store.chain())
    answer = send(client, body)
    assert answer.status_code in {400, 422}
    assert answer.json()["refusal"]
    assert len(the_book().store.chain()) == before


def test_a_letter_of_a_hundred_kilobytes_is_too_long(client: Client) -> None:
    assert send(client, entry(note="x" * 100_001)).status_code == 413


def test_without_its_token_nothing_comes_in(client: Client) -> None:
    answer = client.post("/api/entries/", json.dumps(entry()), content_type="application/json")
    assert answer.status_code == 403


def test_looking_at_the_way_in_takes_nothing(client: Client) -> None:
    assert client.get("/api/entries/").status_code == 405


def test_the_worker_names_what_every_page_stands_on_and_what_comes_beside(client: Client) -> None:
    answer = client.get("/worker.js")
    assert answer.headers["Content-Type"].startswith("text/javascript")
    text = answer.content.decode()
    needed = json.loads(text.split("const NEEDED = ")[1].split(";")[0])
    beside = json.loads(text.split("const STATICS = ")[1].split(";")[0])
    frame = client.get("/week/").content.decode()
    loaded = re.findall(r'(?:src|href)="(/static/[^"]+\.(?:js|css))"', frame)
    assert set(loaded) <= set(needed)
    assert "/static/swardbook/frame.js" in beside
    assert not set(needed) & set(beside)
    assert "{%" not in text
    assert "&quot;" not in text


def test_a_phone_is_told_which_pages_it_keeps_each_zone_among_them(client: Client) -> None:
    told = client.get("/api/kept/").json()["pages"]
    titles = {each["at"]: each["title"] for each in told}
    for at in ("/", "/week/", "/done/cut/", "/done/water/", "/lawn/frame/", "/no-signal/"):
        assert titles[at]
    assert titles["/ground/Main%20court/"] == "Main court"
    assert len(titles) == len(told)
    for at in titles:
        assert client.get(at).status_code in {200, 202}, at


def send_file(client: Client, held: bytes, **about: Any) -> Any:
    client.get("/done/note/")
    sent = BytesIO(held)
    sent.name = "a.jpg"
    said = json.dumps({"id": str(uuid4()), **about})
    token = client.cookies["csrftoken"].value
    return client.post("/api/files/", {"about": said, "file": sent}, HTTP_X_CSRFTOKEN=token)


def jpeg(shade: int) -> bytes:
    held = BytesIO()
    Image.new("RGB", (60, 40), (shade, 90, 30)).save(held, "JPEG")
    return held.getvalue()


def test_a_picture_is_kept_once_and_handed_out_as_a_picture_and_nothing_else(
    client: Client,
) -> None:
    about = {"id": str(uuid4()), "zone": "Main court", "when": "2011-10-07", "who": "Ines"}
    before = len(the_book().store.chain())
    for _ in range(2):
        assert send_file(client, jpeg(10), **about).status_code == 201
    assert len(the_book().store.chain()) == before + 1
    kept = find(the_book(), about["id"])
    assert isinstance(kept.what, Attachment)
    assert (kept.zone, kept.day.isoformat()) == ("Main court", "2011-10-07")
    for path in ("", "small/"):
        answer = client.get(f"/file/{kept.what.file}/{path}")
        assert answer.headers["Content-Type"] == "image/jpeg"
        assert answer.headers["X-Content-Type-Options"] == "nosniff"
        assert "sandbox" in answer.headers["Content-Security-Policy"]
        assert "filename=" in answer.headers["Content-Disposition"]
    part = client.get(f"/file/{kept.what.file}/", HTTP_RANGE="bytes=0-9")
    assert (part.status_code, len(part.content)) == (206, 10)
    assert part.headers["Content-Range"].startswith("bytes 0-9/")
    beyond = client.get(f"/file/{kept.what.file}/", HTTP_RANGE="bytes=9999999-")
    assert beyond.status_code == 416


def test_a_picture_of_a_place_that_the_book_does_not_know_is_kept_with_what_was_said(
    client: Client,
) -> None:
    about = {"id": str(uuid4()), "zone": "Mian court", "peg": "M99", "when": "31 September"}
    assert send_file(client, jpeg(90), **about).status_code == 201
    kept = find(the_book(), about["id"])
    assert kept.zone == ""
    for typed in ("Mian court", "M99", "31 September"):
        assert typed in kept.note


def test_a_file_that_is_no_picture_is_answered_with_the_reason_and_not_kept(
    client: Client,
) -> None:
    before = len(the_book().store.chain())
    answer = send_file(client, b"<script>alert(1)</script>")
    assert (answer.status_code, bool(answer.json()["refusal"])) == (422, True)
    assert send_file(client, jpeg(170), id="x").status_code == 422
    client.get("/done/note/")
    token = client.cookies["csrftoken"].value
    for body in ({"about": "{"}, {"about": "[]"}, {}):
        answer = client.post("/api/files/", body, HTTP_X_CSRFTOKEN=token)
        assert answer.status_code in {400, 422}
    assert len(the_book().store.chain()) == before


@pytest.mark.parametrize("mark", ["nothing-of-ours", "..", "0" * 64, "A" * 64])
def test_no_file_is_handed_out_but_by_its_whole_mark(client: Client, mark: str) -> None:
    assert client.get(f"/file/{mark}/").status_code == 404
    assert client.get(f"/file/{mark}/small/").status_code == 404
