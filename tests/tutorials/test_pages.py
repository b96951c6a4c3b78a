"""The tutorials work as written: every command, in its order, in an empty home."""

import re
import shlex
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from swardbook.cli.main import root

TUTORIALS = Path(__file__).parents[2] / "docs" / "tutorials"
PAGES = ("your-own-lawn.md", "the-made-up-ground.md", "from-survey-to-first-mow.md")
FILES = ("weather.csv", "count-october.csv", "count-july.csv")


def commands(page: str) -> Iterator[tuple[str, list[str]]]:
    """Each command of a page with the words that must stand in its answer."""
    text = (TUTORIALS / page).read_text(encoding="utf-8")
    for block in re.findall(r"```console\n(.*?)```", text, re.S):
        command, expected = "", list[str]()
        for line in block.splitlines():
            if line.startswith("$ "):
                if command:
                    yield command, expected
                command, expected = line.removeprefix("$ "), []
            elif line.strip():
                expected.append(line)
        yield command, expected


def plain(text: str) -> str:
    return " ".join(text.split())


def run(command: str) -> Result:
    name, *words = shlex.split(command, comments=True)
    assert name == "swardbook"
    return CliRunner().invoke(root, words)


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    for name in FILES:
        shutil.copy(TUTORIALS / name, tmp_path / name)
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("SWARDBOOK_HOME", str(tmp_path / "home"))
    monkeypatch.delenv("SWARDBOOK_DATABASE", raising=False)
    return tmp_path


@pytest.mark.parametrize("page", PAGES)
def test_every_command_of_the_page_answers_as_the_page_says(home: Path, page: str) -> None:
    ran = 0
    for command, expected in commands(page):
        result = run(command)
        wanted = 1 if "# ends with 1" in command else 0
        assert result.exit_code == wanted, f"{command}\n{result.output}"
        for words in expected:
            assert plain(words) in plain(result.output), f"{command}\n{result.output}"
        ran += 1
    assert ran > 10
    assert (home / "home" / "book.sqlite3").exists()
