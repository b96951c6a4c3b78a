"""The SQLite file: made whole or not at all, looked at before it is opened, copied safely."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path
from urllib.parse import quote

from swardbook.foundation.errors import BadInputError, BookBusyError, DamagedBookError
from swardbook.records.guard import REMEDY
from swardbook.records.setup import BUSY_SECONDS

APPLICATION_ID = 0x53776472
"""Written into the header of each book, so that another program's file is not taken for one."""
_HEADER = 100
"""How long the header of an SQLite file is. [byte]"""


def make_private_folder(folder: Path) -> None:
    """Make the folder of a book; only its owner can look inside."""
    if not folder.exists():
        folder.mkdir(parents=True, mode=0o700)
        folder.chmod(0o700)


def look_at_header(file: Path) -> None:
    """Refuse a file that is no book, without writing into it.

    SQLite itself is asked: a file that it holds open must never be opened beside it in the same
    process, since closing it drops the locks of all connections to it there, and a program beside
    would then take away the log that they write into.

    Raises
    ------
    DamagedBookError
        If its first bytes are not those of a book.
    BookBusyError
        If another program holds it for too long.
    """
    no_book = DamagedBookError(str(file), "this is no book, or its beginning is damaged", REMEDY)
    if file.stat().st_size < _HEADER:
        raise no_book
    where = f"file:{quote(str(file))}?mode=ro"
    try:
        with closing(sqlite3.connect(where, timeout=BUSY_SECONDS, uri=True)) as asked:
            ((mark,),) = asked.execute("PRAGMA application_id")
    except sqlite3.OperationalError as slip:
        if "locked" in str(slip):
            raise BookBusyError(str(file), BUSY_SECONDS) from slip
        raise DamagedBookError(str(file), f"it cannot be read ({slip})", REMEDY) from slip
    except sqlite3.DatabaseError as slip:
        raise no_book from slip
    if mark != APPLICATION_ID:
        raise DamagedBookError(str(file), "this is the database of another program", REMEDY)


BESIDE = ("-wal", "-shm", "-journal")
"""Ends of the names of what SQLite keeps beside a file that is open."""


def put_in_place(made: Path, wanted: Path) -> None:
    """Give a finished file its name, never over another.

    A log that was left beside a file that is gone would be taken for the new file's, and spoil it.

    Raises
    ------
    BadInputError
        If there is a book already.
    """
    for end in () if wanted.exists() else BESIDE:
        stray = wanted.with_name(wanted.name + end)
        if stray.exists():
            stray.replace(wanted.with_name(f".{stray.name}.stray"))
    try:
        os.link(made, wanted)
    except FileExistsError as slip:
        raise there_is_one(wanted) from slip
    except OSError:  # a file system without links
        if wanted.exists():
            raise there_is_one(wanted) from None
        made.rename(wanted)
    else:
        made.unlink()


def there_is_one(file: Path) -> BadInputError:
    """Say that a book is there already; it is never written over."""
    return BadInputError(
        "the folder of the new book",
        str(file),
        "a folder without a book",
        "There is a book in it already, which is never written over."
        " Set SWARDBOOK_HOME to another folder.",
    )


@contextmanager
def unfinished(wanted: Path) -> Iterator[Path]:
    """Give the name of a file to be made; what is left of it at the end is taken away."""
    made = wanted.with_name(f".{wanted.name}.unfinished")
    leftovers = [made.with_name(made.name + end) for end in ("", "-wal", "-shm")]
    for leftover in leftovers:
        leftover.unlink(missing_ok=True)
    try:
        yield made
    finally:
        for leftover in leftovers:
            with suppress(OSError):
                leftover.unlink(missing_ok=True)
