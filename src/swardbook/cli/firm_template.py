"""``swardbook firm template``: what new lawns begin with, kept by the firm."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, clock_today, door_options
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.book.lawn_templates import LawnTemplate


@click.group()
def template() -> None:
    """Keep templates of lawns at the yard, and begin new lawns from them."""


@template.command()
@click.argument("name")
@click.option("--from", "lawn", required=True, metavar="GROUND", help="The lawn it is like.")
@door_options
def keep(door: Door, name: str, lawn: str) -> None:
    """Take zones, tolerances, heights, programmes and places of a lawn as a template."""
    from swardbook.book.lawn_templates import keep_template

    book = door.any_book()
    made = keep_template(book, clock_today, name, lawn)
    door.show({"template": _payload(made)}, _lines(made), book)


@template.command()
@click.argument("name", required=False, default="")
@door_options
def show(door: Door, name: str) -> None:
    """Show one template, or all."""
    from swardbook.book.lawn_templates import find_template, templates

    book = door.any_book()
    found = (find_template(book, name),) if name else templates(book)
    lines = [line for each in found for line in _lines(each)]
    none = ["No template yet: swardbook firm template keep NAME --from GROUND"]
    door.show({"templates": [_payload(each) for each in found]}, lines or none, book)


@template.command()
@click.argument("name")
@click.option("--name", "site_name", required=True, help="Name of the new site.")
@click.option("--latitude", required=True, help="Degrees, south negative, or '43 S'.")
@click.option("--elevation", required=True, help="Height above the sea; a bare number is metres.")
@click.option("--area", "areas", multiple=True, metavar="ZONE=AREA",
              help="Area of a zone; once for each it has. The others are left out.")  # fmt: skip
@click.option("--hose", default="", help="Water at the tap, litres a minute.")
@door_options
def begin(
    door: Door, name: str, site_name: str, latitude: str, elevation: str, areas: tuple[str, ...],
    hose: str,
) -> None:  # fmt: skip
    """Begin a new lawn from a template, with the areas of its own zones."""
    from swardbook.book.ground import read_site
    from swardbook.book.lawn_templates import begin_from, find_template, read_areas

    book = door.any_book()
    site = read_site(site_name, latitude, elevation, hose=hose)
    found = begin_from(book, site, find_template(book, name), read_areas(areas))
    told = (f"{found.name} is begun as {found.slug}: {found.zones} zones, {found.places} places to"
            f" put in, {found.programmes} programmes.")  # fmt: skip
    lines = under("", told, 0)
    if found.left_out:
        lines += under("", f"Left out, for no area was said: {', '.join(found.left_out)}.", 0)
    payload = {"ground": found.slug, "name": found.name, "zones": found.zones,
               "places": found.places, "programmes": found.programmes,
               "zones_left_out": list(found.left_out)}  # fmt: skip
    door.show(payload, lines, book)


def _lines(found: LawnTemplate) -> list[str]:
    from swardbook.book.lawn_templates import template_words
    from swardbook.foundation.dates import say

    lines = under("", f"{found.name}, taken from {found.taken_from} on {say(found.kept_on)}:", 0)
    for each in found.zones:
        lines += under("-", f"{template_words(each)}.")
    if found.programmes:
        names = ", ".join(each.programme.name for each in found.programmes)
        lines += under("", f"Programmes: {names}.")
    return lines


def _payload(found: LawnTemplate) -> dict[str, Any]:
    return {
        "name": found.name,
        "taken_from": found.taken_from,
        "kept_on": found.kept_on.isoformat(),
        "weekly_h": found.weekly_hours,
        "zones": [
            {"zone": each.zone.name, "use": each.zone.use.value,
             "height_of_cut_mm": each.zone.height_of_cut_mm,
             "fine_annual_meadow_grass_share": each.zone.tolerance.annual_meadow_grass,
             "fine_bare_share": each.zone.tolerance.bare,
             "fine_clumps": each.zone.tolerance.clumps, "pegs": each.pegs,
             "honest_squares": each.squares}
            for each in found.zones
        ],
        "programmes": [each.programme.name for each in found.programmes],
    }  # fmt: skip
