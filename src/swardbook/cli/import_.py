"""``swardbook import``: everything in again from an archive."""

from __future__ import annotations

from pathlib import Path

import click

from swardbook.cli.doors import Door, door_options


@click.command("import")
@click.argument("path", type=click.Path(path_type=Path, dir_okay=False))
@click.option("--beside", is_flag=True, help="As a further ground of the book that is there.")
@door_options
def command(door: Door, path: Path, beside: bool) -> None:
    """Make a new book from an archive; a book that is there is never written over."""
    import os
    from dataclasses import asdict

    from swardbook.book.archive import import_book
    from swardbook.settings import read_settings

    settings = read_settings(os.environ)
    came = import_book(settings, path, beside)
    where = "on the server" if settings.database else str(settings.book_file)
    with_it = (
        f"{many} {name}{'s' if many > 1 else ''} beside it"
        for many, name in ((came.pictures, "photograph"), (came.voice_notes, "voice note")) if many
    )  # fmt: skip
    more = "".join(f"; {each}" for each in with_it)
    lines = [
        f"{came.site} is in {where}: {came.zones} zones, {came.lots} lots and"
        f" {came.entries} diary entries{more}.",
    ]
    door.show({**asdict(came), "book": where}, lines)
