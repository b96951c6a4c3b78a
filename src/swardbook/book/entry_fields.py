"""The fields of an entry as a form has them: names, units, and what may stand there."""

from __future__ import annotations

import types
import typing
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import Enum
from typing import Any

from swardbook.book.entry_words import (
    BY_ITSELF,
    CHOICES,
    KINDS_SAID,
    LABELS,
    LABELS_IN,
    QUANTITIES,
    YES_NO,
    same,
)
from swardbook.book.fields import read_kind, words_of
from swardbook.foundation.asked_units import asked_in, is_metric, standing, with_unit
from swardbook.foundation.dates import When, say
from swardbook.foundation.units import METRIC, Units
from swardbook.handbook.species import all_species, find_species
from swardbook.husbandry.codec import plain_happening, readers
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground, Site
from swardbook.husbandry.happenings import KINDS, Count, Happening, Reading
from swardbook.husbandry.parked import Parked

_UNITS = {
    "_g_m2": "g/m²", "_mm": "mm", "_m2": "m²", "_m3": "m³", "_g": "g", "_percent": "%",
    "_deg": "°", "litres": "L", "minutes": "min",
}  # fmt: skip
_TYPED_IN = frozenset({"mm", "m²", "g/m²", "g", "m³", "L"})
"""Units that a person may choose others for."""
_WET = frozenset({"water", "reading"})
_UNKNOWN = "unknown"
_NOWHERE = Ground(Site("", 0.0, 0.0))


class Sort(Enum):
    """How a field is filled in."""

    TEXT = "text"
    NUMBER = "number"
    WHOLE = "whole number"
    DAY = "day"
    CHOICE = "choice"


@dataclass(frozen=True, slots=True)
class EntryField:
    """One field of an entry.

    Parameters
    ----------
    name : str
        As the diary calls it, and as ``--set`` takes it.
    label : str
        What it is called.
    sort : Sort
        How it is filled in.
    unit : str
        Beside the field: the unit of a number alone, in the units chosen; empty without one.
    is_chosen_unit : bool
        Whether the unit is not the one that the diary holds, and has to be said with the number.
    choices : tuple of (str, str)
        Values with their words, where there are few.
    is_open : bool
        Whether other words may be typed too.
    said : str
        What stands there.
    may_be_empty : bool
        Whether it can be left unsaid.
    """

    name: str
    label: str
    sort: Sort = Sort.TEXT
    unit: str = ""
    is_chosen_unit: bool = False
    choices: tuple[tuple[str, str], ...] = ()
    is_open: bool = False
    said: str = ""
    may_be_empty: bool = True

    @property
    def needs_a_way_out(self) -> bool:
        """Whether "not said" has to be offered beside the choices."""
        return self.may_be_empty and "" not in dict(self.choices)

    @property
    def words(self) -> str:
        """Say the field with its unit or the words that it may have."""
        if self.choices and self.sort is Sort.CHOICE and self.name != "lot":
            words = [_with_value(value, word) for value, word in self.choices]
            return f"{self.label.rstrip('?')}: {', '.join(words[:-1])} or {words[-1]}"
        return f"{self.label}, {self.unit}" if self.unit else self.label


def _with_value(value: str, word: str) -> str:
    plain = word if value == word else word.casefold()
    return plain if plain.casefold() == value.casefold() else f"{plain} ({value or 'left empty'})"


def kinds_said() -> dict[str, str]:
    """Give the kinds of entry that can be written by hand, each with what it is."""
    return {kind: KINDS_SAID[kind] for kind in KINDS if kind in KINDS_SAID}


def kind_said(kind: str) -> str:
    """Say what a kind of entry is."""
    return KINDS_SAID.get(kind) or BY_ITSELF.get(kind, "")


def words_of_fields(kind: str) -> dict[str, str]:
    """Say each field of a kind of entry in words, by the name that ``--set`` takes.

    Parameters
    ----------
    kind : str
        A kind of entry; those that other commands write have none to be typed.
    """
    if kind not in KINDS_SAID:
        return {}
    made = KINDS[kind]()
    known = {each.name: each.words for each in _own_fields(made, _NOWHERE, METRIC, is_new=True)}
    return {name: known.get(name) or label_of(kind, name) for name in readers(type(made))}


def fields_of_kind(kind: str, ground: Ground, units: Units) -> tuple[EntryField, ...]:
    """Give the fields of a kind of entry, empty, for one that is to be written.

    Raises
    ------
    UnknownNameError
        If there is no such kind.
    """
    return _own_fields(read_kind(kind)(), ground, units, is_new=True)


def fields_of_entry(entry: DiaryEntry, ground: Ground, units: Units) -> tuple[EntryField, ...]:
    """Give the fields of an entry with what was said, and those that every entry has.

    Parameters
    ----------
    entry : DiaryEntry
        The entry that is to be put right.
    ground : Ground
        The ground, whose zones and lots can be chosen.
    units : Units
        What numbers are asked for in.
    """
    zones = (*((each.name, each.name) for each in ground.zones), ("", "Whole site"))
    hours = "" if entry.hours is None else f"{entry.hours:g}"
    return (
        *_own_fields(entry.what, ground, units),
        EntryField("zone", "Zone", Sort.CHOICE, choices=_with_said(zones, entry.zone),
                   said=entry.zone),
        EntryField("when", "When", said=_when(entry.when)),
        EntryField("who", "Who", said=entry.who),
        EntryField("hours", LABELS["hours"], Sort.NUMBER, "h", said=hours),
        EntryField("money", LABELS["money"], said=_money(entry.money)),
        *([EntryField("number", LABELS["number"], Sort.WHOLE, said=str(entry.number))]
          if not entry.when.is_dated else []),
        EntryField("note", LABELS["note"], said=entry.note),
    )  # fmt: skip


def fields_of_row(row: Parked) -> tuple[EntryField, ...]:
    """Give the columns of a parked row with what stands in them, the one at fault first.

    Parameters
    ----------
    row : Parked
        A row that could not be taken in.
    """
    cells = sorted(row.cells.items(), key=lambda each: each[0] != row.column)
    about = [(name, text) for name, text in row.about.items() if name not in row.cells]
    named = [
        EntryField(name, _column(name), said=text) for name, text in (*cells, *about)
        if name != "as_it_came"
    ]  # fmt: skip
    missing = row.column and row.column not in {each.name for each in named}
    return (EntryField(row.column, _column(row.column)), *named) if missing else tuple(named)


def changes(
    fields: Iterable[EntryField],
    typed: Mapping[str, str],
    units: Mapping[str, str],
    is_new: bool = False,
) -> dict[str, str]:
    """Give what was typed otherwise than it stood, as the diary reads it.

    Parameters
    ----------
    fields : iterable of EntryField
        The fields as they stood.
    typed : mapping of str to str
        What stands in them now; a field that is not there was not shown.
    units : mapping of str to str
        Units of numbers alone, by field, where the form asked for other than the diary's.
    is_new : bool
        Whether nothing was said before, so that what is empty needs no word.
    """
    made = {}
    for each in fields:
        text = " ".join(typed.get(each.name, each.said).split())
        if text == " ".join(each.said.split()) or (is_new and not text):
            continue
        is_said = bool(text) or each.sort is Sort.TEXT or each.name in _PLAIN_EMPTY
        made[each.name] = with_unit(text, units.get(each.name, "")) if is_said else _UNKNOWN
    return made


_PLAIN_EMPTY = frozenset({"zone", "hours", "by", "place", "box_emptied"})
"""Fields that are emptied by nothing, not by the word for unknown."""


def _own_fields(
    what: Happening, ground: Ground, units: Units, is_new: bool = False
) -> tuple[EntryField, ...]:
    if isinstance(what, Count):
        places = (EntryField(f"place {each.place}", f"Place {each.place} is", said=each.place)
                  for each in what.places)  # fmt: skip
        return (EntryField("occasion", "What the count is called", said=what.occasion), *places)
    hints = typing.get_type_hints(type(what))
    plain = plain_happening(what)
    made = (_field(what, name, hints[name], None if is_new else plain[name], ground, units)
            for name in readers(type(what)))  # fmt: skip
    return tuple(each for each in made if each is not None)


def _field(
    what: Happening, name: str, hint: Any, held: Any, ground: Ground, units: Units
) -> EntryField | None:
    inner = [each for each in typing.get_args(hint) if each is not type(None)]
    kind = inner[0] if isinstance(hint, types.UnionType) and inner else hint
    label = label_of(what.kind, name)
    may = held is None or isinstance(hint, types.UnionType)
    if kind is bool:
        choices = _choices(what.kind, name) or YES_NO
        said = "" if held is None else "yes" if held else "no"
        return EntryField(name, label, Sort.CHOICE, choices=choices, said=said, may_be_empty=may)
    if kind is date:
        return EntryField(name, label, Sort.DAY, said=held or "")
    if kind in {int, float}:
        return _number(what, name, label, held, units, is_whole=kind is int)
    if kind is not str:
        return None
    return _text(what, name, label, held or "", ground)


def _number(
    what: Happening, name: str, label: str, held: float | None, units: Units, is_whole: bool
) -> EntryField:
    metric = next((unit for end, unit in _UNITS.items() if name.endswith(end)), "")
    metric = "" if name == "per_m2" else metric
    if isinstance(what, Reading) and name == "value" and held is not None:
        metric = what.unit
    if is_whole or metric not in {*_TYPED_IN, "°C"}:
        said = "" if held is None else f"{held:.6g}"
        sort = Sort.WHOLE if is_whole else Sort.NUMBER
        return EntryField(name, label, sort, metric, said=said)
    unit = asked_in(metric, units, held or 0.0)
    said = "" if held is None else standing(held, metric, units, what.kind in _WET)
    is_other = not is_metric(units) and unit != metric
    return EntryField(name, label, Sort.NUMBER, unit, is_other, said=said)


def _text(what: Happening, name: str, label: str, held: str, ground: Ground) -> EntryField:
    if name == "lot":
        lots = same_codes(lot.code for lot in ground.lots)
        return EntryField(name, label, Sort.CHOICE, choices=_with_said(lots, held), said=held)
    if name == "species":
        known = tuple((each.english, each.english) for each in all_species().values())
        said = _english(held)
        return EntryField(name, label, Sort.TEXT, choices=known, is_open=True, said=said)
    if isinstance(what, Reading) and name == "quantity":
        choices = same(*QUANTITIES)
        return EntryField(name, label, Sort.TEXT, choices=choices, is_open=True, said=held)
    choices = _choices(what.kind, name)
    if choices:
        may = not held or not words_of(what.kind, name)
        own = _with_said(choices, held)
        return EntryField(name, label, Sort.CHOICE, choices=own, said=held, may_be_empty=may)
    return EntryField(name, label, said=held)


def label_of(kind: str, name: str) -> str:
    """Call a field of a kind of entry by what it asks for.

    Parameters
    ----------
    kind, name : str
        As the diary calls them.
    """
    own = name
    for end, unit in _UNITS.items():
        own = name.removesuffix(end) if name.endswith(end) and unit and end[0] == "_" else own
    plain = own.replace("_", " ").capitalize()
    return LABELS_IN.get((kind, name)) or LABELS.get(name, plain)


def same_codes(codes: Iterable[str]) -> tuple[tuple[str, str], ...]:
    """Give codes as choices, as they are written."""
    return tuple((code, code) for code in codes)


def _choices(kind: str, name: str) -> tuple[tuple[str, str], ...]:
    words = words_of(kind, name)
    return CHOICES.get((kind, name)) or CHOICES.get(("", name)) or same(*words)


def _with_said(choices: tuple[tuple[str, str], ...], held: str) -> tuple[tuple[str, str], ...]:
    return choices if held in dict(choices) or not held else (*choices, (held, held))


def _column(name: str) -> str:
    return LABELS.get(name) or name.replace("_", " ").capitalize()


def _english(name: str) -> str:
    try:
        return find_species(name).english if name else ""
    except LookupError:
        return name


def _when(when: When) -> str:
    return say(when.first) if when.is_dated else when.words


def _money(amount: Decimal | None) -> str:
    return "" if amount is None else f"{amount}"
