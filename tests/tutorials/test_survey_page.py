"""The page on surveying a lawn works as written, command by command, in an empty home."""

from pathlib import Path

import pytest

from tests.support.pages import DOCS, empty_home, work_through


def test_every_command_of_the_page_answers_as_the_page_says(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    home = empty_home(tmp_path, monkeypatch, "how-to/walk.gpx", "how-to/survey-count.csv")
    assert work_through(DOCS / "how-to" / "survey-a-lawn.md") > 15
    assert (home / "home" / "book.sqlite3").exists()
