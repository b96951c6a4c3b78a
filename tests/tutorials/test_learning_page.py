"""The page on learning works as written."""

from pathlib import Path

from tests.support.books import standing_on_made_up_ground
from tests.support.pages import DOCS, work_through


def test_every_command_of_the_page_answers_as_the_page_says(tmp_path: Path) -> None:
    with standing_on_made_up_ground(tmp_path):
        assert work_through(DOCS / "how-to" / "learn-on-the-made-up-ground.md") > 5
