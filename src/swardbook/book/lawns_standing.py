"""Lawns that stand, where some were put together: which are set aside, and for which."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Any

from swardbook.book.opening import Book
from swardbook.book.people import writing_as
from swardbook.book.two_grounds import Moved
from swardbook.records.lawns import TOGETHER, LawnRow


def lawns_that_stand(
    rows: Collection[LawnRow], among: Collection[str] | None = None
) -> tuple[LawnRow, ...]:
    """Leave out lawns in whose place another stands since they were put together.

    Parameters
    ----------
    rows : collection of LawnRow
        All there are.
    among : collection of str or None
        Those that whoever asks may see, by short name; None: all.
    """
    aside = set[str]()
    for row in rows:
        told = row.told.get(TOGETHER, {})
        aside |= {row.slug} if told.get("parted") else set(told.get("of", ()))
    return tuple(
        row for row in rows if row.slug not in aside and (among is None or row.slug in among)
    )


@dataclass(frozen=True, slots=True)
class Standing:
    """A lawn that stands, and the two it stands for; none where it stands for itself."""

    slug: str
    name: str
    of: tuple[str, ...]


def names_standing(book: Book, among: Collection[str] | None = None) -> tuple[Standing, ...]:
    """List the lawns that stand, by their names, and what each was put together from."""
    rows = lawns_that_stand(book.store.lawns(book.today), among)
    return tuple(
        Standing(row.slug, row.name, tuple(row.told.get(TOGETHER, {}).get("of", ())))
        for row in rows
    )


def stands_for_both(book: Book) -> tuple[str, ...]:
    """Give the names of the two lawns in whose place this ground stands; none where it does not."""
    told: dict[str, Any] = next((x for _, x in reversed(book.store.kept(TOGETHER))), {})
    if not told or told.get("parted"):
        return ()
    names = {each.slug: each.name for each in book.store.grounds()}
    return tuple(names.get(slug, slug) for slug in told["of"])


def stands_for(book: Book, slug: str) -> str:
    """Give the ground that stands in the place of one that is set aside; empty where none does."""
    for row in lawns_that_stand(book.store.lawns(book.today)):
        if slug in row.told.get(TOGETHER, {}).get("of", ()):
            return row.slug
    return ""


def moved_in(told: Mapping[str, Any]) -> Moved:
    """Read what zones and places of the second ground are called in the one for both."""
    return Moved(dict(told.get("zones", {})), dict(told.get("places", {})))


def bring_over(book: Book, written_in: str = "") -> int:
    """Bring what was written in a lawn that is set aside to the one that stands for it.

    A phone may send what it kept to the old address; it is seen in the new one too.

    Parameters
    ----------
    book : Book
        Any ground of the book, opened.
    written_in : str
        Short name of the ground that was written in; empty goes through all.

    Returns
    -------
    int
        How many entries came.
    """
    came = 0
    for row in lawns_that_stand(book.store.lawns(book.today)):
        told = row.told.get(TOGETHER, {})
        of = told.get("of", ())
        if not of or (written_in and written_in not in of):
            continue
        third = book.store.at(row.slug)
        known = {entry.id for entry in third.whole_diary()}
        for number, slug in enumerate(of):
            late = [each for each in book.store.at(slug).whole_diary() if each.id not in known]
            moved = moved_in(told)
            sent = [moved.entry(each) for each in late] if number else late
            if sent:
                with writing_as(""):
                    third.add(sent)
                came += len(sent)
    return came
