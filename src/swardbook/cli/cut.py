"""``swardbook cut``: record a cut; and under it plan the mowing."""

from __future__ import annotations

from typing import Any

import click

from swardbook.cli.doors import Door, door_options, entry_options
from swardbook.cli.recording import Recording, is_recording


class CutGroup(Recording):
    """Cuts and the plans for them."""

    module = "swardbook.cli.cut_plan"
    plans = ("plan", "machine", "blades")


@click.group(cls=CutGroup, invoke_without_command=True, subcommand_metavar="[plan|machine|blades]")
@click.option("--height", default="", help="Height of cut: 8, '8 mm', '5/16 in'; bare is mm.")
@click.option("--boxed/--left", "boxed", default=None, help="Clippings boxed, or left lying.")
@click.option("--filled/--not-filled", "filled", default=None, help="Whether the box was filled.")
@click.option("--line", default="", help="Direction against the long side, degrees.")
@entry_options
@door_options
def command(
    door: Door, height: str, boxed: bool | None, filled: bool | None, line: str, **said: Any
) -> None:  # fmt: skip
    """Record a cut. Under it: plan the next cut, keep the machine, look after its blades."""
    from swardbook.book.fields import degrees, quantity
    from swardbook.cli.keeping import keep_and_answer
    from swardbook.husbandry.happenings import Cut

    if not is_recording():
        return
    cut_at = quantity(height, "mm", "--height") if height else None
    at = degrees(line, "--line") if line else None
    keep_and_answer(door, Cut(cut_at, boxed, filled, at), said)
