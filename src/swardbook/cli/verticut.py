"""``swardbook verticut``: record a verticut."""

from __future__ import annotations

from typing import Any

import click

from swardbook.cli.doors import Door, door_options, entry_options

DATUMS = ("below height of cut", "above soil", "below surface")


@click.command()
@click.option("--depth", default="", help="Depth of the blade tips; bare is mm.")
@click.option(
    "--datum",
    default="",
    type=click.Choice(("", *DATUMS)),
    show_choices=False,
    metavar="FROM",
    help="'below height of cut', 'above soil' or 'below surface'.",
)
@click.option("--line", default="", help="Direction against the long side, degrees.")
@click.option("--passes", default=1, show_default=True, type=click.IntRange(1, 8))
@click.option("--boxed/--left", "boxed", default=None, help="What came up boxed, or left lying.")
@entry_options
@door_options
def command(
    door: Door, depth: str, datum: str, line: str, passes: int, boxed: bool | None, **said: Any
) -> None:
    """Record a verticut."""
    from swardbook.book.fields import degrees, quantity
    from swardbook.cli.keeping import keep_and_answer
    from swardbook.husbandry.happenings import Verticut
    from swardbook.husbandry.looks import doubt_of_datum

    read = quantity(depth.replace("−", "-"), "mm", "--depth") if depth else None
    asked = [doubt_of_datum(read)] if read is not None and not datum else []
    what = Verticut(
        depth_mm=None if read is None else abs(read),
        datum=datum or DATUMS[0],
        line_deg=degrees(line, "--line") if line else None,
        passes=passes,
        boxed=boxed,
    )
    keep_and_answer(door, what, said, asked)
