"""The page on surveying a lawn works as written, command by command, in an empty home."""

import re
import shutil
from pathlib import Path

import pytest

from tests.tutorials.test_pages import plain, run

FOLDER = Path(__file__).parents[2] / "docs" / "how-to"
PAGE = FOLDER / "survey-a-lawn.md"


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    for name in ("walk.gpx", "survey-count.csv"):
        shutil.copy(FOLDER / name, tmp_path / name)
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("SWARDBOOK_HOME", str(tmp_path / "home"))
    monkeypatch.delenv("SWARDBOOK_DATABASE", raising=False)
    return tmp_path


def test_every_command_of_the_page_answers_as_the_page_says(home: Path) -> None:
    ran, output = 0, ""
    for block in re.findall(r"```console\n(.*?)```", PAGE.read_text(encoding="utf-8"), re.S):
        for line in block.splitlines():
            words = line.strip()
            if words.startswith("$ "):
                result = run(words.removeprefix("$ "))
                assert result.exit_code == 0, f"{words}\n{result.output}"
                output, ran = plain(result.output), ran + 1
            elif words:
                assert plain(words) in output, f"{words}\nnot in\n{output}"
    assert ran > 15
    assert (home / "home" / "book.sqlite3").exists()
