"""Write down an entry of the made-up diary in one line."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from uuid import NAMESPACE_URL, UUID, uuid5

from swardbook.foundation.dates import When
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.happenings import Happening
from swardbook.husbandry.where import Where

_SPACE = uuid5(NAMESPACE_URL, "swardbook made-up ground")
_UNNUMBERED = UUID(int=0)


def done(
    day: str,
    zone: str,
    what: Happening,
    who: str = "",
    *,
    hours: float | None = None,
    money: str = "",
    note: str = "",
    written_on: str = "",
    at: tuple[Where, ...] = (),
) -> DiaryEntry:
    """Write one dated entry; its identity is given by `numbered`."""
    happened = date.fromisoformat(day)
    return DiaryEntry(
        id=_UNNUMBERED,
        when=When.on(happened),
        what=what,
        zone=zone,
        who=who,
        hours=hours,
        money=Decimal(money) if money else None,
        note=note,
        written_on=date.fromisoformat(written_on) if written_on else happened,
        at=at,
    )


def numbered(entries: list[DiaryEntry]) -> list[DiaryEntry]:
    """Give each entry an identity that is the same on every machine."""
    alike: dict[str, int] = {}
    named = []
    for entry in entries:
        if entry.id != _UNNUMBERED:
            named.append(entry)
            continue
        key = f"{entry.when.first} {entry.zone} {entry.what.kind}"
        alike[key] = alike.get(key, 0) + 1
        named.append(replace(entry, id=identity(key, alike[key])))
    return named


def identity(key: str, number: int = 1) -> UUID:
    """Make the identity of the n-th entry of a day, zone and kind."""
    return uuid5(_SPACE, f"{key} {number}")
