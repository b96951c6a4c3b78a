"""An entry's own fields as a form, in the units chosen; the command behind it is unchanged."""

from __future__ import annotations

import html
import re
from pathlib import Path

import pytest
from django.template import Context, Template
from django.test import Client
from django.urls import reverse

from swardbook.book.diary import write
from swardbook.book.parking import park
from swardbook.book.units import choose_units
from swardbook.cli.telling import tell_what
from swardbook.foundation.dates import When
from swardbook.foundation.units import read_units
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.happenings import Changed, Cut, Frost, Reading
from swardbook.husbandry.parked import Parked
from swardbook.web.opened import the_book
from tests.support.addresses import answered
from tests.web.test_done import token

PUT_RIGHT = reverse("question", args=["put-right"])
ADD = reverse("question", args=["diary/add"])
TAKE_IN = reverse("question", args=["parked/take-in"])


@pytest.fixture
def cut(home: Path) -> DiaryEntry:
    assert home.is_dir()
    book = the_book()
    return write(book, Cut(8.0, True), When.on(book.today), zone="Main court", note="by Bram")


def newest() -> DiaryEntry:
    return the_book().store.whole_diary()[-1]


def sent(client: Client, address: str, **typed: str) -> str:
    key = address if "?" not in address else address.split("?", maxsplit=1)[0]
    about = {"csrfmiddlewaretoken": token(client, address), **typed}
    return client.post(key, about).content.decode()


def test_the_fields_of_an_entry_stand_in_its_form_as_they_were_said(
    client: Client, cut: DiaryEntry
) -> None:
    page = answered(client, f"{PUT_RIGHT}?entry={str(cut.id)[:8]}").content.decode()
    assert 'name="own.height_of_cut_mm" value="8"' in page
    assert re.search(r'name="own.boxed" value="yes" checked', page)
    assert re.search(r'name="own.zone" value="Main court" checked', page)
    assert 'name="set"' not in page
    assert "height_of_cut_mm=" not in page


def test_only_what_was_said_otherwise_is_put_right(client: Client, cut: DiaryEntry) -> None:
    short = str(cut.id)[:8]
    told = sent(client, f"{PUT_RIGHT}?entry={short}", entry=short, reason="read again", **{
        "own.height_of_cut_mm": "9", "own.boxed": "", "own.zone": "Main court",
        "own.note": "by Bram", "own.who": "Ines",
    })  # fmt: skip
    assert "Kept in the book." in told
    fresh = newest()
    assert fresh.corrects == cut.id
    assert fresh.what == Cut(9.0, None)
    assert (fresh.who, fresh.note) == ("Ines", "by Bram Put right: read again")


def test_a_likely_fix_of_a_link_stands_in_its_own_field(client: Client, cut: DiaryEntry) -> None:
    link = f"{PUT_RIGHT}?entry={str(cut.id)[:8]}&set=height_of_cut_mm%3D25"
    assert 'name="own.height_of_cut_mm" value="25"' in answered(client, link).content.decode()


def test_a_slip_leaves_what_was_typed_in_the_fields(client: Client, cut: DiaryEntry) -> None:
    short = str(cut.id)[:8]
    told = sent(client, f"{PUT_RIGHT}?entry={short}", entry=short, reason="x",
                **{"own.height_of_cut_mm": "eight"})  # fmt: skip
    assert 'value="eight"' in told
    assert 'class="refusal"' in told
    assert newest().id == cut.id


def test_a_kind_is_chosen_by_what_it_is_and_written_by_its_own_fields(client: Client) -> None:
    page = answered(client, ADD).content.decode()
    assert "Frost on the ground, or thawed." in page
    form = answered(client, f"{ADD}?kind=frost").content.decode()
    assert 'name="own.state" value="frozen ground"' in form
    told = sent(client, f"{ADD}?kind=frost", kind="frost", **{"own.state": "thawed"})
    assert "Kept in the book." in told
    assert newest().what == Frost("thawed")


def test_a_waiting_row_is_put_right_by_its_columns(client: Client) -> None:
    book = the_book()
    cells = {"place": "P1", "points": "25", "bare": "two"}
    about = {"method": "points", "looked": "25"}
    row = Parked("count", "sheet.csv", 4, "bare", "two", "a number", "2?", cells, about)
    kept = park(book, [row], When.on(book.today), "Main court", "Ines")[0]
    short = str(kept.id)[:8]
    assert short in answered(client, TAKE_IN).content.decode()
    form = answered(client, f"{TAKE_IN}?row={short}").content.decode()
    assert 'name="own.bare" value="two"' in form
    told = sent(client, f"{TAKE_IN}?row={short}", row=short, reason="a word for a number",
                **{"own.bare": "2", "own.place": "P1"})  # fmt: skip
    assert "Kept in the book." in told
    assert newest().what.kind == "count"


def test_numbers_are_shown_and_read_in_the_units_chosen(client: Client, cut: DiaryEntry) -> None:
    choose_units(the_book(), "imperial", "")
    try:
        short = str(cut.id)[:8]
        page = answered(client, f"{PUT_RIGHT}?entry={short}").content.decode()
        assert 'name="own.height_of_cut_mm" value="5/16"' in page
        assert 'name="unit.height_of_cut_mm" value="in"' in page
        sent(client, f"{PUT_RIGHT}?entry={short}", entry=short, reason="x", **{
            "own.height_of_cut_mm": "3/8", "unit.height_of_cut_mm": "in"})  # fmt: skip
        assert getattr(newest().what, "height_of_cut_mm", 0) == pytest.approx(9.525)

        rain = reverse("entry", args=["rain"])
        form = answered(client, rain).content.decode()
        assert ">in</small>" in form
        assert "0.47, or 12\N{NO-BREAK SPACE}mm" in form
        kept = client.post(rain, {
            "csrfmiddlewaretoken": token(client, rain), "value": "0.5", "unit.value": "in",
            "quantity": "rain", "unit": "mm", "when": "today"})  # fmt: skip
        assert kept.status_code == 302
        assert newest().what == Reading("rain", 12.7, "mm")

        plan = reverse("question", args=["water/plan"])
        assert 'name="unit.refills" value="yd²"' in answered(client, plan).content.decode()
        spoil = f"{reverse('question', args=['materials/spoil'])}?zone=Main+court&depth=10"
        by_link = html.unescape(answered(client, spoil).content.decode())
        by_form = html.unescape(answered(client, f"{spoil}&unit.depth=in").content.decode())
        assert 'name="depth" value="10 mm"' in by_link
        assert 'name="depth" value="10 in"' in by_form
    finally:
        choose_units(the_book(), "metric", "")


def test_with_other_units_chosen_plan_spot_and_what_if_have_them_too(client: Client) -> None:
    choose_units(the_book(), "imperial", "")
    try:
        what = reverse("what-if")
        page = answered(client, what).content.decode()
        assert "Height of cut [in]" in page
        assert '<input type="hidden" name="unit.value" value="in">' in page
        tried = f"{what}?what=height&value=1%2F4&unit.value=in"
        told = answered(client, tried).content.decode()
        assert "In the copy (Height of cut: 1/4\N{NO-BREAK SPACE}in)" in told
        slip = client.get(f"{what}?what=height&value=9&unit.value=in")
        assert slip.status_code == 422
        assert " mm" not in slip.content.decode().partition('role="alert">')[2].partition("</p>")[0]

        spot = reverse("spot")
        page = answered(client, spot).content.decode()
        assert 'name="unit.margin_mm" value="in"' in page
        kept = client.post(spot, {
            "csrfmiddlewaretoken": token(client, spot), "did": "dug", "zone": "Short court",
            "at": "4.2, 3.1", "margin_mm": "2", "unit.margin_mm": "in"})  # fmt: skip
        assert kept.status_code == 302
        assert getattr(newest().what, "margin_mm", 0) == pytest.approx(50.8)

        for address in (reverse("plan"), reverse("plan-zone", args=["Main court"])):
            page = answered(client, address).content.decode()
            assert re.search(r">\d+ ft</text>", page)
            assert not re.search(r">[\d.]+ m</text>", page)
    finally:
        choose_units(the_book(), "metric", "")


def test_each_answer_of_the_key_is_a_button(client: Client) -> None:
    address = reverse("question", args=["name-plant"])
    page = answered(client, address).content.decode()
    links = re.findall(r'class="button second" href="(\?seen=[^"]+)"', page)
    assert len(links) >= 3
    assert "Answer:" not in page
    assert page.count("Don't know</a>") == 1
    on = html.unescape(answered(client, address + html.unescape(links[0])).content.decode())
    again = re.findall(r'class="button second" href="\?seen=([^"]+)"', on)
    assert all("%0A" in each for each in again)  # the first answer goes along


def test_a_sentence_about_inches_leaves_the_others_of_a_page_to_the_units_chosen() -> None:
    page = Template("{% in_units %}<p>a ruler of 5 in</p><p>cut at 25 mm</p>{% endin_units %}")
    told = page.render(Context({"units": read_units("imperial")}))
    assert "cut at 1 in" in told
    assert "a ruler of 5 in" in told


def test_what_was_set_of_the_ground_is_told_in_words() -> None:
    was = Changed("site", '{"units":null}', '{"units":"imperial"}', "What is shown.")
    assert tell_what(was) == "changed: site: units not said, now imperial. What is shown"
