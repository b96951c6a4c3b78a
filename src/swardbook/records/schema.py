"""The shape of the tables: made, checked, and brought up to date after a safe copy."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path
from time import time

from django.core.management import call_command
from django.db import connections
from django.db.migrations.recorder import MigrationRecorder

from swardbook.foundation.errors import BadInputError, DamagedBookError
from swardbook.records.copies import copy_checked
from swardbook.records.files import APPLICATION_ID
from swardbook.records.guard import REMEDY
from swardbook.records.setup import add_connection, drop_connection, sqlite_database

CHECKED_EACH_TIME = 16_000_000
"""Size up to which the pages of a file are gone through at each opening. [byte]"""
CHECK_AGAIN = 86_400.0
"""How long that is good for in a larger one. [s]"""
MIGRATIONS = tuple(
    sorted(path.stem for path in (Path(__file__).parent / "migrations").glob("0*.py"))
)


def make_empty(made: Path) -> None:
    """Make a SQLite file with empty tables, marked as a book."""
    alias = add_connection(sqlite_database(str(made)))
    try:
        migrate(alias)
        mark_as_book(alias)
    finally:
        drop_connection(alias)


def migrate(alias: str) -> None:
    """Bring the tables to their newest shape."""
    call_command("migrate", database=alias, verbosity=0, interactive=False)


def mark_as_book(alias: str) -> None:
    """Write into a new SQLite file that it is a book, and bring all of it into the one file."""
    with connections[alias].cursor() as cursor:
        cursor.execute(f"PRAGMA application_id={APPLICATION_ID}")
        cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")


def is_empty(alias: str) -> bool:
    """Tell whether a database has none of our tables."""
    return not _applied(alias)


def quick_check(alias: str, where: str) -> None:
    """Ask SQLite whether its pages hang together.

    Raises
    ------
    DamagedBookError
        If they do not.
    """
    _ask(alias, where, "quick_check")


def full_check(alias: str, where: str) -> None:
    """Ask SQLite whether its pages hang together, and whether each index holds every row.

    Raises
    ------
    DamagedBookError
        If not.
    """
    _ask(alias, where, "integrity_check")


def _ask(alias: str, where: str, pragma: str) -> None:
    with connections[alias].cursor() as cursor:
        cursor.execute(f"PRAGMA {pragma}(1)")
        found = cursor.fetchone()[0]
    if found != "ok":
        raise DamagedBookError(where, f"its pages do not hang together ({found})", REMEDY)


def check_pages_when_due(alias: str, where: str, file: Path) -> None:
    """Ask SQLite for a small file each time, for a large one once a day.

    Reading through the book of hundreds of lawns takes a tenth of a second, which each command
    would pay. What is damaged meanwhile is still found where it is read, and by `Store.check`.

    Raises
    ------
    DamagedBookError
        If its pages do not hang together.
    """
    about = file.stat()
    if about.st_size <= CHECKED_EACH_TIME:
        quick_check(alias, where)
        return
    marker = file.with_name(f".{file.name}.checked")
    told = f"{about.st_dev} {about.st_ino}"
    with suppress(OSError):
        age = time() - marker.stat().st_mtime
        if 0 <= age < CHECK_AGAIN and marker.read_text(encoding="ascii") == told:
            return
    quick_check(alias, where)
    with suppress(OSError):
        marker.write_text(told, encoding="ascii")


def open_to_read(alias: str, where: str, damage: str) -> None:
    """Let a damaged book be read and no more; one of an older shape cannot be.

    Raises
    ------
    DamagedBookError
        If the program would have to bring it up to date first.
    """
    with connections[alias].cursor() as cursor:
        cursor.execute("PRAGMA query_only=ON")
    if _applied(alias) != set(MIGRATIONS):
        raise DamagedBookError(where, damage, REMEDY)


def bring_up_to_date(alias: str, where: str, file: Path | None) -> None:
    """Upgrade an older book; a SQLite file is copied beside itself first.

    Raises
    ------
    BadInputError
        If the book was last written by a newer swardbook.
    DamagedBookError
        If what it says of its upgrades cannot be.
    """
    applied = _applied(alias)
    newer = sorted(applied - set(MIGRATIONS))
    if newer and applied > set(MIGRATIONS):
        raise BadInputError(
            "the shape of the book", newer[-1], f"up to {MIGRATIONS[-1]}",
            "It was last written by a newer swardbook; nothing was changed.",
        )  # fmt: skip
    if applied == set(MIGRATIONS):
        return
    if sorted(applied) != list(MIGRATIONS[: len(applied)]):
        raise DamagedBookError(where, "the list of its upgrades is broken", REMEDY)
    if file is not None:
        copy_before(file, MIGRATIONS[-1])
    migrate(alias)


def copy_before(file: Path, shape: str) -> Path:
    """Copy an older book beside itself, never over an earlier copy, and go through the copy."""
    copy, number = file.with_name(f"{file.stem}-before-{shape}{file.suffix}"), 1
    while copy.exists():
        number += 1
        copy = file.with_name(f"{file.stem}-before-{shape}-{number}{file.suffix}")
    copy_checked(file, copy, with_damage=True)
    return copy


def _applied(alias: str) -> set[str]:
    recorder = MigrationRecorder(connections[alias])
    return {name for app, name in recorder.applied_migrations() if app == "records"}
