"""``swardbook water``: record a watering."""

from __future__ import annotations

from typing import Any

import click

from swardbook.cli.doors import Door, door_options, entry_options


@click.command()
@click.option("--mm", default="", help="Depth; bare is mm.")
@click.option("--litres", default="", help="Litres, or '5 gal_uk'.")
@click.option("--minutes", default="", help="Minutes, or '2 h'; mm only where the rate is known.")
@click.option(
    "--by",
    default="",
    type=click.Choice(("", "hose", "can", "tank", "sprinkler")),
    show_choices=False,
    metavar="HOW",
    help="hose, can, tank or sprinkler.",
)
@click.option("--place", default="", help="seedbed, refills, or empty for the sward.")
@entry_options
@door_options
def command(
    door: Door, mm: str, litres: str, minutes: str, by: str, place: str, **said: Any
) -> None:  # fmt: skip
    """Record a watering by depth, litres or minutes."""
    from swardbook.book.diary import water_depth
    from swardbook.book.fields import quantity
    from swardbook.cli.keeping import answer, keep
    from swardbook.husbandry.happenings import Water

    what = Water(
        depth_mm=quantity(mm, "mm", "--mm") if mm else None,
        litres=quantity(litres, "l", "--litres") if litres else None,
        minutes=quantity(minutes, "min", "--minutes") if minutes else None,
        by=by,
        place=place,
    )
    book = door.book()
    entry = keep(door, book, what, said)
    depth = water_depth(book, entry)
    more = [f"That is {depth:.2g} mm over {entry.zone}."] if depth is not None and not mm else []
    answer(door, book, entry, more=more, payload={"depth_mm": depth})
