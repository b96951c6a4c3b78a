"""``swardbook verticut``: record a verticut; and under it plan one, and learn what it does here."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import click

from swardbook.cli.doors import Door, door_options, entry_options
from swardbook.cli.recording import Recording, is_recording

DATUMS = ("below height of cut", "above soil", "below surface")
UNDER = ("plan", "machine", "strips", "read-back")


class VerticutGroup(Recording):
    """Verticuts, the plans for them, and what is learned from strips."""

    module = "swardbook.cli.verticut_plan"
    plans = UNDER


def datum_option() -> Callable[[Any], Any]:
    """Give a command ``--datum``."""
    return click.option(
        "--datum",
        default="",
        type=click.Choice(("", *DATUMS)),
        show_choices=False,
        metavar="FROM",
        help="'below height of cut', 'above soil' or 'below surface'.",
    )


@click.group(
    cls=VerticutGroup, invoke_without_command=True, subcommand_metavar=f"[{'|'.join(UNDER)}]"
)
@click.option("--depth", default="", help="Depth of the blade tips; bare is mm.")
@datum_option()
@click.option("--line", default="", help="Direction against the long side, degrees.")
@click.option("--passes", default=1, show_default=True, type=click.IntRange(1, 8))
@click.option("--boxed/--left", "boxed", default=None, help="What came up boxed, or left lying.")
@entry_options
@door_options
def command(
    door: Door, depth: str, datum: str, line: str, passes: int, boxed: bool | None, **said: Any
) -> None:
    """Record a verticut. Under it: plan one, keep the unit, set out strips and read them back."""
    from swardbook.book.diary import read_alike
    from swardbook.book.fields import degrees, quantity
    from swardbook.book.verticutting import retraces
    from swardbook.cli.keeping import answer, keep
    from swardbook.husbandry.happenings import Verticut
    from swardbook.husbandry.looks import doubt_of_datum

    if not is_recording():
        return
    read = quantity(depth.replace("−", "-"), "mm", "--depth") if depth else None
    asked = [doubt_of_datum(read)] if read is not None and not datum else []
    at = degrees(line, "--line") if line else None
    book = door.book()
    on = door.when(read_alike(said["when"])[1], book).day
    along = retraces(book, said["zone"], at, on)
    what = Verticut(
        depth_mm=None if read is None else abs(read),
        datum=datum or DATUMS[0],
        line_deg=at,
        passes=passes,
        boxed=boxed,
    )
    answer(door, book, keep(door, book, what, said, asked), asked, [along] if along else [])
