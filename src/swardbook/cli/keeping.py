"""Write one entry and answer: what was kept, its short id, and what needs a look."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from swardbook.cli.chosen import with_typed
from swardbook.cli.telling import short_id, tell

if TYPE_CHECKING:
    from swardbook.book.opening import Book
    from swardbook.cli.doors import Door
    from swardbook.husbandry.diary import DiaryEntry
    from swardbook.husbandry.happenings import Happening
    from swardbook.husbandry.looks import Doubt
    from swardbook.husbandry.where import Where


def keep(
    door: Door,
    book: Book,
    what: Happening,
    said: Mapping[str, Any],
    asked: Sequence[Doubt] = (),
) -> DiaryEntry:
    """Write an entry with what any entry can carry."""
    from swardbook.book.diary import read_alike, write
    from swardbook.book.fields import read_money

    number, words = read_alike(said["when"])
    return write(
        book,
        what,
        door.when(words, book),
        zone=said["zone"],
        who=said["who"],
        hours=said["hours"],
        money=read_money(said["money"]),
        note=with_typed(said["note"]),
        number=max(number, said["number"]),
        asked=asked,
        at=_at(book, said),
    )


def _at(book: Book, said: Mapping[str, Any]) -> tuple[Where, ...]:
    from swardbook.book.telling_where import read_where

    told = said.get("at", "")
    return (read_where(book.store.ground(), said["zone"], told, "--at"),) if told else ()


def answer(
    door: Door,
    book: Book,
    entry: DiaryEntry,
    asked: Sequence[Doubt] = (),
    more: Sequence[str] = (),
    payload: Mapping[str, Any] | None = None,
) -> None:
    """Answer with one line of what was kept, and the likely fix of what looks odd."""
    from swardbook.book.diary import fixes
    from swardbook.husbandry.codec import plain_entry

    ready = fixes(book, entry, asked)
    lines = [f"Kept {short_id(entry)}: {tell(entry)}", *more, *look_lines(entry, ready)]
    whole = {"entry": plain_entry(entry), "short_id": short_id(entry), "fixes": list(ready)}
    door.show({**whole, **(payload or {})}, lines, book)


def kept_lines(book: Book, entry: DiaryEntry) -> list[str]:
    """Say what was kept beside another answer, and what needs a look with its ready fixes."""
    from swardbook.book.diary import fixes

    return [f"Kept {short_id(entry)}: {tell(entry)}", *look_lines(entry, fixes(book, entry))]


def look_lines(entry: DiaryEntry, ready: Sequence[str]) -> list[str]:
    """Say what needs a look, with the ready fixes; nothing where nothing does."""
    if not entry.needs_a_look:
        return []
    return [f"Needs a look: {entry.needs_a_look}", *(f"  {command}" for command in ready)]


def keep_and_answer(
    door: Door,
    what: Happening,
    said: Mapping[str, Any],
    asked: Sequence[Doubt] = (),
    more: Sequence[str] = (),
    payload: Mapping[str, Any] | None = None,
) -> None:
    """Open the book, write an entry and answer."""
    book = door.book()
    answer(door, book, keep(door, book, what, said, asked), asked, more, payload)
