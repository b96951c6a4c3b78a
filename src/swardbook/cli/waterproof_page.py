"""``swardbook waterproof-page``: one A5 sheet of a zone for a wet pocket."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options
from swardbook.cli.output import table
from swardbook.cli.wrapping import heading, under

if TYPE_CHECKING:
    from swardbook.book.waterproof import WaterproofPage


@click.command()
@click.argument("zone")
@click.option("--to", "path", type=click.Path(path_type=Path), default=None, metavar="FILE.pdf",
              help="Write it as a PDF: one sheet of A5, two sides.")  # fmt: skip
@door_options
def command(door: Door, zone: str, path: Path | None) -> None:
    """Make the waterproof page of ZONE: its places with last counts, today's facts, tally boxes.

    On the back stand the plants to tell apart there. What is tallied on it is typed in later, with
    the day it was counted.
    """
    from swardbook.book.waterproof import check_paper, save_waterproof, waterproof_page

    if path is not None:
        check_paper(path)
    book = door.book()
    page = waterproof_page(book, zone)
    lines = _lines(page)
    if path is not None:
        save_waterproof(path, page)
        lines += ["", f"Waterproof page: {path}. Print it on A5, both sides of one sheet."]
    door.show({**_payload(page), "file": str(path) if path else None}, lines, book)


def _lines(page: WaterproofPage) -> list[str]:
    sheet = page.sheet
    told = [*heading(sheet.zone), sheet.about, ""]
    for fact in sheet.facts:
        told += under("☐", fact, 0)
    rows = [(each.name, each.find, each.last) for each in sheet.places]
    told += ["", *table(("place", "how to find it", f"last {sheet.last_day}".strip()), rows)]
    if page.left_over:
        told.append(f"{page.left_over} more places had no room.")
    names = ", ".join(each.english for each in sheet.plants)
    return [*told, "", *under("", f"On the back: {names}.", 0)]


def _payload(page: WaterproofPage) -> dict[str, Any]:
    sheet = page.sheet
    return {
        "zone": page.zone,
        "facts": list(sheet.facts),
        "last_count": sheet.last_day or None,
        "places": [
            {"place": each.name, "how_to_find": each.find, "last": each.last or None}
            for each in sheet.places
        ],
        "places_left_over": page.left_over,
        "tally": [*sheet.kinds, "other"],
        "plants": [
            {
                "english": each.english,
                "latin": each.latin,
                "kind": each.kind,
                "signs": dict(each.signs),
            }
            for each in sheet.plants
        ],
    }
