"""Copies of a book's file as it stands at one moment, each gone through before it counts."""

from __future__ import annotations

import os
import shutil
import sqlite3
from contextlib import closing, suppress
from dataclasses import replace
from pathlib import Path
from urllib.parse import quote

from swardbook.foundation.errors import DamagedBookError, RefusedError
from swardbook.records import files
from swardbook.records.contents import Contents, contents_of
from swardbook.records.guard import guarded
from swardbook.settings import Settings

_REMEDY = "The book itself is as it was. Look it over with `swardbook check-up`."


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
    with guarded(str(fresh.book_file)):
        _vacuum(settings.book_file, fresh.book_file)
    return fresh


def copy_checked(book_file: Path, wanted: Path, with_damage: bool = False) -> Contents:
    """Copy a book's file whole or not at all, and go through the copy before it gets its name.

    Parameters
    ----------
    book_file : Path
        The book; it is only read, and others may write to it meanwhile.
    wanted : Path
        Where to; a file that is there is not written over.
    with_damage : bool
        Whether a copy of a book with damaged entries counts, as long as it is the same.

    Raises
    ------
    BadInputError
        If there is a file of that name.
    DamagedBookError
        If what was copied is damaged; no copy is left, for it would be none.
    StorageError
        If the disk would not take it; nothing is left behind.
    """
    with guarded(str(wanted)), files.unfinished(wanted) as made:
        _vacuum(book_file, made)
        found = settled(made, contents_of(book_file) if with_damage else None)
        files.put_in_place(made, wanted)
        sync_folder(wanted.parent)
    return found


def copy_another(book_file: Path, wanted: Path) -> None:
    """Copy the file of another book as it stands, which its own program may be writing into.

    Where SQLite cannot read it, as on a disk that takes no writing, its bytes are taken.

    Parameters
    ----------
    book_file : Path
        The other book, which this process must not have open; it is only read.
    wanted : Path
        Where to.

    Raises
    ------
    OSError
        If the disk would not give or take it.
    """
    try:
        files.look_at_header(book_file)
        _vacuum(book_file, wanted)
    except (OSError, DamagedBookError):
        for end in ("", "-wal"):
            if (beside := book_file.with_name(book_file.name + end)).is_file():
                shutil.copyfile(beside, f"{wanted}{end}")


def settled(made: Path, expected: Contents | None = None) -> Contents:
    """Bring a finished copy to the disk and go through it there.

    Parameters
    ----------
    made : Path
        The copy.
    expected : Contents or None
        What it must hold, with its damage; None: whatever has none.

    Raises
    ------
    DamagedBookError
        If it is damaged.
    """
    made.chmod(0o600)
    with made.open("rb") as handle:
        os.fsync(handle.fileno())
    found = contents_of(made)
    if found.damage if expected is None else found != expected:
        told = "; ".join(found.damage[:3]) or "it is not what was copied"
        raise DamagedBookError("The copy", f"it does not hold: {told}", _REMEDY)
    return found


def sync_folder(folder: Path) -> None:
    """Bring the names in a folder to the disk, where the system can."""
    with suppress(OSError, AttributeError):
        opened = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(opened)
        finally:
            os.close(opened)


def is_open_elsewhere(book_file: Path) -> bool:
    """Tell whether another program has a book's file open; False where that cannot be told."""
    try:
        with closing(sqlite3.connect(book_file, timeout=0)) as asked:
            asked.execute("PRAGMA locking_mode=EXCLUSIVE")
            asked.execute("BEGIN EXCLUSIVE")
            asked.execute("ROLLBACK")
    except sqlite3.OperationalError as slip:
        return "locked" in str(slip)
    except sqlite3.Error:
        return False
    return False


def _vacuum(book_file: Path, made: Path) -> None:
    where = f"file:{quote(str(book_file))}?mode=ro"
    try:
        with closing(sqlite3.connect(where, uri=True)) as book:
            book.execute("VACUUM INTO ?", (str(made),))
    except sqlite3.OperationalError as slip:
        raise OSError(str(slip)) from slip
    except sqlite3.DatabaseError as slip:
        raise DamagedBookError(str(book_file), f"it cannot be read ({slip})", _REMEDY) from slip
    made.chmod(0o600)
