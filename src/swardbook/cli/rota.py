"""``swardbook rota``: who pulls where, on one sheet."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options
from swardbook.cli.output import table
from swardbook.cli.wrapping import heading, under

if TYPE_CHECKING:
    from swardbook.book.rota import Rota


@click.command()
@click.option("--zone", "-z", required=True, help="Zone, by name.")
@click.option("--strips", type=click.IntRange(1, 16), default=4, show_default=True,
              help="Strips to cut it into: one for each who pulls.")  # fmt: skip
@click.option("--to", "path", type=click.Path(path_type=Path), default=None, metavar="FILE.pdf",
              help="Write it as a PDF: one A4 page with tally boxes.")  # fmt: skip
@door_options
def command(door: Door, zone: str, strips: int, path: Path | None) -> None:
    """Share a zone out for pulling: strips with plants a square metre and hours as a range.

    Those where an hour takes most come first. Where pegs are placed on the plan, each strip has the
    figure of its own frames; elsewhere the zone's.
    """
    from swardbook.book.rota import check_rota_place, rota, save_rota

    if path is not None:
        check_rota_place(path)
    book = door.book()
    made = rota(book, zone, strips)
    lines = _lines(made)
    if path is not None:
        save_rota(path, made)
        lines += ["", f"Rota: {path}."]
    door.show({**_payload(made), "file": str(path) if path else None}, lines, book)


def _lines(made: Rota) -> list[str]:
    sheet = made.sheet
    rows = [(r.where, r.area, r.per_m2, r.plants, r.hours) for r in sheet.rows]
    told = [*heading(f"Pulling rota: {made.zone}"), *under("", sheet.about, 0), ""]
    told += table(("where", "m²", "plants a m²", "plants", "one pass"), rows)
    return [*told, "", *(part for each in sheet.mind for part in under("", f"Mind: {each}", 0))]


def _payload(made: Rota) -> dict[str, Any]:
    return {
        "zone": made.zone,
        "counted_on": made.found.counted_on.isoformat(),
        "numbered": made.found.along or None,
        "strips": [
            {
                "strip": each.number,
                "from_m": each.begins_m,
                "to_m": each.ends_m,
                "area_m2": each.area_m2,
                "frames": each.frames,
                "plants_m2": each.per_m2,
                "interval_95_plants_m2": None if each.low is None else [each.low, each.high],
                "plants": each.plants,
                "hours_low": each.hours.low,
                "hours_high": each.hours.high,
            }
            for each in made.found.strips
        ],
        "cautions": list(made.sheet.mind),
    }
