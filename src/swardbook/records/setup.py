"""Django's settings, built from our own; one connection name for each opened book."""

from __future__ import annotations

from collections.abc import Mapping
from importlib.util import find_spec
from itertools import count
from threading import Lock
from typing import Any
from urllib.parse import unquote, urlsplit

from swardbook.foundation.errors import BadInputError
from swardbook.settings import Settings

BUSY_SECONDS = 10.0
"""How long a write waits for another program's write to end. [s]"""
_NUMBERS = count(1)
_CHANGING = Lock()
"""Another thread may be going through the connections: they are put in place whole, not changed."""
_ON_CONNECTING = (
    "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; PRAGMA temp_store=MEMORY;"
    " PRAGMA foreign_keys=ON; PRAGMA journal_size_limit=27103364;"
)


def configure(more: Mapping[str, Any] | None = None) -> None:
    """Set Django up, once in a process; opening another book only adds a connection.

    Parameters
    ----------
    more : mapping, optional
        What pages need besides; only the first call is heard. Apps are added to the records'.
    """
    import django
    from django.conf import settings
    from django.db.backends.signals import connection_created

    if settings.configured:
        return
    given = dict(more or {})
    settings.configure(
        INSTALLED_APPS=["swardbook.records", *given.pop("INSTALLED_APPS", ())],
        DATABASES={},
        DEFAULT_AUTO_FIELD="django.db.models.BigAutoField",
        USE_TZ=True,
        TIME_ZONE="UTC",
        LOGGING_CONFIG=None,
        PASSWORD_HASHERS=["django.contrib.auth.hashers.Argon2PasswordHasher"],
        **given,
    )
    django.setup()
    connection_created.connect(_read_broken_text)


def _read_broken_text(connection: Any, **_: Any) -> None:
    """Let SQLite give text with broken letters, so that a checksum can name where it stands."""
    if connection.vendor == "sqlite":
        connection.connection.text_factory = lambda raw: raw.decode("utf-8", "replace")


def add_connection(database: dict[str, Any]) -> str:
    """Make a database known to Django and give the name of its connection."""
    from django.db import connections

    alias = f"book-{next(_NUMBERS)}"
    made = connections.configure_settings({"default": {}, alias: database})[alias]
    with _CHANGING:
        connections.settings = {**connections.settings, alias: made}
    return alias


def drop_connection(alias: str) -> None:
    """Close a connection and forget it; a second time does nothing."""
    from django.db import connections

    if alias not in connections.settings:
        return
    connections[alias].close()
    del connections[alias]
    with _CHANGING:
        connections.settings = {
            name: about for name, about in connections.settings.items() if name != alias
        }


def sqlite_database(file: str, busy_seconds: float = BUSY_SECONDS) -> dict[str, Any]:
    """Describe a SQLite file: WAL, writers queue at the start, full synchronisation.

    Parameters
    ----------
    file : str
        Path of the file.
    busy_seconds : float
        How long to wait for another writer. [s]
    """
    return {
        "ENGINE": "django.db.backends.sqlite3",
        "NAME": file,
        "OPTIONS": {
            "transaction_mode": "IMMEDIATE",
            "timeout": busy_seconds,
            "init_command": _ON_CONNECTING,
        },
    }


def server_database(settings: Settings) -> dict[str, Any]:
    """Describe a PostgreSQL database named as ``postgresql://user@host:port/name``.

    Raises
    ------
    BadInputError
        If the address is of another kind, or the driver is not installed.
    """
    parts = urlsplit(settings.database)
    if parts.scheme not in {"postgresql", "postgres"} or not parts.path.strip("/"):
        raise BadInputError(
            "SWARDBOOK_DATABASE", parts.scheme, "postgresql://user@host:port/name, or nothing"
        )
    if find_spec("psycopg") is None:
        raise BadInputError(
            "SWARDBOOK_DATABASE", parts.scheme, "nothing, until its driver is there",
            "Install it with: pip install 'swardbook[postgres]'",
        )  # fmt: skip
    return {
        "ENGINE": "django.db.backends.postgresql",
        "NAME": unquote(parts.path.strip("/")),
        "USER": unquote(parts.username or ""),
        "PASSWORD": unquote(parts.password or ""),
        "HOST": parts.hostname or "",
        "PORT": str(parts.port or ""),
        "OPTIONS": {"options": f"-c lock_timeout={int(BUSY_SECONDS * 1000)}"},
    }
