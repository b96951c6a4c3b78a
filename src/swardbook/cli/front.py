"""The front door: what is asked before anything else is answered without what commands need.

To learn the names of the commands nobody waits for the library that reads commands. Whatever is
not asked exactly so, and help on a very narrow screen, goes the long way, which prints the same.
"""

from __future__ import annotations

import sys

from swardbook import __version__
from swardbook.cli.commands import ABOUT, COMMANDS
from swardbook.cli.room import WIDTH, columns

_USAGE = "Usage: swardbook [OPTIONS] COMMAND [ARGS]..."
_OPTIONS = (
    ("--version", "Show the version and exit."),
    ("-h, --help", "Show this message and exit."),
)
_INDENT = 2


def main() -> None:
    """Answer at once where that can be done, else run the command."""
    if not (len(sys.argv) == 2 and (told := at_once(sys.argv[1])) and _is_written(told)):
        from swardbook.cli.main import main as run

        run()


def at_once(asked: str) -> str:
    """Give the answer that needs no command read; empty where there is none.

    Parameters
    ----------
    asked : str
        The one word that was typed.
    """
    if asked == "--version":
        return f"swardbook, version {__version__}\n"
    room = min(WIDTH, columns())
    return help_text(room) if asked in {"-h", "--help"} and len(_USAGE) <= room else ""


def help_text(room: int) -> str:
    """Write the help of all commands, none imported.

    Parameters
    ----------
    room : int
        Columns there are; the line of usage must fit.
    """
    about = [_wrapped(each, room, _INDENT) for each in ABOUT.strip().split("\n\n")]
    commands = [(name, says) for name, (_module, says) in COMMANDS.items()]
    parts = [_USAGE, *about, _listed("Options", _OPTIONS, room)]
    return "\n\n".join([*parts, _listed("Commands", commands, room)]) + "\n"


def _listed(head: str, rows: tuple[tuple[str, str], ...] | list[tuple[str, str]], room: int) -> str:
    beside = _INDENT + max(len(name) for name, _ in rows) + 2
    lines = [
        f"{'':{_INDENT}}{name:{beside - _INDENT}}{_wrapped(says, room, beside).lstrip()}"
        for name, says in rows
    ]
    return "\n".join([f"{head}:", *lines])


def _wrapped(text: str, room: int, indent: int) -> str:
    from textwrap import fill

    text = " ".join(text.split())
    return fill(text, room, initial_indent=" " * indent, subsequent_indent=" " * indent)


def _is_written(told: str) -> bool:
    """Write it out; what fails is told by the long way."""
    try:
        sys.stdout.write(told)
        sys.stdout.flush()
    except OSError:
        return False
    return True
