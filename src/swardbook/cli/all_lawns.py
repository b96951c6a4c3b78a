"""``swardbook all-lawns``: every ground of the book, that which most needs a look first."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from swardbook.cli import doors
from swardbook.cli.doors import Door, door_options
from swardbook.cli.output import table

if TYPE_CHECKING:
    from swardbook.book.all_lawns import AllLawns, Lawn

HEADS = ("lawn", "stage", "needs a look", "last entry", "silent", "next due")


@click.command()
@click.option("--look", is_flag=True, help="First look over those changed since.")
@click.option("--most", default=20, show_default=True, type=click.IntRange(1, 100_000),
              help="How many to show; --json gives all.")  # fmt: skip
@door_options
def command(door: Door, look: bool, most: int) -> None:
    """List the grounds of the book: stage, last entry, what needs a look, silence, next thing due.

    Sorted by the share of entries that need a look. A lawn with few entries is held near the share
    of all lawns, so that it comes neither first nor last for want of entries.
    """
    from swardbook.book.all_lawns import all_lawns, look_over_lawns

    book = door.any_book()
    found = look_over_lawns(book, doors.clock_today) if look else all_lawns(book)
    door.show(payload(found), lines(found, most), book)


def payload(found: AllLawns) -> dict[str, Any]:
    """Give the one object."""
    return {
        "share_needing_a_look": round(found.share, 4),
        "not_of_now": found.stale,
        "lawns": [_payload(each) for each in found.lawns],
    }


def _payload(lawn: Lawn) -> dict[str, Any]:
    return {
        "ground": lawn.slug,
        "name": lawn.name,
        "stages": list(lawn.stages),
        "entries": lawn.entries,
        "needs_a_look": lawn.to_look,
        "entries_marked": lawn.marked,
        "entries_standing": lawn.standing,
        "share_sorted_by": round(lawn.share, 4),
        "last_entry": lawn.last_day.isoformat() if lawn.last_day else None,
        "silent_days": lawn.silent_days,
        "next_due": lawn.next_due or None,
        "next_zone": lawn.next_zone or None,
        "fault": lawn.fault or None,
        "looked_over_for": lawn.looked_on.isoformat() if lawn.looked_on else None,
        "not_of_now": lawn.not_of_now or None,
    }


def lines(found: AllLawns, most: int) -> list[str]:
    """Give the table, and what it does not hold."""
    shown = found.lawns[:most]
    told = table(HEADS, [_row(each) for each in shown])
    told += [f"{each.name} could not be looked over: {each.fault}" for each in shown if each.fault]
    others = [(each.slug, (each.to_look or 0) - each.marked) for each in shown]
    beside = ", ".join(f"{many} at {slug}" for slug, many in others if many)
    told += [f"Besides entries, such as gaps in the weather: {beside}."] if beside else []
    if (more := len(found.lawns) - len(shown)) > 0:
        told += ["", f"{more} more; --most {len(found.lawns)} shows all."]
    if found.stale:
        which = f"{found.stale} of {len(found.lawns)}"
        told += [
            "",
            f"~ Stage, looks and next thing of {which} may have changed: something was written"
            " since, it was another day, or nobody looked yet. --look looks them over.",
        ]
    return told


def _row(lawn: Lawn) -> tuple[str, ...]:
    mark = " ~" if lawn.not_of_now else ""
    looks = "not known" if lawn.to_look is None else f"{lawn.marked} of {lawn.standing}"
    where = f" ({lawn.next_zone})" if lawn.next_due else ""
    return (
        f"{lawn.slug}{mark}",
        ", ".join(lawn.stages) or "-",
        looks,
        f"{lawn.last_day.day} {lawn.last_day:%b %Y}" if lawn.last_day else "none",
        "-" if lawn.silent_days is None else f"{lawn.silent_days} d",
        f"{lawn.next_due}{where}" or "-",
    )
