"""The pages on copies and on moving work as written."""

import re
from pathlib import Path

import pytest

from swardbook.book.copying import copies_of
from swardbook.settings import Settings
from tests.support.books import small_book
from tests.support.pages import DOCS, empty_home
from tests.tutorials.test_pages import plain, run


@pytest.fixture(autouse=True)
def mended(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let whichever SQLite runs here be a mended one, and the clock the machine's."""
    monkeypatch.setattr("swardbook.records.engine.is_faulty", lambda version: False)


def work_through(page: Path, here: Path, monkeypatch: pytest.MonkeyPatch) -> int:
    """Run every command; ``SWARDBOOK_HOME=...`` before one holds for it alone."""
    ran, output = 0, ""
    for block in re.findall(r"```console\n(.*?)```", page.read_text(encoding="utf-8"), re.S):
        for line in block.splitlines():
            words = line.strip()
            if not words.startswith("$ "):
                assert plain(words) in output, f"{words}\nnot in\n{output}"
                continue
            copies = copies_of(Settings(here / "home"))
            if copies:
                words = words.replace("$COPY", copies[0].name).replace("$NEWEST", copies[-1].name)
            home = re.match(r"\$ SWARDBOOK_HOME=(\S+) ", words)
            with monkeypatch.context() as patch:
                if home:
                    patch.setenv("SWARDBOOK_HOME", str(here / home[1]))
                result = run(words.removeprefix("$ ").partition("swardbook ")[1]
                             + words.partition("swardbook ")[2])  # fmt: skip
            assert result.exit_code == 0, f"{words}\n{result.output}"
            output, ran = plain(result.output), ran + 1
    return ran


@pytest.mark.parametrize(("name", "commands"), [("backups-and-restore", 10), ("two-databases", 3)])
def test_every_command_of_the_page_answers_as_the_page_says(
    name: str, commands: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    here = empty_home(tmp_path, monkeypatch)
    small_book(here / "home").store.close()
    assert work_through(DOCS / "how-to" / f"{name}.md", here, monkeypatch) == commands
