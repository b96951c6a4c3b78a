"""Entries marked private: what others are told of them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import fields, replace
from typing import Any
from uuid import UUID

from swardbook.husbandry.attachments import Attachment
from swardbook.husbandry.diary import DiaryEntry

WORDS_ALONE = frozenset({"note", "attachment", "photograph", "parked"})
"""Kinds of entry that are nothing but words or a picture; none of a private one is told."""


def told_to_others(entries: Sequence[DiaryEntry]) -> tuple[DiaryEntry, ...]:
    """Give what others are told: work and counts without their words, and no private words.

    What was done still counts, so that a reader's figures are everybody's. An entry is private if
    it is marked so, if a later correction of it is, or if it belongs to one that is.

    Parameters
    ----------
    entries : sequence of DiaryEntry
        All entries, in the order written.
    """
    hidden = private_ids(entries)
    return tuple(_without_words(entries, hidden)) if hidden else tuple(entries)


def private_ids(entries: Iterable[DiaryEntry]) -> frozenset[UUID]:
    """Give the ids of the private entries, of what they corrected, and of what belongs to them."""
    every = list(entries)
    replaces = {each.id: each.replaces for each in every}
    hidden: set[UUID] = set()
    waits = [each.id for each in every if each.private]
    while waits:
        at = waits.pop()
        if at not in hidden:
            hidden.add(at)
            waits += replaces.get(at, ())
    if hidden:
        kept = [(each.id, each.what) for each in every]
        hidden |= {id_ for id_, what in kept if isinstance(what, Attachment) and what.of in hidden}
    return frozenset(hidden)


def _without_words(entries: Sequence[DiaryEntry], hidden: frozenset[UUID]) -> list[DiaryEntry]:
    found = []
    for each in entries:
        if each.id not in hidden:
            found.append(each)
        elif each.what.kind not in WORDS_ALONE:
            what: Any = each.what
            if any(entry.name == "reason" for entry in fields(what)):
                what = replace(what, reason="")
            found.append(replace(each, what=what, note="", who="", needs_a_look=""))
    return found
