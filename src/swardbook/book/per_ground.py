"""One account over several grounds: what somebody is to each, as its owners choose."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from swardbook.book.opening import Book
from swardbook.book.people import read_role
from swardbook.foundation.errors import UnknownNameError
from swardbook.records.person import Person

NOTHING = "none"
"""The word for no access."""


@dataclass(frozen=True, slots=True)
class GroundRole:
    """What somebody is to one ground.

    Parameters
    ----------
    slug, name : str
        The ground, by its names.
    role : str
        Theirs; empty where they have no access.
    """

    slug: str
    name: str
    role: str


def owned_grounds(book: Book, asker: int | None) -> tuple[GroundRole, ...]:
    """List the grounds that somebody owns, in the order begun.

    Parameters
    ----------
    book : Book
        The opened book.
    asker : int or None
        Who, by their number; None: whoever sits at the machine, who owns all.
    """
    there = book.store.people()
    named = [each for each in book.store.grounds() if each.slug]
    if asker is None:
        return tuple(GroundRole(each.slug, each.name, "owner") for each in named)
    roles = there.roles_of(there.numbered(asker))
    return tuple(
        GroundRole(each.slug, each.name, "owner")
        for each in named if roles.get(each.slug) == "owner"
    )  # fmt: skip


def roles_over_grounds(book: Book, person: Person, asker: int | None) -> tuple[GroundRole, ...]:
    """List what somebody is to each ground of whoever asks; grounds of others are not told.

    Parameters
    ----------
    book : Book
        The opened book.
    person : Person
        About whom it is.
    asker : int or None
        Which owner asks, by their number; None: whoever sits at the machine.
    """
    roles = book.store.people().roles_of(person)
    return tuple(
        GroundRole(each.slug, each.name, roles.get(each.slug, ""))
        for each in owned_grounds(book, asker)
    )


def change_role_at(
    book: Book, ground: str, name: str, role: str, asker: int | None,
    until: datetime | None = None,
) -> Person:  # fmt: skip
    """Change what somebody is to one ground of whoever asks, or end it.

    Parameters
    ----------
    book : Book
        The opened book.
    ground : str
        The ground by its short name.
    name, role : str
        Who, and what they are there from now on; ``none`` ends their access.
    asker : int or None
        Which owner asks, by their number; None: whoever sits at the machine.
    until : datetime or None
        Where access ends: until when what waits on their phone is taken; None: not at all.

    Raises
    ------
    UnknownNameError
        If it is no ground of whoever asks, or nobody has that name, or there is no such role.
    BadInputError
        If the ground would be left without an owner.
    """
    known = "" if role.strip().casefold() == NOTHING else read_role(role)
    owned = {each.slug for each in owned_grounds(book, asker)}
    if ground not in owned:
        raise UnknownNameError("ground of yours", ground, sorted(owned))
    there = book.store.at(ground).people()
    person = there.named(name)
    there.set_role(person, known, until)
    return there.named(name)
