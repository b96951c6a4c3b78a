"""Kneeling on the lawn with one hand free: frames, passes, pictures, and half a minute to undo."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from itertools import product
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import Browser, BrowserContext, FilePayload, Page, Route, expect

from swardbook.husbandry.attachments import Attachment
from swardbook.husbandry.happenings import Count, HoldOff, Pull, Seedlings
from tests.web.conftest import needs_chromium
from tests.web.lawn import (
    PATIENT,
    Hand,
    diary_with,
    new_phone,
    send_what_waits,
    the_diary,
    throttled,
    wait_until_sent,
)

pytestmark = needs_chromium

STYLES = Path(__file__).parents[2] / "src/swardbook/web/static/swardbook"
LAWN_PAGES = (
    "/done/", "/done/cut/", "/done/water/", "/done/hold-off/", "/done/rain/", "/done/feed/",
    "/lawn/frame/", "/lawn/pull/", "/lawn/seedlings/", "/lawn/picture/", "/lawn/phone/",
)  # fmt: skip
GLOVE = 76
"""14 mm on a phone whose 360 px are 66 mm wide [px]."""


@pytest.fixture
def at_hand(browser: Browser, site: str) -> Iterator[tuple[BrowserContext, Page]]:
    context, page = new_phone(browser, site)
    yield context, page
    context.close()


@pytest.fixture
def gloved(browser: Browser) -> Iterator[Page]:
    """Give a phone that has signal all the time and keeps no pages."""
    context = browser.new_context(
        viewport={"width": 360, "height": 740}, has_touch=True, is_mobile=True,
        service_workers="block",
    )  # fmt: skip
    context.set_default_timeout(PATIENT)
    yield context.new_page()
    context.close()


def jpeg(wide: int = 64, high: int = 48, shade: int = 90) -> bytes:
    held = io.BytesIO()
    Image.new("RGB", (wide, high), (shade, 120, 40)).save(held, "JPEG")
    return held.getvalue()


def picture(name: str, held: bytes) -> FilePayload:
    return {"name": name, "mimeType": "image/jpeg", "buffer": held}


def count_frame(hand: Hand, place: str) -> None:
    page = hand.page
    hand.tap(page.locator(f'[data-place="{place}"]:visible'))
    hand.wait(page.locator("#count"))
    for at in (0, 0, 1, 0, 2, 0, 0, 3, 0, 0, 1, 0, 0, 0, 3, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0):
        hand.tap(page.locator("#kinds button").nth(at))
    hand.tap(page.locator("#keep"))
    hand.wait(page.locator("#said").get_by_role("heading", name="Kept"))


def test_a_frame_takes_less_than_75_seconds_on_a_slow_phone_and_is_one_count(
    site: str, gloved: Page
) -> None:
    page = gloved
    page.goto(f"{site}/lawn/frame/")
    throttled(page)
    hand = Hand(page)
    count_frame(hand, "M03")
    page.locator("#said").get_by_text("Sent: it is in the book.").wait_for()
    assert hand.taps <= 30
    assert hand.seconds <= 75
    what = the_diary()[-1].what
    assert isinstance(what, Count)
    (place,) = what.places
    assert (place.place, place.looked) == ("M03", 25)
    assert sum(place.found.values()) == 25
    assert place.found["sown"] == 19


def test_no_frame_holds_more_than_its_crossings_and_back_one_is_always_there(
    site: str, phone: Page
) -> None:
    phone.goto(f"{site}/lawn/frame/")
    phone.locator('[data-place="M04"]:visible').click()
    for _ in range(25):
        phone.locator("#kinds button").first.click()
    expect(phone.locator("#kinds")).to_be_hidden()
    expect(phone.locator("#far")).to_have_text("25 of 25")
    phone.evaluate("document.querySelector('#kinds button').click()")
    expect(phone.locator("#far")).to_have_text("25 of 25")
    phone.get_by_role("button", name="Back one").click()
    expect(phone.locator("#far")).to_have_text("24 of 25")
    phone.get_by_role("button", name="Leave").click()
    phone.get_by_role("button", name="Go on counting").click()
    expect(phone.locator("#far")).to_have_text("24 of 25")


def test_an_unfinished_frame_goes_on_where_it_was_after_a_killed_tab(
    site: str, at_hand: tuple[BrowserContext, Page]
) -> None:
    context, page = at_hand
    context.set_offline(True)
    page.goto(f"{site}/lawn/frame/")
    page.locator('[data-place="M05"]:visible').tap()
    for _ in range(7):
        page.locator("#kinds button").first.tap()
    page.close()
    page = context.new_page()
    page.goto(f"{site}/lawn/frame/")
    expect(page.locator("#far")).to_have_text("7 of 25")
    expect(page.locator("#at")).to_contain_text("M05")


def test_the_keys_lie_under_the_thumb_of_either_hand(site: str, gloved: Page) -> None:
    page = gloved
    for side in ("left", "right"):
        page.goto(f"{site}/lawn/phone/")
        page.get_by_label(side.capitalize(), exact=True).check()
        page.goto(f"{site}/lawn/frame/")
        if not page.locator("#count").is_visible():
            page.locator('[data-place="M06"]:visible').tap()
        box = page.locator("#kinds button").first.bounding_box()
        back = page.get_by_role("button", name="Back one").bounding_box()
        assert box is not None
        assert back is not None
        assert box["y"] > 740 / 3
        assert (box["x"] < 100, back["x"] < 100) == (side == "left", side == "left")


def test_two_passes_of_pulling_tell_how_many_are_left_or_that_it_is_told_later(
    site: str, at_hand: tuple[BrowserContext, Page]
) -> None:
    context, page = at_hand
    page.goto(f"{site}/lawn/pull/")
    for name, fives, ones in (("first", 6, 0), ("second", 1, 2)):
        page.get_by_role("button", name=f"Begin the {name} pass").tap()
        for _ in range(fives):
            page.locator("#five").tap()
        for _ in range(ones):
            page.locator("#one").tap()
        page.get_by_role("button", name="Pass done").tap()
        page.locator("#left p").first.wait_for()
    page.locator("#left").get_by_text("left (").wait_for()
    what = the_diary()[-1].what
    assert isinstance(what, Pull)
    assert (what.plants, what.pass_name, what.people) == (7, "B", 1)
    context.set_offline(True)
    page.get_by_role("button", name="Begin the second pass").tap()
    page.locator("#one").tap()
    page.get_by_role("button", name="Pass done").tap()
    page.locator("#left").get_by_text("worked out when there is signal").wait_for()


def test_seedlings_are_counted_frame_by_frame(site: str, gloved: Page) -> None:
    page = gloved
    page.goto(f"{site}/lawn/seedlings/")
    page.get_by_role("button", name="Begin the first frame").tap()
    for _ in range(4):
        page.locator("#five").tap()
    page.get_by_role("button", name="Next frame").tap()
    page.locator("#one").tap()
    page.locator("#one").tap()
    page.get_by_role("button", name="All frames done").tap()
    page.locator("#said").get_by_text("Sent: it is in the book.").wait_for()
    what = the_diary()[-1].what
    assert isinstance(what, Seedlings)
    assert what.per_m2 == pytest.approx(1100)


def test_a_picture_is_made_small_waits_without_signal_and_comes_once(
    site: str, at_hand: tuple[BrowserContext, Page]
) -> None:
    context, page = at_hand
    noise = Image.effect_noise((2400, 1800), 90).convert("RGB")
    held = io.BytesIO()
    noise.save(held, "JPEG", quality=95)
    assert len(held.getvalue()) > 1_000_000
    page.goto(f"{site}/lawn/picture/")
    before = len(the_diary())
    context.set_offline(True)
    page.locator("#there").set_input_files([picture("big.jpg", held.getvalue())])
    page.locator("#waits").get_by_text("1 picture or voice note waits too.").wait_for()
    page.goto(f"{site}/lawn/waiting/")
    told = page.locator("#list li").inner_text()
    size = re.search(r"(\d+) kB", told)
    assert size is not None
    assert int(size.group(1)) <= 308
    lost: list[str] = []

    def lose(route: Route) -> None:
        route.fetch()
        lost.append(route.request.url)
        route.abort()

    page.route("**/api/files/", lose, times=1)
    context.set_offline(False)
    send_what_waits(page)
    page.get_by_text("Nothing waits").wait_for()
    assert len(lost) == 1
    diary = diary_with(before + 1)
    assert len(diary) == before + 1
    assert isinstance(diary[-1].what, Attachment)
    small = page.request.get(f"{site}/file/{diary[-1].what.file}/small/")
    assert small.headers["content-type"] == "image/jpeg"
    whole = page.request.get(f"{site}/file/{diary[-1].what.file}/")
    with Image.open(io.BytesIO(whole.body())) as seen:
        assert max(seen.size) <= 1600
    assert len(whole.body()) <= 300 * 1024


def test_a_picture_goes_with_the_entry_that_was_just_kept_and_shows_beside_it(
    site: str, gloved: Page
) -> None:
    page = gloved
    page.goto(f"{site}/done/cut/")
    page.locator("#short-court").get_by_role("button", name="Boxed").tap()
    page.locator("#said").get_by_text("Sent: it is in the book.").wait_for()
    cut = the_diary()[-1]
    page.locator("#said input[type=file]").set_input_files([picture("a.jpg", jpeg())])
    page.get_by_text("Kept. Another picture").wait_for()
    wait_until_sent(page)
    what = the_diary()[-1].what
    assert isinstance(what, Attachment)
    assert what.of == cut.id
    page.goto(f"{site}/done/kept/{cut.id}/")
    expect(page.locator(".sent img")).to_have_count(1)


def test_what_is_ticked_private_on_the_phone_is_private_in_the_book(
    site: str, gloved: Page
) -> None:
    page = gloved
    page.goto(f"{site}/done/note/")
    page.get_by_label("What you saw").fill("between ourselves")
    page.locator("input[name=private]").check(force=True)
    page.get_by_role("button", name="Keep").tap()
    page.locator("#said").get_by_text("Sent: it is in the book.").wait_for()
    note = the_diary()[-1]
    assert note.private
    expect(page.locator("input[name=private]")).not_to_be_checked()
    page.goto(f"{site}/lawn/picture/")
    page.locator("input[name=private]").check(force=True)
    before = len(the_diary())
    page.locator("#there").set_input_files([picture("p.jpg", jpeg(shade=33))])
    seen = diary_with(before + 1)[-1]
    assert isinstance(seen.what, Attachment)
    assert seen.private


def test_what_is_no_picture_stays_on_the_phone_with_the_reason_and_holds_up_nothing(
    site: str, at_hand: tuple[BrowserContext, Page]
) -> None:
    context, page = at_hand
    page.goto(f"{site}/lawn/picture/")
    context.set_offline(True)
    odd = picture("odd.jpg", b"no picture")
    page.locator("#there").set_input_files([odd])
    page.locator("#waits").get_by_text("1 picture").wait_for()
    page.locator("#there").set_input_files([picture("good.jpg", jpeg(shade=91))])
    page.locator("#waits").get_by_text("2 pictures").wait_for()
    context.set_offline(False)
    page.goto(f"{site}/lawn/waiting/")
    page.get_by_text("The book could not take it:").wait_for()
    page.locator('#waits[data-count="1"]').wait_for()
    page.get_by_role("button", name="Throw away").tap()
    page.get_by_role("button", name="Yes, throw it away").tap()
    page.get_by_text("Nothing waits").wait_for()
    expect(page.get_by_text("The book could not take it:")).to_be_hidden()
    expect(page.locator("#waits")).to_be_hidden()


def test_half_a_minute_to_take_back_runs_on_over_pages(site: str, gloved: Page) -> None:
    page = gloved
    page.goto(f"{site}/done/cut/")
    page.locator("#short-court").get_by_role("button", name="Boxed").tap()
    page.locator("#said").get_by_text("Sent: it is in the book.").wait_for()
    cut = the_diary()[-1]
    page.goto(f"{site}/week/")
    page.locator("#said").get_by_role("button", name="Take it back").tap()
    page.locator("#said").get_by_text("Taken back.").wait_for()
    assert the_diary()[-1].corrects == cut.id
    page.goto(f"{site}/")
    expect(page.locator("#said")).to_be_hidden()


def test_taking_back_holds_although_the_answer_to_sending_was_lost(site: str, gloved: Page) -> None:
    page = gloved
    before = len(the_diary())

    def lose(route: Route) -> None:
        route.fetch()
        route.abort()

    page.goto(f"{site}/done/cut/")
    page.route("**/api/entries/", lose, times=1)
    page.locator("#short-court").get_by_role("button", name="Boxed").tap()
    page.locator("#waits").get_by_text("1 entry waits").wait_for()
    page.locator("#said").get_by_role("button", name="Take it back").tap()
    page.locator("#said").get_by_text("Taken back.").wait_for()
    page.goto(f"{site}/")
    wait_until_sent(page)
    diary = diary_with(before + 2)
    assert len(diary) == before + 2
    assert diary[-1].corrects == diary[-2].id


def test_holding_off_is_two_taps_and_keep(site: str, gloved: Page) -> None:
    page = gloved
    page.goto(f"{site}/done/hold-off/")
    hand = Hand(page)
    hand.tap(page.get_by_label("Main court"))
    hand.tap(page.get_by_label("Verticut"))
    hand.tap(page.get_by_label("Heads up and no box"))
    hand.tap(page.get_by_role("button", name="Keep"))
    page.locator("#said").get_by_text("Sent: it is in the book.").wait_for()
    what = the_diary()[-1].what
    assert what == HoldOff("verticut", "heads up and no box")


def test_every_target_of_the_lawn_is_14_mm_high_and_wide(site: str, gloved: Page) -> None:
    tapped = "main button, main .button, main .zones a, main .choices label, main summary"
    for page in LAWN_PAGES:
        gloved.goto(site + page)
        boxes = gloved.locator(tapped).evaluate_all(
            "(all) => all.filter((each) => each.offsetParent)"
            ".map((each) => [each.innerText, each.offsetWidth, each.offsetHeight])"
        )
        assert boxes, page
        for name, wide, high in boxes:
            assert min(wide, high) >= GLOVE, f"{page}: {name} is {wide} by {high} px"


def test_a_boxed_cut_takes_three_taps_and_ten_seconds_on_a_slow_phone_without_signal(
    site: str, at_hand: tuple[BrowserContext, Page]
) -> None:
    context, page = at_hand
    throttled(page)
    context.set_offline(True)
    page.goto(f"{site}/")
    hand = Hand(page)
    hand.tap(page.get_by_role("link", name="Write down a cut"))
    button = page.locator("#main-court").get_by_role("button", name="Boxed")
    hand.wait(button)
    hand.tap(button)
    hand.wait(page.locator("#said").get_by_role("heading", name="Kept"))
    assert hand.taps <= 3
    assert hand.seconds <= 10


def test_nothing_on_the_lawn_is_done_by_dragging_or_hovering() -> None:
    for each in sorted(STYLES.glob("*")):
        if each.suffix in {".css", ".js"}:
            text = each.read_text()
            assert ":hover" not in text, each.name
            assert not re.search(r"drag|touchmove|pointermove|mouse(over|enter|move)", text), each


def luminance(colour: str) -> float:
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


@pytest.mark.parametrize("look", ["light", "dark", "outdoor"])
def test_each_look_keeps_text_at_seven_to_one(look: str) -> None:
    block = re.search(rf":root\.{look} \{{([^}}]*)\}}", (STYLES / "lawn.css").read_text())
    assert block is not None
    colours = dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6})", block.group(1)))
    pairs = [*product(("ink", "soft", "leaf", "soil"), ("ground", "sheet")), ("ink", "mind"),
             ("on-leaf", "leaf")]  # fmt: skip
    for text, under in pairs:
        bright, dim = sorted((luminance(colours[text]), luminance(colours[under])), reverse=True)
        assert (bright + 0.05) / (dim + 0.05) >= 7, f"{text} on {under}"


def test_the_look_that_was_chosen_is_there_before_anything_is_drawn(
    site: str, gloved: Page
) -> None:
    page = gloved
    page.goto(f"{site}/lawn/phone/")
    page.get_by_label("Outdoor").check()
    page.goto(f"{site}/")
    assert "outdoor" in (page.locator("html").get_attribute("class") or "").split()
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(255, 255, 255)"
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
