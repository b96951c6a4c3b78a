"""The mark of a book that was moved: where it is now, and that nothing is written here any more."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from django.db import connections

from swardbook.foundation.errors import RefusedError
from swardbook.records.guard import MOVED

_MARK, _UNFINISHED = "swardbook_moved", "swardbook_unfinished"


class MovedBookError(RefusedError):
    """The book was moved to another database, and is looked for where it was."""

    def __init__(self, where: str, now: str, on: str) -> None:
        super().__init__(
            f"{where} was not opened", f"the book was moved to {now} on {on}.",
            f"{_how(now)} To go on with the one here instead: `swardbook move-to --undo`.",
        )  # fmt: skip
        self.where, self.now, self.on = where, now, on


class UnfinishedMoveError(RefusedError):
    """A move into this database was begun and not finished."""

    def __init__(self, where: str) -> None:
        super().__init__(
            f"{where} was not opened", "a move into it was begun and not finished.",
            "The book is whole where it was. Do the same `swardbook move-to` again.",
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Moved:
    """Where a book went, and when."""

    now: str
    on: str


def _how(now: str) -> str:
    name = "SWARDBOOK_DATABASE" if now.startswith("postgres") else "SWARDBOOK_HOME"
    return f"Set {name} to it."


def require_here(alias: str, where: str) -> None:
    """Refuse a book that was moved, and one that is half moved in.

    Raises
    ------
    MovedBookError
        If it was moved.
    UnfinishedMoveError
        If a move into it was not finished.
    """
    there = marks_there(alias)
    if _UNFINISHED in there:
        raise UnfinishedMoveError(where)
    if _MARK in there:
        found = where_to(alias)
        raise MovedBookError(where, found.now, found.on)


def marks_there(alias: str) -> set[str]:
    """Give which of the two marks a database carries."""
    connection = connections[alias]
    if connection.vendor == "sqlite":
        asked = "SELECT name FROM sqlite_master WHERE type = 'table' AND name IN (%s, %s)"
    else:
        asked = (
            "SELECT relname FROM pg_class WHERE relname IN (%s, %s) AND pg_table_is_visible(oid)"
        )
    with connection.cursor() as cursor:
        cursor.execute(asked, [_MARK, _UNFINISHED])
        return {str(row[0]) for row in cursor.fetchall()}


def is_moved(alias: str) -> bool:
    """Tell whether a book carries the mark of one that was moved."""
    return _MARK in marks_there(alias)


def is_unfinished(alias: str) -> bool:
    """Tell whether a move into a database was begun and not finished."""
    return _UNFINISHED in marks_there(alias)


def where_to(alias: str) -> Moved:
    """Give where a book that was moved is now."""
    with connections[alias].cursor() as cursor:
        cursor.execute(f"SELECT place, moved_on FROM {_MARK}")
        place, on = cursor.fetchone() or ("another place", "a day that is not known")
    return Moved(str(place), str(on))


def mark_moved(alias: str, place: str, on: date) -> None:
    """Write down where the book is now, and let no table take anything any more.

    Programs that have the book open are refused from then on too: nothing is written where nobody
    will look for it. The rows stay as they are.
    """
    connection = connections[alias]
    with connection.cursor() as cursor:
        cursor.execute(f"CREATE TABLE {_MARK} (place text NOT NULL, moved_on text NOT NULL)")
        cursor.execute(f"INSERT INTO {_MARK} VALUES (%s, %s)", [place, on.isoformat()])
        if connection.vendor != "sqlite":
            cursor.execute(
                f"CREATE FUNCTION {_MARK}() RETURNS trigger AS"
                f" $$BEGIN RAISE EXCEPTION '{MOVED}'; END$$ LANGUAGE plpgsql"
            )
        for name, table, change in _triggers():
            if connection.vendor == "sqlite":
                told = f"BEGIN SELECT RAISE(ABORT, '{MOVED}'); END"
            else:
                told = f"FOR EACH ROW EXECUTE FUNCTION {_MARK}()"
            cursor.execute(f"CREATE TRIGGER {name} BEFORE {change} ON {table} {told}")


def unmark_moved(alias: str) -> None:
    """Take the mark away again."""
    connection = connections[alias]
    with connection.cursor() as cursor:
        if connection.vendor == "sqlite":
            cursor.execute(
                "SELECT name FROM sqlite_master WHERE type = 'trigger' AND name LIKE %s",
                [f"{_MARK}_%"],
            )
            for (name,) in cursor.fetchall():
                cursor.execute(f"DROP TRIGGER {connection.ops.quote_name(name)}")
        else:
            cursor.execute(f"DROP FUNCTION IF EXISTS {_MARK}() CASCADE")
        cursor.execute(f"DROP TABLE IF EXISTS {_MARK}")


def mark_unfinished(alias: str) -> None:
    """Write down that a move into this database has begun."""
    with connections[alias].cursor() as cursor:
        cursor.execute(f"CREATE TABLE {_UNFINISHED} (begun text)")


def unmark_unfinished(alias: str) -> None:
    """Write down that the move into this database is done."""
    with connections[alias].cursor() as cursor:
        cursor.execute(f"DROP TABLE {_UNFINISHED}")


def clear(alias: str) -> None:
    """Take away what an unfinished move left in a server's database, and nothing else."""
    connection = connections[alias]
    names = connection.introspection.table_names()
    with connection.cursor() as cursor:
        for name in names:
            if name.startswith("records_"):
                cursor.execute(f"DROP TABLE {connection.ops.quote_name(name)} CASCADE")
        cursor.execute(
            "SELECT proname FROM pg_proc WHERE pg_function_is_visible(oid)"
            " AND (proname LIKE 'records\\_%%' OR proname = 'swardbook_moved') AND pronargs = 0"
        )
        for (name,) in cursor.fetchall():
            cursor.execute(f"DROP FUNCTION {connection.ops.quote_name(name)}() CASCADE")
        if "django_migrations" in names:
            cursor.execute("DELETE FROM django_migrations WHERE app = 'records'")


def _triggers() -> list[tuple[str, str, str]]:
    from swardbook.records.transfer import tables

    names = [table._meta.db_table for table in tables()]
    return [
        (f"{_MARK}_{name.removeprefix('records_')}_{change.lower()}", name, change)
        for name in names
        for change in ("INSERT", "UPDATE", "DELETE")
    ]
