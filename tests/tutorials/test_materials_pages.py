"""The pages on materials, feed, water, clumps and refills work as written, in an empty home."""

from pathlib import Path

import pytest

from tests.support.pages import DOCS, empty_home, work_through

PAGES = ("order-materials.md", "feed-and-water.md", "clumps-and-refills.md")


@pytest.mark.parametrize("page", PAGES)
def test_every_command_of_the_page_answers_as_the_page_says(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, page: str
) -> None:
    home = empty_home(tmp_path, monkeypatch, "tutorials/weather.csv")
    assert work_through(DOCS / "how-to" / page) > 10
    assert (home / "home" / "book.sqlite3").exists()
