"""``swardbook copy``: safe copies of the whole book, made, read again and listed."""

from __future__ import annotations

import os
from datetime import datetime
from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options
from swardbook.cli.output import table
from swardbook.foundation.dates import say

if TYPE_CHECKING:
    from swardbook.book.copying import Copy


@click.command()
@click.option("--list", "listed", is_flag=True, help="List the copies there are.")
@click.option("--verify", is_flag=True, help="Read every copy through again.")
@click.option("--daily", is_flag=True, help="Only where the day's copy is due, as serve does.")
@door_options
def command(door: Door, listed: bool, verify: bool, daily: bool) -> None:
    """Make a safe copy of the whole book with its pictures, and go through it.

    It goes into the folder of copies (SWARDBOOK_COPIES, best on another disk). A copy is whole or
    there is none; older ones are thinned out. `swardbook serve` makes one a day by itself.
    Bring one back with `swardbook restore`.
    """
    from swardbook.book import copying
    from swardbook.foundation.errors import BadInputError
    from swardbook.settings import read_settings

    if sum((listed, verify, daily)) > 1:
        raise BadInputError("the options", "several", "one of --list, --verify and --daily")
    settings, now = read_settings(os.environ), clock_now()
    if listed or verify:
        copies = copying.copies_of(settings)
        if verify:
            copies = tuple(copying.verify_copy(each, now) for each in copies)
        payload: dict[str, Any] = {
            "folder": str(settings.copies),
            "copies": [_told(each) for each in copies],
        }
        door.show(payload, _list(copies, str(settings.copies), verify))
        return
    made = copying.daily_copy(settings, now) if daily else copying.make_copy(settings, now)
    if made is None:
        door.show({"copy": None}, ["The day's copy is there already, or none is due."])
        return
    many = len(made.pictures)
    lines = [
        f"Copy {made.name}: {made.entries} diary entries in {len(made.grounds)}"
        f" ground{'s' * (len(made.grounds) != 1)}, gone through and found whole."
    ]
    if many:
        lines.append(f"{many} file{'s' * (many != 1)} of pictures and voice notes with it.")
    lines.append(f"It is in {settings.copies}. Bring it back with swardbook restore {made.name}.")
    door.show({"folder": str(settings.copies), "copy": _told(made)}, lines)


def clock_now() -> datetime:
    """Read the clock, with its zone, for the names and ages of copies."""
    return datetime.now().astimezone()


def _told(copy: Copy) -> dict[str, Any]:
    return {
        "name": copy.name,
        "made_on": copy.made_at.date().isoformat(),
        "read_through_on": copy.verified_at.date().isoformat(),
        "why": copy.why,
        "entries": copy.entries,
        "grounds": [each.slug for each in copy.grounds],
        "pictures": len(copy.pictures),
        "size_bytes": copy.size,
        "sha256": copy.mark,
    }


def _list(copies: tuple[Copy, ...], folder: str, verified: bool) -> list[str]:
    if not copies:
        return [f"There is no copy in {folder} yet. Make one with swardbook copy."]
    rows = [
        [each.name, each.why, str(each.entries), str(len(each.pictures)),
         say(each.verified_at.date())]
        for each in copies
    ]  # fmt: skip
    lines = table(("copy", "made", "entries", "pictures", "read through"), rows)
    if verified:
        lines.append("All of them were read through and are whole.")
    return [*lines, f"They are in {folder}."]
