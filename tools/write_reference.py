"""Write the generated pages of `docs/reference/` from the code and the handbook."""

from __future__ import annotations

import importlib
import inspect
import sys
from collections.abc import Iterator
from pathlib import Path

import click

from swardbook.cli.commands import COMMANDS
from swardbook.cli.main import root
from swardbook.handbook.parameters import parameters
from swardbook.handbook.sources import sources
from swardbook.settings import SETTINGS

FOLDER = Path(__file__).parents[1] / "docs" / "reference"
PACKAGES = ("evidence", "seed", "weather")
MADE = (
    "<!-- Written by tools/write_reference.py; edit the code or the data, then run `make docs`. -->"
)


def commands_page() -> str:
    """Every command with its help, as `--help` prints it."""
    parts = [
        "# Commands",
        MADE,
        "Exit codes: 0 done, 1 findings or refused with a reason, 2 wrong use.",
    ]
    context = click.Context(root, info_name="swardbook")
    for name in COMMANDS:
        command = root.get_command(context, name)
        assert command is not None
        parts.append(f"## {name}")
        for path, each in _with_children(command, f"swardbook {name}"):
            inner = click.Context(
                each, info_name=path, max_content_width=96, terminal_width=96,
                help_option_names=root.context_settings["help_option_names"],
            )  # fmt: skip
            parts.append(f"```text\n{each.get_help(inner)}\n```")
    return _page(parts)


def _with_children(command: click.Command, path: str) -> Iterator[tuple[str, click.Command]]:
    yield path, command
    if isinstance(command, click.Group):
        for name in command.list_commands(click.Context(command)):
            child = command.get_command(click.Context(command), name)
            assert child is not None
            yield from _with_children(child, f"{path} {name}")


def handbook_page() -> str:
    """Every number with unit, range, grade, source and place."""
    rows = [
        f"| `{n.key}` | {n.value:g} | {_range(n.low, n.high)} | {n.unit} | {n.grade} | {n.source}"
        f" | {_cell(n.where)} | {_cell(n.note)} |"
        for n in parameters().values()
    ]
    heads = ("key", "value", "range", "unit", "grade", "source", "place", "note")
    return _page(["# Handbook numbers", MADE, "\n".join([*_heads(heads), *rows])])


def sources_page() -> str:
    """The bibliography, with how each work was read."""
    rows = [
        f"| `{s.key}` | {_cell(s.authors)} | {s.year} | {_cell(s.title)} | {_cell(s.published_in)}"
        f" | {_cell(s.how_read)} |"
        for s in sources().values()
    ]
    heads = ("key", "authors", "year", "title", "in", "how read")
    return _page(["# Sources", MADE, "\n".join([*_heads(heads), *rows])])


def settings_page() -> str:
    """The table of settings."""
    rows = [f"| `{s.environment}` | {s.default or '-'} | {s.help} |" for s in SETTINGS]
    heads = ("environment variable", "default", "what it does")
    return _page(["# Settings", MADE, "\n".join([*_heads(heads), *rows])])


def functions_page() -> str:
    """The public functions of the packages that other programs may lean on."""
    parts = ["# Functions", MADE]
    for package in PACKAGES:
        module = importlib.import_module(f"swardbook.{package}")
        parts.append(f"## swardbook.{package}")
        for name in sorted(module.__all__):
            thing = getattr(module, name)
            summary = (inspect.getdoc(thing) or "").split("\n\n")[0].replace("\n", " ")
            kind = "class" if inspect.isclass(thing) else "function"
            shown = name if kind == "class" else f"{name}{_signature(thing)}"
            parts.append(f"### {name}\n\n```python\n{shown}\n```\n\n{summary}")
    return _page(parts)


def _signature(thing: object) -> str:
    return str(inspect.signature(thing)) if callable(thing) else ""


def _heads(names: tuple[str, ...]) -> tuple[str, str]:
    return f"| {' | '.join(names)} |", "|" + "---|" * len(names)


def _range(low: float, high: float) -> str:
    return "exact" if low == high else f"{low:g} to {high:g}"


def _cell(text: str) -> str:
    return text.replace("|", "/").replace("\n", " ")


def _page(parts: list[str]) -> str:
    return "\n\n".join(parts) + "\n"


PAGES = {
    "commands.md": commands_page,
    "handbook.md": handbook_page,
    "sources.md": sources_page,
    "settings.md": settings_page,
    "functions.md": functions_page,
}


def main() -> int:
    """Write each page; or print the ones that are named."""
    for name in sys.argv[1:]:
        sys.stdout.buffer.write(PAGES[name]().encode())
    if sys.argv[1:]:
        return 0
    FOLDER.mkdir(parents=True, exist_ok=True)
    for name, make in PAGES.items():
        (FOLDER / name).write_text(make(), encoding="utf-8")
    print(f"{len(PAGES)} pages written to {FOLDER.relative_to(Path.cwd())}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
