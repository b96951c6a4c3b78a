"""``swardbook peg``: fixed places to come back to and count."""

from __future__ import annotations

import click

from swardbook.cli.chosen import as_typed
from swardbook.cli.doors import Door, door_options


@click.group()
def command() -> None:
    """Put in pegs, and show where they are."""


@command.command()
@click.argument("names", nargs=-1, required=True)
@click.option("--zone", "-z", required=True, help="Zone, by name.")
@click.option("--sketch", default="", help="How to find it: two tape distances, or words.")
@door_options
def add(door: Door, names: tuple[str, ...], zone: str, sketch: str) -> None:
    """Put in one or more pegs."""
    from swardbook.book.ground import add_pegs
    from swardbook.husbandry.codec import to_plain

    book = door.book()
    pegs = add_pegs(book, names, zone, sketch)
    told = ", ".join(peg.name for peg in pegs)
    lines = [f"Kept: {told} in {pegs[0].zone}. Twelve pegs or more let a season be compared."]
    door.show({"pegs": [to_plain(peg) for peg in pegs]}, lines, book)


@command.command()
@click.option("--zone", "-z", default="", help="Only this zone.")
@door_options
def show(door: Door, zone: str) -> None:
    """Show the pegs."""
    from swardbook.cli.output import table
    from swardbook.husbandry.codec import to_plain

    book = door.book()
    ground = book.ground()
    wanted = ground.zone(zone).name if zone else ""
    pegs = [each for each in ground.pegs if not wanted or each.zone == wanted]
    rows = [(each.name, each.zone, as_typed(each.sketch)) for each in pegs]
    lines = table(("peg", "zone", "how to find it"), rows) if rows else ["No peg yet."]
    door.show({"pegs": [to_plain(each) for each in pegs]}, lines, book)


@command.command()
@click.argument("peg")
@door_options
def find(door: Door, peg: str) -> None:
    """How to find a peg or honest square again: sketch, two tapes, its last picture."""
    from swardbook.book.peg_finding import find_peg
    from swardbook.foundation.dates import say
    from swardbook.husbandry.codec import to_plain

    book = door.book()
    found = find_peg(book, peg)
    lines = [f"{found.name} in {found.zone}."]
    if found.sketch:
        lines.append(f"Sketch: {as_typed(found.sketch)}.")
    lines += [
        f"{each.length_m:.2f} m from {each.start}, towards the {each.wind}"
        f" ({each.bearing_deg:.0f}°)."
        for each in found.tapes
    ]
    if found.within_m is not None:
        lines.append(f"Where the two tapes meet, within about {found.within_m:.2f} m.")
    if found.near:
        lines.append(f"It lies {found.near}.")
    if found.picture_on is not None:
        lines.append(f"Last picture: {say(found.picture_on)}, {found.picture[:12]}.")
    door.show(to_plain(found), [*lines, *found.missing], book)
