"""A ground begun in one go: its place, its first zone and, where others are let in, its owner."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from swardbook.book.fields import quantity
from swardbook.book.ground import (
    MOWERS,
    add_zone,
    begin,
    default_tolerance,
    read_site,
    read_use,
    with_typed,
)
from swardbook.book.opening import Book, Clock
from swardbook.book.people import add_person, check_account
from swardbook.book.shapes import read_area
from swardbook.foundation.errors import BadInputError, OutOfRangeError
from swardbook.handbook.cautions import Caution, cautions, cautions_for
from swardbook.husbandry.ground import Site, Use, Zone
from swardbook.settings import Settings

FIELDS = ("site", "latitude", "elevation", "units", "zone", "size", "use", "height", "mower", "box")
"""What is typed."""
USES = tuple(each.value for each in Use if each not in {Use.TRIAL, Use.NURSERY})
"""What a first zone may be for; trials and nurseries come later."""
_WORDS = {
    "--name": "The name of the ground", "--latitude": "The latitude",
    "--elevation": "The height above the sea", "--units": "The units",
    "--height-of-cut": "The height of cut", "--mower": "The mower", "--box": "The box",
    "--area": "The size", "--sides": "The size", "the size": "The size",
}  # fmt: skip
_SIZE = "an area such as 240 or 200 yd2, or sides such as 32x25.6"


@dataclass(frozen=True, slots=True)
class Account:
    """The first owner's account, as typed."""

    name: str
    initials: str
    password: str
    again: str


def begin_ground(
    settings: Settings, clock: Clock, typed: Mapping[str, str], account: Account | None,
    now: datetime,
) -> Book:  # fmt: skip
    """Begin a book with a ground, a first zone and perhaps its owner's account.

    Everything is read before anything is made, so that a slip leaves no half of it.

    Parameters
    ----------
    settings : Settings
        How this installation is set.
    clock : Clock
        The day.
    typed : mapping of str
        What was typed, by `FIELDS`.
    account : Account or None
        The owner's; None where only this machine is served.
    now : datetime
        The time.

    Raises
    ------
    BadInputError
        If something cannot be read; `what` names the field as a page calls it.
    OutOfRangeError
        If a number lies outside what a ground can have.
    UnknownNameError
        If there is no such use.
    """
    try:
        site, zone = _read(typed)
        if account is not None:
            check(account)
        book = begin(settings, clock, site)
    except BadInputError as slip:
        if slip.what not in _WORDS:
            raise
        what = _WORDS[slip.what]
        allowed = _SIZE if what == "The size" else slip.allowed
        hint = "" if "--" in slip.hint else slip.hint
        raise BadInputError(what, slip.read, allowed, hint) from slip
    except OutOfRangeError as slip:
        name = f"The {slip.name}"
        raise OutOfRangeError(name, slip.value, slip.allowed, slip.unit, slip.hint) from slip
    with book.store.together():
        add_zone(book, zone)
        if account is not None:
            make_owner(book, account, now)
    return book


def check(account: Account) -> None:
    """Make sure that an account can be made; nothing is kept.

    Raises
    ------
    BadInputError
        If a name or the password will not do, or was typed differently the second time.
    """
    if account.password != account.again:
        raise BadInputError("the password", "two that differ", "the same twice")
    check_account(account.name, account.initials, account.password)


def make_owner(book: Book, account: Account, now: datetime) -> None:
    """Make the first owner's account.

    Raises
    ------
    BadInputError
        If it will not do.
    """
    check(account)
    add_person(
        book, account.name, account.initials, "owner", account.password, now, must_change=False
    )


def first_cautions() -> tuple[tuple[Caution, ...], tuple[Caution, ...]]:
    """Give the cautions before anything is begun: those of every cut, and all the others."""
    first = tuple(each for each in cautions_for("cut") if not each.when)
    return first, tuple(each for each in cautions().values() if each not in first)


def _read(typed: Mapping[str, str]) -> tuple[Site, Zone]:
    given = {name: typed.get(name, "").strip() for name in FIELDS}
    site = read_site(
        given["site"], given["latitude"], given["elevation"] or "0", units=given["units"]
    )
    if not given["zone"]:
        raise BadInputError("The name of the lawn", "nothing", "a name, such as Front lawn")
    by_tape = re.search(r"x|×|\bby\b|across|every", given["size"].casefold())
    area = read_area(*(("", given["size"]) if by_tape else (given["size"], "")))
    use = read_use(given["use"])
    mower = given["mower"].casefold()
    if mower and mower not in MOWERS:
        raise BadInputError("--mower", given["mower"], " or ".join(MOWERS))
    zone = with_typed(
        Zone(given["zone"], round(area, 4), use, default_tolerance(use),
             quantity(given["height"], "mm", "--height-of-cut")),
        {"mower": mower, "box": given["box"]},
    )  # fmt: skip
    return site, zone
