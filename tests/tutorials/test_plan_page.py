"""The page on the drawn plan works as written, command by command, in an empty home."""

from pathlib import Path

import pytest

from tests.support.pages import DOCS, empty_home, work_through


def test_every_command_of_the_page_answers_as_the_page_says(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    home = empty_home(tmp_path, monkeypatch)
    assert work_through(DOCS / "how-to" / "draw-the-plan.md") > 15
    assert (home / "plan.svg").exists() or list(home.rglob("plan.svg"))
