"""The databases that records are tested on: a file, or a PostgreSQL server if one is named."""

from __future__ import annotations

import os
from pathlib import Path

from swardbook.records.setup import add_connection, configure, drop_connection, server_database
from swardbook.settings import Settings

SERVER = os.environ.get("SWARDBOOK_TEST_DATABASE", "")
"""Address of a PostgreSQL database that is emptied before each test."""


def emptied(home: Path) -> Settings:
    """Give settings of a place without a book: the server where one is named, or else a file."""
    settings = Settings(home, SERVER)
    if SERVER:
        configure()
        from django.db import connections

        alias = add_connection(server_database(settings))
        with connections[alias].cursor() as cursor:
            cursor.execute(
                "SELECT pg_terminate_backend(pid) FROM pg_stat_activity"
                " WHERE datname = current_database() AND pid <> pg_backend_pid()"
            )
            cursor.execute("DROP SCHEMA public CASCADE; CREATE SCHEMA public")
        drop_connection(alias)
    return settings
