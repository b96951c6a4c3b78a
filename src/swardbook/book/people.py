"""People: let in with a name and a password, as owner, worker or reader of a ground."""

from __future__ import annotations

import secrets
from collections.abc import Mapping
from contextlib import AbstractContextManager
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from swardbook.book.opening import Book
from swardbook.book.waits import BY_ADDRESS, BY_NAME, count_try, was_right
from swardbook.foundation.errors import BadInputError, SwardbookError, UnknownNameError
from swardbook.records.passwords import SHORTEST, hashed, is_right, require_strong
from swardbook.records.person import ROLES, Person
from swardbook.records.signing import signed_as

Somebody = Person
"""The type of a person, for who shows them."""
LASTS = timedelta(days=30)
"""How long a log-in holds."""
HALF_LASTS = timedelta(minutes=5)
"""How long a second factor is waited for."""
LONGEST_NAME, LONGEST_INITIALS = 60, 5
"""Most letters of a name, and of initials."""
LEAST_SIGNS = SHORTEST
"""Least length of a password."""


class WrongLogInError(SwardbookError):
    """Name and password do not belong together; which of them was wrong is not told."""

    def __str__(self) -> str:
        """Say so."""
        return "This name and this password do not belong together."


@dataclass(frozen=True, slots=True)
class LoggedIn:
    """A log-in that was right.

    Parameters
    ----------
    person : Person
        Who.
    token : str
        What the browser keeps; the book has its hash only.
    is_half : bool
        Whether the second factor is still asked for; until then the token opens nothing.
    """

    person: Person
    token: str
    is_half: bool = False


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

    The first owner of a book owns every ground that is in it.

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
        is_first = known == "owner" and not there.has_owner()
        there.set_role(made, known)
        for ground in book.store.grounds() if is_first else ():
            if ground.slug:
                book.store.at(ground.slug).people().set_role(made, known)
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


def end_access(book: Book, name: str, until: datetime | None = None) -> Person:
    """End somebody's access to the ground; what they wrote stays, under their initials.

    Parameters
    ----------
    book : Book
        The opened book.
    name : str
        Who.
    until : datetime or None
        Until when what still waits on their phone is taken, to be decided about; None: not at all.

    Raises
    ------
    UnknownNameError
        If nobody of that name has access.
    BadInputError
        If the ground would be left without an owner.
    """
    person = _of_this_ground(book, name)
    book.store.people().set_role(person, "", until)
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


def owns_all_of(book: Book, asker: int | None, person: Person) -> bool:
    """Tell whether somebody owns every ground to which a person has access.

    Parameters
    ----------
    book : Book
        The opened book.
    asker : int or None
        Who, by their number; None: whoever sits at the machine, who owns all.
    person : Person
        About whom it is.
    """
    if asker is None:
        return True
    there = book.store.people()
    theirs = there.grounds_of(there.numbered(asker))
    return all(theirs.get(ground) == "owner" for ground in there.grounds_of(person))


def require_all_of(book: Book, asker: int | None, person: Person) -> None:
    """Make sure that somebody may decide about the account of a person.

    Raises
    ------
    BadInputError
        If the person has access to a ground of another owner.
    """
    if not owns_all_of(book, asker, person):
        raise BadInputError(
            "the person", person.name, "somebody with access to grounds of yours and no other",
            "On the machine that holds the book, the commands of swardbook people do it.",
        )  # fmt: skip


def give_password(book: Book, name: str, password: str, asker: int | None) -> Person:
    """Give somebody a new first password, to be changed at the next log-in.

    Parameters
    ----------
    book : Book
        The opened book.
    name : str
        Who.
    password : str
        The new password.
    asker : int or None
        Which owner asks, by their number; None: whoever sits at the machine.

    Raises
    ------
    BadInputError
        If the password is weak, or the person has access to grounds of another owner.
    """
    there, person = book.store.people(), _of_this_ground(book, name)
    require_all_of(book, asker, person)
    require_strong(password, [person.name])
    there.set_secret(person, hashed(password), must_change=True)
    return person


def change_password(
    book: Book, name: str, old: str, new: str, again: str, now: datetime, device: str = ""
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
    require_own_password(book, name, old, now)
    if new != again:
        raise BadInputError("the new password", "two that differ", "the same twice")
    if new == old:
        raise BadInputError("the new password", "the old one", "another")
    require_strong(new, [name])
    token = secrets.token_urlsafe(32)
    with there.together():
        there.set_secret(there.named(name), hashed(new), must_change=False)
        return LoggedIn(there.begin_session(name, token, now, LASTS, device), token)


def require_own_password(book: Book, name: str, password: str, now: datetime) -> None:
    """Ask somebody who is logged in for their password again, before something that matters.

    Raises
    ------
    WrongLogInError
        If it is not right.
    WaitError
        If it was wrong too often.
    """
    there = book.store.people()
    count_try(book, {(key := f"own password {name}"): BY_NAME}, now)
    if not is_right(password, there.secret_of(name)):
        raise WrongLogInError
    there.forget_tries(key)


def log_in(
    book: Book, name: str, password: str, address: str, now: datetime, device: str = ""
) -> LoggedIn:
    """Let somebody in by name and password; half, where they have a second factor.

    A log-in counts as wrong before the password is looked at, so that many at once are not free.

    Parameters
    ----------
    book : Book
        The opened book.
    name, password : str
        As typed.
    address : str
        From where it is asked.
    now : datetime
        The time.
    device : str
        What is logged in, in a few words.

    Raises
    ------
    WaitError
        If there were too many wrong ones; nothing was looked at.
    WrongLogInError
        If they do not belong together.
    """
    there = book.store.people()
    by_name, by_address = f"name {' '.join(name.split()).casefold()}", f"address {address}"
    count_try(book, {by_name: BY_NAME, by_address: BY_ADDRESS}, now)
    secret = there.secret_of(name)
    if not is_right(password, secret):
        there.record().add_refused(None if secret is None else there.named(name).key)
        raise WrongLogInError
    token = secrets.token_urlsafe(32)
    with there.together():
        was_right(book, by_name, by_address, now)
        is_half = there.second_factors().is_on(there.named(name).key)
        lasts = HALF_LASTS if is_half else LASTS
        person = there.begin_session(name, token, now, lasts, device, is_half)
    return LoggedIn(person, token, is_half)


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
