"""What is answered at once is what the long way prints, and needs nothing that commands need."""

from __future__ import annotations

import subprocess
import sys

import pytest
from click.testing import CliRunner

from swardbook.cli import front
from swardbook.cli.main import root


@pytest.mark.parametrize("columns", [44, 45, 52, 60, 71, 79, 80, 120])
@pytest.mark.parametrize("asked", ["--help", "-h", "--version"])
def test_what_is_answered_at_once_is_what_the_long_way_prints(
    asked: str, columns: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    assert front.at_once(asked) == CliRunner().invoke(root, [asked], prog_name="swardbook").output


def test_what_is_answered_at_once_needs_no_mark_that_a_terminal_may_lack() -> None:
    assert front.help_text(80).isascii()


@pytest.mark.parametrize("asked", ["", "cut", "--json", "--helpme"])
def test_nothing_else_is_answered_at_once(asked: str) -> None:
    assert front.at_once(asked) == ""


def test_a_very_narrow_screen_gets_its_help_the_long_way(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "40")
    assert front.at_once("--help") == ""


def test_help_is_printed_without_the_library_that_reads_commands() -> None:
    asked = """if True:
        import sys
        sys.argv = ["swardbook", "--help"]
        from swardbook.cli.front import main
        main()
        sys.exit(str(sorted({"click", "dataclasses", "typing"} & set(sys.modules))))
    """
    done = subprocess.run(
        [sys.executable, "-c", asked], capture_output=True, text=True, check=False
    )
    assert "look-ahead" in done.stdout
    assert done.stderr.strip() == "[]"


def test_help_into_a_pipe_that_is_shut_ends_without_a_fault() -> None:
    command = f"{sys.executable} -m swardbook --help | head -1"
    done = subprocess.run(command, shell=True, capture_output=True, text=True, check=True)
    assert done.stdout.startswith("Usage:")
    assert done.stderr == ""
