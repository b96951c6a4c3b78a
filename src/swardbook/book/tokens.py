"""Keys with which other programs ask: made once, shown once, ended at any time."""

from __future__ import annotations

import secrets
from datetime import datetime

from swardbook.book.opening import Book
from swardbook.foundation.errors import BadInputError
from swardbook.records.person import ROLES
from swardbook.records.tokens import Token

LONGEST_NAME = 60


def make_token(book: Book, name: str, role: str, whose: str, now: datetime) -> tuple[Token, str]:
    """Make a key to the ground for another program.

    Parameters
    ----------
    book : Book
        The opened book.
    name : str
        What it is for, such as ``calendar on the phone``.
    role : str
        ``reader`` or ``worker``: no program is an owner.
    whose : str
        Name of the person whose it is; empty: whoever sits at the machine.
    now : datetime
        The time.

    Returns
    -------
    tuple of Token and str
        What is kept, and the key itself, which is kept nowhere.

    Raises
    ------
    BadInputError
        If it has no name, or the role is another one.
    UnknownNameError
        If there is no such person.
    """
    name = " ".join(name.split())[:LONGEST_NAME]
    if not name:
        raise BadInputError("what the key is for", "nothing", "a few words, to know it again")
    if role not in ROLES or role == "owner":
        raise BadInputError("the role of the key", role, "reader or worker")
    person = book.store.people().named(whose).key if whose else None
    secret = secrets.token_urlsafe(32)
    return book.store.tokens().make(secret, name, role, person, now), secret


def tokens(book: Book) -> tuple[Token, ...]:
    """List the keys to the ground that hold."""
    return book.store.tokens().all()


def who_has(book: Book, secret: str) -> Token | None:
    """Give the key that this is; None where it is none, or holds no more."""
    return book.store.tokens().of(secret) if secret else None


def end_token(book: Book, key: int, now: datetime) -> None:
    """Let a key hold no more.

    Raises
    ------
    UnknownNameError
        If there is no such key.
    """
    book.store.tokens().end(key, now)
