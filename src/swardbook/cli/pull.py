"""``swardbook pull``: record weed grass pulled or dug by hand."""

from __future__ import annotations

from typing import Any

import click

from swardbook.cli.doors import Door, at_option, door_options, entry_options


@click.command()
@click.option("--plants", type=click.IntRange(0), default=None, help="Plants pulled.")
@click.option("--species", default="annual meadow-grass", show_default=True)
@click.option(
    "--pass",
    "pass_name",
    default="",
    metavar="A|B",
    help="A, then B over the same ground within a week: tells what is left.",
)
@click.option("--area", default="", help="Area walked, if not the whole zone; bare is m².")
@click.option("--people", type=click.IntRange(1), default=None, help="How many pulled.")
@at_option
@entry_options
@door_options
def command(
    door: Door, plants: int | None, species: str, pass_name: str, area: str, people: int | None,
    **said: Any,
) -> None:  # fmt: skip
    """Record weed grass pulled or dug by hand, in one pass."""
    from swardbook.book.fields import quantity
    from swardbook.cli.keeping import keep_and_answer
    from swardbook.husbandry.happenings import Pull

    what = Pull(
        species=species,
        plants=plants,
        area_m2=quantity(area, "m2", "--area") if area else None,
        pass_name=pass_name.strip().upper(),
        people=people,
    )
    more = []
    if what.pass_name == "B":
        more.append("What is left: swardbook compare --pull")
    keep_and_answer(door, what, said, more=more)
