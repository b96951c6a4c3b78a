"""What is known of all grounds of a book at once: one question, however many there are."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

VISIT, TOGETHER, YARD = "who comes", "put together", "the yard"
"""Kinds of kept results that are about a lawn among others; the last of each counts."""


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
    from django.db.models import OuterRef, Subquery

    from swardbook.records.models import Entry, GroundRow, Kept

    own = Entry.objects.using(alias).filter(ground=OuterRef("pk"))
    past = own.filter(first_day__lte=today).order_by("-first_day").values("first_day")
    kept = Kept.objects.using(alias).filter(ground=OuterRef("pk")).order_by("-position")
    rows = GroundRow.objects.using(alias).exclude(slug="").annotate(
        entries=Subquery(own.order_by("-position").values("position")[:1]),
        last_day=Subquery(past[:1]),
        visit=Subquery(kept.filter(kind=VISIT).values("text")[:1]),
        together=Subquery(kept.filter(kind=TOGETHER).values("text")[:1]),
        yard=Subquery(kept.filter(kind=YARD).values("text")[:1]),
    )  # fmt: skip
    read = rows.values_list(
        "slug", "name", "made_up", "entries", "last_day", "writes",
        "summary__text", "summary__day", "summary__writes", "visit", "together", "yard",
    )  # fmt: skip
    return tuple(
        LawnRow(
            slug, name, made_up, entries or 0, last, _read(text), day, counted != writes,
            _told(texts),
        )
        for slug, name, made_up, entries, last, writes, text, day, counted, *texts in read
    )  # fmt: skip


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
