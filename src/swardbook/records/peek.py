"""What a book's site says, read without opening the book."""

from __future__ import annotations

import json
import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Any

_OF_ONE = "SELECT text FROM records_thing WHERE kind = 'site'"
"""Also as it was kept when a book was of one ground."""
_OF_SEVERAL = (
    "SELECT site.text, ground.slug, ground.name FROM records_thing site"
    " JOIN records_groundrow ground ON ground.id = site.ground_id WHERE site.kind = 'site'"
)


def peek_at_site(book_file: Path, ground: str = "") -> dict[str, Any]:
    """Read the plain fields of the site; none where there is no book, or it cannot be read.

    Opening a book takes a second, and a command that needs none should not wait for it.

    Parameters
    ----------
    book_file : Path
        The SQLite file of the book.
    ground : str
        Short name or name of the ground; empty: the only one.

    Returns
    -------
    dict
        The fields as they are kept; none also where it is not clear which ground is meant.
    """
    if not book_file.is_file():
        return {}
    try:
        with closing(sqlite3.connect(f"{book_file.resolve().as_uri()}?mode=ro", uri=True)) as file:
            text = _text_of(file, ground.strip().casefold())
        found = json.loads(text) if text else {}
    except (sqlite3.Error, json.JSONDecodeError):
        return {}
    return found if isinstance(found, dict) else {}


def _text_of(file: sqlite3.Connection, wanted: str) -> str:
    try:
        rows = file.execute(_OF_SEVERAL).fetchall()
    except sqlite3.OperationalError:
        rows = [(*row, "", "") for row in file.execute(_OF_ONE)]
    if wanted:
        rows = [row for row in rows if wanted in {row[1], row[2].casefold()}]
    return str(rows[0][0]) if len(rows) == 1 else ""
