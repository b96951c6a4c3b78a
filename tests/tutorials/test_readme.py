"""The README shows what the program prints."""

import re
from pathlib import Path

import pytest
from click.testing import CliRunner

from swardbook.cli.main import root
from tests.tutorials.test_pages import plain, run

README = Path(__file__).parents[2] / "README.md"


def shown() -> str:
    """The part of the README that shows output."""
    text = README.read_text(encoding="utf-8")
    return text.split("## What it looks like")[1].split("## Your own ground")[0]


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> str:
    """Build the made-up ground once; give what that printed."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("SWARDBOOK_HOME", str(tmp_path_factory.mktemp("made-up") / "book"))
        patch.delenv("SWARDBOOK_DATABASE", raising=False)
        built = CliRunner().invoke(root, ["demo"])
        assert built.exit_code == 0
        answers = [
            (block, run(block[0].removeprefix("$ ")).output)
            for block in map(
                str.splitlines, re.findall(r"```console\n(.*?)```", shown(), re.DOTALL)
            )
        ]
        for block, output in answers:
            for line in block[1:]:
                assert plain(line) in plain(output), block[0]
        return built.output


def test_every_command_it_shows_answers_so(demo: str) -> None:
    assert demo


def test_the_first_screen_it_shows_is_the_one_printed(demo: str) -> None:
    for line in re.findall(r"```text\n(.*?)```", shown(), re.DOTALL)[0].splitlines():
        if line.strip() not in {"", "..."}:
            assert plain(line) in plain(demo)
