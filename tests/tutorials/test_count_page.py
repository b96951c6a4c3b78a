"""The page on counting works as written, command by command, on a new lawn."""

from pathlib import Path

import pytest

from tests.support.pages import DOCS, empty_home, work_through
from tests.tutorials.test_pages import run


def test_every_command_of_the_page_answers_as_the_page_says(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    empty_home(tmp_path, monkeypatch)
    for command in (
        "swardbook begin --name Home --latitude 52.2 --elevation 15 --hours-a-week 5 --hose 12",
        "swardbook zone add 'Back lawn' --use 'family lawn' --sides 12x9 --height-of-cut '25 mm'",
    ):
        assert run(command).exit_code == 0
    assert work_through(DOCS / "how-to" / "count-a-lawn.md") >= 9
