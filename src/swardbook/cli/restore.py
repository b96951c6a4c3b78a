"""``swardbook restore``: from a copy back to a book, and on to serving it."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options
from swardbook.foundation.dates import say

if TYPE_CHECKING:
    from swardbook.book.restoring import Restored


@click.command()
@click.argument("copy", default="newest")
@click.option("--against", multiple=True, metavar="FILE",
              type=click.Path(path_type=Path, dir_okay=False),
              help="An archive made by export, whose bytes an export must give again.")  # fmt: skip
@click.option("--serve", "serves", is_flag=True, help="Go on to serve the book, on this machine.")
@door_options
def command(door: Door, copy: str, against: tuple[Path, ...], serves: bool) -> None:
    """Bring a copy back: COPY is newest, a name from `copy --list`, a folder, or a SQLite file.

    The copy is read through before anything is touched, and the book afterwards. The book that was
    there, whole or damaged, is set aside in a folder beside it and never deleted. Stop `serve`
    first.
    """
    from swardbook.book.restoring import restore
    from swardbook.book.serving import Asked, make_ready
    from swardbook.cli.copy import clock_now
    from swardbook.cli.serve import run, tell
    from swardbook.foundation.errors import BadInputError
    from swardbook.settings import read_settings

    if door.on or door.ground:
        raise BadInputError("--on or --ground", door.on or door.ground, "nothing: all comes back")
    settings = read_settings(os.environ)
    found = restore(settings, copy, clock_now(), against)
    payload, lines = _payload(found), _lines(found)
    if not serves:
        door.show(payload, lines)
        return
    serving = make_ready(settings, Asked(), needs_owner=False)
    door.show({**payload, "address": serving.address}, lines)
    if not door.as_json:
        tell(serving, "The restored book", False, False)
    sys.stdout.flush()
    click.get_current_context().exit(run(serving))


def _lines(found: Restored) -> list[str]:
    many = len(found.grounds)
    of_day = f" of {say(found.made_at.date())}" if found.made_at else ""
    lines = [
        f"Restored from {found.name}{of_day}: {found.entries} diary entries in {many}"
        f" ground{'s' * (many != 1)}; every checksum holds.",
        *(f"An export of it is {each}, byte for byte." for each in found.compared),
    ]
    if found.pictures:
        lines.append(f"{found.pictures} files of pictures and voice notes came back.")
    if found.set_aside:
        lines.append(
            f"The book that was here is in {found.set_aside}. What was written after the copy is"
            " only there: if it can still be read, swardbook bring-together takes it in."
        )
    return lines


def _payload(found: Restored) -> dict[str, Any]:
    return {
        "copy": found.name,
        "made_on": found.made_at.date().isoformat() if found.made_at else None,
        "grounds": list(found.grounds),
        "entries": found.entries,
        "pictures": found.pictures,
        "set_aside": str(found.set_aside) if found.set_aside else None,
        "same_as": list(found.compared),
    }
