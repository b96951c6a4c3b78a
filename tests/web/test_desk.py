"""The pages for the desk: what they show is what the book says, and nothing is left out."""

from __future__ import annotations

import io
import zipfile

from django.test import Client

from swardbook.handbook.parameters import parameters
from swardbook.web.opened import the_book
from tests.support.addresses import answered
from tests.web.test_done import token


def test_a_zones_season_shows_its_counts_sowings_and_latest_entries(client: Client) -> None:
    text = answered(client, "/ground/Main court/season/").content.decode()
    assert text.count("<figure class=") >= 2
    assert "BB-0417" in text
    assert "The figures behind it" in text
    assert 'href="/ask/feed/plan/?zone=Main%20court"' in text


def test_the_diary_shows_every_entry_once_over_its_parts(client: Client) -> None:
    seen = 0
    for n in range(1, 100):
        text = client.get(f"/diary/?page={n}").content.decode()
        seen += text.count("Put right<span")
        if "After</a>" not in text:
            break
    assert seen == len(the_book().ground().diary)


def test_the_diary_of_one_kind_and_zone_holds_nothing_else(client: Client) -> None:
    text = client.get("/diary/?zone=Main+court&kind=feed").content.decode()
    lines = [
        line
        for line in text.splitlines()
        if line.startswith("<p>") and ": feed" in line and "<a" not in line
    ]
    assert len(lines) == sum(
        each.what.kind == "feed" and each.zone in {"", "Main court"}
        for each in the_book().ground().diary
    )
    assert "Short court:" not in text


def test_the_seed_shed_leads_from_a_lot_to_every_zone_it_went_to(client: Client) -> None:
    assert "BB-0417" in client.get("/seed/").content.decode()
    text = answered(client, "/seed/BB-0417/").content.decode()
    for zone in ("Main court", "Short court", "Trial ground"):
        assert zone in text
    assert text.count("<figure class=") == 2


def test_the_whole_book_goes_out_as_open_files(client: Client) -> None:
    answer = client.get("/in-and-out/book.zip")
    assert "attachment" in answer.headers["Content-Disposition"]
    with zipfile.ZipFile(io.BytesIO(answer.content)) as held:
        assert "diary.jsonl" in held.namelist()
        assert "manifest.json" in held.namelist()


def test_units_are_chosen_and_what_is_shown_follows(client: Client) -> None:
    for units, told in (("imperial", "980 yd²"), ("metric", "819.2 m²")):
        sent = {"csrfmiddlewaretoken": token(client, "/settings/"), "units": units}
        assert client.post("/settings/", sent).status_code == 302
        page = client.get("/ground/Main court/").content.decode()
        assert told in page.replace("\N{NO-BREAK SPACE}", " ")


def test_the_settings_say_how_safe_copies_stand_and_ask_for_none_of_a_made_up_ground(
    client: Client,
) -> None:
    page = client.get("/settings/").content.decode()
    told = page[page.index("Safe copies</h2>") :]
    assert "None, and none are made by themselves: this ground is made up" in told
    assert "A safe copy is the whole book with its pictures" in told
    assert 'class="mind"' not in told


def test_a_number_is_found_with_its_grade_and_source(client: Client) -> None:
    text = client.get("/numbers/?q=seed_lot_nearly_used").content.decode()
    held = parameters()["seed_lot_nearly_used"]
    assert f"{held.value:g}" in text
    assert held.grade.value in text
    assert "1 number<" in text
