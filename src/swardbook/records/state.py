"""What is asked and told so often that it stands in the database's own words.

The state of one ground, and its site, by one question each: every page asks for both.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime
from hashlib import sha256
from typing import Any

from django.db import connections
from django.db.backends.base.base import BaseDatabaseWrapper

_PARTS = 5
_STATE = """\
SELECT 0 AS part, position AS place, checksum FROM records_entry WHERE ground_id = %s
  AND position = (SELECT MAX(position) FROM records_entry WHERE ground_id = %s)
UNION ALL SELECT 1, position, checksum FROM records_thing WHERE ground_id = %s
UNION ALL SELECT 2, of.id, of.checksum FROM records_weatherseries AS of
  JOIN records_groundrow AS ground ON ground.weather_id = of.id WHERE ground.id = %s
UNION ALL SELECT 3, id, checksum FROM records_forecastseries WHERE ground_id = %s
UNION ALL SELECT 4, position, checksum FROM records_kept WHERE ground_id = %s
  AND position = (SELECT MAX(position) FROM records_kept WHERE ground_id = %s)
ORDER BY 1, 2
"""
"""The last link of each chain stands for the whole of it; of the rest each row counts."""
_SITE = "SELECT text FROM records_thing WHERE ground_id = %s AND kind = 'site' ORDER BY position"


def state_of(alias: str, ground: int) -> str:
    """Name the state of a ground's rows: it changes whenever anything was written.

    Parameters
    ----------
    alias : str
        Name of the connection.
    ground : int
        Key of the ground.
    """
    told: list[list[str]] = [[] for _ in range(_PARTS)]
    for part, _place, checksum in asked(alias, _STATE, [ground] * _STATE.count("%s")):
        told[part].append(checksum)
    return state_name(ground, told)


def state_name(ground: int, told: Sequence[Sequence[str]]) -> str:
    """Name a state by checksums.

    Parameters
    ----------
    ground : int
        Key of the ground.
    told : sequence of sequence of str
        Checksums of the last entry, of all pieces of the ground, of the weather, of the forecast,
        and of the last kept result; those that are not there are left out.
    """
    parts = ["".join(f"{checksum};" for checksum in part) for part in told]
    return sha256("|".join([f"{ground};", *parts, ""]).encode()).hexdigest()[:16]


def site_text(alias: str, ground: int) -> str:
    """Give the text of a ground's site; empty if it has none yet."""
    found = asked(alias, _SITE, [ground])
    return str(found[0][0]) if found else ""


def asked(alias: str, question: str, about: Sequence[Any]) -> list[tuple[Any, ...]]:
    """Ask the database in its own words, which a page has no time to have composed.

    Parameters
    ----------
    alias : str
        Name of the connection.
    question : str
        The question, with ``%s`` for each thing it is about.
    about : sequence
        Those things.
    """
    with connections[alias].cursor() as cursor:
        cursor.execute(question, about)
        return list(cursor.fetchall())


def told_to(alias: str, order: str, about: Sequence[Any]) -> int:
    """Tell the database in its own words to change rows; gives how many it changed.

    Parameters
    ----------
    alias : str
        Name of the connection.
    order : str
        What to do, with ``%s`` for each thing it is about.
    about : sequence
        Those things; dates and times as they are.
    """
    connection = connections[alias]
    with connection.cursor() as cursor:
        cursor.execute(order, [as_kept(each, connection) for each in about])
        return int(cursor.rowcount)


def as_kept(value: Any, connection: BaseDatabaseWrapper) -> Any:
    """Give a value as the database keeps it."""
    if isinstance(value, datetime):
        return connection.ops.adapt_datetimefield_value(value)
    if isinstance(value, date):
        return connection.ops.adapt_datefield_value(value)
    return value
