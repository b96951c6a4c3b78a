"""What a book's site says, read without opening the book."""

from __future__ import annotations

import json
import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Any


def peek_at_site(book_file: Path) -> dict[str, Any]:
    """Read the plain fields of the site; none where there is no book, or it cannot be read.

    Opening a book takes a second, and a command that needs none should not wait for it.

    Parameters
    ----------
    book_file : Path
        The SQLite file of the book.

    Returns
    -------
    dict
        The fields as they are kept.
    """
    if not book_file.is_file():
        return {}
    try:
        with closing(sqlite3.connect(f"{book_file.resolve().as_uri()}?mode=ro", uri=True)) as file:
            row = file.execute("SELECT text FROM records_thing WHERE kind = 'site'").fetchone()
        found = json.loads(row[0]) if row else {}
    except (sqlite3.Error, json.JSONDecodeError):
        return {}
    return found if isinstance(found, dict) else {}
