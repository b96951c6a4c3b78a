"""``swardbook refill``: holes refilled, and refills looked at again."""

from __future__ import annotations

from typing import Any

import click

from swardbook.cli.doors import Door, door_options, entry_options


@click.command()
@click.option("--lot", default="", help="Lot of the seed; the same as was sown.")
@click.option("--holes", type=click.IntRange(1), default=None, help="Holes refilled.")
@click.option("--size", default="", help="Width of a hole; bare is mm.")
@click.option("--used", default="", help="Seed used; bare is g.")
@click.option("--area", default="", help="Area of the holes together; bare is m².")
@click.option("--place", default="", help="Which ones, in words.")
@click.option(
    "--check",
    nargs=2,
    type=click.IntRange(0),
    default=None,
    metavar="LOOKED TAKEN",
    help="Refills looked at again, and how many of them have taken.",
)
@click.option("--sown-on", default="", help="With --check: when they were sown.")
@entry_options
@door_options
def command(
    door: Door, lot: str, holes: int | None, size: str, used: str, area: str, place: str,
    check: tuple[int, int] | None, sown_on: str, **said: Any,
) -> None:  # fmt: skip
    """Record holes refilled with soil and seed, or refills looked at again."""
    from swardbook.book.fields import quantity, refills_looked_at
    from swardbook.cli.keeping import answer, keep
    from swardbook.husbandry.happenings import Happening, Refill

    book = door.book()
    more = []
    what: Happening
    if check is not None:
        day = door.when(sown_on, book).day if sown_on else None
        what = refills_looked_at(*check, day, place)
        more.append(f"{check[1]} of {check[0]} taken; {check[0] - check[1]} to do again.")
    else:
        what = Refill(
            lot=lot,
            holes=holes,
            hole_mm=quantity(size, "mm", "--size") if size else None,
            used_g=quantity(used, "g", "--used") if used else None,
            area_m2=quantity(area, "m2", "--area") if area else None,
            place=place,
        )
        if not lot:
            more.append("No lot given: another mixture shows for years.")
    answer(door, book, keep(door, book, what, said), more=more)
