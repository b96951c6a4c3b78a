"""``swardbook tins``: how evenly and how fast water falls."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options
from swardbook.cli.minding import with_cautions
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.book.tins import TinsAnswer


@click.command()
@click.argument("caught", nargs=-1, required=True)
@click.option("--minutes", default="", help="How long the water ran: 15, or '0.5 h'.")
@click.option("--mm", default="", help="A depth you want to give; bare is mm.")
@click.option("--zone", "-z", default="", help="Take infiltration from this zone's readings.")
@click.option("--infiltration", default="", help="How the ground takes it: 6, '25 mm in 22 min'.")
@click.option("--keep", is_flag=True, help="Keep it for the zone; `water plan` reads it.")
@door_options
def command(
    door: Door, caught: tuple[str, ...], minutes: str, mm: str, zone: str, infiltration: str,
    keep: bool,
) -> None:  # fmt: skip
    """Tell from tins set out in a grid how evenly water falls, and how long to run it.

    CAUGHT is the depth in each tin; bare numbers are mm.
    """
    from swardbook.book.fields import quantity
    from swardbook.book.tins import read_tins, tins_of_zone
    from swardbook.foundation.errors import BadInputError

    if zone and infiltration:
        raise BadInputError("the infiltration", "--zone and --infiltration", "one of the two")
    ran = quantity(minutes, "min", "--minutes") if minutes else None
    wanted = quantity(mm, "mm", "--mm") if mm else None
    book = door.book() if zone else None
    found = (
        read_tins(caught, ran, wanted, infiltration)
        if book is None
        else tins_of_zone(book, zone, caught, ran, wanted)
    )
    lines = [part for line in _lines(found) for part in under("", line, 0)]
    payload, lines = with_cautions(_payload(found), lines, "water")
    if not keep:
        door.show(payload, lines, book)
        return
    from swardbook.book.tins import kept_tins
    from swardbook.cli.results import show_answer

    if book is None:
        raise BadInputError("--keep", "no zone", "--keep with --zone NAME")
    saying = {"when": "today", "who": "", "note": ""}
    show_answer(door, book, kept_tins(found), payload, lines, zone=zone, keeping=saying)


def _lines(found: TinsAnswer) -> list[str]:
    even = found.even
    lines = [
        f"{even.tins} tins: mean {even.mean:.1f} mm, lowest quarter ({even.lowest}"
        f" tin{'s' * (even.lowest != 1)})"
        f" {even.lowest_mean:.1f} mm.",
        f"Evenness {even.share:.2f} (lowest quarter over mean): the driest quarter gets"
        f" {even.lowest_mean:.1f} mm of every {even.mean:.1f} mm.",
    ]
    if not even.is_whole:
        lines.append(
            f"A quarter of {even.tins} tins is no whole number; {even.lowest} were taken, to the"
            f" nearest. Rounded down it would be {even.rounded_down:.2f}, with a part of a tin"
            f" {even.exact_quarter:.2f}. Tins in a multiple of four leave no choice."
        )
    if found.falls_mm_h is None:
        return [*lines, "Say --minutes to know how fast it falls."]
    lines.append(f"It falls at {found.falls_mm_h:.0f} mm an hour.")
    if found.run_min is not None:
        lines.append(f"{found.wanted_mm:g} mm take {found.run_min:.0f} minutes.")
    if found.sinks_mm_h is None:
        return [*lines, "Nobody has measured how fast the ground takes it: watch for puddles."]
    takes = f"The ground takes {found.sinks_mm_h:.0f} mm an hour ({found.sinks_from})"
    if found.longest_run_min is None:
        return [*lines, f"{takes}: it keeps up."]
    turns = f"; that is {found.turns} turns" if found.turns and found.turns > 1 else ""
    return [
        *lines,
        f"{takes}: at most {found.longest_run_min:.0f} minutes in one go, then let it sink in"
        f"{turns}.",
    ]


def _payload(found: TinsAnswer) -> dict[str, Any]:
    even = found.even
    return {
        "tins": even.tins,
        "tins_in_lowest_quarter": even.lowest,
        "mean_mm": even.mean,
        "lowest_quarter_mm": even.lowest_mean,
        "evenness_lowest_quarter": even.share,
        "evenness_rounded_down": even.rounded_down,
        "evenness_exact_quarter": even.exact_quarter,
        "evenness_christiansen": even.christiansen,
        "falls_mm_per_h": found.falls_mm_h,
        "infiltration_mm_per_h": found.sinks_mm_h,
        "infiltration_from": found.sinks_from,
        "longest_run_min": found.longest_run_min,
        "wanted_mm": found.wanted_mm,
        "run_min": found.run_min,
        "turns": found.turns,
    }
