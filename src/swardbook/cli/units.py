"""``swardbook units``: what quantities are shown in."""

from __future__ import annotations

import click

from swardbook.cli.doors import Door, door_options

_SHOWN_IN = {
    "metric": "mm, m², g/m², kg, litres, °C",
    "imperial": "inches, feet and yards, yd², oz/yd², pounds, UK gallons, °C",
    "us": "inches, feet and yards, ft², lb/1000 ft², pounds, US gallons, °F",
}


@click.command()
@click.argument("system", default="")
@click.option("--decimal-mark", default="", help="Decimal mark: point or comma.")
@door_options
def command(door: Door, system: str, decimal_mark: str) -> None:
    """Show or choose the units of answers: metric, imperial or us.

    The book keeps the choice. It changes what is shown, never what is kept or printed as JSON.
    """
    from swardbook.book.units import choose_units, mark_word
    from swardbook.cli.chosen import choose_as_set, chosen

    book = door.book()
    choose_units(book, system, decimal_mark)
    choose_as_set(book)
    units = chosen()
    mark = mark_word(units.decimal_mark)
    held = book.ground().site
    lines = [f"Shown in {units.system}: {_SHOWN_IN[units.system]}; decimal {mark}."]
    if (held.units or "metric", held.decimal_mark or "point") != (units.system, mark):
        lines.append("So says the environment (SWARDBOOK_UNITS, SWARDBOOK_DECIMAL_MARK).")
    lines.append("Typed numbers may have any unit; JSON and the archive stay metric.")
    door.show({"units": str(units.system), "decimal_mark": mark}, lines, book)
