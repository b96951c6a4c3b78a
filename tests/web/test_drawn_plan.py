"""The plan on a page: looked at by layer and day, drawn on, touched without signal, a peg found."""

import io
import re
from datetime import date
from pathlib import Path
from uuid import UUID

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from PIL import Image
from playwright.sync_api import Page, expect

from swardbook.book.opening import open_book
from swardbook.settings import Settings
from tests.support.books import TODAY
from tests.web.conftest import needs_chromium
from tests.web.lawn import send_what_waits, wait_until_kept

BY_ITSELF = "picture is shown by itself"


def token_of(client: Client, address: str) -> str:
    found = re.search(
        r'name="csrfmiddlewaretoken" value="(\w+)"', client.get(address).content.decode()
    )
    assert found is not None
    return found[1]


def posted(client: Client, address: str, **fields: str) -> str:
    sent = {**fields, "csrfmiddlewaretoken": token_of(client, "/plan/draw/")}
    page = client.post(address, sent, follow=True).content.decode()
    return page.replace("\N{NO-BREAK SPACE}", " ")


def test_the_plan_shows_another_day_and_another_layer(client: Client) -> None:
    page = client.get("/plan/?layer=lot&on=2010-10-01").content.decode()
    assert "last sown lots, Fri 1 October 2010" in page
    assert "BB-0417" in page
    assert "BB-0533, Tue 13 September 2011" not in page
    assert client.get("/plan/?layer=moon").status_code == 404


def test_what_was_sown_at_a_place_is_told_and_a_place_outside_is_asked_about(
    client: Client,
) -> None:
    page = client.get("/plan/sown/?at=40, 30").content.decode()
    assert page.index("BB-0533") < page.index("BB-0417")
    outside = client.get("/plan/sown/?at=-5, -5")
    assert outside.status_code == 422
    assert "inside a zone" in outside.content.decode()


def test_a_zone_is_drawn_on_the_page_and_the_edit_taken_back(client: Client) -> None:
    edge = "17,28 26,28 26,34 17,34"
    told = posted(client, "/plan/draw/", what="zone", zone="Turf nursery", corners=edge)
    assert "The drawing has 54.0 m², the book 48.0 m²" in told
    assert 'data-edge="17,28 26,28 26,34 17,34"' in client.get("/plan/draw/").content.decode()
    posted(client, "/plan/undo/")
    assert 'data-edge="17,28 25,28 25,34 17,34"' in client.get("/plan/draw/").content.decode()


def test_what_cannot_be_drawn_comes_back_with_what_was_typed(client: Client) -> None:
    crossed = "17,28 25,34 25,28 17,34"
    told = posted(client, "/plan/draw/", what="zone", zone="Turf nursery", corners=crossed)
    assert "edges" in told
    assert "cross" in told
    assert f'value="{crossed}"' in told


def test_a_peg_is_placed_by_tape_and_found_by_the_same_tapes(client: Client) -> None:
    tape = "tape 12.86 pavilion west corner; 9.43 pavilion east corner; south"
    posted(client, "/plan/draw/", what="peg", peg="A01", where=tape)
    page = client.get("/plan/find-peg/").content.decode()
    peg = page[page.index('id="peg-A01"') : page.index('id="peg-A02"')]
    assert "12.86\N{NO-BREAK SPACE}m" in peg
    assert "pavilion west corner" in peg
    assert "south-east" in peg


def test_the_plan_is_tied_to_the_globe_on_the_page(client: Client) -> None:
    told = posted(client, "/plan/draw/", what="globe", place="29, 0", latitude="52.1",
                  longitude="-0.5")  # fmt: skip
    assert "Said already" in told
    wrong = posted(client, "/plan/draw/", what="globe", latitude="north", longitude="0")
    assert "degrees, such as" in wrong


def test_without_scripts_a_spot_is_kept_by_words(client: Client, home: Path) -> None:
    told = posted(client, "/plan/spot/", did="refilled", zone="Short court", at="4.2, 3.1",
                  lot="BB-0417", id="6f0f1d7e-0000-4000-8000-00000000a001")  # fmt: skip
    assert "Kept" in told
    book = open_book(Settings(home), lambda: TODAY)
    [entry] = [each for each in book.store.whole_diary()
               if each.id == UUID("6f0f1d7e-0000-4000-8000-00000000a001")]  # fmt: skip
    book.store.close()
    assert entry.day == date(2011, 10, 8)
    assert (entry.at[0].east_m, entry.at[0].north_m) == (4.2, 3.1)
    nowhere = posted(client, "/plan/spot/", did="dug", zone="Short court", at="")
    assert "a touch on the plan, two tapes or a phone" in nowhere


@needs_chromium
def test_a_spot_is_touched_without_signal_and_comes_into_the_book_once(
    site: str, phone: Page
) -> None:
    phone.goto(f"{site}/plan/spot/")
    wait_until_kept(phone, "/plan/spot/")
    phone.reload()
    phone.context.set_offline(True)
    phone.reload()
    phone.locator("input[name=zone][value='Lime Walk']").check(force=True)
    plan = phone.locator(".touch:not([hidden]) svg")
    plan.click(position={"x": 150, "y": 60})
    where = phone.locator("#where")
    expect(where).to_contain_text("north of the zone's south-west corner. A new spot.")
    before = phone.locator("input[name=at]").input_value()
    phone.locator("#nudge [data-move='1 0']").click()
    after = phone.locator("input[name=at]").input_value()
    assert round(float(after.split(",")[0]) - float(before.split(",")[0]), 2) == 0.1
    phone.locator("input[name=did][value=dug]").check(force=True)
    phone.locator("#spot button:not([type])").click()
    phone.wait_for_selector("#said:not([hidden])")
    phone.wait_for_selector("#waits:not([hidden])")
    phone.context.set_offline(False)
    send_what_waits(phone)
    phone.goto(f"{site}/plan/zone/Lime%20Walk/")
    rows = phone.locator("table").nth(1).locator("tbody tr").all_inner_texts()
    east, north = (f"{float(each):.1f}" for each in after.split(","))
    assert [row.split("\t")[:5] for row in rows] == [["spot 1", "Lime Walk", "dug", east, north]]


@needs_chromium
def test_corners_are_tapped_snapped_nudged_and_undone(site: str, phone: Page) -> None:
    phone.goto(f"{site}/plan/draw/")
    field = phone.locator("input[name=corners]")
    sheet = phone.locator("#sheet svg")
    sheet.click(position={"x": 120, "y": 60})
    sheet.click(position={"x": 220, "y": 60})
    assert len(field.input_value().split()) == 2
    phone.locator("[data-step=back]").click()
    [first] = field.input_value().split()
    phone.locator("#sheet").focus()
    phone.keyboard.press("ArrowRight")
    [moved] = field.input_value().split()
    assert float(moved.split(",")[0]) > float(first.split(",")[0])
    phone.locator("[data-step=clear]").click()
    assert field.input_value() == ""


def test_a_picture_is_laid_under_the_plan_by_two_points_and_taken_away(client: Client) -> None:
    held = io.BytesIO()
    Image.new("RGB", (400, 300), (90, 120, 60)).save(held, "PNG")
    sent = {"csrfmiddlewaretoken": token_of(client, "/plan/backdrop/")}
    file = SimpleUploadedFile("above.png", held.getvalue(), "image/png")
    answer = client.post("/plan/backdrop/", {**sent, "file": file})
    [mark] = re.findall(r"picture=(\w+)$", answer["Location"])
    points = {"picture": mark, "p1": "10, 290", "p2": "390, 290", "g1": "0, 0", "g2": "64, 0"}
    off = client.post("/plan/backdrop/", {**sent, **points, "p2": "900, 290"})
    assert off.status_code == 422
    assert 'value="900, 290"' in off.content.decode()
    client.post("/plan/backdrop/", {**sent, **points})
    assert f"/file/{mark}/" in client.get("/plan/").content.decode()
    client.post("/plan/backdrop/", {**sent, "what": "away"})
    assert f"/file/{mark}/" not in client.get("/plan/").content.decode()
    client.post("/plan/undo/", sent)
    assert f"/file/{mark}/" in client.get("/plan/").content.decode()


SEND_PICTURE = """async (peg) => {
  const canvas = new OffscreenCanvas(320, 240);
  canvas.getContext("2d").fillRect(0, 0, 320, 240);
  const form = new FormData();
  form.append("file", await canvas.convertToBlob({ type: "image/jpeg" }), "peg.jpg");
  form.append("about", JSON.stringify({ id: crypto.randomUUID(), zone: "Main court", peg }));
  const token = document.cookie.match(/csrftoken=([^;]+)/)[1];
  const answer = await fetch(document.body.dataset.files,
    { method: "POST", body: form, headers: { "X-CSRFToken": token } });
  return answer.status;
}"""


@needs_chromium
def test_a_pegs_last_picture_is_shown_over_the_camera_and_again_without_signal(
    site: str, phone: Page
) -> None:
    address = f"{site}/plan/find-peg/#peg-M08"
    phone.goto(address)
    assert phone.evaluate(SEND_PICTURE, "M08") == 201
    phone.reload()
    wait_until_kept(phone, "/plan/find-peg/")
    phone.reload()
    shown = "document.querySelector('#ghost img').naturalWidth > 0"
    phone.locator("#peg-M08 [data-ghost]").click()
    phone.wait_for_function(shown)
    told = phone.locator("#ghost [role=status]")
    expect(told).to_contain_text(BY_ITSELF)  # whether the camera is refused or nobody answers
    phone.locator("#ghost [data-close]").click()
    expect(phone.locator("#ghost")).to_be_hidden()
    phone.context.set_offline(True)
    phone.reload()
    expect(phone.locator("#peg-M08")).to_contain_text("23.18 m")
    phone.locator("#peg-M08 [data-ghost]").click()
    phone.wait_for_function(shown)
    expect(told).to_contain_text(BY_ITSELF)


ASKED_OF_THE_CAMERA = """(how) => {
  const asked = { never: () => new Promise(() => {}), no: () => Promise.reject(new Error("no")) };
  navigator.mediaDevices.getUserMedia = asked[how];
}"""


@needs_chromium
def test_without_a_camera_the_picture_stands_alone_with_the_reason(site: str, phone: Page) -> None:
    phone.goto(f"{site}/plan/find-peg/#peg-M07")
    assert phone.evaluate(SEND_PICTURE, "M07") == 201
    for how, reason in (("never", "not open yet"), ("no", "not open to this page")):
        phone.reload()
        phone.evaluate(ASKED_OF_THE_CAMERA, how)
        phone.locator("#peg-M07 [data-ghost]").click()
        told = phone.locator("#ghost [role=status]")
        expect(told).to_contain_text(reason)
        expect(told).to_contain_text(BY_ITSELF)
        assert phone.locator("#ghost img").get_attribute("class") == "ghost-9"


@pytest.mark.long
@needs_chromium
def test_a_camera_that_opens_after_the_picture_was_closed_is_put_out_again(
    site: str, phone: Page
) -> None:
    phone.goto(f"{site}/plan/find-peg/#peg-M06")
    assert phone.evaluate(SEND_PICTURE, "M06") == 201
    phone.reload()
    phone.evaluate("""() => {
      const track = { stop: () => { document.title = "put out"; } };
      navigator.mediaDevices.getUserMedia = () => new Promise((open) => {
        window.answer = () => open({ getTracks: () => [track] });
      });
    }""")
    phone.locator("#peg-M06 [data-ghost]").click()
    phone.wait_for_function("() => window.answer")
    phone.locator("#ghost [data-close]").click()
    phone.evaluate("() => window.answer()")
    phone.wait_for_function("() => document.title === 'put out'")
    expect(phone.locator("#ghost")).to_be_hidden()
