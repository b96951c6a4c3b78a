"""``swardbook strip``: honest squares, left untreated to compare with."""

from __future__ import annotations

import click

from swardbook.cli.chosen import as_typed
from swardbook.cli.doors import Door, door_options


@click.group()
def command() -> None:
    """Leave honest squares (untreated control), and show them."""


@command.command(short_help="Leave scattered squares untreated.")
@click.option("--zone", "-z", required=True, help="Zone, by name.")
@click.option(
    "--squares",
    default=8,
    show_default=True,
    type=click.IntRange(1, 100),
    help="How many; six to eight scattered ones beat one strip.",
)
@click.option("--area", default="1", show_default=True, help="Area of each; bare is m².")
@click.option("--since", default="today", show_default=True, help="From when they are left alone.")
@click.option("--heads-boxed/--heads-left", default=True, help="Whether heads are boxed off them.")
@click.option("--sketch", default="", help="How to find them.")
@door_options
def add(
    door: Door, zone: str, squares: int, area: str, since: str, heads_boxed: bool, sketch: str
) -> None:  # fmt: skip
    """Leave scattered squares untreated; choose their places before you look."""
    from swardbook.book.fields import quantity
    from swardbook.book.ground import add_squares
    from swardbook.husbandry.codec import to_plain

    book = door.book()
    made = add_squares(
        book, zone, squares, quantity(area, "m2", "--area"), door.when(since, book).first,
        heads_boxed, sketch,
    )  # fmt: skip
    lines = [f"Kept: {made[0].name} to {made[-1].name} in {made[0].zone}."]
    if len(made) < 6:
        lines.append("Fewer than six squares tell of their own ground more than of the cause.")
    door.show({"honest_squares": [to_plain(each) for each in made]}, lines, book)


@command.command()
@click.option("--zone", "-z", default="", help="Only this zone.")
@door_options
def show(door: Door, zone: str) -> None:
    """Show the honest squares."""
    from swardbook.cli.output import table
    from swardbook.foundation.dates import say
    from swardbook.husbandry.codec import to_plain

    book = door.book()
    ground = book.ground()
    wanted = ground.zone(zone).name if zone else ""
    squares = [each for each in ground.squares if not wanted or each.zone == wanted]
    rows = [
        (each.name, each.zone, f"{each.area_m2:g}", say(each.since) if each.since else "",
         "yes" if each.heads_boxed else "no", as_typed(each.sketch))
        for each in squares
    ]  # fmt: skip
    heads = ("square", "zone", "m²", "left alone since", "heads boxed", "how to find it")
    lines = table(heads, rows) if rows else ["No honest square yet."]
    door.show({"honest_squares": [to_plain(each) for each in squares]}, lines, book)
