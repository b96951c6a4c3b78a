"""People: let in with a name and a password, as owner, worker or reader of a ground."""

from __future__ import annotations

import secrets
from collections.abc import Mapping
from contextlib import AbstractContextManager
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from swardbook.book.opening import Book
from swardbook.foundation.errors import BadInputError, SwardbookError, UnknownNameError
from swardbook.records.passwords import SHORTEST, hashed, is_right, require_strong
from swardbook.records.person import ROLES, Person
from swardbook.records.signing import signed_as

LASTS = timedelta(days=30)
"""How long a log-in holds."""
FORGOTTEN = timedelta(hours=24)
"""After how long without a wrong log-in the earlier ones are forgotten."""
LONGEST_NAME, LONGEST_INITIALS = 60, 5
"""Most letters of a name, and of initials."""
LEAST_SIGNS = SHORTEST
"""Least length of a password."""


@dataclass(frozen=True, slots=True)
class Slowed:
    """How wrong log-ins by one name, or from one address, slow down the next.

    Parameters
    ----------
    free : int
        How many wrong ones cost no wait.
    longest : timedelta
        The longest wait; nobody is locked out for ever.
    """

    free: int
    longest: timedelta

    def wait(self, wrong: int) -> timedelta:
        """Give the wait after so many wrong ones: each is twice the one before."""
        beyond = wrong - self.free
        if beyond < 0:
            return timedelta(0)
        return min(timedelta(seconds=2 ** min(beyond + 1, 20)), self.longest)


BY_NAME = Slowed(4, timedelta(minutes=1))
"""Short at the most, so that a stranger cannot keep somebody out by their name."""
BY_ADDRESS = Slowed(20, timedelta(minutes=15))
"""Several people may share an address."""


class WrongLogInError(SwardbookError):
    """Name and password do not belong together; which of them was wrong is not told."""

    def __str__(self) -> str:
        """Say so."""
        return "This name and this password do not belong together."


class WaitError(SwardbookError):
    """There were too many wrong log-ins; the next is looked at later."""

    def __init__(self, seconds: int) -> None:
        super().__init__(seconds)
        self.seconds = seconds

    def __str__(self) -> str:
        """Say how long to wait."""
        minutes = (self.seconds + 59) // 60
        wait = f"{self.seconds} seconds" if self.seconds <= 90 else f"{minutes} minutes"
        return (
            f"There were too many wrong log-ins by this name or from this address. Try again in"
            f" {wait}; nothing is looked at before."
        )


@dataclass(frozen=True, slots=True)
class LoggedIn:
    """A log-in that was right.

    Parameters
    ----------
    person : Person
        Who.
    token : str
        What the browser keeps; the book has its hash only.
    """

    person: Person
    token: str


def people(book: Book) -> tuple[Person, ...]:
    """List who has access to the ground."""
    return book.store.people().everyone()


def has_owner(book: Book) -> bool:
    """Tell whether anybody can log in as owner, of whichever ground."""
    return book.store.people().has_owner()


def initials_of(name: str) -> str:
    """Make initials from a name: the first letter of each word."""
    return "".join(word[0] for word in name.split())[:LONGEST_INITIALS].upper()


def read_role(text: str) -> str:
    """Read a role.

    Raises
    ------
    UnknownNameError
        If it is none.
    """
    plain = text.strip().casefold()
    if plain not in ROLES:
        raise UnknownNameError("role", text, ROLES)
    return plain


def check_account(name: str, initials: str, password: str) -> tuple[str, str]:
    """Read name and initials, and make sure that the password is strong; nothing is kept.

    Raises
    ------
    BadInputError
        If one of them will not do.
    """
    name = " ".join(name.split())
    initials = initials.strip() or initials_of(name)
    if not 1 <= len(name) <= LONGEST_NAME or not name.isprintable():
        raise BadInputError("the name", name, f"1 to {LONGEST_NAME} letters")
    if not 1 <= len(initials) <= LONGEST_INITIALS or not initials.isalnum():
        raise BadInputError("the initials", initials, f"1 to {LONGEST_INITIALS} letters")
    require_strong(password, [name])
    return name, initials


def add_person(
    book: Book, name: str, initials: str, role: str, password: str, now: datetime,
    must_change: bool = True,
) -> Person:  # fmt: skip
    """Let somebody in; who had access once comes back under the same name.

    Parameters
    ----------
    book : Book
        The opened book.
    name, initials : str
        Who; without initials they are made from the name.
    role : str
        ``owner``, ``worker`` or ``reader``.
    password : str
        The first password.
    now : datetime
        The time.
    must_change : bool
        Whether it is to be changed at the first log-in, since somebody else chose it.

    Raises
    ------
    BadInputError
        If a name or initials are taken, or the password is weak.
    UnknownNameError
        If there is no such role.
    """
    known = read_role(role)
    name, initials = check_account(name, initials, password)
    there = book.store.people()
    secret = hashed(password)
    with there.together():
        made = there.gone(name)
        if made is None:
            made = there.add(name, initials, secret, must_change, now)
        else:
            there.set_secret(made, secret, must_change)
        there.set_role(made, known)
    return there.named(name)


def change_role(book: Book, name: str, role: str, is_own_machine: bool = False) -> Person:
    """Change what somebody is to the ground.

    Parameters
    ----------
    book : Book
        The opened book.
    name, role : str
        Who, and what they are from now on.
    is_own_machine : bool
        Whether it is asked at the machine that holds the book; then also somebody who has
        access to other grounds only is let in here.

    Raises
    ------
    UnknownNameError
        If nobody of that name has access, or there is no such role.
    BadInputError
        If the ground would be left without an owner.
    """
    known, there = read_role(role), book.store.people()
    person = _of_this_ground(book, name) if not is_own_machine else there.named(name)
    there.set_role(person, known)
    return replace(person, role=known)


def end_access(book: Book, name: str) -> Person:
    """End somebody's access to the ground; what they wrote stays, under their initials.

    Raises
    ------
    UnknownNameError
        If nobody of that name has access.
    BadInputError
        If the ground would be left without an owner.
    """
    person = _of_this_ground(book, name)
    book.store.people().set_role(person, "")
    return replace(person, role="")


def _of_this_ground(book: Book, name: str) -> Person:
    there = book.store.people()
    names = [each.name for each in there.everyone()]
    try:
        person = there.named(name)
    except UnknownNameError:
        raise UnknownNameError("person", name, names) from None
    if not person.role:
        raise UnknownNameError("person", name, names)
    return person


def give_password(book: Book, name: str, password: str, is_own_machine: bool = False) -> Person:
    """Give somebody a new first password, to be changed at the next log-in.

    Parameters
    ----------
    book : Book
        The opened book.
    name : str
        Who.
    password : str
        The new password.
    is_own_machine : bool
        Whether it is asked at the machine that holds the book; an owner of one ground does not
        choose the password of somebody who has access to others.

    Raises
    ------
    BadInputError
        If the password is weak, or the person has access to other grounds too.
    """
    there, person = book.store.people(), _of_this_ground(book, name)
    if not is_own_machine and there.has_other_grounds(person):
        raise BadInputError(
            "the person", name, "somebody who has access to this ground and to no other",
            "On the machine that holds the book: swardbook people new-password.",
        )  # fmt: skip
    require_strong(password, [person.name])
    there.set_secret(person, hashed(password), must_change=True)
    return person


def change_password(
    book: Book, name: str, old: str, new: str, again: str, now: datetime
) -> LoggedIn:
    """Change one's own password; every log-in of this person ends, and a new one begins.

    Raises
    ------
    WrongLogInError
        If the old one is not right.
    WaitError
        If it was wrong too often.
    BadInputError
        If the new one is weak, the old one, or was typed differently the second time.
    """
    there = book.store.people()
    with there.together():
        count_try(book, {(key := f"own password {name}"): BY_NAME}, now)
    if not is_right(old, there.secret_of(name)):
        raise WrongLogInError
    there.forget_tries(key)
    if new != again:
        raise BadInputError("the new password", "two that differ", "the same twice")
    if new == old:
        raise BadInputError("the new password", "the old one", "another")
    require_strong(new, [name])
    token = secrets.token_urlsafe(32)
    with there.together():
        there.set_secret(there.named(name), hashed(new), must_change=False)
        return LoggedIn(there.begin_session(name, token, now, LASTS), token)


def log_in(book: Book, name: str, password: str, address: str, now: datetime) -> LoggedIn:
    """Let somebody in by name and password.

    A log-in counts as wrong before the password is looked at, so that many at once are not free.

    Raises
    ------
    WaitError
        If there were too many wrong ones; nothing was looked at.
    WrongLogInError
        If they do not belong together.
    """
    there = book.store.people()
    by_name, by_address = f"name {' '.join(name.split()).casefold()}", f"address {address}"
    with there.together():
        count_try(book, {by_name: BY_NAME, by_address: BY_ADDRESS}, now)
    if not is_right(password, there.secret_of(name)):
        raise WrongLogInError
    token = secrets.token_urlsafe(32)
    with there.together():
        there.forget_tries(by_name, before=now - FORGOTTEN)
        if (counted := there.wrong_tries(by_address)) is not None:
            there.put_tries(by_address, counted[0] - 1, now, now)
        person = there.begin_session(name, token, now, LASTS)
    return LoggedIn(person, token)


def count_try(book: Book, keys: dict[str, Slowed], now: datetime) -> None:
    """Count a try against each key, or refuse it while one of them still waits.

    Raises
    ------
    WaitError
        If one of them waits.
    """
    there = book.store.people()
    found = {key: there.wrong_tries(key) for key in keys}
    wait = max((each[2] - now for each in found.values() if each), default=timedelta(0))
    if wait > timedelta(0):
        raise WaitError(max(1, round(wait.total_seconds())))
    for key, slowed in keys.items():
        was = found[key]
        wrong = 1 + (was[0] if was and now - was[1] < FORGOTTEN else 0)
        there.put_tries(key, wrong, now, now + slowed.wait(wrong))


def who_is(book: Book, token: str, now: datetime) -> Person | None:
    """Give who is logged in by a token; None where nobody is, or not any more."""
    return book.store.people().of_session(token, now)


def roles_of(book: Book, name: str) -> Mapping[str, str]:
    """Give what somebody is to each ground of the book, by its short name.

    Raises
    ------
    UnknownNameError
        If there is none of that name.
    """
    there = book.store.people()
    return there.roles_of(there.named(name))


def log_out(book: Book, token: str) -> None:
    """Forget a log-in."""
    book.store.people().end_session(token)


def writing_as(initials: str) -> AbstractContextManager[None]:
    """Let entries that are written inside and name nobody carry the initials of who is logged in.

    Parameters
    ----------
    initials : str
        Theirs; empty for nobody.
    """
    return signed_as(initials)
