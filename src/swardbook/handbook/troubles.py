"""What goes wrong in a sward's first year, as data: signs, weather, checks and what helps."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.foundation.provenance import Grade, Sourced
from swardbook.foundation.tables import read_toml_table
from swardbook.handbook.parameters import parameter

KINDS = ("disease", "pest", "weather", "care")


@dataclass(frozen=True, slots=True)
class Trouble:
    """One thing that may be wrong.

    Parameters
    ----------
    key : str
        Its name in the handbook.
    english : str
        Its name as shown.
    called : tuple of str
        Parts of words that a diary may call it by.
    kind : str
        ``disease``, ``pest``, ``weather`` or ``care``.
    usual, sometimes : tuple of str
        Signs that are mostly there, and those that are there now and then.
    weather : tuple of str
        Weather, season and stage that it wants, by name; all of them.
    favours : tuple of str
        What makes it likelier, by name; each for itself.
    check : str
        What separates it from the rest.
    do, not_do : str
        What helps without any product, and what is not done.
    source, where : str
        The work it rests on, and the place in it.
    grade : Grade
        How far to trust it.
    """

    key: str
    english: str
    called: tuple[str, ...]
    kind: str
    usual: tuple[str, ...]
    sometimes: tuple[str, ...]
    weather: tuple[str, ...]
    favours: tuple[str, ...]
    check: str
    do: str
    not_do: str
    source: str
    where: str
    grade: Grade

    @property
    def weight(self) -> Sourced:
        """How common it is in a first year, relative to the others [-]."""
        return parameter(f"trouble.weight.{self.key}")


@cache
def signs() -> Mapping[str, str]:
    """Read every sign with its words."""
    found: Mapping[str, str] = _table()["signs"]
    return found


@cache
def telling_signs() -> frozenset[str]:
    """Read the signs that hardly anything else has.

    Raises
    ------
    BadInputError
        If one is no sign.
    """
    found = frozenset(_table()["telling"])
    if strange := found - set(signs()):
        raise BadInputError("troubles.toml, telling", sorted(strange), "signs of [signs]")
    return found


@cache
def troubles() -> Mapping[str, Trouble]:
    """Read everything that may be wrong, by key.

    Raises
    ------
    BadInputError
        If an entry is incomplete, or names a sign, kind or grade that there is not.
    """
    found = {}
    for key, entry in _table()["troubles"].items():
        try:
            usual, sometimes = tuple(entry["usual"]), tuple(entry["sometimes"])
            strange = {*usual, *sometimes} - set(signs())
            if strange or entry["kind"] not in KINDS:
                raise ValueError(f"{sorted(strange)} {entry['kind']}")
            found[key] = Trouble(
                key, entry["english"], tuple(entry["called"]), entry["kind"], usual, sometimes,
                tuple(entry["weather"]), tuple(entry["favours"]),
                entry["check"], entry["do"], entry["not_do"], entry["source"], entry["where"],
                Grade(entry["grade"]),
            )  # fmt: skip
        except (KeyError, ValueError) as slip:
            raise BadInputError(
                f"troubles.toml [{key}]", str(slip), "signs, weather, check, do, not_do and source"
            ) from slip
    return found


def trouble_called(name: str) -> Trouble | None:
    """Find a trouble by what a diary calls it, the longest part first; None if not listed."""
    words = name.casefold()
    known = [
        (len(part), each) for each in troubles().values() for part in each.called if part in words
    ]
    return max(known, key=lambda found: found[0])[1] if known else None


def find_sign(typed: str) -> str:
    """Find a sign by its name, or by the trouble it is the first sign of.

    Raises
    ------
    UnknownNameError
        If there is none; offers the nearest.
    """
    folded = {_folded(name): name for name in signs()}
    found = folded.get(_folded(typed))
    called = trouble_called(typed)
    if found is None and called is not None:
        return called.usual[0]
    if found is None:
        raise UnknownNameError("sign", typed.strip(), signs())
    return found


def fed_and_starved() -> tuple[frozenset[str], frozenset[str]]:
    """Give the troubles whose help is a feed, and those that a feed makes worse, by key."""
    table = _table()
    return frozenset(table["feeds"]), frozenset(table["starves"])


def _folded(text: str) -> str:
    return "".join(letter for letter in text.casefold() if letter.isalnum())


def _table() -> Mapping[str, Any]:
    return read_toml_table(files("swardbook.handbook") / "data" / "troubles.toml")
