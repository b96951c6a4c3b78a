"""The pages on mowing and verticutting work as written, command by command, in an empty home."""

from pathlib import Path

import pytest

from tests.support.pages import DOCS, empty_home, work_through

PAGES = ("plan-the-mowing.md", "verticut-and-learn.md")


@pytest.mark.parametrize("page", PAGES)
def test_every_command_of_the_page_answers_as_the_page_says(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, page: str
) -> None:
    home = empty_home(tmp_path, monkeypatch, "tutorials/weather.csv")
    assert work_through(DOCS / "how-to" / page) > 10
    assert (home / "home" / "book.sqlite3").exists()
