"""A copy of the book's file in another folder, as it stands at one moment."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from dataclasses import replace
from pathlib import Path
from urllib.parse import quote

from swardbook.foundation.errors import RefusedError
from swardbook.records.guard import guarded
from swardbook.settings import Settings


def copy_file(settings: Settings, folder: Path) -> Settings:
    """Copy the file of a book, and give settings for the copy; the book is only read.

    Parameters
    ----------
    settings : Settings
        How this installation is set.
    folder : Path
        A folder without a book.

    Raises
    ------
    RefusedError
        If the book is on a server: that is never copied.
    StorageError
        If the disk would not take it.
    """
    if settings.database:
        raise RefusedError("No copy was made", "this book is on a server, not in a file.")
    fresh = replace(settings, home=folder)
    where = f"file:{quote(str(settings.book_file))}?mode=ro"
    with guarded(str(fresh.book_file)), closing(sqlite3.connect(where, uri=True)) as book:
        book.execute("VACUUM INTO ?", (str(fresh.book_file),))
    fresh.book_file.chmod(0o600)
    return fresh
