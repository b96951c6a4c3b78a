"""``swardbook move-to``: the whole book into another database, either way."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import click

from swardbook.cli.doors import Door, clock_today, door_options

if TYPE_CHECKING:
    from swardbook.book.moving import Moved
    from swardbook.settings import Settings


@click.command("move-to")
@click.argument("target", default="")
@click.option("--undo", is_flag=True, help="Go on with the book here that was moved away.")
@click.option("--even-so", is_flag=True,
              help="With --undo: leave behind what was written at the other since.")  # fmt: skip
@door_options
def command(door: Door, target: str, undo: bool, even_so: bool) -> None:
    """Move the whole book: into a folder as one file, or to a PostgreSQL database.

    TARGET is a folder without a book, or postgresql://user@host:port/name. All grounds, people,
    keys and pictures go along. It is done once the archive of every ground is the same on both
    sides, byte for byte. The old book is left as it is; opening it says where the book is now.
    """
    from swardbook.book.moving import move_to, put_back, shown_place, target_of
    from swardbook.foundation.errors import BadInputError
    from swardbook.settings import read_settings

    if door.on or door.ground:
        raise BadInputError("--on or --ground", door.on or door.ground, "nothing: all is moved")
    if undo == bool(target):
        raise BadInputError("the target", target, "a target, or --undo; one of the two")
    settings = read_settings(os.environ)
    if undo:
        back = put_back(settings, clock_today(), even_so)
        payload = {"book_is_at": shown_place(settings), "was_at": back.place,
                   "other_is_marked": back.is_left}  # fmt: skip
        lines = [f"The book here is the one again: {shown_place(settings)}."]
        lines += (
            [f"The other, {back.place}, is marked; opening it says so."]
            if back.is_left
            else [f"Mind: the other, {back.place}, could not be marked. Write to this one only."]
        )
        door.show(payload, lines)
        return
    wanted = target_of(settings, target)
    found = move_to(settings, wanted, clock_today())
    door.show(_payload(found, settings), _lines(found, settings, wanted))


def _payload(found: Moved, settings: Settings) -> dict[str, object]:
    from swardbook.book.moving import shown_place

    return {
        "book_is_at": found.place,
        "was_at": shown_place(settings),
        "grounds": [each.slug for each in found.grounds],
        "entries": found.entries,
        "pictures_copied": found.pictures,
        "archives_sha256": list(found.archives),
    }


def _lines(found: Moved, settings: Settings, wanted: Settings) -> list[str]:
    from swardbook.book.moving import shown_place

    many = len(found.grounds)
    name = "SWARDBOOK_DATABASE" if found.is_on_server else "SWARDBOOK_HOME"
    lines = [
        f"The book is at {found.place} now: {many} ground{'s' * (many != 1)},"
        f" {found.entries} diary entries, people and keys.",
        f"The archive of {'each ground' if many > 1 else 'the ground'} is the same on both sides,"
        " byte for byte.",
        f"From now on set {name} to it"
        + (", and SWARDBOOK_DATABASE to nothing." if settings.database and not wanted.database
           else "."),
    ]  # fmt: skip
    if wanted.home == settings.home:
        lines.append(f"Pictures and voice notes stay in {settings.pictures}.")
    elif found.pictures:
        lines.append(f"{found.pictures} files of pictures and voice notes were copied along.")
    lines.append(
        f"The old book, {shown_place(settings)}, is as it was, and marked: opening it says where"
        " the book is. To go back: swardbook move-to --undo there."
    )
    return lines
