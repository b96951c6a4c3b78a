"""The pages on mowing and verticutting work as written, command by command, in an empty home."""

import re
import shutil
from pathlib import Path

import pytest

from tests.tutorials.test_pages import plain, run

DOCS = Path(__file__).parents[2] / "docs"
PAGES = ("plan-the-mowing.md", "verticut-and-learn.md")


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    shutil.copy(DOCS / "tutorials" / "weather.csv", tmp_path / "weather.csv")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("SWARDBOOK_HOME", str(tmp_path / "home"))
    monkeypatch.delenv("SWARDBOOK_DATABASE", raising=False)
    return tmp_path


@pytest.mark.parametrize("page", PAGES)
def test_every_command_of_the_page_answers_as_the_page_says(home: Path, page: str) -> None:
    ran, output = 0, ""
    text = (DOCS / "how-to" / page).read_text(encoding="utf-8")
    for block in re.findall(r"```console\n(.*?)```", text, re.S):
        for line in block.splitlines():
            words = line.strip()
            if words.startswith("$ "):
                result = run(words.removeprefix("$ "))
                assert result.exit_code == 0, f"{words}\n{result.output}"
                output, ran = plain(result.output), ran + 1
            elif words:
                assert plain(words) in output, f"{words}\nnot in\n{output}"
    assert ran > 10
    assert (home / "home" / "book.sqlite3").exists()
