"""The units a person chose: the one place where an answer is put into them.

Lines are put into them where they are wrapped, laid out as a table or printed; doing so twice
changes nothing. What is printed as JSON never comes here.
"""

from __future__ import annotations

import os
from contextlib import suppress
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import click

from swardbook.foundation.errors import SwardbookError
from swardbook.foundation.quantities import is_customary, with_decimal_comma
from swardbook.foundation.unit_words import in_words, typed, unit_name
from swardbook.foundation.units import COMMA, METRIC, System, Units

if TYPE_CHECKING:
    from swardbook.book.opening import Book

_KEY = "swardbook.units"


def choose(units: Units) -> None:
    """Let what this command prints from now on be in these units."""
    if (context := click.get_current_context(silent=True)) is not None:
        context.meta[_KEY] = units


def choose_as_set(book: Book | None = None) -> None:
    """Choose the units that the environment says, or else the book.

    Raises
    ------
    BadInputError
        If the environment says a word that is not known; then it is metric.
    """
    from swardbook.book.units import shown_in
    from swardbook.settings import read_settings

    choose(METRIC)
    choose(shown_in(read_settings(os.environ), book))


def chosen() -> Units:
    """Give the units of this command, as the environment or the book says; metric without one."""
    context = click.get_current_context(silent=True)
    if context is None:
        return METRIC
    if _KEY not in context.meta:
        with suppress(SwardbookError):
            choose_as_set()
    found = context.meta.get(_KEY)
    return found if isinstance(found, Units) else METRIC


def stay_metric() -> None:
    """Show a sum as it is done, in metric; the decimal mark stays as chosen."""
    choose(replace(chosen(), system=System.METRIC))


def in_chosen(text: str) -> str:
    """Put a line into the units chosen."""
    return in_words(text, chosen())


_LISTS = frozenset({"frames", "unsown", "treated", "untreated"})
"""Options whose commas part numbers."""
_WORDS = frozenset({"zone", "when", "who", "note", "name", "money", "on"})


def as_read(typed: dict[str, Any]) -> dict[str, Any]:
    """Read ``1,250`` as one and a quarter where the comma was chosen for the decimal mark."""
    return {
        name: held if name in _LISTS | _WORDS else _each_with_comma(held)
        for name, held in typed.items()
    }


def with_comma(text: str) -> str:
    """Give a number the decimal point that is meant by a comma, where the comma was chosen."""
    return with_decimal_comma(text) if chosen().decimal_mark == COMMA else text


def _each_with_comma(held: Any) -> Any:
    if isinstance(held, tuple):
        return tuple(map(_each_with_comma, held))
    return with_comma(held) if isinstance(held, str) else held


def with_typed(note: str) -> str:
    """Add to a note what was typed in inches, pounds or gallons: it is kept beside the metric."""
    context = click.get_current_context(silent=True)
    given = {} if context is None else context.params
    told: dict[str, list[str]] = {}
    for name, held in given.items():
        for each in held if isinstance(held, tuple) else (held,):
            if name not in _WORDS and isinstance(each, str):
                field, _, text = each.rpartition("=")
                if is_customary(text):
                    told.setdefault((field or name).replace("_", " "), []).append(text)
    words = "; ".join(f"{name} {', '.join(texts)}" for name, texts in told.items())
    if not told:
        return note
    return f"{note} (typed: {words})" if note else f"Typed {words}."


def as_typed(text: str) -> str:
    """Let a text be shown as the person typed it, whatever the units."""
    return text if chosen().is_plain else typed(text)


def unit_in_chosen(metric: str) -> str:
    """Name the unit in which a metric one is shown."""
    return unit_name(metric, chosen())
