"""A book with damage: found and named, remembered beside its file, opened to be read only."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from swardbook.foundation.errors import DamagedBookError
from swardbook.records.chain import BROKEN, FIRST, Damage, checksum, damages
from swardbook.records.guard import REMEDY, guarded

if TYPE_CHECKING:
    from swardbook.records.rows import Rows

THE_FILE = "The file of the book"


def damage_in(
    rows: Rows, where: str, weather: Callable[[], Sequence[str]], *, pages: bool = True
) -> tuple[Damage, ...]:
    """Go through the pages, and recompute all checksums of one ground.

    Parameters
    ----------
    rows : Rows
        Of the ground.
    where : str
        The book, as the person knows it.
    weather : callable
        Names what of the weather is not what was saved.
    pages : bool
        Whether to go through the pages, which are those of all grounds.

    Returns
    -------
    tuple of Damage
        What is damaged; pages that do not hang together come first, as the file's.
    """
    found: list[Damage] = []
    try:
        with guarded(where):
            if pages:
                rows.check_pages(where)
    except DamagedBookError as slip:
        found.append(Damage(0, THE_FILE, slip.found))
    try:
        with guarded(where):
            links, kept, things = rows.links(), rows.kept_links(), rows.things()
            broken = list(weather())
    except DamagedBookError as slip:
        return (*found, Damage(0, THE_FILE, slip.found))
    found += [*damages(links), *damages(kept)]
    for name, text, checked in things:
        if checksum(FIRST, text) != checked:
            found.append(Damage(0, f"A {name} of the ground", BROKEN))
    return (*found, *(Damage(0, each, "it is not what was saved") for each in broken))


def remember_damage(file: Path, found: Sequence[Damage]) -> None:
    """Remember beside a file that it is damaged, or no longer; another file in its place is not.

    Parameters
    ----------
    file : Path
        The SQLite file.
    found : sequence of Damage
        What is damaged; nothing takes the mark away.
    """
    mark = _mark(file)
    with suppress(OSError):
        if found:
            told = f"{found[0].where}: {found[0].found}"
            mark.write_text(f"{_identity(file)}\n{told}\n", encoding="utf-8")
        else:
            mark.unlink(missing_ok=True)


def remembered_damage(file: Path) -> str:
    """Give what was found damaged in a file before; empty if nothing, or it is another file."""
    with suppress(OSError, ValueError):
        identity, told = _mark(file).read_text(encoding="utf-8").split("\n", 1)
        if identity == _identity(file):
            return told.strip()
    return ""


def refuse_writing(where: str, damage: str) -> None:
    """Refuse to write into a book that has damage.

    Raises
    ------
    DamagedBookError
        If there is some.
    """
    if damage:
        raise DamagedBookError(
            where, f"nothing was written, since the book is damaged ({damage})", REMEDY
        )


def _mark(file: Path) -> Path:
    return file.with_name(f".{file.name}.damaged")


def _identity(file: Path) -> str:
    about = file.stat()
    return f"{about.st_dev} {about.st_ino}"
