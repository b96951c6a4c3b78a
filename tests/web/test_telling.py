"""Pages that an owner or an audience sees: the sentence, the paper, the reveal that waits."""

from __future__ import annotations

import io
import re

import pypdf
import pytest
from axe_playwright_python.sync_playwright import Axe
from django.test import Client
from playwright.sync_api import Browser, Page, expect

from swardbook.husbandry.worked_out import WorkedOut
from swardbook.web.opened import the_book
from tests.support.addresses import answered
from tests.support.pdf_ua import faults_of
from tests.web.conftest import needs_chromium
from tests.web.lawn import diary_with, go, new_phone, the_diary, wait_until_kept, wait_until_sent


def text_of(client: Client, address: str) -> str:
    return " ".join(answered(client, address).content.decode().split())


def test_every_zone_has_its_sentence_and_the_signs_stand_apart(client: Client) -> None:
    text = text_of(client, "/better-or-worse/")
    assert "Main court: holding" in text
    assert "With the work 2.2, on the honest squares without it 8.4" in text
    assert text.index("Short court is holding") < text.index("With the work 2.2")
    assert text.count("Leading signs, apart from the verdict:") == 6


def test_two_days_of_one_season_are_compared_and_may_and_october_refused(client: Client) -> None:
    page = "/better-or-worse/Main court/"
    told = text_of(client, f"{page}?from=9 October 2010&to=8 October 2011")
    assert "Too close to call: 14 to 16 %" in told
    refused = text_of(client, f"{page}?from=7 May 2011&to=8 October 2011")
    assert "Different seasons: not compared." in refused
    assert "Days of one season there are:" in refused
    lacking = client.get(f"{page}?from=7 May 2011&to=tomorrow")
    assert lacking.status_code == 422
    assert 'role="alert"' in lacking.content.decode()


def test_a_broken_line_is_told_in_words(client: Client) -> None:
    text = text_of(client, "/better-or-worse/Short court/")
    assert "Counted by points, then by plants: a break here." in text


def test_the_letter_leaves_out_what_is_ticked_and_prints_the_same(client: Client) -> None:
    whole = text_of(client, "/letter/")
    assert "We planned £5,934.50. We spent £5,601.50." in whole
    less = text_of(client, "/letter/?leave_out=costs&leave_out=address")
    assert "£" not in less
    assert "Letter about the ground" in less
    assert re.search(r'value="costs" checked', less)
    [link] = re.findall(r'href="(/letter/paper/[^"]*)"', less)
    answer = client.get(link.replace("&amp;", "&"))
    assert answer.headers["Content-Type"] == "application/pdf"
    assert faults_of(answer.content) == []
    pages = pypdf.PdfReader(io.BytesIO(answer.content)).pages
    assert len(pages) <= 2
    assert "Fennowick" not in " ".join(page.extract_text() for page in pages)


def test_a_part_that_there_is_not_is_answered_with_what_there_is(client: Client) -> None:
    answer = client.get("/letter/?leave_out=cost")
    assert answer.status_code == 404
    assert "costs" in answer.content.decode()


@pytest.mark.parametrize("zone", ["Main court", "Turf nursery"])
def test_the_waterproof_page_is_shown_and_printed(client: Client, zone: str) -> None:
    assert "Poa annua" in text_of(client, f"/waterproof/{zone}/")
    answer = client.get(f"/waterproof/{zone}/paper/")
    assert faults_of(answer.content) == []
    assert answer.headers["Content-Disposition"].endswith('.pdf"')


def test_coming_back_is_told_in_five_lines_at_most(client: Client) -> None:
    for query in ("", "?zone=Main court&since=8 July"):
        text = text_of(client, f"/coming-back/{query}")
        lines = re.search(r'<ul class="lead">(.*?)</ul>', text)
        assert lines is not None
        assert 1 <= lines[1].count("<li>") <= 5
        assert "swardbook " not in re.sub(r"<[^>]*>", "", lines[1])
    assert client.get("/coming-back/?since=tomorrow").status_code == 422


def test_an_audience_sees_no_reveal_before_it_has_guessed(client: Client) -> None:
    text = text_of(client, "/open-day/")
    darkest, finest, _ = text.split('class="guessing"')[1:4]
    assert '<details class="reveal">' in darkest
    assert "Eyes chose Gatepost: 31 of 64 guesses." in darkest
    assert '<details class="reveal" hidden>' in finest
    assert "data-dealt=" in text


def test_guesses_are_written_down_as_numbers_alone(client: Client) -> None:
    page = client.get("/open-day/")
    page = answered(client, "/open-day/")
    token = re.search(r'name="csrfmiddlewaretoken" value="([^"]+)"', page.content.decode())
    assert token is not None
    before = len(the_book().store.chain())
    sent = {"csrfmiddlewaretoken": token[1], "question": "finest", "n Bobbin": "12",
            "n other": "3", "n Gatepost": "0", "name": "A visitor"}  # fmt: skip
    answer = client.post("/open-day/guessed/", sent)
    assert answer.status_code == 302
    chain = the_book().store.chain()
    assert len(chain) == before + 1
    assert "visitor" not in str(the_book().ground().diary[-1]).casefold()
    assert "Eyes chose Bobbin: 12 of 15 guesses." in text_of(client, "/open-day/")


@needs_chromium
@pytest.mark.parametrize("address", ["/letter/", "/open-day/"])
def test_everybody_can_read_what_is_shut_at_first_too(site: str, phone: Page, address: str) -> None:
    go(phone, site + address)
    phone.evaluate("document.querySelectorAll('details').forEach((each) => each.open = true)")
    found = Axe().run(phone)
    assert found.violations_count == 0, found.generate_report()
    assert phone.evaluate("document.documentElement.scrollWidth") <= 360


@needs_chromium
def test_the_shuffle_is_watched_on_the_screen_and_put_back(site: str, phone: Page) -> None:
    go(phone, f"{site}/open-day/")
    told = phone.locator("#dealt")
    expect(told).to_have_text(re.compile("^As sown: fewest weeds Bobbin"))
    sown = told.inner_text()
    names = phone.locator("#plan span").all_inner_texts()
    phone.locator("#deal").click()
    expect(told).to_have_text(re.compile("^Shuffle 1:"))
    moved = phone.locator("#plan span").all_inner_texts()
    assert moved != names
    assert sorted(moved) == sorted(names)
    phone.locator("#sown").click()
    expect(told).to_have_text(sown)


@pytest.mark.long
@needs_chromium
def test_guesses_counted_without_signal_open_the_reveal_wait_and_come_once(
    site: str, browser: Browser
) -> None:
    context, page = new_phone(browser, site, "/open-day/", keeps=("/no-signal/",))
    go(page, f"{site}/open-day/")
    expect(page.locator(".guessing")).to_have_count(3)
    wait_until_kept(page, "/open-day/")
    before = len(the_diary())
    context.set_offline(True)
    page.goto(f"{site}/open-day/")
    asked = page.locator('.guessing[data-question="fewest weeds"]')
    expect(asked.locator(".reveal")).to_be_hidden()
    asked.get_by_text("Count the hands").click()
    asked.get_by_label("Bobbin", exact=True).fill("9")
    asked.get_by_label("None of these").fill("2")
    asked.get_by_role("button", name="Write the guesses down").click()
    expect(page.locator("#said")).to_contain_text("Bobbin 9, None of these 2")
    expect(asked.locator(".reveal")).to_have_attribute("open", "")
    page.close()
    page = context.new_page()
    context.set_offline(False)
    page.goto(f"{site}/lawn/waiting/")
    wait_until_sent(page)
    (kept,) = diary_with(before + 1)[before:]
    assert isinstance(kept.what, WorkedOut)
    assert kept.what.found == {"Bobbin_guesses": 9, "other_guesses": 2}
    assert kept.what.named == {"question": "fewest weeds"}
    context.close()
