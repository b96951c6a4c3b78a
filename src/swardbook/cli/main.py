"""The root command; modules of commands are imported only when they are asked for."""

from __future__ import annotations

import os
import sys
from importlib import import_module
from typing import Any

import click

from swardbook import __version__

COMMANDS: dict[str, tuple[str, str]] = {
    # name: (module, what it does), in the order of a season's work
    "demo": ("demo", "Build the made-up ground and show its morning look."),
    "morning": ("morning", "What stops you today, what is drying, what is due, and this week."),
    "catch-up": ("catch_up", "Back after a breakdown or an absence: five lines."),
    "begin": ("begin", "Begin a book for your own ground."),
    "units": ("units", "Show or choose the units and decimal mark of answers."),
    "zone": ("zone", "Add or show the zones of the ground."),
    "survey": ("survey", "Area, light, water, soil, thatch of a zone, and what is missing."),
    "route": ("route", "Mend a zone or start again: what each route takes, and which fits."),
    "peg": ("peg", "Put in a peg: a fixed place to count; find one again."),
    "plan": ("plan", "The ground as a drawn plan: show it, draw zones, place pegs, undo."),
    "strip": ("strip", "Leave honest squares untreated, to compare with."),
    "weather": ("weather", "Import, show and derive daily weather."),
    "mixture": ("mixture", "Work out a mixture; choose, compare or build one for a zone."),
    "lot": ("lot", "Record a bag of seed, and check its label."),
    "materials": ("materials", "Seed by bay, dressing, spoil, feed, and how to set a spreader."),
    "set-out": ("set_out", "Set out a trial side by side: the plan, what it can show and not."),
    "shuffle": ("shuffle", "Shuffle a trial's plots again before it is sown."),
    "plots": ("plots", "A trial plot by plot: sown, read, mixed up, left out, cared for."),
    "sow": ("sow", "Record a sowing; when to sow, and watch it come up."),
    "square-up": ("square_up", "After sowing: do weights agree, and was a bag mixed up?"),
    "name-plant": ("name_plant", "Name a plant: a key that tolerates mistakes and don't know."),
    "count": ("count", "Plan and record counts, and see the estimates."),
    "photo": ("photo", "Cover and colour of plots by photograph; cards to print."),
    "compare": ("compare", "Compare two seasons, or treated ground with the honest strip."),
    "better-or-worse": (
        "better_or_worse",
        "Each zone's year in a sentence, with what it rests on.",
    ),
    "letter": ("letter", "Two sides of paper for an owner: done, found, cost, next, not known."),
    "side-by-side": ("side_by_side", "Mixtures of a trial: what is clear, what is too close."),
    "waterproof-page": ("waterproof_page", "One sheet of a zone for a wet pocket, to fill in."),
    "open-day": ("open_day", "An audience guesses first; then the counts, and a shuffle to watch."),
    "clock": ("clock", "The seeding clock of a zone."),
    "fit": ("fit", "Is it fit today? Each job with each condition."),
    "what-is-wrong": ("what_is_wrong", "Disease, pest, weather or care: likely causes in order."),
    "week": ("week", "This week's tasks with their reasons."),
    "look-ahead": ("look_ahead", "What next year may look like, programme by programme."),
    "programme": ("programme", "Ways of working: show, edit, or search for the best."),
    "seal": ("seal", "Seal a guess of what a count will find: yours, or the look-ahead's."),
    "unseal": ("unseal", "Open a sealed guess, with all it rests on."),
    "settle": ("settle", "Settle guesses whose count has come, and see how all have done."),
    "cut": ("cut", "Record a cut, plan the next one, keep the mower's facts."),
    "pull": ("pull", "Record weed grass pulled by hand, and what is left."),
    "rota": ("rota", "Who pulls where: strips with plants and hours, to print."),
    "clumps": ("clumps", "Clumps of Yorkshire fog: dug, looked at again, what came back."),
    "refill": ("refill", "Record holes refilled, or looked at again; what took by season."),
    "clean-down": ("clean_down", "Clean zones before weedy ones, and machines washed between."),
    "feed": ("feed", "Record a feed; the year's plan and ledger."),
    "water": ("water", "Record a watering; plan the days ahead."),
    "tins": ("tins", "How evenly and how fast water falls, from tins on the lawn."),
    "verticut": ("verticut", "Record a verticut, plan one, and learn from strips what it does."),
    "hold-off": ("hold_off", "Record a job held off, with the reason."),
    "diary": ("diary", "Show the diary, or add any other entry to it."),
    "look-over": ("look_over", "Everything in the book that needs a look, and what helps."),
    "all-lawns": ("all_lawns", "Every ground of the book, that which most needs a look first."),
    "parked": ("parked", "Rows that could not be taken in: show them, put them right."),
    "put-right": ("put_right", "Correct an entry; the old one is kept."),
    "workings": ("workings", "How a figure was reached: inputs, formula, arithmetic, sources."),
    "history-in": ("history_in", "Read an old spreadsheet or notebook, row by row."),
    "course": ("course", "Learn on the made-up ground: questions, answers, and what if."),
    "serve": ("serve", "The book as pages: for this machine, or for others by log-in."),
    "people": ("people", "Who may log in to the pages, and as what."),
    "export": ("export", "Everything out, as open files in one archive."),
    "import": ("import_", "Everything in again from such an archive."),
    "bring-together": ("bring_together", "What another book of the same ground holds, in."),
}


INTERRUPTED = 130
"""Exit code after Ctrl-C, as shells have it."""
EVERYDAY = {
    "mow": "cut", "mowing": "cut", "seed": "sow", "oversow": "sow", "fertilise": "feed",
    "fertilize": "feed", "irrigate": "water", "weed": "pull", "today": "morning", "init": "begin",
    "new": "begin", "forecast": "look-ahead", "undo": "put-right", "delete": "put-right",
    "edit": "put-right", "log": "diary", "note": "diary", "backup": "export", "check": "diary",
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


@click.group(cls=LazyGroup, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="swardbook")
def root() -> None:
    """Renovate a weedy lawn by number: what to do this week, why, and whether it works.

    Begin with `swardbook demo` to see it on a made-up ground, or `swardbook begin` for your own.
    """


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
