"""The first page: an account behind a code, a ground in one go, and slips that come back."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from django.test import Client

from swardbook.book.people import people
from swardbook.book.serving import ENVIRONMENT
from swardbook.web import opened
from swardbook.web.asker import cookie_name
from swardbook.web.opened import the_book
from tests.support.books import put_made_up_ground
from tests.support.people import OTHERS, browser, send

GROUND = {
    "site": "Home", "latitude": "43 S", "elevation": "200 ft", "units": "imperial",
    "zone": "Front lawn", "size": "12x9", "use": "family lawn", "height": "1 in",
    "mower": "rotary", "box": "yes",
}  # fmt: skip
OWNER = {
    "code": "BCDF ghkm-npqr", "name": "Ines Marlow", "initials": "", "password":
    "four quiet moles dig", "again": "four quiet moles dig",
}  # fmt: skip


@pytest.fixture
def empty(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """Give a folder in which there is no book yet."""
    monkeypatch.setenv("SWARDBOOK_HOME", str(tmp_path / "book"))
    monkeypatch.delenv("SWARDBOOK_DATABASE", raising=False)
    monkeypatch.delenv(ENVIRONMENT, raising=False)
    opened.close()
    yield tmp_path / "book"
    opened.close()


def to_others(monkeypatch: pytest.MonkeyPatch) -> None:
    for name, text in OTHERS.told().items():
        monkeypatch.setenv(name, text)


def here() -> Client:
    return Client(enforce_csrf_checks=True, headers={"host": "localhost"})


def test_without_a_book_every_page_leads_to_the_first_one(empty: Path) -> None:
    assert not empty.exists()
    for page in ("/", "/week/", "/people/", "/log-in/"):
        assert here().get(page).headers["Location"] == "/begin-here/"
    assert not empty.exists(), "looking makes no book"
    asked = here().get("/begin-here/").content.decode()
    assert 'name="password"' not in asked, "no account on one's own machine"
    for caution in ("Walk the lawn first", "decides."):
        assert caution in asked


def test_a_ground_is_begun_in_one_go_and_the_morning_look_comes_next(empty: Path) -> None:
    answer = send(here(), "/begin-here/", **GROUND)
    assert (answer.status_code, answer.headers["Location"]) == (302, "/")
    ground = the_book().ground()
    assert (ground.site.name, ground.site.latitude, ground.site.units) == ("Home", -43, "imperial")
    assert ground.site.elevation_m == pytest.approx(60.96)
    (zone,) = ground.zones
    assert (zone.name, zone.area_m2, zone.use, zone.mower.kind) == (
        "Front lawn", 108, "family lawn", "rotary",
    )  # fmt: skip
    assert zone.height_of_cut_mm == pytest.approx(25.4)
    assert "Home" in here().get("/").content.decode()
    assert (empty / "book.sqlite3").stat().st_mode & 0o077 == 0
    assert here().get("/begin-here/").headers["Location"] == "/"


def test_a_number_alone_goes_with_the_unit_that_stood_beside_it(empty: Path) -> None:
    typed = {**GROUND, "size": "120", "unit.size": "yd²", "height": "1 1/4", "unit.height": "in",
             "elevation": "200", "unit.elevation": "ft"}  # fmt: skip
    again = send(here(), "/begin-here/", **{**typed, "zone": ""}).content.decode()
    assert (
        'name="unit.size" value="yd²" data-metric="m²" data-imperial="yd²" data-us="ft²"' in again
    )
    assert not empty.exists()
    assert send(here(), "/begin-here/", **typed).status_code == 302
    ground = the_book().ground()
    assert ground.site.elevation_m == pytest.approx(60.96)
    assert ground.zones[0].area_m2 == pytest.approx(120 * 0.9144**2)
    assert ground.zones[0].height_of_cut_mm == pytest.approx(31.75)


@pytest.mark.parametrize(
    ("field", "typed", "says"),
    [
        ("site", " ", "The name of the ground"), ("latitude", "north", "The latitude"),
        ("latitude", "89", "latitude is 89"), ("elevation", "high", "The height above the sea"),
        ("zone", "", "The name of the lawn"), ("size", "big", "The size"),
        ("size", "12xlong", "The size"), ("use", "car park", "No use of a zone"),
        ("height", "short", "The height of cut"), ("height", "900", "height of cut is 900"),
        ("mower", "goat", "The mower"),
    ],
)  # fmt: skip
def test_a_slip_comes_back_with_what_was_typed_and_nothing_is_made(
    empty: Path, field: str, typed: str, says: str
) -> None:
    answer = send(here(), "/begin-here/", **{**GROUND, field: typed})
    text = answer.content.decode()
    assert answer.status_code in {404, 422}
    assert says in text
    assert "--" not in text.partition('role="alert">')[2].partition("</p>")[0]
    for name in {"site", "zone", "size"} - {field}:
        assert f'value="{GROUND[name]}"' in text
    assert not empty.exists()


def test_where_others_are_let_in_the_code_of_the_terminal_is_asked_for(
    empty: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    to_others(monkeypatch)
    for wrong in ({**OWNER, "code": ""}, {**OWNER, "code": "bcdf-ghkm-npqx"},
                  {**OWNER, "again": "another"}, {**OWNER, "password": "short", "again": "short"},
                  {**OWNER, "name": ""}):  # fmt: skip
        answer = send(browser(), "/begin-here/", **{**GROUND, **wrong})
        assert answer.status_code == 422
        assert "four quiet moles dig" not in answer.content.decode()
        assert not empty.exists()
    client = browser()
    answer = send(client, "/begin-here/", **GROUND, **OWNER)
    assert answer.status_code == 302
    assert answer.cookies[cookie_name()]["secure"]
    [owner] = people(the_book())
    assert (owner.name, owner.initials, owner.role) == ("Ines Marlow", "IM", "owner")
    assert client.get("/people/").status_code == 200
    assert browser().get("/people/").status_code == 302
    assert browser().get("/begin-here/").headers["Location"] == "/"


def test_a_ground_that_is_there_gets_an_owner_before_others_are_let_in(
    empty: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    put_made_up_ground(empty)
    to_others(monkeypatch)
    shown = browser().get("/ground/", follow=True).content.decode()
    assert "Make the owner" in shown
    assert 'name="site"' not in shown
    assert "Fennowick" not in shown
    assert send(browser(), "/begin-here/", **{**OWNER, "code": "x"}).status_code == 422
    assert send(client := browser(), "/begin-here/", **OWNER).status_code == 302
    assert "Fennowick" in client.get("/more/").content.decode()
    assert browser().get("/ground/").headers["Location"].startswith("/log-in/")


def test_another_machine_begins_nothing_without_an_account(empty: Path) -> None:
    away = Client(headers={"host": "localhost"}, REMOTE_ADDR="192.168.1.7")
    assert away.post("/begin-here/", GROUND).status_code == 422
    assert not empty.exists()
