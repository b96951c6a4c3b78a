"""What is known of all grounds of a book at once: one question, however many there are."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

VISIT, TOGETHER, YARD = "who comes", "put together", "the yard"
"""Kinds of kept results that are about a lawn among others; the last of each counts."""


_LAST_KEPT = """(SELECT text FROM records_kept AS kept
  WHERE kept.ground_id = ground.id AND kept.kind = %s ORDER BY kept.position DESC LIMIT 1)"""
_ROWS = f"""\
SELECT ground.slug, ground.name, ground.made_up,
  (SELECT entry.position FROM records_entry AS entry
   WHERE entry.ground_id = ground.id ORDER BY entry.position DESC LIMIT 1),
  (SELECT entry.first_day FROM records_entry AS entry
   WHERE entry.ground_id = ground.id AND entry.first_day <= %s
   ORDER BY entry.first_day DESC LIMIT 1),
  ground.writes, summary.text, summary.day, summary.writes,
  {_LAST_KEPT}, {_LAST_KEPT}, {_LAST_KEPT}
FROM records_groundrow AS ground
LEFT JOIN records_summary AS summary ON summary.ground_id = ground.id
WHERE ground.slug <> '' ORDER BY ground.id
"""


@dataclass(frozen=True, slots=True)
class LawnRow:
    """One ground among all.

    Parameters
    ----------
    slug, name : str
        Its names.
    is_made_up : bool
        Whether it is a made-up ground.
    entries : int
        Entries in its diary, with those that were corrected.
    last_day : date or None
        The latest day that something happened on; none without an entry.
    summary : dict or None
        What was last made out about it as a whole.
    made_for : date or None
        The day the summary is for.
    is_written_since : bool
        Whether something was written in the ground since the summary was made.
    told : mapping of str to dict
        What was last kept of each kind that is about a lawn among others.
    """

    slug: str
    name: str
    is_made_up: bool
    entries: int
    last_day: date | None
    summary: dict[str, Any] | None
    made_for: date | None
    is_written_since: bool
    told: Mapping[str, dict[str, Any]] = field(default_factory=dict)


def lawn_rows(alias: str, today: date) -> tuple[LawnRow, ...]:
    """Read one row for each ground that has a site; days after today are not read."""
    from swardbook.records.state import asked

    return tuple(
        LawnRow(
            slug, name, bool(made_up), entries or 0, _day(last), _read(text), _day(day),
            counted != writes, _told(texts),
        )
        for slug, name, made_up, entries, last, writes, text, day, counted, *texts in asked(
            alias, _ROWS, [today.isoformat(), VISIT, TOGETHER, YARD]
        )
    )  # fmt: skip


def _day(read: date | str | None) -> date | None:
    return date.fromisoformat(read) if isinstance(read, str) else read


def _told(texts: list[str | None]) -> dict[str, dict[str, Any]]:
    found = zip((VISIT, TOGETHER, YARD), map(_read, texts), strict=True)
    return {kind: each for kind, each in found if each is not None}


def _read(text: str | None) -> dict[str, Any] | None:
    """Read a summary; one that is broken is none, for it can be made anew."""
    try:
        found = json.loads(text) if text else None
    except ValueError:
        return None
    return found if isinstance(found, dict) else None
