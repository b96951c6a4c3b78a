"""Making an empty book, and opening one ground of the book there is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from swardbook.foundation.errors import BadInputError, DamagedBookError
from swardbook.husbandry.ground import Site
from swardbook.records import files
from swardbook.records.chain import Damage
from swardbook.records.damaged import THE_FILE, remember_damage, remembered_damage
from swardbook.records.grounds import GroundName, chosen_ground, grounds_in
from swardbook.records.guard import REMEDY, guarded
from swardbook.records.setup import (
    add_connection,
    configure,
    drop_connection,
    server_database,
    sqlite_database,
)
from swardbook.records.store import Store
from swardbook.settings import Settings

ON_SERVER = "the book on the server"


def create_store(settings: Settings) -> Store:
    """Make an empty book and open it; a file of it is there whole, or not at all.

    Raises
    ------
    BadInputError
        If there is a book already.
    StorageError
        If the disk would not take it.
    """
    configure()
    from swardbook.records import schema

    if settings.database:
        return _created_on_server(settings)
    wanted = settings.book_file
    if wanted.exists():
        raise files.there_is_one(wanted)
    with guarded(str(wanted)):
        files.make_private_folder(wanted.parent)
        with files.unfinished(wanted) as made:
            schema.make_empty(made)
            made.chmod(0o600)
            files.put_in_place(made, wanted)
    return open_store(settings)


def begin_ground(settings: Settings, site: Site) -> Store:
    """Begin a ground: in a new book, or as a further one in the book there is.

    Parameters
    ----------
    settings : Settings
        How this installation is set.
    site : Site
        The site of the ground.

    Raises
    ------
    BadInputError
        If the book has a ground of that name, or the one is made up and the other is not.
    StorageError
        If the disk would not take it.
    """
    if not settings.database and not settings.book_file.exists():
        store = create_store(settings)
        store.save_site(site)
        return store
    alias, where, there, damage = _opened(settings)
    try:
        _require_free(settings, site, there)
        store = _store_of(alias, there[0][0], where, damage)
        with store.together():
            store = store.beside(site.name) if there[0][1].name else store
            store.save_site(site)
    except BaseException:
        drop_connection(alias)
        raise
    return store


@contextmanager
def further_ground(settings: Settings, site: Site) -> Iterator[Store]:
    """Give a further ground to fill in the book there is; nothing of it stays if the block fails.

    Raises
    ------
    BadInputError
        If the book has a ground of that name, or the one is made up and the other is not.
    """
    alias, where, there, damage = _opened(settings)
    try:
        _require_free(settings, site, there)
        store = _store_of(alias, there[0][0], where, damage)
        with store.together():
            yield store.beside(site.name) if there[0][1].name else store
    finally:
        drop_connection(alias)


def _require_free(settings: Settings, site: Site, there: Sequence[tuple[int, GroundName]]) -> None:
    """Refuse a site that this book cannot take: never over another, nor made up beside real."""
    names = [each for _, each in there if each.name]
    if any(each.is_made_up != (site.made_up_today is not None) for each in names):
        raise files.there_is_one(settings.book_file)
    if site.name.casefold() in {each.name.casefold() for each in names}:
        raise BadInputError(
            "the name of the ground", site.name, "a name that no ground of this book has",
            "There is one already, which is never written over.",
        )  # fmt: skip


def open_store(settings: Settings, ground: str | None = None) -> Store:
    """Open one ground of the book there is; an older book is copied, then brought up to date.

    Parameters
    ----------
    settings : Settings
        How this installation is set.
    ground : str or None
        Name or short name of the ground; None: the one in the settings, or the only one.

    Raises
    ------
    WhichGroundError
        If there are several and none is named.
    UnknownNameError
        If there is none of that name.
    DamagedBookError
        If the file is no book or is damaged; it is left untouched.
    BookBusyError
        If another program holds it for too long.
    """
    alias, where, there, damage = _opened(settings)
    try:
        key = chosen_ground(there, settings.ground if ground is None else ground)
    except BaseException:
        drop_connection(alias)
        raise
    return _store_of(alias, key, where, damage)


def open_first_store(settings: Settings) -> Store:
    """Open the first ground of a book, for what is asked of all of them; see `open_store`."""
    alias, where, there, damage = _opened(settings)
    return _store_of(alias, there[0][0], where, damage)


def connected(settings: Settings) -> tuple[str, str]:
    """Connect to the database as it stands; gives the connection and the book's name."""
    configure()
    if settings.database:
        return add_connection(server_database(settings)), ON_SERVER
    where = str(settings.book_file)
    with guarded(where):
        files.look_at_header(settings.book_file)
    return add_connection(sqlite_database(where)), where


def store_on(alias: str, where: str) -> Store:
    """Give the first ground of a database that is connected to."""
    return _store_of(alias, grounds_in(alias)[0][0], where)


def _opened(settings: Settings) -> tuple[str, str, list[tuple[int, GroundName]], str]:
    """Open the database, in its newest shape, or only to be read where it is damaged.

    Gives its connection, its name, its grounds and what is damaged.
    """
    configure()
    from swardbook.records import moved, schema

    alias, where = connected(settings)
    file = None if settings.database else settings.book_file
    try:
        with guarded(where):
            damage = _damage_of(alias, where, file) if file is not None else ""
            moved.require_here(alias, where)
            if damage:
                schema.open_to_read(alias, where, damage)
            else:
                schema.bring_up_to_date(alias, where, file)
            there = grounds_in(alias)
        if not there:
            raise DamagedBookError(where, "it has no ground", REMEDY)
    except BaseException:
        drop_connection(alias)
        raise
    return alias, where, there, damage


def _damage_of(alias: str, where: str, file: Path) -> str:
    """Tell what is damaged in a file, by its pages or as it was found before; empty if nothing."""
    from swardbook.records import schema

    try:
        schema.check_pages_when_due(alias, where, file)
    except DamagedBookError as slip:
        remember_damage(file, (Damage(0, THE_FILE, slip.found),))
        return f"{THE_FILE}: {slip.found}"
    return remembered_damage(file)


def _created_on_server(settings: Settings) -> Store:
    alias, where, ((key, first), *more), damage = _opened(settings)
    if first.name or more:
        drop_connection(alias)
        raise BadInputError(
            where, "a book", "a database without a book", "What is there is never written over."
        )
    return _store_of(alias, key, where, damage)


def _store_of(alias: str, key: int, where: str, damage: str = "") -> Store:
    from swardbook.records.rows import Rows

    return Store(Rows(alias, key), where, damage)
