"""``swardbook export``: everything out, as open files in one archive."""

from __future__ import annotations

from pathlib import Path

import click

from swardbook.cli.doors import Door, door_options


@click.command()
@click.argument("path", type=click.Path(path_type=Path, dir_okay=False))
@click.option(
    "--with-damage",
    is_flag=True,
    help="Write a damaged book out as it is: to be read, not imported.",
)
@click.option(
    "--for-others",
    is_flag=True,
    help="A copy to hand on: without private words, their pictures, and sealed guesses.",
)
@door_options
def command(door: Door, path: Path, with_damage: bool, for_others: bool) -> None:  # fmt: skip
    """Write everything as open files in one archive; the same book gives the same bytes."""
    from swardbook.book.archive import export_book
    from swardbook.book.who_did_what import EXPORTED, tell_done

    book = door.book()
    out = export_book(book, path, with_damage, for_others)
    tell_done(book, EXPORTED)
    payload = {
        "path": str(out.path),
        "entries": out.entries,
        "files": list(out.files),
        "pictures": out.pictures,
        "voice_notes": out.voice_notes,
        "sha256": out.sha256,
        "for_others": for_others,
    }
    lines = [
        f"{'What others may see' if for_others else 'Everything'} is in {out.path}:"
        f" {out.entries} diary entries and the ground, in"
        f" {len(out.files)} open files.",
        *_of_pictures(out.pictures, out.voice_notes),
        "It holds names and notes as you typed them. Bring it in elsewhere with swardbook import.",
    ]
    door.show(payload, lines, book)


def _of_pictures(many: int, notes: int) -> list[str]:
    counts = ((many, "photograph"), (notes, "voice note"))
    told = [f"{each} {name}{'s' if each > 1 else ''}" for each, name in counts if each]
    if not told:
        return []
    what, is_one = " and ".join(told), many + notes == 1
    are, were = ("is", "it was") if is_one else ("are", "they were")
    return [
        f"{what} {are} in it, without the place where {were} taken. The"
        " files as they came from the phone stay here, in pictures/originals."
    ]
