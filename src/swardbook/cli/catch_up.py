"""``swardbook catch-up``: back after a breakdown or an absence, in five lines."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options
from swardbook.cli.minding import mind, told_cautions
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.planning.catch_up import CatchUp


@click.command()
@click.option("--zone", "-z", default="", help="Zone, by name; none: the whole site.")
@click.option("--since", default="", metavar="DAY",
              help="The last day there; none: the last record before today.")  # fmt: skip
@click.option("--height", default="", help="Height of the grass, measured today; bare is mm.")
@door_options
def command(door: Door, zone: str, since: str, height: str) -> None:
    """Say in five lines what changed, lapsed and can no longer be done, and how to come down."""
    from swardbook.book.catch_up import caught_up

    book = door.book()
    found = caught_up(book, zone, since, height)
    lines = [part for line in found.lines for part in under("", line, 0)]
    if len(found.zones) > 1:
        lines += ["", "More of one zone: swardbook catch-up --zone NAME."]
    if zone and found.zones[0].down:
        lines += mind("cut")
    payload = {"lines": list(found.lines), "zones": [_payload(each) for each in found.zones],
               "aged": [{"about": each.about, "zone": each.zone or None,
                         "kept_on": each.day.isoformat(), "changed": list(each.changed),
                         "again": each.again} for each in found.aged],
               "cautions": told_cautions("cut")}  # fmt: skip
    door.show(payload, lines, book)


def _payload(found: CatchUp) -> dict[str, Any]:
    return {
        "zone": found.zone,
        "since": found.since.isoformat(),
        "last_cut_on": found.last_cut.isoformat() if found.last_cut else None,
        "changed": found.changed,
        "lapsed": list(found.lapsed),
        "no_longer_this_season": list(found.too_late),
        "grass_mm": None if found.grass is None else round(found.grass.height_mm, 1),
        "cuts": [
            {"day": each.day, "cut_mm": round(each.cut_mm, 1), "grass_mm": round(each.grass_mm, 1),
             "over_a_third": each.is_over_third}
            for each in found.down
        ],
        "mowing": found.mowing,
        "seeding_clock": found.clock,
    }  # fmt: skip
