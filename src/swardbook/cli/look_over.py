"""``swardbook look-over``: everything in the book that needs a look."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.review.look_over import ToLookAt

HEADS = {
    "damage": "Not what was written",
    "parked": "Parked, not taken in",
    "future": "Dated after today",
    "weights": "Weights that do not square up",
    "no lot": "Sown without a lot",
    "no zone": "Without a zone",
    "place": "Counted at no peg of the zone",
    "same work": "The same work twice on a day",
    "closed": "Done while closed",
    "odd": "Odd when it was typed",
    "mix-up": "Sowings whose weights do not square up",
    "aged": "Kept answers that have aged",
    "weather": "Weather",
}


@click.command()
@click.option("--zone", "-z", default="", help="Only this zone, and the whole site's.")
@door_options
def command(door: Door, zone: str) -> None:
    """List everything that needs a look: what it would change, and the command that helps.

    Parked rows, counts at no peg, weights that do not square up bay by bay, kept answers that have
    aged, gaps in the weather, entries without a zone, the same work twice, days to come. Nothing is
    altered.
    """
    from swardbook.book.look_over import look_over

    book = door.book()
    found = look_over(book, zone)
    counts = Counter(each.about for each in found)
    lines: list[str] = []
    for about, head in HEADS.items():
        here = [each for each in found if each.about == about]
        if here:
            lines += [f"{head}: {len(here)}", *(line for each in here for line in _lines(each)), ""]
    payload = {
        "counts": {about.replace(" ", "_").replace("-", "_"): counts[about] for about in HEADS},
        "items": [_payload(each) for each in found],
    }
    door.show(payload, lines[:-1] or ["Nothing needs a look."], book)


def _lines(item: ToLookAt) -> list[str]:
    where = f"{item.zone}. " if item.zone else ""
    return [
        *under("-", f"{where}{item.what}"),
        *under("", f"Would change {item.changes}.", 4),
        *(f"    {way}" for way in item.ways),
    ]


def _payload(item: ToLookAt) -> dict[str, Any]:
    return {
        "about": item.about,
        "zone": item.zone,
        "day": item.day.isoformat() if item.day else None,
        "short_id": str(item.entry)[:8] if item.entry else None,
        "what": item.what,
        "would_change": item.changes,
        "fixes": list(item.ways),
    }
