"""``swardbook demo``: the made-up ground, built in a folder of its own, and its morning look."""

from __future__ import annotations

import os
import shlex
import shutil
import sys
import webbrowser
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from swardbook.cli.doors import Door, clock_today, door_options
from swardbook.cli.wrapping import width
from swardbook.foundation.dates import read_day

if TYPE_CHECKING:
    from swardbook.book.opening import Book
    from swardbook.demo.build import Built
    from swardbook.settings import Settings

NEXT = (
    ("swardbook week", "this week's tasks, with reasons"),
    ("swardbook fit verticut --zone 'Main court'", "one job, by its conditions"),
    ("swardbook clock --zone 'Short court'", "how long heads have stood"),
    ("swardbook compare", "each zone's year, better or not"),
    ("swardbook compare --zone 'Short court' --pull", "plants left after pulling"),
    ("swardbook mixture --lot BB-0417", "seed by weight and by number"),
    ("swardbook look-ahead --zone 'Main court'", "what next year may look like"),
    ("swardbook diary show --zone 'Lime Walk'", "what was done and seen"),
)


@click.command()
@click.option(
    "--fresh", is_flag=True, help="Build it anew; what was written in the made-up book is lost."
)
@click.option("--serve", is_flag=True,
              help="Then open its pages; without a terminal it only says how.")  # fmt: skip
@door_options
def command(door: Door, fresh: bool, serve: bool) -> None:
    """Build the made-up ground and show its morning look; asks nothing, touches no other book.

    Fennowick Croquet Club is made up; its weather is real. It lives in a folder of its own, and
    carries its own today.
    """
    from swardbook.book.plan import morning, week
    from swardbook.book.worth import worth_of
    from swardbook.cli import morning as first_screen
    from swardbook.cli import week as tasks
    from swardbook.demo.build import build, settings_for
    from swardbook.settings import read_settings

    is_given = bool(os.environ.get("SWARDBOOK_HOME"))
    own = read_settings(os.environ)
    settings = settings_for(own, is_given, clock_today)
    tell = _quiet if door.as_json else _tell
    tell(f"Building the made-up ground in {settings.home} ...")
    built = build(settings, clock_today, fresh=fresh, tell=tell)
    click.get_current_context().call_on_close(built.book.store.close)
    book = replace(built.book, today=read_day(door.on or "today", built.book.today))
    tell("Taking the morning look ...")
    look = morning(book)
    due = week(book, worth=worth_of(book, tell=tell))
    go_on = _go_on(settings, own, is_given)
    door.show(
        {
            "outcome": built.outcome.value,
            "home": str(settings.home),
            "morning": first_screen.payload(look),
            "week": tasks.payload(due),
            "go_on": go_on,
            "next": [{"command": each, "shows": what} for each, what in NEXT],
        },
        [
            *(*_outcome(built), "", *first_screen.lines(look)[:-2], ""),
            *("This week", *tasks.lines(due, True), *_next(go_on)),
        ],
        book,
    )
    if serve and not door.as_json:
        click.get_current_context().exit(_serve(settings, book))


def _serve(settings: Settings, book: Book) -> int:
    """Open the pages of the made-up ground; where nobody could stop them, only say how."""
    from swardbook.book.serving import Asked, make_ready
    from swardbook.cli import serve

    is_asked = os.environ.get("DEMO_SERVE", "") == "1"
    if not is_asked and not (sys.stdin.isatty() and sys.stdout.isatty()):
        click.echo("\nIts pages: swardbook serve, in a terminal; or DEMO_SERVE=1 make demo.")
        return 0
    name = book.ground().site.name
    book.store.close()
    serving = make_ready(settings, Asked(), needs_owner=False)
    click.echo("")
    serve.tell(serving, name, made_up=True, as_json=False)
    if not is_asked:
        webbrowser.open(serving.address)
    return serve.run(serving, str(settings.home))


def _outcome(built: Built) -> list[str]:
    ground = built.book.ground()
    told = {
        "built": "Built.",
        "as built": "It was built before and nobody has written in it.",
        "written in": "Somebody has written in it, so it was kept as it is. "
        "`swardbook demo --fresh` builds it anew and loses those entries.",
    }[built.outcome.value]
    return [
        f"{ground.site.name}: {len(ground.zones)} zones,"
        f" {len(built.book.store.chain())} diary entries, real weather.",
        f"Places, people and results are made up. {told}",
    ]


def _next(go_on: list[str]) -> list[str]:
    lines = ["Where to go next"]
    if go_on:
        lines += [
            "First, so that what follows reads this book:",
            *(f"  {x}" for x in go_on),
            "",
        ]
    longest = max(len(each) for each, _ in NEXT)
    for each, what in NEXT:
        beside = f"  {each.ljust(longest)}  {what}"
        lines += [beside] if len(beside) <= width() else [f"  {each}", f"      {what}"]
    return [*lines, "", "Your own ground: a new SWARDBOOK_HOME, then swardbook begin --help."]


def _go_on(settings: Settings, own: Settings, is_given: bool) -> list[str]:
    """Give the shell lines that make later commands read the made-up book."""
    lines = []
    if not is_given or settings.home != own.home:
        lines.append(f"export SWARDBOOK_HOME={shlex.quote(str(settings.home))}")
    if shutil.which("swardbook") is None:
        lines.append(f'export PATH={shlex.quote(str(Path(sys.executable).parent))}:"$PATH"')
    if own.database:
        lines.append("unset SWARDBOOK_DATABASE")
    return lines


def _tell(step: str) -> None:
    click.echo(step, err=True)


def _quiet(_: str) -> None:
    """Say nothing: the answer is one JSON object."""
