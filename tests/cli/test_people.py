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
