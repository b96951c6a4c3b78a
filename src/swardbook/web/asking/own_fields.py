"""Fields of an entry's own kind in a form, in the place of ``field=value`` by inner names."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from urllib.parse import urlencode

from swardbook.book.diary import find, latest, show
from swardbook.book.entry_fields import (
    EntryField,
    changes,
    fields_of_entry,
    fields_of_kind,
    fields_of_row,
    kind_said,
    kinds_said,
)
from swardbook.book.fields import read_kind, read_pairs
from swardbook.book.opening import Book
from swardbook.book.parking import parked_rows
from swardbook.cli.telling import short_id, tell
from swardbook.foundation.asked_units import with_unit
from swardbook.foundation.errors import SwardbookError
from swardbook.foundation.units import METRIC, Units
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.parked import Parked
from swardbook.web.asking.questions import Question
from swardbook.web.forms import UNIT

PAIRS = "set"
"""The field of the command that takes ``field=value``."""
OWN = "own."
"""Before the names of such fields in a form."""
_PUT_RIGHT, _ADD, _TAKE_IN = ("put-right",), ("diary", "add"), ("parked", "take-in")
_CHOSEN_BY = {_PUT_RIGHT: "entry", _ADD: "kind", _TAKE_IN: "row"}
_NOT_ADDED = frozenset({"count", "plot care", "changed"})
"""Kinds that have a page of their own to be written on."""
_LAST = 12


@dataclass(frozen=True, slots=True)
class Offered:
    """One thing to choose before there are fields: a kind, an entry, a row.

    Parameters
    ----------
    query : str
        What is asked to choose it.
    word, says : str
        What it is.
    """

    query: str
    word: str
    says: str = ""


@dataclass(frozen=True, slots=True)
class Own:
    """The own fields of what was chosen, or what can be chosen.

    Parameters
    ----------
    chosen_by : str
        Field of the command that chooses.
    title : str
        What was chosen; empty before.
    chosen : str
        By what it was chosen.
    fields : tuple of (EntryField, str)
        Its fields, each with what stands in it now.
    offered : tuple of Offered
        What can be chosen, where nothing was.
    """

    chosen_by: str
    title: str = ""
    chosen: str = ""
    fields: tuple[tuple[EntryField, str], ...] = ()
    offered: tuple[Offered, ...] = ()


def has_own(question: Question) -> bool:
    """Tell whether a question takes the fields of an entry's own kind."""
    return question.words in _CHOSEN_BY


def own_fields(
    book: Book, question: Question, texts: Mapping[str, str], given: Mapping[str, str], units: Units
) -> Own:
    """Give the own fields of what was chosen, as they stand.

    Parameters
    ----------
    book : Book
        The opened book.
    question : Question
        One that takes the fields of an entry's own kind.
    texts : mapping of str to str
        What was filled in, by the command's fields.
    given : mapping of str to str
        All that was sent, with the own fields under their own names.
    units : Units
        What numbers are asked for in.
    """
    by = _CHOSEN_BY[question.words]
    wanted = texts.get(by, "").strip()
    found = _found(book, question, wanted, units) if wanted else None
    if found is None:
        return Own(by, offered=tuple(_offered(book, question)))
    title, fields = found
    said = _said_by_pairs(texts, fields, units)
    typed = (given.get(f"{OWN}{each.name}", said.get(each.name, each.said)) for each in fields)
    return Own(by, title, wanted, tuple(zip(fields, typed, strict=True)))


def pairs_of(own: Own, given: Mapping[str, str], question: Question) -> str:
    """Write what was said otherwise as the command's pairs, each on a line of its own.

    Parameters
    ----------
    own : Own
        The fields as they stand.
    given : mapping of str to str
        All that was sent.
    question : Question
        The command.
    """
    typed = _under(OWN, given)
    made = changes(
        [each for each, _ in own.fields], typed, _under(UNIT, given), question.words == _ADD
    )
    return "\n".join(f"{name}={text}" for name, text in made.items())


def is_sent(given: Mapping[str, str]) -> bool:
    """Tell whether own fields were sent."""
    return any(name.startswith(OWN) for name in given)


def _under(start: str, given: Mapping[str, str]) -> dict[str, str]:
    return {name.removeprefix(start): given[name] for name in given if name.startswith(start)}


def _found(
    book: Book, question: Question, wanted: str, units: Units
) -> tuple[str, tuple[EntryField, ...]] | None:
    ground = book.ground()
    with suppress(SwardbookError):
        if question.words == _ADD:
            kind = read_kind(wanted).kind
            fields = fields_of_kind(kind, ground, units)
            return (kind_said(kind), fields) if kind in kinds_said() else None
        entry = latest(book, find(book, wanted))
        if question.words == _PUT_RIGHT:
            return tell(entry), fields_of_entry(entry, ground, units)
        if isinstance(entry.what, Parked):
            return entry.what.words, fields_of_row(entry.what)
    return None


def _offered(book: Book, question: Question) -> Sequence[Offered]:
    if question.words == _ADD:
        said = {kind: says for kind, says in kinds_said().items() if kind not in _NOT_ADDED}
        return [Offered(urlencode({"kind": kind}), kind, says) for kind, says in said.items()]
    if question.words == _TAKE_IN:
        return [_row(each) for each in parked_rows(book)]
    newest = [each.entry for each in show(book)[-_LAST:]]
    odd = [each.entry for each in show(book, only_to_look_at=True) if each.entry not in newest]
    own = (*reversed(newest), *reversed(odd[-_LAST:]))
    return [Offered(urlencode({"entry": short_id(each)}), tell(each), each.needs_a_look)
            for each in own]  # fmt: skip


def _row(entry: DiaryEntry) -> Offered:
    row = entry.what
    where = row.where if isinstance(row, Parked) else ""
    words = row.words.removeprefix(f"{where}: ") if isinstance(row, Parked) else ""
    return Offered(urlencode({"row": short_id(entry)}), where, words)


def _said_by_pairs(
    texts: Mapping[str, str], fields: Sequence[EntryField], units: Units
) -> dict[str, str]:
    """Read the pairs of a link or a slip; a bare number there is in the diary's own unit."""
    lines = [each for each in texts.get(PAIRS, "").splitlines() if each.strip()]
    try:
        said = read_pairs(lines)
    except SwardbookError:
        return {}
    held = {each.name: each for each in fields}
    return {
        name: with_unit(text, _metric(name)) if units.system is not METRIC.system
        and name in held and held[name].is_chosen_unit else text
        for name, text in said.items()
    }  # fmt: skip


def _metric(name: str) -> str:
    ends = {"_g_m2": "g/m2", "_mm": "mm", "_m2": "m2", "_m3": "m3", "_g": "g", "litres": "L"}
    return next((unit for end, unit in ends.items() if name.endswith(end)), "")
