"""Passwords: hashed with Argon2, refused where they are short or common."""

from __future__ import annotations

from collections.abc import Sequence

from swardbook.foundation.errors import BadInputError

SHORTEST = 12
"""Least length of a password. [signs]"""
LONGEST = 500
"""Most that is hashed, so that nobody keeps the machine busy with a book. [signs]"""


def hashed(password: str) -> str:
    """Hash a password with a salt of its own."""
    from django.contrib.auth.hashers import make_password

    return make_password(password)


def is_right(password: str, secret: str | None) -> bool:
    """Tell whether a password is the one of a hash; without a hash it takes as long, and is not.

    Parameters
    ----------
    password : str
        As typed.
    secret : str or None
        The hash; None where nobody has that name.
    """
    from django.contrib.auth.hashers import check_password

    if secret is None:
        hashed(password[:LONGEST])
        return False
    return check_password(password[:LONGEST], secret)


def require_strong(password: str, others: Sequence[str] = ()) -> None:
    """Refuse a password that is short, common, only digits, or made of a name.

    Parameters
    ----------
    password : str
        As typed; never shown again.
    others : sequence of str
        Names that it must not be made of.

    Raises
    ------
    BadInputError
        With what is wrong; the password itself is not in the sentence.
    """
    from django.contrib.auth.password_validation import CommonPasswordValidator
    from django.core.exceptions import ValidationError

    slip = ""
    if not SHORTEST <= len(password) <= LONGEST:
        slip = f"{len(password)} signs"
    elif len(set(password.casefold())) < 5 or password.isdigit():
        slip = "digits only, or the same few signs"
    elif any(_is_made_of(password, each) for each in others):
        slip = "a name that others know"
    else:
        try:
            CommonPasswordValidator().validate(password)
        except ValidationError:
            slip = "one of the commonest passwords"
    if slip:
        raise BadInputError(
            "the password", slip, f"{SHORTEST} signs or more that nobody guesses",
            "Four words that have nothing to do with each other are easy to type, hard to guess.",
        )  # fmt: skip


def _is_made_of(password: str, name: str) -> bool:
    plain = "".join(filter(str.isalnum, name.casefold()))
    left = "".join(filter(str.isalnum, password.casefold())).replace(plain, "") if plain else "ok"
    return len(plain) >= 4 and len(left) < SHORTEST / 2
