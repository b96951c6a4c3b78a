"""Fields of a diary entry as a person types them, read by the type and unit of each field."""

from __future__ import annotations

import json
import re
import types
import typing
from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any, cast

from swardbook.foundation.dates import read_day
from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.foundation.quantities import (
    celsius_from_fahrenheit,
    convert,
    known_unit,
    read_number,
    read_quantity,
)
from swardbook.handbook.species import find_species
from swardbook.husbandry.codec import plain_happening, read_happening, readers
from swardbook.husbandry.happenings import KINDS, Count, Happening, Reading, RefillCheck
from swardbook.husbandry.looks import Doubt, doubt_of_unit

_UNITS = {
    "_mm": "mm", "_m2": "m2", "_g_m2": "g/m2", "_g": "g", "_m3": "m3", "litres": "l", "hours": "h",
    "minutes": "min", "height_cm": "cm",
}  # fmt: skip
_WORDS: dict[tuple[str, str], tuple[str, ...]] = {
    ("frost", "state"): ("frost", "thawed", "frozen ground"),
    ("underfoot", "state"): ("firm", "dry", "soft", "waterlogged", "standing water"),
    ("closure", "what"): ("play", "feet", "machines", "hose"),
    ("clean-down", "box_emptied"): ("off site", "on site"),
}
"""Fields that the plan reads word by word; another word there would be passed over."""
_EVERYDAY = {"mow": "cut", "mowing": "cut", "fertilise": "feed", "closed": "closure"}
_YES = {"yes", "y", "true", "on"}
_NO = {"no", "n", "false", "off"}
_UNSAID = {"", "unknown", "not said", "?"}


def read_kind(word: str) -> type[Happening]:
    """Find a kind of diary entry by its word; spaces and hyphens do not matter.

    Raises
    ------
    UnknownNameError
        If there is none; offers the nearest.
    """
    for kind, made in KINDS.items():
        if _plain_word(kind) == _plain_word(word):
            return made
    if meant := _EVERYDAY.get(word.strip().casefold()):
        raise BadInputError("the kind of entry", word, ", ".join(KINDS), f"Did you mean {meant}?")
    raise UnknownNameError("kind of entry", word, KINDS)


def words_of(kind: str, name: str) -> tuple[str, ...]:
    """Give the words that a field may have, where they are set; none where any text may stand.

    Parameters
    ----------
    kind, name : str
        The kind of entry and its field, as the diary calls them.
    """
    return _WORDS.get((kind, name), ())


def kinds_and_fields() -> dict[str, tuple[str, ...]]:
    """Give each kind of entry with its fields, and the words a field may have where they are set.

    Returns
    -------
    dict of str to tuple of str
        Such as ``state: frost, thawed or frozen ground``.
    """
    told = {}
    for kind, made in KINDS.items():
        words = {name: words_of(kind, name) for name in readers(made)}
        told[kind] = tuple(
            f"{name}: {', '.join(held[:-1])} or {held[-1]}" if held else name
            for name, held in words.items()
        )
    return told


def read_pairs(
    pairs: Iterable[str], what: str = "--set", such_as: str = "height_of_cut_mm=25"
) -> dict[str, str]:
    """Read ``field=value`` pairs.

    Parameters
    ----------
    pairs : iterable of str
        The pairs as typed.
    what, such_as : str
        What they are and how one looks, for the message.

    Raises
    ------
    BadInputError
        If one has no equals sign.
    """
    read = {}
    for pair in pairs:
        name, found, text = pair.partition("=")
        if not found:
            raise BadInputError(what, pair, f"field=value, such as {such_as}")
        read[name.strip().replace("-", "_")] = text.strip()
    return read


def with_fields(what: Happening, typed: Mapping[str, str], today: date) -> Happening:
    """Give a happening with some of its fields set from what was typed.

    Parameters
    ----------
    what : Happening
        The happening to begin with.
    typed : mapping of str to str
        Field names and texts; ``unknown`` empties a field that may be empty.
    today : date
        What ``today`` means in a date.

    Raises
    ------
    BadInputError
        If a text cannot be read.
    UnknownNameError
        If the kind has no such field; offers the nearest.
    """
    hints = typing.get_type_hints(type(what))
    known = readers(type(what))
    plain = plain_happening(what)
    for name, text in _with_unit_apart(what, typed).items():
        if name not in known:
            raise UnknownNameError(f"field of a {what.kind} entry", name, known)
        words = _WORDS.get((what.kind, name))
        if words and text.casefold() not in words:
            raise UnknownNameError(f"{name} of a {what.kind} entry", text, words)
        given = text.casefold() if words else text
        plain[name] = _read_field(name, hints[name], given, today)
    return read_happening(plain, f"the {what.kind} entry")


def species_key(name: str) -> str:
    """Give the word under which the diary keeps a species: its key, whatever it was called.

    Raises
    ------
    UnknownNameError
        If no species goes by the name.
    """
    return find_species(name).key


def read_money(text: str) -> Decimal | None:
    """Read an amount of money; empty is none.

    Raises
    ------
    BadInputError
        If it is no amount, or a quantity of something.
    """
    if not text.strip():
        return None
    after = re.sub(r"^.*\d\s*(/|per\b)?\s*|[\s.]+$", "", text)
    if known_unit(after) and after.casefold() not in {"pound", "pounds"}:
        slip = f"{after} is no money: is it what was used, not what it cost?"
        raise BadInputError("the money", text, "an amount such as 12.50", slip)
    plain = re.sub(r"^[^\d-]+|[^\d]+$", "", text.strip())
    number = read_number(plain)
    if number is None:
        raise BadInputError("the money", text, "an amount such as 12.50")
    return Decimal(plain.replace(",", ".") if re.search(r",\d{1,2}$", plain) else
                   plain.replace(",", ""))  # fmt: skip


def quantity(text: str, unit: str, name: str) -> float:
    """Read a quantity in the unit that a field has.

    Parameters
    ----------
    text : str
        What was typed, with or without a unit.
    unit : str
        The unit of a bare number, and of what is given back.
    name : str
        The quantity, for the message.

    Returns
    -------
    float
        The number. [`unit`]
    """
    read = read_quantity(text, unit, name).value
    return read * 60 if unit == "min" else read


def yes_or_no(text: str, name: str) -> bool:
    """Read yes or no.

    Raises
    ------
    BadInputError
        If it is neither.
    """
    word = text.strip().casefold()
    if word in _YES | _NO:
        return word in _YES
    raise BadInputError(name, text, "yes or no")


def _with_unit_apart(what: Happening, typed: Mapping[str, str]) -> Mapping[str, str]:
    """Take a unit off the number of a reading: ``0.5 in`` is 0.5, in inches."""
    found = re.fullmatch(r"\s*([-−+]?[\d.,]+)\s*(°?[a-zA-Zµ%][^\s\d]*)\s*", typed.get("value", ""))
    if not isinstance(what, Reading) or found is None:
        return typed
    if typed.get("unit") and found[2].casefold().removeprefix("°") not in {"c", "f"}:
        quantity(typed["value"], typed["unit"], typed.get("quantity") or "value")
    return {**typed, "value": found[1].replace("−", "-"), "unit": found[2]}


def _read_field(name: str, hint: Any, text: str, today: date) -> Any:
    inner = typing.get_args(hint)
    is_optional = isinstance(hint, types.UnionType) and type(None) in inner
    if is_optional and text.casefold() in _UNSAID:
        return None
    kind = next(each for each in inner if each is not type(None)) if is_optional else hint
    if kind is str:
        return species_key(text) if name == "species" and text else text
    if kind is bool:
        return yes_or_no(text, name)
    if kind is date:
        return read_day(text, today).isoformat()
    if kind in {int, float}:
        return _number(name, kind, text)
    try:
        return json.loads(text)
    except json.JSONDecodeError as slip:
        raise BadInputError(name, text, "JSON as in an archive", str(slip)) from slip


def _number(name: str, kind: type, text: str) -> float | int:
    unit = next((_UNITS[end] for end in sorted(_UNITS, key=len, reverse=True)
                 if name.endswith(end)), "")  # fmt: skip
    if unit and kind is float:
        read = quantity(text, unit, name)
        return read / 1000 if name.endswith("_m3") else read
    number = read_number(text)
    if number is None or (kind is int and number != int(number)):
        raise BadInputError(name, text, "a whole number" if kind is int else "a number")
    return int(number) if kind is int else number


def _plain_word(word: str) -> str:
    return "".join(letter for letter in word.casefold() if letter.isalnum())


def with_known_species(what: Happening) -> Happening:
    """Give a happening whose species, if it names one, goes by the diary's word for it."""
    name = getattr(what, "species", "")
    return replace(cast("Any", what), species=species_key(name)) if name else what


def degrees(text: str, name: str) -> float:
    """Read a direction, with or without a sign.

    Returns
    -------
    float
        The direction. [°]

    Raises
    ------
    BadInputError
        If it is no number of degrees.
    """
    number = read_number(text.replace("−", "-").replace("+", "").strip().removesuffix("°"))
    if number is None:
        raise BadInputError(name, text, "degrees, such as 20 or -20")
    return number


def rate_and_doubt(text: str) -> tuple[float | None, list[Doubt]]:
    """Read a rate [g m⁻²], and ask about one that only makes sense in another unit."""
    if not text:
        return None, []
    typed = read_quantity(text, "g/m2", "--rate")
    doubt = doubt_of_unit(typed, "rate_g_m2")
    return typed.value, [doubt] if doubt else []


def refills_looked_at(looked: int, taken: int, sown_on: date | None, place: str) -> RefillCheck:
    """Give a check of refills.

    Raises
    ------
    BadInputError
        If more have taken than were looked at.
    """
    if taken > looked:
        raise BadInputError("--check", f"{looked} {taken}", "looked at first, then how many taken",
                            f"Did you mean {taken} {looked}?")  # fmt: skip
    return RefillCheck(looked, taken, sown_on, place)


def in_canonical_unit(what: Happening) -> tuple[Happening, str]:
    """Turn a reading in °F, inches or pounds into the unit inside, and say what was typed.

    Returns
    -------
    tuple of Happening and str
        The happening, and ``typed 50 °F`` where it was turned, else nothing.
    """
    if not isinstance(what, Reading):
        return what, ""
    unit = what.unit.strip()
    if unit.casefold().removeprefix("°") == "f":
        read, canonical = celsius_from_fahrenheit(what.value), "°C"
    else:
        try:
            read, canonical = convert(what.value, unit)
        except BadInputError:
            return what, ""
    if canonical == unit or read == what.value:
        return what, ""
    return replace(what, value=read, unit=canonical), f"Typed {what.value:g} {unit}."


def renamed_places(what: Happening, typed: Mapping[str, str]) -> tuple[Happening, dict[str, str]]:
    """Give a count with some places under another name, from ``place P9=P1``; and what is left.

    Raises
    ------
    UnknownNameError
        If the count has no such place.
    """
    if not isinstance(what, Count):
        return what, dict(typed)
    left, names = {}, {}
    own = {_plain_word(each.place): each.place for each in what.places}
    for name, text in typed.items():
        word = name.replace("_", " ")
        if not word.casefold().startswith("place "):
            left[name] = text
            continue
        place = own.get(_plain_word(word[6:]))
        if place is None:
            raise UnknownNameError(
                "place in this count", word[6:], [each.place for each in what.places]
            )
        names[place] = text
    places = tuple(replace(each, place=names.get(each.place, each.place)) for each in what.places)
    return replace(what, places=places), left
