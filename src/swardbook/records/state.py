"""The state of one ground, and its site, by one question each: every page asks for both."""

from __future__ import annotations

from collections.abc import Sequence
from hashlib import sha256
from typing import Any

from django.db import connections

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
        told[part].append(f"{checksum};")
    whole = "|".join([f"{ground};", *("".join(part) for part in told), ""])
    return sha256(whole.encode()).hexdigest()[:16]


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
