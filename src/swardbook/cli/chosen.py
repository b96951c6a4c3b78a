"""The units a person chose: the one place where an answer is put into them.

Lines are put into them where they are wrapped, laid out as a table or printed; doing so twice
changes nothing. What is printed as JSON never comes here.
"""

from __future__ import annotations

import os
from dataclasses import replace
from typing import TYPE_CHECKING

import click

from swardbook.foundation.unit_words import in_words, typed, unit_name
from swardbook.foundation.units import METRIC, System, Units

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
    """Give the units of this command; metric until something is chosen."""
    context = click.get_current_context(silent=True)
    found = None if context is None else context.meta.get(_KEY)
    return found if isinstance(found, Units) else METRIC


def stay_metric() -> None:
    """Show a sum as it is done, in metric; the decimal mark stays as chosen."""
    choose(replace(chosen(), system=System.METRIC))


def in_chosen(text: str) -> str:
    """Put a line into the units chosen."""
    return in_words(text, chosen())


def as_typed(text: str) -> str:
    """Let a text be shown as the person typed it, whatever the units."""
    return text if chosen().is_plain else typed(text)


def unit_in_chosen(metric: str) -> str:
    """Name the unit in which a metric one is shown."""
    return unit_name(metric, chosen())
