"""The pages on letters and paper are worked through as they stand, on the made-up ground."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.support.books import put_made_up_ground
from tests.support.pages import DOCS, empty_home, work_through


@pytest.mark.parametrize(
    ("page", "commands"), [("write-to-an-owner.md", 6), ("take-paper-along.md", 9)]
)
def test_every_command_of_the_page_answers_as_it_says(
    page: str, commands: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    home = empty_home(tmp_path, monkeypatch)
    put_made_up_ground(home / "home")
    assert work_through(DOCS / "how-to" / page) == commands
