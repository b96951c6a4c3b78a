"""Which SQLite runs: a newer one is taken where it is installed, before Django asks for any."""

from __future__ import annotations

import sys
from dataclasses import dataclass
from importlib import import_module
from importlib.util import find_spec

FAULTY_FROM, FAULTY_TO = (3, 7, 0), (3, 51, 2)
"""Versions with the fault of resetting the write-ahead log (sqlite.org/wal.html, walresetbug).

Two connections that write and tidy up the log in one narrow moment can spoil a file. It is rare,
and mended in 3.51.3 of March 2026. Whether a system's own build carries the mend by itself
cannot be seen from its version.
"""


@dataclass(frozen=True, slots=True)
class Engine:
    """The SQLite that runs.

    Parameters
    ----------
    version : str
        Its version.
    is_brought : bool
        Whether it came with swardbook's extra `sqlite`, rather than with Python.
    has_fault : bool
        Whether its version is one with the fault of resetting the write-ahead log.
    """

    version: str
    is_brought: bool
    has_fault: bool


def choose() -> None:
    """Let the SQLite of the extra `sqlite` stand in for Python's, where it is installed.

    Two of them must never have one file open in one process: each drops the locks that the other
    holds on it. So this comes before anything of the records is imported.
    """
    if find_spec("pysqlite3") is None or "django.db.backends.sqlite3.base" in sys.modules:
        return
    newer = import_module("pysqlite3")
    sys.modules["sqlite3"] = newer
    sys.modules["sqlite3.dbapi2"] = import_module("pysqlite3.dbapi2")


def engine() -> Engine:
    """Tell which SQLite runs."""
    import sqlite3

    version = str(sqlite3.sqlite_version)
    return Engine(version, sqlite3.__name__ != "sqlite3", is_faulty(version))


def is_faulty(version: str) -> bool:
    """Tell whether a version of SQLite is one with the fault."""
    parts = tuple(int(part) for part in version.split(".")[:3] if part.isdecimal())
    return FAULTY_FROM <= parts <= FAULTY_TO
