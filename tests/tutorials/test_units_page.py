"""The page on units works as written."""

from pathlib import Path

import pytest

from tests.support.pages import DOCS, empty_home, work_through


def test_every_command_of_the_page_answers_as_the_page_says(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    empty_home(tmp_path, monkeypatch)
    assert work_through(DOCS / "how-to" / "choose-your-units.md") > 5
