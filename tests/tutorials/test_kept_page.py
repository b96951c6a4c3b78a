"""The page on keeping answers works as written, command by command, on the made-up ground."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.support.books import standing_on_made_up_ground
from tests.support.pages import DOCS, work_through


@pytest.fixture
def home(tmp_path: Path) -> Iterator[Path]:
    """The made-up ground in a folder of its own."""
    with standing_on_made_up_ground(tmp_path / "book") as place:
        yield place


@pytest.mark.usefixtures("home")
def test_every_command_of_the_page_answers_as_the_page_says() -> None:
    assert work_through(DOCS / "how-to" / "keep-an-answer.md") > 6
