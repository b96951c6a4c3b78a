"""``swardbook refill``: holes refilled, and refills looked at again."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, at_option, door_options, entry_options
from swardbook.cli.minding import with_cautions
from swardbook.cli.recording import Recording, is_recording
from swardbook.cli.register_words import (
    share_payload,
    share_words,
    two_payload,
    verdict_lines,
)
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.planning.refill_register import RefillRegister


class RefillVerb(Recording):
    """Records when called alone."""

    module = "swardbook.cli.refill"
    plans = ("register",)


@click.group(cls=RefillVerb, invoke_without_command=True)
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
@at_option
@entry_options
@door_options
def command(
    door: Door, lot: str, holes: int | None, size: str, used: str, area: str, place: str,
    check: tuple[int, int] | None, sown_on: str, **said: Any,
) -> None:  # fmt: skip
    """Record holes refilled with soil and seed, or refills looked at again."""
    if not is_recording():
        return
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


@click.command()
@click.option("--zone", "-z", default="", help="Zone, by name; none: every zone with refills.")
@door_options
def register(door: Door, zone: str) -> None:
    """Show each refilling with what took, by season, and what becomes of holes by size today."""
    from swardbook.book.registers import refills_of

    book = door.book()
    found = refills_of(book, zone)
    lines: list[str] = []
    for each in found:
        lines += [*_lines(each), ""]
    if not found:
        lines = ["No refills yet."]
    told = {"registers": [_payload(each) for each in found]}
    door.show(*with_cautions(told, lines, "refill"), book)


def _lines(found: RefillRegister) -> list[str]:
    from swardbook.cli.output import table

    rows = [
        (f"{each.day.day} {each.day:%B} {each.day.year}", each.season, each.place or "-",
         "-" if each.holes is None else str(each.holes),
         "-" if each.hole_mm is None else f"{each.hole_mm:.0f}",
         (each.lot or "?") + (" (another)" if each.is_same_lot is False else ""),
         f"{each.taken} of {each.looked}" if each.looked else _due(each.due_on))
        for each in found.refills
    ]  # fmt: skip
    lines = [found.zone]
    if rows:
        heads = ("refilled", "season", "place", "holes", "mm", "lot", "took")
        lines += ["", *table(heads, rows), ""]
    for share in found.by_season:
        lines += under("-", share_words(share, "took"))
    if found.seasons is not None:
        lines += verdict_lines(found.seasons, "Took by season")
    elif found.by_season:
        lines += under("", "Took by season: not enough data; refills of one season only were looked"
                           " at.", 0)  # fmt: skip
    if found.now.open_holes:
        lines += [f"Holes open by the book: {found.now.open_holes}."]
    lines += ["", "Holes today:"]
    for each in found.sizes:
        lines += under("-", f"{each.size}: {each.says}.")
    return lines


def _due(day: Any) -> str:
    return f"look due {day.day} {day:%b} {day.year}"


def _payload(found: RefillRegister) -> dict[str, Any]:
    return {
        "zone": found.zone,
        "refills": [
            {"day": each.day.isoformat(), "season": each.season, "place": each.place,
             "lot": each.lot or None, "same_lot": each.is_same_lot, "holes": each.holes,
             "hole_mm": each.hole_mm, "looked": each.looked, "taken": each.taken,
             "checked_on": each.checked_on.isoformat() if each.checked_on else None,
             "look_due_on": each.due_on.isoformat() if each.due_on else None}
            for each in found.refills
        ],
        "by_season": [share_payload(each) for each in found.by_season],
        "seasons": None if found.seasons is None else two_payload(found.seasons),
        "open_holes": found.now.open_holes,
        "sizes": [{"size": each.size, "says": each.says} for each in found.sizes],
    }  # fmt: skip
