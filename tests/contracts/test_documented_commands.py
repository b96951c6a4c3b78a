"""Every command printed in a page parses: its name, its options and what they take."""

import contextlib
import re
import shlex
from collections.abc import Iterator
from pathlib import Path

import click
import pytest

from swardbook.cli.main import root

ROOT = Path(__file__).parents[2]
PAGES = [ROOT / "README.md", *sorted((ROOT / "docs").rglob("*.md"))]


def printed_commands() -> Iterator[tuple[str, str]]:
    for page in PAGES:
        text = page.read_text(encoding="utf-8").replace("\\\n", " ")
        for line in re.findall(r"^\$ swardbook (.+)$", text, re.MULTILINE):
            yield str(page.relative_to(ROOT)), line.split("  #")[0]


@pytest.mark.parametrize(("page", "line"), sorted(set(printed_commands())))
def test_a_printed_command_parses(page: str, line: str) -> None:
    arguments = shlex.split(line)
    context = click.Context(root, info_name="swardbook")
    command: click.Command = root
    while isinstance(command, click.Group) and arguments and not arguments[0].startswith("-"):
        name, found, arguments = command.resolve_command(context, arguments)
        assert found is not None, f"{page}: no command {name}"
        command = found
        context = click.Context(command, info_name=name, parent=context)
    with contextlib.suppress(click.exceptions.Exit):
        command.make_context(command.name, arguments)
