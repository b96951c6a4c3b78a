"""The databases that tests run on: a file, or a PostgreSQL server if one is named."""

from __future__ import annotations

import atexit
import os
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

from swardbook.records.setup import add_connection, configure, drop_connection, server_database
from swardbook.settings import Settings

SERVER = os.environ.get("SWARDBOOK_TEST_DATABASE", "")
"""Address of a PostgreSQL database; whoever asks may make further ones beside it."""
_TEMPLATE = "swardbook_newest"


def bare(home: Path) -> Settings:
    """Give settings of a place without any table: a database of a server, or a file."""
    return Settings(home, _fresh(home, "template0") if SERVER else "")


def place(home: Path) -> Settings:
    """Give settings of a place without a book: each home has a database of its own."""
    return Settings(home, _fresh(home, _newest()) if SERVER else "")


def there(home: Path) -> Settings:
    """Give the settings of a place again, with whatever book is there now."""
    return Settings(home, address_beside(_name(home)) if SERVER else "")


emptied = place


def address_beside(name: str) -> str:
    """Give the address of another database of the server."""
    return urlsplit(SERVER)._replace(path=f"/{name}").geturl()


def _name(home: Path) -> str:
    return f"swardbook_{sha256(str(home).encode()).hexdigest()[:16]}"


def _fresh(home: Path, template: str) -> str:
    name = _name(home)
    with _asking() as ask:
        _drop(ask, name)
        ask(f"CREATE DATABASE {name} TEMPLATE {template}")
    atexit.register(_dropped, name)
    return address_beside(name)


@cache
def _newest() -> str:
    """Make the tables once; each new database is a copy of them."""
    from swardbook.records.schema import migrate

    name = f"{_TEMPLATE}_{os.getpid()}"
    with _asking() as ask:
        _drop(ask, name)
        ask(f"CREATE DATABASE {name} TEMPLATE template0")
    atexit.register(_dropped, name)
    alias = add_connection(server_database(Settings(Path(), address_beside(name))))
    migrate(alias)
    drop_connection(alias)
    return name


def _dropped(name: str) -> None:
    with _asking() as ask:
        _drop(ask, name)


def _drop(ask: Any, name: str) -> None:
    ask(f"DROP DATABASE IF EXISTS {name} WITH (FORCE)")


@contextmanager
def _asking() -> Iterator[Any]:
    configure()
    from django.db import connections

    alias = add_connection(server_database(Settings(Path(), SERVER)))
    try:
        with connections[alias].cursor() as cursor:
            yield cursor.execute
    finally:
        drop_connection(alias)
