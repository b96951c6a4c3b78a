"""The root command; modules of commands are imported only when they are asked for."""

from __future__ import annotations

import os
import sys
from importlib import import_module
from typing import Any

import click

from swardbook import __version__
from swardbook.cli.commands import ABOUT, COMMANDS

INTERRUPTED = 130
"""Exit code after Ctrl-C, as shells have it."""
EVERYDAY = {
    "mow": "cut", "mowing": "cut", "seed": "sow", "oversow": "sow", "fertilise": "feed",
    "fertilize": "feed", "irrigate": "water", "weed": "pull", "today": "morning", "init": "begin",
    "new": "begin", "forecast": "look-ahead", "undo": "put-right", "delete": "put-right",
    "edit": "put-right", "log": "diary", "note": "diary", "backup": "copy", "check": "diary",
}  # fmt: skip
"""What a newcomer may type for a command; offered, never run."""


class LazyGroup(click.Group):
    """A group that knows its commands' names and imports each only when it is used."""

    def make_context(
        self,
        info_name: str | None,
        args: list[str],
        parent: click.Context | None = None,
        **extra: Any,
    ) -> click.Context:
        """Let help fit a phone, which the parser by itself does not."""
        from swardbook.cli.wrapping import text_width

        extra.setdefault("terminal_width", text_width())
        return super().make_context(info_name, args, parent, **extra)

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Give the names in the order of the work."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Import the module of one command."""
        if cmd_name not in COMMANDS:
            return None
        from swardbook.cli.helping import made_ready

        found: click.Command = import_module(f"swardbook.cli.{COMMANDS[cmd_name][0]}").command
        return made_ready(found, cmd_name)

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Offer the nearest command for one that is unknown."""
        if args and args[0] not in COMMANDS and not args[0].startswith("-"):
            from swardbook.foundation.errors import UnknownNameError

            if args[0].casefold() == "help":
                ctx.fail("Say it with two strokes: swardbook --help, or swardbook cut --help.")
            if meant := EVERYDAY.get(args[0].casefold()):
                ctx.fail(f"No command called {args[0]!r}. Did you mean {meant}?")
            ctx.fail(str(UnknownNameError("command", args[0], COMMANDS)))
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """List the commands without importing them."""
        with formatter.section("Commands"):
            formatter.write_dl([(name, text) for name, (_, text) in COMMANDS.items()])


@click.group(cls=LazyGroup, help=ABOUT, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="swardbook")
def root() -> None:
    """Stand above every command."""


def main() -> None:
    """Run the command line; a refusal is one clear sentence and exit code 1 or 2."""
    sys.exit(_answered(_readable(sys.argv[1:])))


def _answered(arguments: list[str]) -> int:
    from swardbook.cli.output import prepare_streams
    from swardbook.foundation.errors import SwardbookError

    prepare_streams()
    try:
        code = root.main(arguments, prog_name="swardbook", standalone_mode=False)
        return code if isinstance(code, int) else 0
    except SwardbookError as refusal:
        from swardbook.cli.doors import refuse

        return refuse(refusal)
    except click.ClickException as wrong:
        wrong.show()
        return wrong.exit_code
    except (click.Abort, KeyboardInterrupt):
        click.echo("Stopped. What was kept before is kept.", err=True)
        return INTERRUPTED
    except Exception as slip:
        if os.environ.get("SWARDBOOK_DEBUG"):
            raise
        click.echo(_unexpected(slip), err=True)
        return 1


def _unexpected(slip: Exception) -> str:
    """Say that the fault is the program's, and how to report it."""
    return (
        f"This is a fault in swardbook, not in what you typed ({type(slip).__name__}: {slip});"
        " what was kept before is kept, and to report it, run the same command with"
        " SWARDBOOK_DEBUG=1 before it and send what it prints."
    )


def _readable(arguments: list[str]) -> list[str]:
    """Replace bytes that are no text, so that whatever is typed can be kept."""
    return [
        each.encode("utf-8", "surrogateescape").decode("utf-8", "replace") for each in arguments
    ]
