"""What is known of all grounds of a book at once: one question, however many there are."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import date
from typing import Any


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
    """

    slug: str
    name: str
    is_made_up: bool
    entries: int
    last_day: date | None
    summary: dict[str, Any] | None
    made_for: date | None
    is_written_since: bool


def lawn_rows(alias: str, today: date) -> tuple[LawnRow, ...]:
    """Read one row for each ground that has a site; days after today are not read."""
    from django.db.models import OuterRef, Subquery

    from swardbook.records.models import Entry, GroundRow

    own = Entry.objects.using(alias).filter(ground=OuterRef("pk"))
    past = own.filter(first_day__lte=today).order_by("-first_day").values("first_day")
    rows = GroundRow.objects.using(alias).exclude(slug="").annotate(
        entries=Subquery(own.order_by("-position").values("position")[:1]),
        last_day=Subquery(past[:1]),
    )  # fmt: skip
    read = rows.values_list(
        "slug", "name", "made_up", "entries", "last_day", "writes",
        "summary__text", "summary__day", "summary__writes",
    )  # fmt: skip
    return tuple(
        LawnRow(slug, name, made_up, entries or 0, last, _read(text), day, counted != writes)
        for slug, name, made_up, entries, last, writes, text, day, counted in read
    )


def _read(text: str | None) -> dict[str, Any] | None:
    """Read a summary; one that is broken is none, for it can be made anew."""
    try:
        found = json.loads(text) if text else None
    except ValueError:
        return None
    return found if isinstance(found, dict) else None
