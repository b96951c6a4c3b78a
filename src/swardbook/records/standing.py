"""Which entries stand: a corrected one is replaced by its latest correction."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date
from uuid import UUID

from swardbook.foundation.dates import say
from swardbook.foundation.errors import UnknownNameError
from swardbook.husbandry.diary import DiaryEntry
from swardbook.records.same_entry import said_alone

_BOTH_KEPT = "Both are kept; look."


def standing(diary: Sequence[DiaryEntry], until: date | None) -> tuple[DiaryEntry, ...]:
    """Give the entries that stand, in the order in which things happened.

    Parameters
    ----------
    diary : sequence of DiaryEntry
        All entries, in the order written.
    until : date or None
        Entries that began after this day are left out; None gives all.
    """
    roots = _roots(diary)
    latest = [_asked_about(first, beside) for first, *beside in _ends(diary, roots).values()]
    chosen = [each for each in latest if until is None or each.when.first <= until]
    return tuple(sorted(chosen, key=lambda each: each.when.first))


def place_of(diary: Sequence[DiaryEntry], entry: DiaryEntry) -> tuple[UUID, tuple[UUID, ...]]:
    """Give what a correction takes the place of: what stands for an entry, and others beside it."""
    roots = _roots(diary)
    first, *beside = _ends(diary, roots)[roots[entry.id]]
    return first.id, tuple(each.id for each in beside)


def parted(diary: Sequence[DiaryEntry]) -> tuple[tuple[DiaryEntry, ...], ...]:
    """Give the last corrections of each entry that was corrected by several, unknown to each other.

    The one that stands comes first.
    """
    return tuple(tuple(ends) for ends in _ends(diary, _roots(diary)).values() if len(ends) > 1)


def later_words(diary: Sequence[DiaryEntry], entry: DiaryEntry) -> tuple[DiaryEntry, ...]:
    """Give the corrections of an entry, and theirs, in the order written."""
    after, found = {entry.id}, []
    for each in diary:
        if not after.isdisjoint(each.replaces):
            after.add(each.id)
            found.append(each)
    return tuple(found)


def last_word(diary: Sequence[DiaryEntry], entry: DiaryEntry) -> DiaryEntry:
    """Give the last correction of an entry by itself, whatever was said beside it."""
    own = (entry, *later_words(diary, entry))
    return _ends(own, dict.fromkeys((each.id for each in own), entry.id))[entry.id][0]


def _ends(diary: Sequence[DiaryEntry], roots: Mapping[UUID, UUID]) -> dict[UUID, list[DiaryEntry]]:
    """Give the last corrections of each entry, in whatever order books were brought together.

    There are several where an entry was corrected by people who did not know of each other. The
    one written down last comes first, and of those of one day the one whose text is greater.
    """
    replaced = {gone for each in diary for gone in each.replaces}
    ends: dict[UUID, list[DiaryEntry]] = {}
    for each in diary:
        found = ends.setdefault(roots[each.id], [])
        if each.id not in replaced:
            found.append(each)
    for found in ends.values():
        if len(found) > 1:
            found.sort(key=_how_late, reverse=True)
    return ends


def _how_late(entry: DiaryEntry) -> tuple[date, str]:
    return entry.written_on or date.min, said_alone(entry)


def _asked_about(stands: DiaryEntry, beside: Sequence[DiaryEntry]) -> DiaryEntry:
    """Mark what stands where another correction stands beside it, unless it is marked so."""
    if not beside or _BOTH_KEPT in stands.needs_a_look:
        return stands
    told = _corrected_too(beside[0])
    return replace(stands, needs_a_look=f"{stands.needs_a_look} {told}".strip())


def marked_if_twin(entry: DiaryEntry, there: Mapping[UUID, DiaryEntry]) -> DiaryEntry:
    """Mark a correction of an entry that was corrected by someone else meanwhile; both are kept.

    Raises
    ------
    UnknownNameError
        If the entry that it corrects is not in the diary.
    """
    if entry.corrects is None:
        return entry
    if entry.corrects not in there:
        raise UnknownNameError("entry", str(entry.corrects), [str(each)[:8] for each in there])
    twins = [each for each in there.values() if each.corrects == entry.corrects]
    if not twins:
        return entry
    told = _corrected_too(twins[-1])
    return replace(entry, needs_a_look=f"{entry.needs_a_look} {told}".strip())


def _corrected_too(twin: DiaryEntry) -> str:
    by = f" by {twin.who}" if twin.who else ""
    on = f" on {say(twin.written_on)}" if twin.written_on else ""
    return f"The same entry was corrected{by}{on} too ({str(twin.id)[:8]}). {_BOTH_KEPT}"


def _roots(diary: Sequence[DiaryEntry]) -> dict[UUID, UUID]:
    roots: dict[UUID, UUID] = {}
    for entry in diary:
        roots[entry.id] = entry.id if entry.corrects is None else roots.get(
            entry.corrects, entry.corrects
        )  # fmt: skip
    return roots
