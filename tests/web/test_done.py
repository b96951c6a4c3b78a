"""Writing something down: in a tap or two, once, and taken back if it was a slip."""

import re
from uuid import UUID, uuid4

from django.test import Client

from swardbook.book.diary import find
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.happenings import Cut, Water
from swardbook.web.opened import the_book


def kept_as(entry: str) -> DiaryEntry:
    return find(the_book(), entry)


def token(client: Client, page: str) -> str:
    found = re.search(
        r'name="csrfmiddlewaretoken" value="(\w+)"', client.get(page).content.decode()
    )
    assert found is not None
    return found.group(1)


def send(client: Client, page: str, **fields: str) -> tuple[int, str]:
    answer = client.post(page, {"csrfmiddlewaretoken": token(client, page), **fields}, follow=True)
    return answer.status_code, answer.content.decode()


def test_one_tap_keeps_a_boxed_cut_at_the_usual_height(client: Client) -> None:
    page = client.get("/done/cut/").content.decode()
    part = page[page.index('id="main-court"') :]
    button = re.search(
        r'name="id" value="([\w-]+)".*?name="height_of_cut_mm" value="([\d.]+)"', part
    )
    assert button is not None
    chosen = str(button.group(1))
    status, text = send(
        client,
        "/done/cut/",
        id=chosen,
        zone="Main court",
        height_of_cut_mm=button.group(2),
        boxed="yes",
    )
    assert status == 200
    assert "Kept" in text
    assert "Boxed" in text
    kept = kept_as(chosen)
    assert kept.what == Cut(8.0, True)
    assert kept.zone == "Main court"


def test_sending_twice_keeps_one(client: Client) -> None:
    same = str(uuid4())
    before = len(the_book().store.chain())
    for _ in range(2):
        status, _ = send(client, "/done/cut/", id=same, zone="Short court", boxed="no")
        assert status == 200
    assert len(the_book().store.chain()) == before + 1


def test_a_watering_is_read_in_the_unit_typed(client: Client) -> None:
    same = str(uuid4())
    send(client, "/done/water/", id=same, zone="Short court", depth_mm="0.25 in", by="can",
         when="yesterday")  # fmt: skip
    kept = kept_as(same)
    assert isinstance(kept.what, Water)
    assert kept.what.depth_mm is not None
    assert abs(kept.what.depth_mm - 6.35) < 1e-9
    assert kept.day.isoformat() == "2011-10-07"


def test_what_cannot_be_read_is_said_and_what_was_typed_stands(client: Client) -> None:
    before = len(the_book().store.chain())
    status, text = send(
        client, "/done/water/", zone="Short court", depth_mm="a lot", note="by the gate"
    )
    assert status == 422
    assert "a lot" in text
    assert 'value="by the gate"' in text
    assert len(the_book().store.chain()) == before


def test_a_field_that_is_needed_is_asked_for(client: Client) -> None:
    status, text = send(client, "/done/hold-off/", job="verticut", reason="")
    assert status == 422
    assert "why" in text


def test_a_slip_is_taken_back_and_stays_in_the_diary_as_taken_back(client: Client) -> None:
    same = str(uuid4())
    send(client, "/done/cut/", id=same, zone="Short court", boxed="yes")
    page = f"/done/kept/{same}/"
    answer = client.post(
        f"/done/take-back/{same}/", {"csrfmiddlewaretoken": token(client, page)}, follow=True
    )
    assert answer.status_code == 200
    standing = {each.id for each in the_book().ground().diary}
    assert UUID(same) not in standing
    assert kept_as(same).what.kind == "cut"


def test_a_form_without_its_token_keeps_nothing_and_says_what_to_do(client: Client) -> None:
    before = len(the_book().store.chain())
    answer = client.post("/done/cut/", {"zone": "Main court", "boxed": "yes"})
    assert answer.status_code == 403
    assert "load the page again" in answer.content.decode()
    assert len(the_book().store.chain()) == before


def test_an_odd_entry_is_kept_and_marked(client: Client) -> None:
    high = {"height_of_cut_mm": "80", "boxed": "yes", "id": str(uuid4())}
    status, text = send(client, "/done/cut/", zone="Short court", **high)
    assert status == 200
    assert "Needs a look" in text


def test_an_id_that_is_none_is_refused(client: Client) -> None:
    status, text = send(client, "/done/cut/", id="not-an-id", zone="Short court")
    assert status == 422
    assert "not-an-id" in text


def test_rain_in_a_word_that_is_no_unit_is_refused_and_in_inches_is_kept(client: Client) -> None:
    page = "/done/rain/"
    sent = {"csrfmiddlewaretoken": token(client, page), "zone": "", "when": "today"}
    refused = client.post(page, {**sent, "value": "31 February"})
    assert refused.status_code == 422
    assert "31 February" in refused.content.decode()
    assert client.post(page, {**sent, "value": "0.5 in"}).status_code == 302
    assert client.post(page, {**sent, "value": "-5"}).status_code == 302
    assert "Rain is never below 0: 5?" in the_book().store.whole_diary()[-1].needs_a_look
