"""``swardbook zone``: add, show and change the zones of the ground."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options

if TYPE_CHECKING:
    from swardbook.book.ground import ZoneShown

_OPTIONS = (
    click.option("--area", default="", help="Area: 240, '0.1 ac', '200 yd2'; bare is m²."),
    click.option(
        "--sides",
        default="",
        help="By tape, in metres: oblong 32x25.6, triangle 12x9x8, '8 across', or offsets from a"
        " base line '0, 4.2, 5.6, 0 every 2'.",
    ),
    click.option("--amg", default="", help="Annual meadow-grass that is fine there, percent."),
    click.option("--bare", default="", help="Bare ground that is fine there, percent."),
    click.option("--clumps", default="", help="Clumps of coarse grass that are fine there."),
    click.option("--mower", default="", help="cylinder or rotary."),
    click.option("--mower-width", default="", help="Width of cut; bare is mm."),
    click.option("--mower-lowest", default="", help="Lowest height it can be set to; bare is mm."),
    click.option("--box", default="", help="Whether it can collect: yes or no."),
    click.option("--soil", default="", help="Texture, such as 'silty clay loam'."),
    click.option("--sun-hours", default="", help="Hours of sun on a clear midsummer day."),
    click.option("--iron-stains-near", default="", help="Stone that iron would stain: yes or no."),
    click.option("--note", default="", help="Anything else; kept as typed."),
)


def zone_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command what is known of a zone; it receives `typed`."""
    for option in reversed(_OPTIONS):
        command = option(command)
    return command


@click.group()
def command() -> None:
    """Add, show or change the zones: the parts of the ground that behave alike."""


@command.command(short_help="Add a zone: its use, its size, its height of cut.")
@click.argument("name")
@click.option("--use", required=True, help="family lawn, ornamental, court or green, play ...")
@click.option("--height-of-cut", required=True, help="Height wanted: '8 mm', '5/16 in'.")
@zone_options
@door_options
def add(door: Door, name: str, use: str, height_of_cut: str, **typed: str) -> None:
    """Add a zone; what is fine there follows its use unless you say otherwise."""
    from swardbook.book.fields import quantity
    from swardbook.book.ground import (
        add_zone,
        default_tolerance,
        read_use,
        show_zones,
        with_typed,
    )
    from swardbook.book.shapes import read_area
    from swardbook.husbandry.ground import Zone

    book = door.book()
    found = read_use(use)
    area = read_area(typed["area"], typed["sides"])
    height = quantity(height_of_cut, "mm", "--height-of-cut")
    zone = with_typed(
        Zone(name.strip(), area, found, default_tolerance(found), height),
        {each.replace("-", "_"): text for each, text in typed.items()},
    )
    question = add_zone(book, zone)
    [shown] = show_zones(book, zone.name)
    lines = [f"Kept: {_line(shown)}"]
    if question:
        lines.append(f"Needs a look: {question}")
    if book.weather() is None:
        lines.append("Next: swardbook weather import FILE.csv")
    door.show({"zone": _payload(shown), "question": question}, lines, book)


@command.command()
@click.argument("name", default="")
@door_options
def show(door: Door, name: str) -> None:
    """Show the zones, each with its stage."""
    from swardbook.book.ground import show_zones
    from swardbook.cli.output import table
    from swardbook.cli.telling import quantity

    book = door.book()
    zones = show_zones(book, name)
    rows = [
        (
            each.zone.name, each.zone.use.value, f"{each.zone.area_m2:,.1f}",
            quantity(each.zone.height_of_cut_mm, "mm"), each.stage.value, str(each.pegs),
            str(each.squares),
        )
        for each in zones
    ]  # fmt: skip
    heads = ("zone", "use", "m²", "cut at mm", "stage", "pegs", "squares")
    fine = ["", "Fine there:", *(f"  {each.zone.name}: {_tolerance(each)}." for each in zones)]
    none = ["No zone yet. Add one with `swardbook zone add`."]
    lines = [*table(heads, rows), *fine] if rows else none
    door.show({"zones": [_payload(each) for each in zones]}, lines, book)


@command.command("set", short_help="Change what is known of a zone; the old value is kept.")
@click.argument("name")
@click.option("--use", default="", help="What it is for.")
@click.option("--height-of-cut", default="", help="Height wanted: '8 mm', '5/16 in'.")
@zone_options
@click.option("--who", default="", help="Who changed it.")
@click.option("--reason", default="", help="Why; kept in the diary with the old value.")
@door_options
def set_(door: Door, name: str, who: str, reason: str, **typed: str) -> None:
    """Change what is known of a zone; the old value is kept in the diary."""
    from swardbook.book.ground import set_zone, show_zones
    from swardbook.book.plan import sown_too_low

    book = door.book()
    zone = set_zone(book, name, typed, who=who, reason=reason)
    [shown] = show_zones(book, zone.name)
    lines = [f"Changed: {_line(shown)}", "The old value is kept in the diary."]
    low = sown_too_low(book, zone.name) if typed["height_of_cut"] else ()
    lines += [f"Height: {each}" for each in low]
    door.show({"zone": _payload(shown), "too_low_for": list(low)}, lines, book)


def _line(shown: ZoneShown) -> str:
    from swardbook.cli.telling import quantity

    zone = shown.zone
    return (
        f"{zone.name}, {zone.use.value}, {zone.area_m2:,.4g} m², cut at"
        f" {quantity(zone.height_of_cut_mm, 'mm')} mm; fine there: {_tolerance(shown)}."
    )


def _tolerance(shown: ZoneShown) -> str:
    fine = shown.zone.tolerance
    return (
        f"annual meadow-grass {fine.annual_meadow_grass * 100:.0f} %,"
        f" bare {fine.bare * 100:.0f} %,"
        f" {fine.clumps} clump{'' if fine.clumps == 1 else 's'}"
    )


def _payload(shown: ZoneShown) -> dict[str, Any]:
    from swardbook.husbandry.codec import to_plain

    whole: dict[str, Any] = to_plain(shown.zone)
    places = {"pegs": shown.pegs, "honest_squares": shown.squares}
    return {**whole, "stage": shown.stage.value, **places}
