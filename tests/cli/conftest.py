"""A book in a folder of its own for each test, and a small ground built by commands."""

from __future__ import annotations

import atexit
import json
import shutil
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from swardbook.cli.main import root
from tests.support.databases import SERVER, place

ON = "2011-10-08"
"""The day the small ground's commands are for: a Saturday."""


@dataclass(frozen=True)
class Told:
    """What a command answered."""

    result: Result

    @property
    def code(self) -> int:
        return self.result.exit_code

    @property
    def text(self) -> str:
        """Both streams, as a person sees them."""
        return self.result.output

    @property
    def json(self) -> dict[str, Any]:
        found: dict[str, Any] = json.loads(self.result.stdout)
        return found


Run = Callable[..., Told]


@pytest.fixture
def book_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder that the commands take for their book's."""
    home = tmp_path / "book"
    monkeypatch.setenv("SWARDBOOK_HOME", str(home))
    if SERVER:
        monkeypatch.setenv("SWARDBOOK_DATABASE", place(home).database)
    else:
        monkeypatch.delenv("SWARDBOOK_DATABASE", raising=False)
    monkeypatch.setattr("swardbook.cli.doors.clock_today", _saturday)
    return home


@pytest.fixture
def run(book_home: Path) -> Run:
    """Run a command in the test's own book; `code` is the exit code it must have."""

    def running(*arguments: str, code: int | None = 0) -> Told:
        result = CliRunner().invoke(root, list(arguments), prog_name="swardbook")
        if result.exception is not None and not isinstance(result.exception, SystemExit):
            raise result.exception
        told = Told(result)
        assert code is None or told.code == code, told.text
        return told

    return running


def made_once(run: Run, home: Path, name: str, make: Callable[[Run], None]) -> Run:
    """Make a book by commands once for a process, and copy it for each further test.

    Parameters
    ----------
    run : Run
        Runs commands in the book at `home`.
    home : Path
        The test's own folder, without a book.
    name : str
        Names what is made.
    make : callable
        Makes it, by commands alone.
    """
    if SERVER:
        make(run)
        return run
    if name not in _MADE:
        make(run)
        kept = Path(tempfile.mkdtemp(prefix="made-once-"))
        atexit.register(shutil.rmtree, kept, ignore_errors=True)
        _MADE[name] = Path(shutil.copytree(home, kept / "book"))
    else:
        shutil.copytree(_MADE[name], home, dirs_exist_ok=True)
    return run


_MADE: dict[str, Path] = {}


def begin(run: Run) -> None:
    """Make a book that has only its site."""
    run("begin", "--name", "Fennowick Croquet Club", "--latitude", "52", "--elevation", "62",
        "--hours-a-week", "9", "--hose", "14")  # fmt: skip


def fill(run: Run) -> None:
    """Make a small ground: two courts, pegs and honest squares."""
    begin(run)
    court = ("--use", "court", "--height-of-cut", "8 mm", "--mower", "cylinder")
    run("zone", "add", "Main court", "--sides", "32x25.6", "--soil", "silty clay loam", *court)
    run("zone", "add", "Short court", "--sides", "24x19.2", *court)
    run("peg", "add", "P1", "P2", "--zone", "Main court", "--sketch", "4.2 m from the post")
    run("strip", "add", "--zone", "Main court", "--squares", "6")


@pytest.fixture
def empty(run: Run, book_home: Path) -> Run:
    """A book that has only its site."""
    return made_once(run, book_home, "empty", begin)


@pytest.fixture
def ground(run: Run, book_home: Path) -> Run:
    """A small ground: two courts, pegs and honest squares."""
    return made_once(run, book_home, "ground", fill)


def _saturday() -> Any:
    from datetime import date

    return date.fromisoformat(ON)
