"""``swardbook clean-down``: clean zones before weedy ones, and machines cleaned between."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options, entry_options
from swardbook.cli.minding import with_cautions
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.planning.clean_down import CleanAndWeedy


@click.command()
@click.option("--unit", default="", help="What was cleaned: mower, verticut unit, boots.")
@click.option("--washed/--not-washed", "washed", default=None)
@click.option("--box", "box_emptied", type=click.Choice(["off site", "on site"]), default=None,
              help="Where the box was emptied.")  # fmt: skip
@click.option("--heads-to", default="", help="Where heads and clippings went.")
@entry_options
@door_options
def command(
    door: Door, unit: str, washed: bool | None, box_emptied: str | None, heads_to: str, **said: Any
) -> None:  # fmt: skip
    """Show the order of zones, cleanest first; with an option, record a clean-down."""
    from swardbook.book.registers import clean_order

    book = door.book()
    lines: list[str] = []
    kept: dict[str, Any] = {}
    if unit or washed is not None or box_emptied or heads_to:
        from swardbook.cli.keeping import keep, kept_lines
        from swardbook.cli.telling import short_id
        from swardbook.husbandry.happenings import CleanDown

        entry = keep(door, book, CleanDown(unit, washed, box_emptied or "", heads_to), said)
        lines += [*kept_lines(book, entry), ""]
        kept = {"short_id": short_id(entry)}
    found = clean_order(book)
    told = {**_payload(found), **({"kept": kept} if kept else {})}
    answer = [*lines, *_lines(found)]
    door.show(*with_cautions(told, answer, "clean down", when=("heads",)), book)


def _lines(found: CleanAndWeedy) -> list[str]:
    from swardbook.foundation.dates import say

    lines = ["Machines and boots leave a clean zone before a weedy one:"]
    for n, each in enumerate(found.order, 1):
        share = "not counted, so as if weedy"
        if each.weed_share is not None and each.counted_on is not None:
            share = f"annual meadow-grass {100 * each.weed_share:.0f} % on {say(each.counted_on)}"
        lines += under(f"{n}.", f"{each.zone}: {share}")
    lines.append("")
    last = "none noted" if found.last_on is None else say(found.last_on)
    lines += under("", f"Last wash: {last}.", 0)
    if found.carried:
        one = found.carried[-1]
        lines += under("", f"{len(found.carried)} times a machine went from a weedier zone to a"
                           f" cleaner one on a later day with no wash noted; the last from"
                           f" {one.weedier} to {one.cleaner}, {say(one.on)}.", 0)  # fmt: skip
    if found.box_on_site:
        lines += under("", f"Boxes emptied on the site: {found.box_on_site}; its heap does not"
                           " kill the seed.", 0)  # fmt: skip
    if found.not_told:
        lines += under("", f"Diggings that do not say where the clumps went: {found.not_told}.", 0)
    lines += under("", "Order within a day is not in the diary.", 0)
    return lines


def _payload(found: CleanAndWeedy) -> dict[str, Any]:
    return {
        "order": [
            {"zone": each.zone,
             "weed_share": None if each.weed_share is None else round(each.weed_share, 4),
             "counted_on": each.counted_on.isoformat() if each.counted_on else None}
            for each in found.order
        ],
        "last_wash_on": found.last_on.isoformat() if found.last_on else None,
        "boxes_emptied_on_site": found.box_on_site,
        "carried": [
            {"from": each.weedier, "to": each.cleaner, "on": each.on.isoformat()}
            for each in found.carried
        ],
        "diggings_not_said_where_to": found.not_told,
    }  # fmt: skip
