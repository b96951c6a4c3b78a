"""``swardbook people`` and how ``serve`` refuses: in words, and no password in a command."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from swardbook.cli.main import root
from tests.cli.conftest import Run

PASSWORD = "four quiet moles dig"


def typed(*words: str, twice: str = PASSWORD) -> Result:
    return CliRunner().invoke(root, ["people", *words], input=f"{twice}\n{twice}\n")


def test_people_are_let_in_changed_and_let_in_no_more(ground: Run) -> None:
    assert "Add an owner" in ground("people", "list").text
    told = typed("add", "Ines Marlow", "--role", "owner", "--mine")
    assert "Ines Marlow (IM) is let in as owner." in told.output
    assert PASSWORD not in told.output
    assert typed("add", "Odalys Fenn", "--role", "worker", "--initials", "of").exit_code == 0
    assert "reader" in ground("people", "role", "odalys fenn", "reader").text
    assert typed("new-password", "Ines Marlow", twice="under nine old oaks").exit_code == 0
    assert ground("people", "list", "--json").json["people"] == [
        {"name": "Ines Marlow", "initials": "IM", "role": "owner", "must_change_password": True},
        {"name": "Odalys Fenn", "initials": "of", "role": "reader", "must_change_password": True},
    ]
    assert "stays" in ground("people", "end", "Odalys Fenn").text
    assert len(ground("people", "list", "--json").json["people"]) == 1


@pytest.mark.parametrize(
    ("password", "says"),
    [("short", "5 signs"), ("123456789012", "digits only"), ("aaaaaaaaaaaaa", "same few signs"),
     ("liverpoolfootballclub", ""), ("1q2w3e4r5t6y", "commonest"), ("Ines Marlow 1", "a name")],
)  # fmt: skip
def test_a_weak_password_is_refused_and_never_printed(
    ground: Run, password: str, says: str
) -> None:
    told = typed("add", "Ines Marlow", "--role", "owner", twice=password)
    if says:
        assert told.exit_code == 2
        assert says in told.output
        assert password not in told.output.replace("Ines Marlow", "")
    else:
        assert told.exit_code == 0, told.output


def test_the_last_owner_stays_and_unknown_people_are_named(ground: Run) -> None:
    typed("add", "Ines Marlow", "--role", "owner")
    for words in (("role", "Ines Marlow", "reader"), ("end", "Ines Marlow")):
        assert "at least one owner" in ground("people", *words, code=2).text
    assert "Ines Marlow" in ground("people", "end", "Ines Marlo", code=2).text
    assert "reader, worker, owner" in ground("people", "role", "Ines Marlow", "king", code=2).text
    again = typed("add", "ines  marlow", "--role", "worker")
    assert "nobody here has yet" in again.output


def test_serve_lets_no_other_machine_in_in_the_open(ground: Run, book_home: Path) -> None:
    told = ground("serve", "--host", "0.0.0.0", "--no-browser", code=2).text
    assert "--make-certificate" in told
    assert not (book_home / "certificate.pem").exists()
    assert "today" in ground("serve", "--on", "yesterday", code=2).text


def test_an_invitation_is_told_with_its_link_and_drawn(ground: Run, tmp_path: Path) -> None:
    drawn = tmp_path / "invitation.svg"
    told = ground(
        "people", "invite", "the new lad", "--role", "worker", "--address",
        "https://lawns.example/", "--picture", str(drawn), "--json",
    ).json["invitation"]  # fmt: skip
    assert told["link"] == f"https://lawns.example/join/#{told['code']}"
    assert drawn.read_text().startswith("<?xml")
    (listed,) = ground("people", "invitations", "--json").json["invitations"]
    assert (listed["for_whom"], listed["role"]) == ("the new lad", "worker")
    assert told["code"] not in ground("people", "invitations").text
    assert "nothing any more" in ground("people", "withdraw", str(listed["number"])).text
    assert "None is open" in ground("people", "invitations").text
    for words in (("--picture", "x.svg"), ("--address", "lawns.example")):
        refused = ground("people", "invite", "x", "--role", "reader", *words, code=2)
        assert "address" in refused.text
    assert ground("people", "invitations", "--json").json["invitations"] == []


def test_phones_and_what_was_left_behind_are_dealt_with_by_command(
    ground: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    import os

    from swardbook.book.leaving import leave_entry, until
    from swardbook.book.opening import open_book
    from swardbook.book.people import log_in
    from swardbook.cli.doors import clock_now, clock_today
    from swardbook.settings import read_settings
    from tests.support.people import hash_lightly

    hash_lightly(monkeypatch)
    typed("add", "Ines Marlow", "--role", "owner", "--mine")
    typed("add", "Odalys Fenn", "--role", "worker")
    book, now = open_book(read_settings(os.environ), clock_today), clock_now()
    log_in(book, "Odalys Fenn", PASSWORD, "192.0.2.7", now, "Android, Chrome")
    (phone,) = ground("people", "phones", "--json").json["phones"]
    assert (phone["name"], phone["device"]) == ("Odalys Fenn", "Android, Chrome")
    ended = ground("people", "phones", "Odalys Fenn", "--end", str(phone["number"]))
    assert "Nobody is logged in." in ended.text
    assert ground("people", "phones", "--end", "1", code=2)
    person = book.store.people().named("Odalys Fenn")
    assert "taken until" in ground("people", "end", "Odalys Fenn").text
    assert until(book, now) > now
    for number in (1, 2):
        sent = {"id": f"00000000-0000-4000-8000-00000000000{number}", "kind": "note",
                "fields": {"text": f"moss {number}"}}  # fmt: skip
        leave_entry(book, person.key, sent, now)
    book.store.close()
    one, two = ground("people", "left-behind", "--json").json["waiting"]
    assert one["fields"]["text"] == "moss 1"
    told = ground("people", "left-behind", "--take-in", str(one["number"]),
                  "--leave-out", str(two["number"])).text  # fmt: skip
    assert "Taken in: 1. Left out: 1." in told
    assert "moss 1" in ground("diary", "show").text
    assert "moss 2" not in ground("diary", "show").text
    assert "OF stays" in ground("people", "forget-name", "Odalys Fenn").text
    done = [each["what"] for each in ground("people", "record", "--json").json["done"]]
    assert {"log-in ended", "left behind: taken in", "left behind: left out"} <= set(done)
