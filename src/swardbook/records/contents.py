"""What a book's file holds, read without opening it as a book: also one of an earlier shape."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import quote

from swardbook.foundation.errors import DamagedBookError
from swardbook.records.chain import BROKEN, FIRST, checksum
from swardbook.records.files import look_at_header
from swardbook.records.guard import REMEDY

_SHAPES = "SELECT name FROM django_migrations WHERE app = 'records' ORDER BY name"
_GROUNDS = "SELECT id, slug, name FROM records_groundrow ORDER BY id"


@dataclass(frozen=True, slots=True)
class GroundContents:
    """What a file holds of one ground.

    Parameters
    ----------
    slug, name : str
        Its names; empty in a book from when one held a single ground.
    entries, kept : int
        Entries of the diary, and kept results.
    head, kept_head : str
        The last checksum of either chain.
    """

    slug: str
    name: str
    entries: int
    head: str
    kept: int
    kept_head: str


@dataclass(frozen=True, slots=True)
class Contents:
    """What a file holds.

    Parameters
    ----------
    shape : str
        The newest of its migrations.
    grounds : tuple of GroundContents
        Its grounds, in the order begun.
    damage : tuple of str
        What is not what was written, in words; empty where all holds.
    """

    shape: str
    grounds: tuple[GroundContents, ...]
    damage: tuple[str, ...] = ()

    @property
    def entries(self) -> int:
        """Count the entries of all grounds."""
        return sum(each.entries for each in self.grounds)


def contents_of(file: Path) -> Contents:
    """Go through a file: its pages, the chain of each ground, every piece of ground.

    Parameters
    ----------
    file : Path
        The SQLite file of a book; it is only read.

    Raises
    ------
    DamagedBookError
        If it is no book, or cannot be read at all.
    """
    look_at_header(file)
    try:
        with closing(sqlite3.connect(f"file:{quote(str(file))}?mode=ro", uri=True)) as opened:
            opened.text_factory = lambda raw: raw.decode("utf-8", "replace")
            return _contents(opened)
    except sqlite3.Error as slip:
        raise DamagedBookError(str(file), f"it cannot be read ({slip})", REMEDY) from slip


def _contents(opened: sqlite3.Connection) -> Contents:
    found = [str(row[0]) for row in opened.execute("PRAGMA integrity_check(3)")]
    damage = [] if found == ["ok"] else [f"its pages do not hang together ({found[0]})"]
    shapes = [str(row[0]) for row in opened.execute(_SHAPES)]
    has_grounds = any(each.startswith("0005") for each in shapes)
    rows = opened.execute(_GROUNDS).fetchall() if has_grounds else [(None, "", "")]
    grounds = []
    for key, slug, name in rows:
        own = f"{slug}: " if len(rows) > 1 else ""
        diary, kept = (_Chain(opened, table, key) for table in ("entry", "kept"))
        damage += [f"{own}entry {place}: {BROKEN}" for place in diary.broken]
        damage += [f"{own}kept result {place}: {BROKEN}" for place in kept.broken]
        grounds.append(GroundContents(slug, name, diary.count, diary.head, kept.count, kept.head))
    if any(each.startswith("0003") for each in shapes):
        damage += [
            f"a {kind} of a ground: {BROKEN}"
            for kind, text, checked in opened.execute(
                "SELECT kind, text, checksum FROM records_thing"
            )
            if checksum(FIRST, text) != checked
        ]
    return Contents(shapes[-1] if shapes else "", tuple(grounds), tuple(damage))


class _Chain:
    """One chain, gone through once."""

    def __init__(self, opened: sqlite3.Connection, table: str, ground: int | None) -> None:
        self.count, self.head = 0, FIRST
        self.broken: list[int] = []
        for place, text, checked in _links(opened, table, ground):
            self.count += 1
            if place != self.count or checksum(self.head, text) != checked:
                self.broken.append(place)
                self.count = place
            self.head = checked


def _links(
    opened: sqlite3.Connection, table: str, ground: int | None
) -> Iterator[tuple[int, str, str]]:
    where, given = ("", ()) if ground is None else (" WHERE ground_id = ?", (ground,))
    yield from opened.execute(
        f"SELECT position, text, checksum FROM records_{table}{where} ORDER BY position", given
    )
