"""What runs under an opened book: which database, and whether it keeps what it acknowledges."""

from __future__ import annotations

from dataclasses import dataclass

from django.db import connections

from swardbook.records.engine import engine
from swardbook.records.guard import guarded
from swardbook.records.opening import connected
from swardbook.records.setup import drop_connection
from swardbook.settings import Settings

_NEEDED = ("fsync", "full_page_writes", "synchronous_commit")
_GOOD = {"on", "remote_apply", "remote_write", "local"}


@dataclass(frozen=True, slots=True)
class DatabaseFacts:
    """What runs.

    Parameters
    ----------
    kind : str
        ``SQLite`` or ``PostgreSQL``.
    version : str
        Its version.
    is_brought : bool
        Whether a SQLite came with the extra `sqlite`.
    has_fault : bool
        Whether a SQLite has the fault of resetting the write-ahead log.
    lacking : tuple of str
        Settings by which what is acknowledged could be lost in a power cut.
    """

    kind: str
    version: str
    is_brought: bool
    has_fault: bool
    lacking: tuple[str, ...]


def database_facts(settings: Settings) -> DatabaseFacts:
    """Ask what runs under a book, and whether it brings each write to the disk.

    Raises
    ------
    DamagedBookError
        If the file is no book.
    StorageError
        If the server cannot be asked.
    """
    alias, where = connected(settings)
    try:
        with guarded(where), connections[alias].cursor() as cursor:
            if settings.database:
                told = {}
                for name in (*_NEEDED, "server_version"):
                    cursor.execute(f"SHOW {name}")
                    told[name] = str(cursor.fetchone()[0])
                lacking = tuple(
                    f"{name} is {told[name]}" for name in _NEEDED if told[name] not in _GOOD
                )
                version = told["server_version"].split(" ")[0]
                return DatabaseFacts("PostgreSQL", version, False, False, lacking)
            cursor.execute("PRAGMA synchronous")
            synchronous = int(cursor.fetchone()[0])
            cursor.execute("PRAGMA journal_mode")
            journal = str(cursor.fetchone()[0])
    finally:
        drop_connection(alias)
    lacking = () if synchronous >= 2 else (f"synchronous is {synchronous}",)
    if journal != "wal":
        lacking += (f"the journal is {journal}, not a write-ahead log",)
    runs = engine()
    return DatabaseFacts("SQLite", runs.version, runs.is_brought, runs.has_fault, lacking)
