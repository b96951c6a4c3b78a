"""Which entries stand: a corrected one is replaced by its latest correction."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date
from uuid import UUID, uuid5

from swardbook.foundation.dates import say
from swardbook.foundation.errors import UnknownNameError
from swardbook.husbandry.codec import plain_entry
from swardbook.husbandry.diary import DiaryEntry
from swardbook.records.chain import canonical


def standing(diary: Sequence[DiaryEntry], until: date | None) -> tuple[DiaryEntry, ...]:
    """Give the entries that stand, in the order in which things happened.

    Parameters
    ----------
    diary : sequence of DiaryEntry
        All entries, in the order written.
    until : date or None
        Entries that began after this day are left out; None gives all.
    """
    latest = _latest(diary)
    chosen = [each for each in latest.values() if until is None or each.when.first <= until]
    return tuple(sorted(chosen, key=lambda each: each.when.first))


def _latest(diary: Sequence[DiaryEntry]) -> dict[UUID, DiaryEntry]:
    """Give each entry's last correction, in whatever order books were brought together.

    Of two corrections of the same entry the one written down last counts, and of two of one day
    the one with the greater id.
    """
    roots = _roots(diary)
    corrected = {each.corrects for each in diary if each.corrects is not None}
    latest: dict[UUID, DiaryEntry] = {}
    for entry in diary:
        there = latest.setdefault(roots[entry.id], entry)
        if there is entry or entry.id in corrected:
            continue
        if there.id in corrected or _rank(entry) > _rank(there):
            latest[roots[entry.id]] = entry
    return latest


def _rank(entry: DiaryEntry) -> tuple[date, str]:
    return entry.written_on or date.min, str(entry.id)


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
    twin = twins[-1]
    by = f" by {twin.who}" if twin.who else ""
    on = f" on {say(twin.written_on)}" if twin.written_on else ""
    told = f"The same entry was corrected{by}{on} too ({str(twin.id)[:8]}). Both are kept; look."
    return replace(entry, needs_a_look=f"{entry.needs_a_look} {told}".strip())


def under_own_id(sent: DiaryEntry, there: Mapping[UUID, DiaryEntry]) -> DiaryEntry:
    """Give what was sent an id of its own if its id is taken by an entry with another content."""
    same = there.get(sent.id)
    if same is None or _content(same) == _content(sent):
        return sent
    told = f"It came under the id of another entry ({str(sent.id)[:8]}). Both are kept; look."
    own = uuid5(sent.id, canonical(plain_entry(_content(sent))))
    return replace(sent, id=own, needs_a_look=f"{sent.needs_a_look} {told}".strip())


def _content(entry: DiaryEntry) -> DiaryEntry:
    """Leave out what the receiving side adds: when it was written down, and what looked odd."""
    return replace(entry, written_on=None, needs_a_look="")


def _roots(diary: Sequence[DiaryEntry]) -> dict[UUID, UUID]:
    roots: dict[UUID, UUID] = {}
    for entry in diary:
        roots[entry.id] = entry.id if entry.corrects is None else roots.get(
            entry.corrects, entry.corrects
        )  # fmt: skip
    return roots
