"""``swardbook bring-together``: what another book of the same ground holds, into this one."""

from __future__ import annotations

from pathlib import Path

import click

from swardbook.cli.doors import Door, door_options


@click.command()
@click.argument("other", type=click.Path(path_type=Path))
@door_options
def command(door: Door, other: Path) -> None:
    """Bring two books of the same ground together: an archive, or another book's folder.

    Nothing is lost and nothing doubled; what the books have differently is kept both ways and
    named. The other book is only read.
    """
    from dataclasses import asdict

    from swardbook.book.bring_together import bring_together
    from swardbook.cli.wrapping import under

    book = door.book()
    came = bring_together(book, other)
    lines = [
        f"{came.site}: {_many(came.entries, 'entry', 'entries')} came; {came.there} were there"
        " already.",
    ]
    beside = (
        (came.pieces, "piece of the ground", "pieces of the ground"),
        (came.results, "kept result", "kept results"),
        (came.pictures, "picture or voice note", "pictures and voice notes"),
    )
    told = [_many(*each) for each in beside if each[0]]
    if told:
        lines.append(f"Beside them came {', '.join(told)}.")
    if came.clashes:
        lines += ["", "The books have differently; both are kept:"]
        for clash in came.clashes:
            lines += under("-", f"{clash.what}: {clash.words}.")
    if came.entries or came.clashes:
        lines += ["", "What needs a look: swardbook diary show --needs-a-look"]
    door.show(asdict(came), lines, book)


def _many(count: int, one: str, more: str) -> str:
    return f"{count} {one if count == 1 else more}"
