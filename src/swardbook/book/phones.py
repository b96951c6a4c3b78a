"""Phones and desks on which somebody is logged in: listed, and ended one by one."""

from __future__ import annotations

import re
from datetime import datetime

from swardbook.book.opening import Book
from swardbook.book.people import require_all_of
from swardbook.records.person import Person
from swardbook.records.phones import Phone

_SYSTEMS = (
    ("iPhone", "iPhone"), ("iPad", "iPad"), ("Android", "Android"), ("Windows", "Windows"),
    ("CrOS", "Chromebook"), ("Macintosh", "Mac"), ("Linux", "Linux"),
)  # fmt: skip
_BROWSERS = (
    (r"Edg[A-Z]?\w*/", "Edge"), (r"OPR/", "Opera"), (r"SamsungBrowser/", "Samsung Internet"),
    (r"Firefox/|FxiOS/", "Firefox"), (r"Chrom(?:e|ium)/|CriOS/", "Chrome"), (r"Safari/", "Safari"),
)  # fmt: skip


def device_of(told: str) -> str:
    """Name a phone or desk in a few words, by what its browser tells of itself.

    Parameters
    ----------
    told : str
        The browser's own words, of which nothing but a known system and browser is kept.
    """
    system = next((name for word, name in _SYSTEMS if word in told), "")
    browser = next((name for word, name in _BROWSERS if re.search(word, told)), "")
    return ", ".join(filter(None, (system, browser)))


def own_phones(book: Book, name: str, now: datetime, token: str = "") -> tuple[Phone, ...]:
    """List where somebody is logged in, the latest seen first.

    Parameters
    ----------
    book : Book
        The opened book.
    name : str
        Who.
    now : datetime
        The time.
    token : str
        Of the log-in that asks, which is marked as this one.
    """
    there = book.store.people()
    return there.phones().of(there.named(name).key, now, token)


def phones_here(book: Book, now: datetime) -> dict[int, tuple[Phone, ...]]:
    """Give where those with access to the ground are logged in, by their numbers; if they are."""
    there = book.store.people()
    found: dict[int, tuple[Phone, ...]] = {}
    for each in there.phones().at(there.key(), now):
        found[each.person] = (*found.get(each.person, ()), each)
    return found


def end_own_phone(book: Book, name: str, key: int) -> str:
    """End one's own log-in on one phone; gives what it was.

    Raises
    ------
    UnknownNameError
        If there is none of that number.
    """
    return _end(book, book.store.people().named(name), key)


def end_other_phones(book: Book, name: str, token: str) -> int:
    """End all log-ins of one's own but the one that asks; gives how many."""
    there = book.store.people()
    person = there.named(name)
    with there.together():
        many = there.phones().end_others(person.key, token)
        if many:
            there.record().add("log-in ended", person.key, f"{many}", of_the_book=True)
        return many


def end_phone_of(book: Book, name: str, key: int, asker: int | None) -> str:
    """End somebody's log-in on one phone; gives what it was.

    Parameters
    ----------
    book : Book
        The opened book.
    name : str
        Whose.
    key : int
        Number of the log-in.
    asker : int or None
        Which owner asks, by their number; None: whoever sits at the machine.

    Raises
    ------
    UnknownNameError
        If they have none of that number.
    BadInputError
        If the person has access to grounds of another owner.
    """
    person = book.store.people().named(name)
    require_all_of(book, asker, person)
    return _end(book, person, key)


def _end(book: Book, person: Person, key: int) -> str:
    there = book.store.people()
    with there.together():
        device = there.phones().end(person.key, key)
        there.record().add("log-in ended", person.key, device, of_the_book=True)
        return device
