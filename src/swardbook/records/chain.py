"""The chain of checksums: each entry's covers its own text and the checksum before it."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from hashlib import sha256
from typing import Any

from swardbook.husbandry.codec import plain_entry
from swardbook.husbandry.diary import DiaryEntry

FIRST = "0" * 64
"""What stands before the first entry."""
BROKEN = "its text and its checksum do not agree"


@dataclass(frozen=True, slots=True)
class Link:
    """One entry as it is kept: its place, its id, its text and its checksum."""

    position: int
    id: str
    text: str
    checksum: str


@dataclass(frozen=True, slots=True)
class Damage:
    """One place where the diary is not what was written.

    Parameters
    ----------
    position : int
        Place in the order written, from 1; 0 for what is no entry.
    entry : str
        The entry's id, or the name of a piece of the ground.
    found : str
        What is wrong with it.
    after : int
        How many entries follow that the chain cannot vouch for.
    """

    position: int
    entry: str
    found: str
    after: int = 0

    @property
    def where(self) -> str:
        """The place in words."""
        return f"Entry {self.position} ({self.entry})" if self.position else self.entry


def canonical(plain: Any) -> str:
    """Write plain values as the one JSON text that has these values."""
    return json.dumps(
        plain, ensure_ascii=False, sort_keys=True, separators=(",", ":"), allow_nan=False
    )


def checksum(previous: str, text: str) -> str:
    """Give the SHA-256 checksum of an entry's text after the checksum before it."""
    return sha256(f"{previous}\n{text}".encode()).hexdigest()


def damages(links: Sequence[Link]) -> tuple[Damage, ...]:
    """Name each entry whose text, checksum or place is not what was written.

    An entry is tested against the checksum kept with the one before it, so that one damaged entry
    does not blame all that follow; `Damage.after` says how many lean on it.
    """
    found = []
    previous, expected = FIRST, 1
    for link in links:
        if link.position != expected:
            missing = link.position - expected
            told = f"{missing} entr{'y is' if missing == 1 else 'ies are'} missing before it"
            found.append(Damage(link.position, link.id, told, len(links) - link.position + missing))
        elif checksum(previous, link.text) != link.checksum:
            found.append(Damage(link.position, link.id, BROKEN, len(links) - link.position))
        previous, expected = link.checksum, link.position + 1
    return tuple(found)


def entry_id(text: str) -> str:
    """Find the id in an entry's text, also where the text is no longer whole."""
    found = re.search(r'"id":"([0-9a-f-]{36})"', text)
    return found[1] if found else "its id cannot be read"


def joined(texts: Iterable[str], previous: str) -> list[tuple[str, str]]:
    """Chain texts on after a checksum; gives each text with its own."""
    chained = []
    for text in texts:
        previous = checksum(previous, text)
        chained.append((text, previous))
    return chained


def row_of(entry: DiaryEntry, text: str = "") -> tuple[str, dict[str, Any]]:
    """Give an entry's text and its columns; a text from an archive stays as it is."""
    columns = {
        "uuid": entry.id,
        "kind": entry.what.kind,
        "zone": entry.zone,
        "first_day": entry.when.first,
        "last_day": entry.when.last,
    }
    return text or canonical(plain_entry(entry)), columns
