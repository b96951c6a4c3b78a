"""Invitations, leaving, phones, second factors and the record, by the pages that people use."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from django.test import Client

from swardbook.book import people, second_factor
from swardbook.book.inviting import invite
from swardbook.book.leaving import left_behind
from swardbook.book.opening import at_ground
from swardbook.book.second_factor import code_at
from swardbook.book.who_did_what import wait_for_marks, who_did_what
from swardbook.records.beside import forget_marks
from swardbook.web import opened
from swardbook.web.asker import cookie_name, half_cookie_name
from swardbook.web.opened import clock_now, clock_today, the_book
from tests.support.books import TODAY, small_book
from tests.support.people import (
    NAMES,
    OTHERS,
    PASSWORDS,
    Watched,
    browser,
    hash_lightly,
    let_people_in,
    send,
    token_in,
)

NEW = "nine brown hares run"
PHONE = "Mozilla/5.0 (Linux; Android 14) AppleWebKit/537.36 Chrome/130.0 Mobile Safari/537.36"


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """Give a small book with an owner, a worker and a reader, served to others."""
    home = tmp_path / "book"
    small_book(home, TODAY).store.close()
    monkeypatch.setenv("SWARDBOOK_HOME", str(home))
    monkeypatch.delenv("SWARDBOOK_DATABASE", raising=False)
    for name, text in OTHERS.told().items():
        monkeypatch.setenv(name, text)
    hash_lightly(monkeypatch)
    opened.close()
    forget_marks()
    let_people_in(the_book())
    yield home
    wait_for_marks()
    opened.close()


def logged_in(role: str) -> Client:
    """Give a browser in which somebody of a role is logged in."""
    client = browser()
    client.defaults["HTTP_USER_AGENT"] = PHONE
    answer = send(client, "/log-in/", name=NAMES[role], password=PASSWORDS[role])
    assert answer.status_code == 302
    return client


def post(client: Client, page: str, **fields: str) -> Any:
    """Send a form with the token that the browser has."""
    return client.post(page, {"csrfmiddlewaretoken": client.cookies["csrftoken"].value, **fields})


def key_of(role: str) -> int:
    return the_book().store.people().named(NAMES[role]).key


def done() -> list[str]:
    return [each.what for each in who_did_what(the_book()).done]


def test_an_invitation_is_shown_once_and_lets_one_person_in(home: Path) -> None:
    owner = logged_in("owner")
    shown = post(owner, "/people/", do="invite", whom="the lad", role="worker").content.decode()
    code = re.search(r"/join/#([a-z-]+)</code>", shown)
    assert code is not None
    assert "data:image/svg" in shown
    again = owner.get("/people/").content.decode()
    assert "the lad" in again
    assert code[1] not in again
    assert code[1].replace("-", "").encode() not in (home / "book.sqlite3").read_bytes()
    guest = browser()
    before = guest.get("/join/").cookies
    answer = send(guest, "/join/", code=code[1].upper(), name="Wim Astley", initials="",
                  password=NEW, again=NEW)  # fmt: skip
    assert (answer.status_code, answer.headers["Location"]) == (302, "/")
    assert answer.cookies[cookie_name()].value not in str(before)
    assert guest.get("/done/").status_code == 200
    assert guest.get("/people/").status_code == 403
    late = send(browser(), "/join/", code=code[1], name="Somebody", password=NEW, again=NEW)
    assert late.status_code == 403
    assert "opens nothing" in late.content.decode()
    assert "the lad" not in owner.get("/people/").content.decode()
    assert {"invitation made", "account made", "access given", "logged in"} <= set(done())


def test_one_answer_for_a_code_that_is_wrong_used_withdrawn_or_over(home: Path) -> None:
    assert home.is_dir()
    owner, book = logged_in("owner"), the_book()
    made, code = invite(book, "one", "reader", None, clock_now())
    post(owner, "/people/", do="withdraw", invitation=str(made.key))
    long_ago = clock_now() - timedelta(days=8)
    _made, over = invite(book, "two", "reader", None, long_ago)
    account = {"name": "Wim Astley", "password": NEW, "again": NEW}
    told = {
        send(browser(), "/join/", code=each, **account).content.decode().count("opens nothing")
        for each in (code, over, "bcdf-ghkm-npqr-tvwx-zbcd", "", "x" * 500)
    }
    assert told == {1}
    assert "Wim Astley" not in [each.name for each in people.people(book)]


def test_codes_are_slowed_down_by_address(home: Path) -> None:
    assert home.is_dir()
    guest = browser()
    form = {"name": "Wim Astley", "password": NEW, "again": NEW}
    page = guest.get("/join/").content.decode()
    sent = {"csrfmiddlewaretoken": token_in(page), **form}
    statuses = [guest.post("/join/", {**sent, "code": f"b{n}"}).status_code for n in range(22)]
    assert statuses[:20] == [403] * 20
    assert statuses[-1] == 429
    _made, code = invite(the_book(), "one", "reader", None, clock_now())
    assert guest.post("/join/", {**sent, "code": code}).status_code == 429, "nothing is looked at"


def test_an_owner_who_is_one_no_more_leaves_no_door_open(home: Path) -> None:
    assert home.is_dir()
    book = the_book()
    _made, code = invite(book, "me later", "owner", key_of("owner"), clock_now())
    people.change_role(book, NAMES["worker"], "owner")
    people.end_access(book, NAMES["owner"])
    people.change_role(book, NAMES["owner"], "owner", is_own_machine=True)
    answer = send(browser(), "/join/", code=code, name="Wim Astley", password=NEW, again=NEW)
    assert answer.status_code == 403


def test_an_account_that_is_there_takes_an_invitation_and_never_becomes_less(home: Path) -> None:
    assert home.is_dir()
    book = the_book()
    for who, role, becomes in (("reader", "worker", "worker"), ("owner", "reader", "owner")):
        _made, code = invite(book, "more", role, None, clock_now())
        assert post(logged_in(who), "/join/", code=code).status_code == 302
        assert book.store.people().named(NAMES[who]).role == becomes
        assert send(browser(), "/join/", code=code).status_code in {403, 422}


def test_each_phone_is_listed_and_ended_one_by_one(home: Path) -> None:
    assert home.is_dir()
    one, two = logged_in("worker"), logged_in("worker")
    text = one.get("/phones/").content.decode()
    assert text.count("Android, Chrome") == 2
    assert text.count("this one") == 1
    keys = re.findall(r'name="phone" value="(\d+)"', text)
    theirs = people.who_is(the_book(), two.cookies[cookie_name()].value, clock_now())
    assert theirs is not None
    this = re.search(r'phone-(\d+)">Android, Chrome <span', text)
    assert this is not None
    (other,) = set(keys) - {this[1]}
    reader = logged_in("reader")
    assert post(reader, "/phones/", phone=other).status_code == 404, "not one of theirs"
    assert post(one, "/phones/", phone=other).status_code == 302
    assert two.get("/ground/").status_code == 302
    assert one.get("/ground/").status_code == 200
    owner = logged_in("owner")
    page = f"/people/{key_of('worker')}/"
    assert post(owner, page, do="phone", phone=this[1]).status_code == 302
    assert one.get("/ground/").status_code == 302
    assert done().count("log-in ended") == 2


def test_the_last_day_of_a_phone_is_told_without_the_page_writing(home: Path) -> None:
    client = logged_in("worker")
    with the_book().store.people().together():
        from swardbook.records.people_models import SessionRow

        rows = SessionRow.objects.using(the_book().store._rows.alias)
        rows.update(began_at=clock_now() - timedelta(days=3), seen_on=None)
    watched = Watched(home)
    assert client.get("/ground/").status_code == 200
    assert wait_for_marks()
    assert watched.is_written(), "by the writer beside"
    (phone,) = the_book().store.people().phones().of(key_of("worker"), clock_now())
    assert phone.seen_on == clock_now().date()
    client.get("/week/")
    assert wait_for_marks()
    assert not watched.is_written(), "once a day"
    watched.close()


def a_cut(number: int) -> dict[str, Any]:
    return {
        "id": f"00000000-0000-4000-8000-00000000000{number}", "kind": "cut", "zone": "Main court",
        "fields": {"boxed": "yes"}, "said_on": "2011-10-07",
    }  # fmt: skip


def sent_by(client: Client, told: dict[str, Any], to: str = "/api/entries/") -> Any:
    token = client.cookies["csrftoken"].value
    return client.post(
        to, json.dumps(told), content_type="application/json", headers={"x-csrftoken": token}
    )


def test_what_waits_on_the_phone_of_who_left_is_put_aside_and_taken_in(home: Path) -> None:
    worker, owner, book = logged_in("worker"), logged_in("owner"), the_book()
    worker.get("/done/")
    assert sent_by(worker, a_cut(1)).status_code == 201
    page = f"/people/{key_of('worker')}/"
    assert post(owner, page, do="end").status_code == 422, "without the tick"
    assert post(owner, page, do="end", sure="yes").headers["Location"] == "/people/"
    before = len(book.store.chain())
    told = worker.get("/").content.decode()
    assert "Your access to this ground has ended" in told
    for shut in ("/ground/", "/diary/", "/people/", "/phones/", "/second-factor/", "/api/diary/"):
        assert worker.get(shut).status_code == 403, shut
    for number in (2, 2, 3):
        answer = sent_by(worker, a_cut(number))
        assert (answer.status_code, answer.json()["id"]) == (202, a_cut(number)["id"])
    back = f"/api/entries/{a_cut(1)['id']}/take-back/"
    assert sent_by(worker, {}, back).status_code == 200
    assert len(book.store.chain()) == before, "nothing in the diary without an owner"
    shown = owner.get("/people/left-behind/").content.decode()
    assert shown.count("Take it in") == 3
    first, second, third = (each.left.key for each in left_behind(book))
    post(owner, "/people/left-behind/", do="take-in", left=str(first))
    post(owner, "/people/left-behind/", do="leave-out", left=str(second))
    post(owner, "/people/left-behind/", do="take-in", left=str(third))
    entries = book.store.whole_diary()
    assert len(entries) == before + 2
    assert entries[-2].who == "OF", "under the initials of who wrote it"
    assert post(owner, "/people/left-behind/", do="take-in", left=str(second)).status_code == 409
    assert "left out" in owner.get("/people/left-behind/").content.decode()
    assert (home / "left-behind").exists() is False


def test_nothing_more_is_taken_where_an_owner_said_so_or_the_days_are_over(home: Path) -> None:
    assert home.is_dir()
    worker, reader, owner = logged_in("worker"), logged_in("reader"), logged_in("owner")
    for each in (worker, reader):
        each.get("/ground/")
    page = f"/people/{key_of('worker')}/"
    post(owner, page, do="end", sure="yes", nothing_more="yes")
    assert sent_by(worker, a_cut(2)).status_code == 401
    people.end_access(the_book(), NAMES["reader"], clock_now() + timedelta(seconds=-1))
    assert sent_by(reader, a_cut(3)).status_code == 401
    assert left_behind(the_book()) == ()


def test_a_picture_of_who_left_is_put_aside_too(home: Path) -> None:
    worker, book = logged_in("worker"), the_book()
    worker.get("/done/")
    people.end_access(book, NAMES["worker"], clock_now() + timedelta(days=1))
    from django.core.files.uploadedfile import SimpleUploadedFile

    about = json.dumps({"id": a_cut(4)["id"], "zone": "Main court", "note": "the corner"})
    file = SimpleUploadedFile("a.jpg", b"no picture at all")
    answer = worker.post(
        "/api/files/", {"about": about, "file": file},
        headers={"x-csrftoken": worker.cookies["csrftoken"].value},
    )  # fmt: skip
    assert answer.status_code == 202
    (kept,) = (home / "left-behind").iterdir()
    assert kept.read_bytes() == b"no picture at all"
    assert kept.stat().st_mode & 0o077 == 0
    (waits,) = left_behind(book)
    assert ("note", "the corner") in waits.words


def test_a_name_is_taken_out_and_initials_stay(home: Path) -> None:
    worker, owner, book = logged_in("worker"), logged_in("owner"), the_book()
    worker.get("/done/")
    sent_by(worker, a_cut(1))
    key = key_of("worker")
    assert post(owner, "/people/", do="forget", person=str(key), sure="yes").status_code == 422
    people.end_access(book, NAMES["worker"])
    assert post(owner, "/people/", do="forget", person=str(key), sure="yes").status_code == 302
    for page in ("/people/", "/people/record/", "/people/left-behind/"):
        assert NAMES["worker"] not in owner.get(page).content.decode()
    assert book.store.whole_diary()[-1].who == "OF"
    with pytest.raises(people.WrongLogInError):
        people.log_in(book, NAMES["worker"], PASSWORDS["worker"], "192.0.2.9", clock_now())
    with pytest.raises(people.WrongLogInError):
        people.log_in(book, "", "", "192.0.2.9", clock_now())


def test_a_log_in_with_a_second_factor_opens_nothing_before_its_code(home: Path) -> None:
    assert home.is_dir()
    client, book = logged_in("owner"), the_book()
    wrong = post(client, "/second-factor/", do="begin", password="another one")
    assert wrong.status_code == 403
    shown = post(client, "/second-factor/", do="begin", password=PASSWORDS["owner"])
    found = re.search(r'<code class="long">([A-Z2-7 ]+)</code>', shown.content.decode())
    assert found is not None
    secret = found[1].replace(" ", "")
    assert secret.encode() not in (home / "book.sqlite3").read_bytes()
    step = int(clock_now().timestamp()) // 30
    on = post(client, "/second-factor/", do="on", code=code_at(secret, step))
    codes = re.findall(r"<li><code>(\d-[a-z-]+)</code>", on.content.decode())
    assert len(codes) == second_factor.RECOVERY_CODES
    guest = browser()
    answer = send(guest, "/log-in/", name=NAMES["owner"], password=PASSWORDS["owner"], to="/week/")
    assert answer.headers["Location"] == "/log-in/code/?to=%2Fweek%2F"
    assert cookie_name() not in guest.cookies
    half = guest.cookies[half_cookie_name()].value
    guest.cookies[cookie_name()] = half
    assert guest.get("/ground/").status_code == 302, "half a log-in is none"
    del guest.cookies[cookie_name()]
    asked = "/log-in/code/?to=/week/"
    replayed = send(guest, asked, code=code_at(secret, step), to="/week/")
    assert replayed.status_code == 403, "each code is good once"
    assert cookie_name() not in guest.cookies
    let = send(guest, asked, code=f" {code_at(secret, step + 1)} ", to="/week/")
    assert let.headers["Location"] == "/week/"
    assert guest.cookies[cookie_name()].value != half
    assert guest.get("/ground/").status_code == 200
    assert people.who_is(book, half, clock_now()) is None
    for code, status in ((codes[2], 302), (codes[2], 403), ("3-bcdf-ghkm-npqx", 403)):
        late = browser()
        send(late, "/log-in/", name=NAMES["owner"], password=PASSWORDS["owner"])
        assert send(late, "/log-in/code/", code=code).status_code == status
    assert {"second factor refused", "recovery code used"} <= set(done())


def test_an_owner_switches_a_lost_second_factor_off_and_it_stands_in_the_record(
    home: Path,
) -> None:
    assert home.is_dir()
    book, now = the_book(), clock_now()
    begun = second_factor.begin(book, NAMES["reader"], PASSWORDS["reader"], now)
    code = code_at(begun.secret.replace(" ", ""), int(now.timestamp()) // 30)
    second_factor.turn_on(book, NAMES["reader"], code, now)
    owner = logged_in("owner")
    page = f"/people/{key_of('reader')}/"
    assert post(owner, page, do="second").status_code == 422
    assert post(owner, page, do="second", sure="yes").status_code == 302
    assert logged_in("reader").get("/ground/").status_code == 200
    shown = owner.get("/people/record/").content.decode()
    assert "Second factor switched off" in shown


def test_who_opened_pages_with_names_is_written_beside_once_a_day(home: Path) -> None:
    owner = logged_in("owner")
    assert wait_for_marks()
    watched = Watched(home)
    for _ in range(3):
        owner.get("/people/")
    owner.get("/diary/")
    assert wait_for_marks()
    saw = who_did_what(the_book()).saw
    assert sorted(each.what for each in saw) == ["the diary", "the people"]
    assert {each.initials for each in saw} == {"IM"}
    watched.is_written()
    owner.get("/people/")
    for of_the_diary in ("/ground/Main court/season/", "/ask/diary/show/", "/api/ask/diary/show/"):
        assert owner.get(of_the_diary).status_code == 200
    assert wait_for_marks()
    assert not watched.is_written()
    reader = logged_in("reader")
    reader.get("/ground/Main court/")  # tells of work and grass, and of nobody
    reader.get("/ground/Main court/season/")
    assert wait_for_marks()
    seen = [each.what for each in who_did_what(the_book()).saw if each.initials != "IM"]
    assert seen == ["the diary"]
    watched.close()


def test_the_record_holds_no_password_no_token_and_no_address(home: Path) -> None:
    guest = browser()
    send(guest, "/log-in/", name=NAMES["owner"], password="quite another one")
    send(guest, "/log-in/", name="nobody at all", password="quite another one")
    owner = logged_in("owner")
    shown = owner.get("/people/record/").content.decode()
    assert "Log-in refused" in shown
    assert "Log-in refused, unknown name" in shown
    wait_for_marks()
    held = (home / "book.sqlite3").read_bytes() + (home / "book.sqlite3-wal").read_bytes()
    for secret in ("quite another one", "nobody at all", owner.cookies[cookie_name()].value,
                   "127.0.0.1"):  # fmt: skip
        assert secret.encode() not in held


def test_taking_everything_out_stands_in_the_record_before_it_goes_out(home: Path) -> None:
    assert home.is_dir()
    owner = logged_in("owner")
    assert owner.get("/in-and-out/book.zip").status_code == 200
    assert who_did_what(the_book()).done[0].what == "took everything out"
    assert who_did_what(the_book()).done[0].initials == "IM"


def test_a_refused_log_in_tells_nothing_by_words_or_by_time(
    home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from swardbook.records import passwords

    assert home.is_dir()
    book, now = the_book(), clock_now()
    begun = second_factor.begin(book, NAMES["reader"], PASSWORDS["reader"], now)
    code = code_at(begun.secret.replace(" ", ""), int(now.timestamp()) // 30)
    second_factor.turn_on(book, NAMES["reader"], code, now)
    people.end_access(book, NAMES["worker"], now + timedelta(days=1))
    hashes: list[str] = []
    looked_at = passwords.is_right

    def counted(password: str, secret: str | None) -> bool:
        hashes.append("one")
        return looked_at(password, secret)

    monkeypatch.setattr(people, "is_right", counted)
    told = set()
    for name in (NAMES["owner"], NAMES["reader"], NAMES["worker"], "nobody at all"):
        before = len(hashes)
        answer = send(browser(), "/log-in/", name=name, password="quite another one")
        assert len(hashes) == before + 1, "one hash, whoever it is"
        text = re.sub(r'value="[^"]*"', "", answer.content.decode())
        told.add((answer.status_code, text))
    assert len(told) == 1


def test_an_owner_of_one_ground_changes_nothing_on_another(home: Path) -> None:
    from swardbook.book.ground import begin
    from swardbook.husbandry.ground import Site

    assert home.is_dir()
    begin(the_book().settings, clock_today, Site("Second ground", 52.0, 10.0)).store.close()
    opened.close()
    with opened.at_ground("fennowick-croquet-club"):
        first = the_book()
    other = at_ground(first, "second-ground", clock_today)
    assert [each.name for each in people.people(other)] == [NAMES["owner"]], "owns what is begun"
    people.add_person(other, "Wim Astley", "", "owner", NEW, clock_now(), must_change=False)
    wim, bram = browser(), key_of_at(first, "reader")
    send(wim, "/at/second-ground/log-in/", name="Wim Astley", password=NEW)
    here, there = "/at/second-ground", "/at/fennowick-croquet-club"
    assert wim.get(f"{here}/people/").status_code == 200
    assert wim.get(f"{there}/people/").status_code == 403
    assert wim.get(f"{there}/ground/").status_code == 403
    assert wim.get(f"{here}/people/{bram}/").status_code == 404, "of others nothing is told"
    people.change_role(other, NAMES["reader"], "reader", is_own_machine=True)
    page = f"{here}/people/{bram}/"
    shown = wim.get(page).content.decode()
    assert "not yours to change" in shown
    assert "Fennowick" not in shown
    asked: dict[str, dict[str, str]] = {
        "role": {"do": "role-at", "ground": "fennowick-croquet-club", "role": "owner"},
        "password": {"do": "password", "password": NEW},
        "phone": {"do": "phone", "phone": "1"},
        "second": {"do": "second", "sure": "yes"},
    }
    for name, form in asked.items():
        assert post(wim, page, **form).status_code in {404, 422}, name
    assert first.store.people().named(NAMES["reader"]).role == "reader"
    assert "Fennowick" not in wim.get(f"{here}/people/record/").content.decode()
    ines = browser()
    send(ines, f"{there}/log-in/", name=NAMES["owner"], password=PASSWORDS["owner"])
    changed = post(ines, page, do="role-at", ground="fennowick-croquet-club", role="worker")
    assert changed.status_code == 302
    assert first.store.people().named(NAMES["reader"]).role == "worker"


def key_of_at(book: Any, role: str) -> int:
    found: int = book.store.people().named(NAMES[role]).key
    return found
