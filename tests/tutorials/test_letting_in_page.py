"""The page on letting others in works as written; its passwords are typed at the question."""

from pathlib import Path

import click
import pytest

from tests.support.pages import DOCS, empty_home, work_through
from tests.support.people import hash_lightly
from tests.tutorials.test_pages import run


def test_every_command_of_the_page_answers_as_the_page_says(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    empty_home(tmp_path, monkeypatch)
    hash_lightly(monkeypatch)
    monkeypatch.setattr(click, "prompt", lambda *_, **__: "seven grey herons fly")
    assert run("swardbook begin --name Home --latitude 52.1 --elevation 60").exit_code == 0
    assert work_through(DOCS / "how-to" / "let-others-in.md") == 16
