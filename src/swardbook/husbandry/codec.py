"""Values of the ground and the diary as plain JSON values, and back, without loss.

The fields of each dataclass and their types are the only description: nothing is listed twice. A
diary happening carries its ``kind`` beside its fields. Dates are ISO text, money is decimal text.
"""

from __future__ import annotations

import math
import types
import typing
from collections.abc import Callable, Mapping
from dataclasses import MISSING, fields, is_dataclass
from datetime import date
from decimal import Decimal, InvalidOperation
from enum import StrEnum
from functools import cache
from typing import Any, TypeVar, cast
from uuid import UUID

from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.happenings import KINDS, Happening

Plain = Any
Value = TypeVar("Value")
Reader = Callable[[Plain, str], Any]


def plain_entry(entry: DiaryEntry) -> dict[str, Plain]:
    """Give a diary entry as plain JSON values."""
    return cast("dict[str, Plain]", to_plain(entry))


def read_entry(plain: Plain) -> DiaryEntry:
    """Read a diary entry from plain JSON values.

    Raises
    ------
    BadInputError
        If a field is unknown, missing or of the wrong type; names it.
    """
    return from_plain(DiaryEntry, plain, "the entry")


def plain_happening(what: Happening) -> dict[str, Plain]:
    """Give a happening as plain JSON values, with its kind."""
    return {"kind": what.kind, **_fields_of(what)}


def read_happening(plain: Plain, where: str = "the entry") -> Happening:
    """Read a happening from plain JSON values.

    Raises
    ------
    BadInputError
        If the kind or a field is unknown, missing or of the wrong type; names it.
    """
    if not isinstance(plain, dict):
        raise BadInputError(where, plain, "an object with a kind")
    kind = plain.get("kind")
    if kind not in KINDS:
        near = UnknownNameError("kind of entry", str(kind), KINDS)
        raise BadInputError(f"the kind of {where}", kind, "a kind of diary entry", str(near))
    return from_plain(KINDS[kind], {key: plain[key] for key in plain if key != "kind"}, where)


def to_plain(value: Any) -> Plain:
    """Turn a value of the ground or diary into plain JSON values.

    Raises
    ------
    BadInputError
        If a number is not finite, which no open format can carry.
    """
    if getattr(type(value), "kind", "") in KINDS:
        return plain_happening(value)
    if is_dataclass(value):
        return _fields_of(value)
    if isinstance(value, Mapping):
        return {str(key): to_plain(value[key]) for key in sorted(value)}
    if isinstance(value, list | tuple):
        return [to_plain(each) for each in value]
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Decimal | UUID | StrEnum):
        return str(value)
    if isinstance(value, float) and not math.isfinite(value):
        raise BadInputError("a number", value, "a finite number")
    return value


def from_plain(kind: type[Value], plain: Plain, where: str) -> Value:
    """Build a dataclass from plain JSON values.

    Parameters
    ----------
    kind : type
        The dataclass to build.
    plain : dict
        Field names and values; a field with a default may be absent.
    where : str
        What is read, for the message.

    Raises
    ------
    BadInputError
        If a field is unknown, missing or of the wrong type; names it.
    """
    if not isinstance(plain, dict):
        raise BadInputError(where, plain, "an object with named fields")
    known = readers(kind)
    for name in plain:
        if name not in known:
            near = UnknownNameError("field", str(name), known)
            raise BadInputError(f"a field of {where}", name, "a field it has", str(near))
    for name in _needed(cast("Any", kind)):
        if name not in plain:
            raise BadInputError(where, sorted(plain), f"a value for {name}")
    try:
        read = {name: known[name](held, name) for name, held in plain.items()}
    except BadInputError as slip:
        what = f"{slip.what} of {where}"
        raise BadInputError(what, slip.read, slip.allowed, slip.hint) from slip
    return kind(**read)


def readers(kind: type) -> Mapping[str, Reader]:
    """Give the reader of each field of a dataclass, by name."""
    return _readers(cast("Any", kind))


@cache
def _readers(kind: type) -> Mapping[str, Reader]:
    hints = typing.get_type_hints(kind)
    return {entry.name: _reader(hints[entry.name]) for entry in fields(kind)}


def _fields_of(value: Any) -> dict[str, Plain]:
    hints = _float_fields(cast("Any", type(value)))
    found = {}
    for entry in fields(value):
        held = getattr(value, entry.name)
        if entry.metadata.get("only_if_said") and held == entry.default:
            continue  # what was written before there was such a field stays the same text
        if entry.name in hints and isinstance(held, int) and not isinstance(held, bool):
            held = float(held)
        found[entry.name] = to_plain(held)
    return found


@cache
def _float_fields(kind: type) -> frozenset[str]:
    hints = typing.get_type_hints(kind)
    return frozenset(
        name for name, hint in hints.items() if hint is float or float in typing.get_args(hint)
    )


@cache
def _needed(kind: type) -> tuple[str, ...]:
    return tuple(
        entry.name
        for entry in fields(kind)
        if entry.default is MISSING and entry.default_factory is MISSING
    )


def _reader(hint: Any) -> Reader:
    if hint == Happening:
        return read_happening
    origin, inner = typing.get_origin(hint), typing.get_args(hint)
    if origin in {types.UnionType, typing.Union}:
        return _or_none(_reader(next(each for each in inner if each is not type(None))))
    if origin is tuple:
        return _many(_reader(inner[0]))
    if origin is not None and issubclass(origin, Mapping):
        return _named(_reader(inner[1]))
    if is_dataclass(hint):
        return lambda plain, where: from_plain(cast("type", hint), plain, where)
    if issubclass(hint, StrEnum):
        return _member(hint)
    return _SCALARS[hint]


def _or_none(reader: Reader) -> Reader:
    return lambda plain, where: None if plain is None else reader(plain, where)


def _many(reader: Reader) -> Reader:
    def read(plain: Plain, where: str) -> tuple[Any, ...]:
        if not isinstance(plain, list):
            raise BadInputError(where, plain, "a list")
        return tuple(reader(each, where) for each in plain)

    return read


def _named(reader: Reader) -> Reader:
    def read(plain: Plain, where: str) -> dict[str, Any]:
        if not isinstance(plain, dict):
            raise BadInputError(where, plain, "an object with named values")
        return {key: reader(each, where) for key, each in plain.items()}

    return read


def _member(kind: type[StrEnum]) -> Reader:
    def read(plain: Plain, where: str) -> StrEnum:
        try:
            return kind(plain)
        except ValueError as slip:
            raise BadInputError(where, plain, ", ".join(kind)) from slip

    return read


def _scalar(kind: type, allowed: str, convert: Callable[[Any], Any] | None = None) -> Reader:
    def read(plain: Plain, where: str) -> Any:
        accepted = (int, float) if kind is float else kind
        if not isinstance(plain, accepted) or (isinstance(plain, bool) and kind is not bool):
            raise BadInputError(where, plain, allowed)
        try:
            return convert(plain) if convert else plain
        except (ValueError, InvalidOperation, OverflowError) as slip:
            raise BadInputError(where, plain, allowed) from slip

    return read


def _finite(number: float) -> float:
    if not math.isfinite(number):
        raise ValueError(number)
    return float(number)


def _money(text: str) -> Decimal:
    amount = Decimal(text)
    if not amount.is_finite():
        raise ValueError(text)
    return amount


_SCALARS: dict[Any, Reader] = {
    str: _scalar(str, "text"),
    bool: _scalar(bool, "yes or no"),
    int: _scalar(int, "a whole number"),
    float: _scalar(float, "a finite number", _finite),
    date: _scalar(str, "a day such as 2011-10-08", date.fromisoformat),
    Decimal: _scalar(str, "an amount such as 12.50", _money),
    UUID: _scalar(str, "an entry's id", UUID),
}
