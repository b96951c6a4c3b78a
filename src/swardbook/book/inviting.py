"""Invitations: a link with a code that is good once; who uses it chooses name and password."""

from __future__ import annotations

import secrets
from dataclasses import dataclass
from datetime import datetime
from urllib.parse import urlsplit

from swardbook.book.letting_days import INVITATION, days
from swardbook.book.opening import Book
from swardbook.book.people import LASTS, LoggedIn, check_account, read_role
from swardbook.book.waits import BY_ADDRESS, count_try, was_right
from swardbook.figures.squares import save_square
from swardbook.foundation.errors import BadInputError, SwardbookError
from swardbook.records.invitations import Invitation
from swardbook.records.passwords import hashed
from swardbook.records.person import ROLES, Person

LONGEST_NAME = 60
PATH = "join/"
"""Where an invitation is used, below the address of the pages."""
_LETTERS = "bcdfghkmnpqrtvwxz"
_GROUPS = 5
"""Groups of four letters in a code: 81 bits."""


class NoInvitationError(SwardbookError):
    """The code is none, or holds no more; which of the two is not told."""

    def __str__(self) -> str:
        """Say so."""
        return (
            "This code opens nothing: it was used, withdrawn, has ended, or was typed otherwise."
            " Ask for a new invitation."
        )


@dataclass(frozen=True, slots=True)
class Joined:
    """Somebody who used an invitation.

    Parameters
    ----------
    person : Person
        Who, and what they are to the ground from now on.
    ground : str
        Short name of the ground.
    logged_in : LoggedIn or None
        Their first log-in, where the account is new.
    """

    person: Person
    ground: str
    logged_in: LoggedIn | None


def invite(
    book: Book, name: str, role: str, asker: int | None, now: datetime
) -> tuple[Invitation, str]:
    """Make an invitation to the ground; the code is shown this once and kept nowhere.

    Parameters
    ----------
    book : Book
        The opened book.
    name : str
        For whom, in the owner's words; it goes once the invitation is used.
    role : str
        ``owner``, ``worker`` or ``reader``.
    asker : int or None
        Which owner makes it, by their number; None: whoever sits at the machine.
    now : datetime
        The time.

    Raises
    ------
    BadInputError
        If it is for nobody.
    UnknownNameError
        If there is no such role.
    """
    known, name = read_role(role), " ".join(name.split())[:LONGEST_NAME]
    if not name:
        raise BadInputError("for whom", "nothing", "a few words, to know the invitation again")
    code = "-".join("".join(secrets.choice(_LETTERS) for _ in range(4)) for _ in range(_GROUPS))
    there = book.store.people()
    with there.together():
        ends = now + days(book, INVITATION)
        made = there.invitations().make(_plain(code), known, name, asker, now, ends)
        there.record().add("invitation made", about=known)
    return made, code


def link(address: str, code: str) -> str:
    """Give the link of a code; the code stands after a hash sign, which browsers do not send.

    Parameters
    ----------
    address : str
        Where the pages are, such as ``https://lawns.example/``.
    code : str
        The code.

    Raises
    ------
    BadInputError
        If it is no address of pages.
    """
    parts = urlsplit(address)
    if parts.scheme not in {"https", "http"} or not parts.netloc:
        raise BadInputError("the address", address, "where the pages are, with https:// before it")
    return f"{parts.scheme}://{parts.netloc}{parts.path.rstrip('/')}/{PATH}#{code}"


def save_picture(path: str, to: str) -> None:
    """Write a link as a square picture for a phone's camera, as SVG.

    Parameters
    ----------
    path : str
        The file to write.
    to : str
        The link.

    Raises
    ------
    StorageError
        If the file cannot be written.
    """
    save_square(path, to)


def invitations(book: Book, now: datetime) -> tuple[Invitation, ...]:
    """List the invitations to the ground that can still be used."""
    return book.store.people().invitations().open(now)


def withdraw(book: Book, key: int, now: datetime) -> None:
    """Let an invitation hold no more.

    Raises
    ------
    UnknownNameError
        If none of that number holds.
    """
    there = book.store.people()
    with there.together():
        there.invitations().withdraw(key, now)
        there.record().add("invitation withdrawn")


def join(
    book: Book, code: str, account: tuple[str, str, str], address: str, now: datetime,
    device: str = "",
) -> Joined:  # fmt: skip
    """Use an invitation: make an account by a name and password of one's own, and log in.

    Parameters
    ----------
    book : Book
        The book, at whichever ground.
    code : str
        As typed.
    account : tuple of str
        Name, initials and password.
    address : str
        From where it is asked.
    now : datetime
        The time.
    device : str
        What is logged in, in a few words.

    Raises
    ------
    NoInvitationError
        If the code opens nothing.
    WaitError
        If there were too many wrong ones; nothing was looked at.
    BadInputError
        If name or initials are taken or will not do, or the password is weak; then the code is
        still good.
    """
    found = _looked_at(book, code, address, now)
    name, initials = check_account(*account)
    secret, token = hashed(account[2]), secrets.token_urlsafe(32)
    here = book.store.at(found.ground).people()
    with here.together():
        _use_up(book, code, now)
        person = here.add(name, initials, secret, must_change=False, now=now)
        here.set_role(person, found.role)
        logged_in = LoggedIn(here.begin_session(name, token, now, LASTS, device), token)
    return Joined(here.named(name), found.ground, logged_in)


def join_as(book: Book, code: str, name: str, address: str, now: datetime) -> Joined:
    """Use an invitation with the account that somebody has; a role is never made less by it.

    Raises
    ------
    NoInvitationError
        If the code opens nothing.
    WaitError
        If there were too many wrong ones; nothing was looked at.
    """
    found = _looked_at(book, code, address, now)
    here = book.store.at(found.ground).people()
    with here.together():
        _use_up(book, code, now)
        person = here.named(name)
        if not person.role or ROLES.index(found.role) > ROLES.index(person.role):
            here.set_role(person, found.role)
    return Joined(here.named(name), found.ground, None)


def _looked_at(book: Book, code: str, address: str, now: datetime) -> Invitation:
    there, by_address = book.store.people(), f"invitation {address}"
    count_try(book, {by_address: BY_ADDRESS}, now)
    with there.together():
        found = there.invitations().of(_plain(code), now)
        if found is None:
            there.record().add_bounded("invitation refused")
    if found is None:
        raise NoInvitationError
    was_right(book, "", by_address, now)
    return found


def _use_up(book: Book, code: str, now: datetime) -> None:
    """Use an invitation up, inside the write that it is for; of two at once one is refused."""
    rows = book.store.people().invitations()
    found = rows.of(_plain(code), now)
    if found is None or not rows.end(found.key, now):
        raise NoInvitationError


def _plain(code: str) -> str:
    return "".join(filter(str.isalpha, code.casefold()))
