"""``swardbook cut``: record a cut."""

from __future__ import annotations

from typing import Any

import click

from swardbook.cli.doors import Door, door_options, entry_options


@click.command()
@click.option("--height", default="", help="Height of cut: 8, '8 mm', '5/16 in'; bare is mm.")
@click.option("--boxed/--left", "boxed", default=None, help="Clippings boxed, or left lying.")
@click.option("--filled/--not-filled", "filled", default=None, help="Whether the box was filled.")
@entry_options
@door_options
def command(
    door: Door, height: str, boxed: bool | None, filled: bool | None, **said: Any
) -> None:  # fmt: skip
    """Record a cut."""
    from swardbook.book.fields import quantity
    from swardbook.cli.keeping import keep_and_answer
    from swardbook.husbandry.happenings import Cut

    cut_at = quantity(height, "mm", "--height") if height else None
    keep_and_answer(door, Cut(cut_at, boxed, filled), said)
