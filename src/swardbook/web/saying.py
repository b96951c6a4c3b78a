"""How templates write days, numbers and addresses; built into every template."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import date, datetime
from typing import Any

from django import template
from django.utils.safestring import SafeString, mark_safe

from swardbook.evidence import Comparison
from swardbook.figures.picture import Picture, Table
from swardbook.figures.picture_shown import table_in_units, taken_apart
from swardbook.foundation.dates import say
from swardbook.foundation.unit_words import in_words, without_marks
from swardbook.foundation.units import METRIC, Units
from swardbook.review.words import change_words
from swardbook.web.drawing import as_part_of_page

register = template.Library()
_TAG = re.compile(r"(<[^>]*>)")
"""Sentences end at tags, so that one about inches leaves the others of a page alone."""
_LABEL = re.compile(r'( aria-label=")([^"]*)')


@register.simple_block_tag(takes_context=True)
def in_units(context: template.Context, content: str) -> SafeString:
    """Put what stands inside into the units of the book; what is typed into forms stays out."""
    units = context.get("units", METRIC)
    if not isinstance(units, Units) or units.is_plain:
        return mark_safe(without_marks(content))  # what comes in was made safe by the template
    parts = _TAG.split(content)
    told = "".join(_LABEL.sub(lambda found: f"{found[1]}{in_words(found[2], units)}", part) if n % 2
                   else in_words(part, units) for n, part in enumerate(parts))  # fmt: skip
    return mark_safe(without_marks(told))


@register.inclusion_tag("pages/_picture.html", takes_context=True)
def picture(context: template.Context, drawn: Picture) -> dict[str, Any]:
    """Show a picture with its words and the figures behind it, for a desk and for a phone."""
    units = context.get("units", METRIC)
    shown = taken_apart(drawn, units if isinstance(units, Units) else METRIC)
    slim = None if shown.slim == shown.broad else as_part_of_page(shown.slim)
    return {"picture": shown, "drawing": as_part_of_page(shown.broad), "slim": slim}


@register.simple_tag(takes_context=True)
def first_with(context: template.Context, words: str, where: str) -> str:
    """Tell where words stood on this page before; nothing where they stand for the first time."""
    kept: Any = context.render_context
    seen: dict[str, str] = kept.setdefault("stood before", {})
    if words in seen:
        return seen[words]
    seen[words] = where
    return ""


@register.filter
def in_units_of(table: Table, units: Units) -> Table:
    """Put a table into the units chosen."""
    return table_in_units(table, units)


@register.filter
def with_steps(text: str) -> SafeString:
    """Make links of the commands that a sentence names in backticks."""
    from swardbook.web.asking.blocks import linked

    return linked(text)


@register.filter
def day(when: date) -> str:
    """Write a day with its month as a word."""
    return say(when)


@register.filter
def moment(when: datetime) -> str:
    """Write a time by the clock of the machine that holds the book: its day and minute."""
    here = when.astimezone()
    return f"{say(here.date())}, {here:%H:%M}"


@register.filter
def on_day(when: datetime) -> str:
    """Write the day of a time by the clock of the machine that holds the book."""
    return say(when.astimezone().date())


@register.filter
def capital(text: str) -> str:
    """Begin a sentence."""
    return f"{text[:1].upper()}{text[1:]}"


@register.filter
def sentence(text: str) -> str:
    """Begin and end a sentence."""
    return f"{capital(text).rstrip('.')}{'' if text.endswith(']') else '.'}" if text else ""


@register.filter
def percent(share: float) -> str:
    """Write a share in whole percent."""
    return f"{100 * share:.0f} %"


@register.filter
def lower_first(text: str) -> str:
    """Write on in the middle of a sentence."""
    return f"{text[:1].lower()}{text[1:]}".rstrip(".")


@register.filter
def held(typed: Mapping[str, str], name: str) -> str:
    """Give what was typed in a field."""
    return typed.get(name, "")


@register.filter
def held_own(typed: Mapping[str, str], name: str) -> str:
    """Give the own words that were typed beside the choices of a field."""
    return typed.get(f"{name}_own", "")


@register.filter
def change(made: Comparison) -> str:
    """Write a change with its range."""
    return change_words(made)


@register.filter
def nth(row: Sequence[str], number: int) -> str:
    """Give one of several, counted from 0."""
    return row[number]


@register.filter
def words(text: str) -> list[str]:
    """Part a text at its spaces."""
    return text.split()


@register.filter
def as_kg(grams: float) -> str:
    """Write a weight in grams as kilograms, as fine as scales weigh."""
    return f"{grams / 1000:.3g}"


@register.filter
def short(number: float) -> str:
    """Write a number without needless digits."""
    return f"{number:,.4g}" if abs(number) < 10_000 else f"{number:,.0f}"


@register.filter
def spaced(key: str) -> str:
    """Write a key as words."""
    return key.replace("_", " ")
