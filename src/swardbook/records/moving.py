"""The whole book from one database into another; only one of the two is written to, ever."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import date
from urllib.parse import urlsplit

from django.db import connections, transaction

from swardbook.foundation.errors import BadInputError
from swardbook.records import files, moved
from swardbook.records.copies import settled, sync_folder
from swardbook.records.guard import guarded
from swardbook.records.opening import ON_SERVER, connected, store_on
from swardbook.records.setup import configure, drop_connection
from swardbook.records.store import Store
from swardbook.settings import Settings

ASIDE = ".moving-in"
"""Folder in which a book is put together before it gets its name."""


@dataclass(frozen=True, slots=True)
class Both:
    """The two books of a move, both held: nothing is written to either from elsewhere.

    Parameters
    ----------
    old, new : Store
        The first ground of each.
    """

    old: Store
    new: Store


def shown_place(settings: Settings) -> str:
    """Say where a book is, never with a password."""
    if not settings.database:
        return str(settings.home)
    parts = urlsplit(settings.database)
    port = f":{parts.port}" if parts.port else ""
    user = f"{parts.username}@" if parts.username else ""
    return f"postgresql://{user}{parts.hostname or ''}{port}{parts.path}"


@contextmanager
def moving(source: Settings, target: Settings, on: date) -> Iterator[Both]:
    """Copy all rows, and give both books to be compared; the move counts if the block ends well.

    If it does not, the old book is as it was. What was written to the target cannot be opened,
    does no harm, and goes when the move is done again.

    Parameters
    ----------
    source, target : Settings
        The two installations.
    on : date
        The day.

    Raises
    ------
    BadInputError
        If there is a book at the target.
    MovedBookError
        If the book was moved already.
    DamagedBookError
        If a table of one is not what it is in the other.
    StorageError
        If the disk or the server would not take it.
    """
    configure()
    old = _source(source, target)
    try:
        with guarded(_where(source)), transaction.atomic(using=old, durable=False):
            _hold(old)
            with _target(target, old) as new:
                yield Both(store_on(old, _where(source)), store_on(new, _where(target)))
            moved.mark_moved(old, shown_place(target), on)
        with guarded(_where(target)):
            _finish(target)
    finally:
        drop_connection(old)


def undo(settings: Settings) -> moved.Moved:
    """Take the mark of a moved book away, so that it is opened again; gives where it had gone.

    Raises
    ------
    BadInputError
        If it was not moved.
    """
    configure()
    alias, where = connected(settings)
    try:
        with guarded(where), transaction.atomic(using=alias, durable=False):
            if not moved.is_moved(alias):
                raise BadInputError("the book", where, "a book that was moved")
            found = moved.where_to(alias)
            moved.unmark_moved(alias)
        return found
    finally:
        drop_connection(alias)


def follow(settings: Settings) -> moved.Moved:
    """Tell where a book that was moved is now.

    Raises
    ------
    BadInputError
        If it was not moved.
    """
    configure()
    alias, where = connected(settings)
    try:
        with guarded(where):
            if not moved.is_moved(alias):
                raise BadInputError("the book", where, "a book that was moved")
            return moved.where_to(alias)
    finally:
        drop_connection(alias)


def leave(settings: Settings, other: Settings, on: date) -> bool:
    """Mark the other book as moved back, if nothing was written to its grounds since.

    Parameters
    ----------
    settings, other : Settings
        Of the place that is gone back to, and of the one that is left.
    on : date
        The day.

    Raises
    ------
    SwardbookError
        If the other cannot be opened.
    """
    configure()
    here, where = connected(settings)
    try:
        there, their = connected(other)
        try:
            with guarded(their), transaction.atomic(using=there, durable=False):
                _hold(there)
                moved.require_here(there, their)
                with guarded(where):
                    if _states(store_on(here, where)) != _states(store_on(there, their)):
                        return False
                moved.mark_moved(there, shown_place(settings), on)
            return True
        finally:
            drop_connection(there)
    finally:
        drop_connection(here)


def _states(store: Store) -> list[tuple[str, str]]:
    return [(each.slug, store.at(each.slug).stamp()) for each in store.grounds()]


def _where(settings: Settings) -> str:
    return ON_SERVER if settings.database else str(settings.book_file)


def _source(source: Settings, target: Settings) -> str:
    """Open the old book in its newest shape; one whose move stopped at its very end goes on."""
    from swardbook.records import schema

    alias, where = connected(source)
    try:
        with guarded(where):
            if moved.is_moved(alias):
                found = moved.where_to(alias)
                if found.now != shown_place(target) or not _is_half_there(target):
                    raise moved.MovedBookError(where, found.now, found.on)
                moved.unmark_moved(alias)
            moved.require_here(alias, where)
            schema.bring_up_to_date(alias, where, None if source.database else source.book_file)
    except BaseException:
        drop_connection(alias)
        raise
    return alias


def _hold(alias: str) -> None:
    """Let nobody write until the end; a file is held by its transaction already."""
    from swardbook.records.transfer import tables

    if connections[alias].vendor == "postgresql":
        names = ", ".join(table._meta.db_table for table in tables())
        with connections[alias].cursor() as cursor:
            cursor.execute(f"LOCK TABLE {names} IN EXCLUSIVE MODE")


@contextmanager
def _target(target: Settings, old: str) -> Iterator[str]:
    """Make the new book, and give its connection; it cannot be opened by others yet."""
    from swardbook.records import schema
    from swardbook.records.transfer import copy_rows

    if not target.database and target.book_file.exists():
        raise files.there_is_one(target.book_file)
    with guarded(_where(target)):
        if target.database:
            alias, _ = connected(target)
        else:
            files.make_private_folder(target.home)
            aside = _aside(target)
            shutil.rmtree(aside.home, ignore_errors=True)
            files.make_private_folder(aside.home)
            schema.make_empty(aside.book_file)
            alias, _ = connected(aside)
        try:
            if target.database:
                _require_empty(alias)
                moved.mark_unfinished(alias)
                schema.migrate(alias)
            copy_rows(old, alias)
            yield alias
        finally:
            drop_connection(alias)


def _require_empty(alias: str) -> None:
    """Make sure that a server's database has no book; what an unfinished move left goes."""
    from swardbook.records import schema
    from swardbook.records.grounds import grounds_in

    if moved.is_unfinished(alias):
        moved.clear(alias)
        moved.unmark_unfinished(alias)
    elif schema.is_empty(alias):
        return
    elif moved.is_moved(alias) or any(name.name for _, name in grounds_in(alias)):
        raise BadInputError(
            "the target", ON_SERVER, "a database without a book", "What is there is never written"
            " over.",
        )  # fmt: skip
    else:
        moved.clear(alias)


def _finish(target: Settings) -> None:
    """Let the new book be opened from now on."""
    if target.database:
        alias, _ = connected(target)
        try:
            moved.unmark_unfinished(alias)
        finally:
            drop_connection(alias)
        return
    made = _aside(target)
    settled(made.book_file)
    files.put_in_place(made.book_file, target.book_file)
    sync_folder(target.home)
    shutil.rmtree(made.home, ignore_errors=True)


def _is_half_there(target: Settings) -> bool:
    """Tell whether a move into a place got all but its last step."""
    if not target.database:
        return _aside(target).book_file.exists() and not target.book_file.exists()
    alias, _ = connected(target)
    try:
        return moved.is_unfinished(alias)
    finally:
        drop_connection(alias)


def _aside(target: Settings) -> Settings:
    return replace(target, home=target.home / ASIDE)
