"""A second factor: a code of six digits that changes, from the person's own phone.

The secret is in no file. It is made from a random seed in the book and a key beside the book, so
that a copy of the book alone does not hold it; and in the person's phone.
"""

from __future__ import annotations

import base64
import hmac
import os
import secrets
from dataclasses import dataclass
from datetime import datetime
from hashlib import sha256

from swardbook.book.opening import Book
from swardbook.book.people import (
    LASTS,
    LoggedIn,
    WrongLogInError,
    require_all_of,
    require_own_password,
)
from swardbook.book.waits import BY_ADDRESS, BY_CODE, count_try, was_right
from swardbook.figures.squares import square_as_data
from swardbook.foundation.errors import BadInputError, RefusedError, StorageError
from swardbook.handbook.parameters import value
from swardbook.records.files import make_private_folder
from swardbook.records.passwords import hashed, is_right
from swardbook.records.person import Person
from swardbook.settings import Settings

RECOVERY_CODES = 8
"""How many recovery codes there are."""
_LETTERS = "bcdfghkmnpqrtvwxz"
_DRIFT = (0, -1, 1)
"""Steps that are looked at: a phone's clock may be half a minute off."""
_KEY_BYTES, _SECRET_BYTES = 32, 20


class WrongCodeError(BadInputError):
    """The code does not fit; which codes would is not told."""

    def __init__(self, hint: str = "") -> None:
        super().__init__("the code", "another", "the six digits that the phone shows now", hint)

    def __str__(self) -> str:
        """Say so, and the likely slip."""
        slip = self.hint or "Is the phone's clock right? Each code is good once."
        return f"This code does not fit. {slip}"


@dataclass(frozen=True, slots=True)
class Begun:
    """A second factor to be set up on a phone; shown once.

    Parameters
    ----------
    secret : str
        To be typed where no camera is at hand, in groups of four.
    address : str
        What the square picture says.
    picture : str
        The square picture, as an address of data.
    """

    secret: str
    address: str
    picture: str


@dataclass(frozen=True, slots=True)
class Standing:
    """How it stands with somebody's second factor.

    Parameters
    ----------
    is_on : bool
        Whether it is asked for.
    recovery_left : int
        Recovery codes that were not used.
    """

    is_on: bool
    recovery_left: int


def standing(book: Book, name: str) -> Standing:
    """Tell how it stands with somebody's second factor."""
    there = book.store.people()
    person, rows = there.named(name), there.second_factors()
    found = rows.of(person.key)
    return Standing(found is not None and found.is_on, rows.recovery_left(person.key))


def begin(book: Book, name: str, password: str, now: datetime) -> Begun:
    """Begin to set one up: nothing is asked for until its first code was right.

    Raises
    ------
    WrongLogInError
        If the password is not right.
    RefusedError
        If there is one already.
    """
    require_own_password(book, name, password, now)
    there = book.store.people()
    person, rows = there.named(name), there.second_factors()
    if (was := rows.of(person.key)) is not None and was.is_on:
        raise RefusedError(
            "Nothing was changed", "there is a second factor already.", "End it first."
        )
    seed, key = secrets.token_hex(16), _key(book.settings)
    with there.together():
        rows.begin(person.key, seed, _mark_of(key), now)
    secret = _secret(key, seed)
    address = _address(secret, person.name, book)
    return Begun(" ".join(secret[n : n + 4] for n in range(0, len(secret), 4)), address,
                 square_picture(address))  # fmt: skip


def turn_on(book: Book, name: str, code: str, now: datetime) -> tuple[str, ...]:
    """Let it be asked for from now on, since its first code is right; gives the recovery codes.

    Raises
    ------
    WrongCodeError
        If the code does not fit.
    WaitError
        If it was wrong too often.
    """
    there = book.store.people()
    person = there.named(name)
    count_try(book, {(counted := f"second factor {person.key}"): BY_CODE}, now)
    if not _fits(book, person, code, now, is_on=False):
        raise WrongCodeError
    there.forget_tries(counted)
    made = _recovery_codes()
    hashes = [hashed(_plain(each)) for each in made]
    with there.together():
        there.second_factors().turn_on(person.key, hashes)
        there.record().add("second factor switched on", person.key, of_the_book=True)
    return tuple(f"{number}-{each}" for number, each in enumerate(made, 1))


def renew_recovery(book: Book, name: str, password: str, now: datetime) -> tuple[str, ...]:
    """Give new recovery codes in place of the old ones.

    Raises
    ------
    WrongLogInError
        If the password is not right.
    RefusedError
        If there is no second factor.
    """
    require_own_password(book, name, password, now)
    there = book.store.people()
    person, rows = there.named(name), there.second_factors()
    if not rows.is_on(person.key):
        raise RefusedError("Nothing was changed", "there is no second factor.", "Set one up first.")
    made = _recovery_codes()
    hashes = [hashed(_plain(each)) for each in made]
    with there.together():
        rows.put_recovery(person.key, hashes)
        there.record().add("recovery codes renewed", person.key, of_the_book=True)
    return tuple(f"{number}-{each}" for number, each in enumerate(made, 1))


def end_own(book: Book, name: str, password: str, now: datetime) -> None:
    """Ask for no second factor any more.

    Raises
    ------
    WrongLogInError
        If the password is not right.
    """
    require_own_password(book, name, password, now)
    _end(book, book.store.people().named(name))


def end_for(book: Book, name: str, asker: int | None) -> Person:
    """Switch somebody's second factor off, whose phone is lost; it stands in the record.

    Parameters
    ----------
    book : Book
        The opened book.
    name : str
        Whose.
    asker : int or None
        Which owner asks, by their number; None: whoever sits at the machine.

    Raises
    ------
    BadInputError
        If the person has access to grounds of another owner.
    """
    person = book.store.people().named(name)
    require_all_of(book, asker, person)
    _end(book, person)
    return person


def _end(book: Book, person: Person) -> None:
    there = book.store.people()
    with there.together():
        if not there.second_factors().drop(person.key):
            raise RefusedError("Nothing was changed", "there is no second factor.")
        there.record().add("second factor switched off", person.key, of_the_book=True)


def waits_for_code(book: Book, token: str, now: datetime) -> Person | None:
    """Give who is half logged in by a token; None where nobody is, or not any more."""
    return book.store.people().of_session(token, now, is_half=True) if token else None


def finish_log_in(
    book: Book, half: str, code: str, address: str, now: datetime, device: str = ""
) -> LoggedIn:
    """Let somebody in whose password was right, by the code on their phone or a recovery code.

    Raises
    ------
    WrongLogInError
        If nobody is half logged in by this token.
    WrongCodeError
        If the code does not fit, or was used before.
    WaitError
        If there were too many wrong ones; nothing was looked at.
    """
    there = book.store.people()
    person = waits_for_code(book, half, now)
    if person is None:
        raise WrongLogInError
    by_code, by_address = f"second factor {person.key}", f"address {address}"
    count_try(book, {by_code: BY_CODE, by_address: BY_ADDRESS}, now)
    used = _use(book, person, code, now)
    if not used:
        there.record().add("second factor refused", person.key, of_the_book=True)
        raise WrongCodeError(_other_key(book, person))
    token = secrets.token_urlsafe(32)
    with there.together():
        was_right(book, by_code, by_address, now)
        there.end_session(half)
        if used == "recovery":
            there.record().add("recovery code used", person.key, of_the_book=True)
        return LoggedIn(there.begin_session(person.name, token, now, LASTS, device), token)


def on_here(book: Book) -> frozenset[int]:
    """Give the numbers of those with access to the ground whose second factor is on."""
    there = book.store.people()
    return there.second_factors().on_at(there.key())


def _use(book: Book, person: Person, code: str, now: datetime) -> str:
    """Use a code up; gives how it was known, nothing where it does not fit."""
    if code.strip()[:1].isdigit() and any(map(str.isalpha, code)):
        number, _, rest = code.strip().partition("-")
        rows = book.store.people().second_factors()
        kept = rows.recovery(person.key, int(number)) if number.isdecimal() else None
        if kept is None or not is_right(_plain(rest), kept):
            return ""
        return "recovery" if rows.use_recovery(person.key, int(number), now) else ""
    return "code" if _fits(book, person, code, now, is_on=True) else ""


def _fits(book: Book, person: Person, code: str, now: datetime, is_on: bool) -> bool:
    """Tell whether a code is one of now, and use it up: no code of its step is right again."""
    rows = book.store.people().second_factors()
    found = rows.of(person.key)
    if found is None or found.is_on is not is_on:
        return False
    secret, typed = _secret(_key(book.settings), found.seed), "".join(code.split())
    here = int(now.timestamp()) // int(value("second_factor_step_s"))
    for drift in _DRIFT:
        if hmac.compare_digest(code_at(secret, here + drift).encode(), typed.encode()):
            return rows.take_step(person.key, here + drift)
    return False


def code_at(secret: str, step: int, digits: int | None = None) -> str:
    """Give the code of a time step, as a phone shows it.

    Parameters
    ----------
    secret : str
        The secret, in base 32.
    step : int
        Number of the step since 1970.
    digits : int or None
        How many digits; None: as the handbook says.
    """
    import pyotp

    many = digits or int(value("second_factor_digits"))
    return pyotp.TOTP(secret, digits=many).generate_otp(step)


def square_picture(text: str) -> str:
    """Draw a text as a square picture for a phone's camera, as an address of data for a page.

    Parameters
    ----------
    text : str
        What it says.
    """
    return square_as_data(text)


def _address(secret: str, name: str, book: Book) -> str:
    import pyotp

    site = book.store.site()
    issuer = f"swardbook {site.name}" if site else "swardbook"
    return pyotp.TOTP(secret).provisioning_uri(name=name, issuer_name=issuer.replace(":", " "))


def _recovery_codes() -> list[str]:
    return [
        "-".join("".join(secrets.choice(_LETTERS) for _ in range(4)) for _ in range(3))
        for _ in range(RECOVERY_CODES)
    ]


def _plain(code: str) -> str:
    return "".join(filter(str.isalpha, code.casefold()))


def _secret(key: bytes, seed: str) -> str:
    made = hmac.new(key, f"second factor {seed}".encode(), sha256).digest()
    return base64.b32encode(made[:_SECRET_BYTES]).decode("ascii")


def _mark_of(key: bytes) -> str:
    return hmac.new(key, b"mark of the key", sha256).hexdigest()[:12]


def _other_key(book: Book, person: Person) -> str:
    """Say so where the key beside the book is another than when it was set up."""
    found = book.store.people().second_factors().of(person.key)
    if found is None or found.key_mark == _mark_of(_key(book.settings)):
        return ""
    return (
        "The file second-factor.key beside the book is another one than when this was set up: use a"
        " recovery code, or ask an owner to switch the second factor off."
    )


def _key(settings: Settings) -> bytes:
    """Give the key beside the book; made once, whole or not at all, for its owner alone."""
    file = settings.home / "second-factor.key"
    try:
        if not file.exists():
            make_private_folder(settings.home)
            made = file.with_name(f".{file.name}.{secrets.token_hex(4)}")
            handle = os.open(made, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600)
            with os.fdopen(handle, "w", encoding="ascii") as written:
                written.write(f"{secrets.token_hex(_KEY_BYTES)}\n")
                written.flush()
                os.fsync(written.fileno())
            try:
                os.link(made, file)
            except FileExistsError:
                pass  # another process made it in the same moment
            finally:
                made.unlink()
        return bytes.fromhex(file.read_text("ascii").strip())
    except (OSError, ValueError) as slip:
        raise StorageError(str(file), str(getattr(slip, "strerror", "") or slip)) from slip
