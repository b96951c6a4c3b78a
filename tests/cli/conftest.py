"""A book in a folder of its own for each test, and a small ground built by commands."""

from __future__ import annotations

import json
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


@pytest.fixture
def empty(run: Run) -> Run:
    """A book that has only its site."""
    run("begin", "--name", "Fennowick Croquet Club", "--latitude", "52", "--elevation", "62",
        "--hours-a-week", "9", "--hose", "14")  # fmt: skip
    return run


@pytest.fixture
def ground(empty: Run) -> Run:
    """A small ground: two courts, pegs and honest squares."""
    court = ("--use", "court", "--height-of-cut", "8 mm", "--mower", "cylinder")
    empty("zone", "add", "Main court", "--sides", "32x25.6", "--soil", "silty clay loam", *court)
    empty("zone", "add", "Short court", "--sides", "24x19.2", *court)
    empty("peg", "add", "P1", "P2", "--zone", "Main court", "--sketch", "4.2 m from the post")
    empty("strip", "add", "--zone", "Main court", "--squares", "6")
    return empty


def _saturday() -> Any:
    from datetime import date

    return date.fromisoformat(ON)
