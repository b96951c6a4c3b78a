"""A copy of a book as one file, also where the book itself is on a server."""

from __future__ import annotations

from pathlib import Path

from django.db import connections, transaction

from swardbook.records import files, moved
from swardbook.records.contents import Contents
from swardbook.records.copies import copy_checked, settled, sync_folder
from swardbook.records.guard import guarded
from swardbook.records.opening import connected
from swardbook.records.setup import drop_connection, sqlite_database
from swardbook.settings import Settings


def copy_book(settings: Settings, wanted: Path) -> Contents:
    """Copy the book as it stands at one moment into a file, and go through the copy.

    Others may write to the book meanwhile. A copy is whole, or there is none.

    Parameters
    ----------
    settings : Settings
        How this installation is set.
    wanted : Path
        The file to make; one that is there is not written over.

    Raises
    ------
    RefusedError
        If the book was moved elsewhere.
    DamagedBookError
        If what was copied is damaged.
    StorageError
        If the disk would not take it; nothing is left behind.
    """
    alias, where = connected(settings)
    try:
        with guarded(where):
            moved.require_here(alias, where)
        if not settings.database:
            return copy_checked(settings.book_file, wanted)
        return _copied_from_server(alias, where, wanted)
    finally:
        drop_connection(alias)


def _copied_from_server(alias: str, where: str, wanted: Path) -> Contents:
    from swardbook.records import schema
    from swardbook.records.setup import add_connection
    from swardbook.records.transfer import copy_rows

    with guarded(where):
        schema.bring_up_to_date(alias, where, None)
    with files.unfinished(wanted) as made:
        schema.make_empty(made)
        copy = add_connection(sqlite_database(str(made)))
        try:
            with guarded(where), transaction.atomic(using=alias, durable=False):
                with connections[alias].cursor() as cursor:
                    cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ")
                copy_rows(alias, copy)
        finally:
            drop_connection(copy)
        with guarded(str(wanted)):
            found = settled(made)
            files.put_in_place(made, wanted)
            sync_folder(wanted.parent)
    return found
