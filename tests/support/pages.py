"""Pages of the documentation as a reader works through them: each command, and what it answers."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from tests.tutorials.test_pages import plain, run

DOCS = Path(__file__).parents[2] / "docs"


def empty_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, *files: str) -> Path:
    """Stand in a folder with some files of the documentation and no book yet."""
    for name in files:
        shutil.copy(DOCS / name, tmp_path / Path(name).name)
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("SWARDBOOK_HOME", str(tmp_path / "home"))
    monkeypatch.delenv("SWARDBOOK_DATABASE", raising=False)
    return tmp_path


def work_through(page: Path) -> int:
    """Run every command of a page; what stands under it must stand in its answer.

    Returns
    -------
    int
        How many commands were run.
    """
    ran, output = 0, ""
    for block in re.findall(r"```console\n(.*?)```", page.read_text(encoding="utf-8"), re.S):
        for line in block.splitlines():
            words = line.strip()
            if words.startswith("$ "):
                result = run(words.removeprefix("$ "))
                assert result.exit_code == 0, f"{words}\n{result.output}"
                output, ran = plain(result.output), ran + 1
            elif words:
                assert plain(words) in output, f"{words}\nnot in\n{output}"
    return ran
