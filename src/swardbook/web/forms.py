"""The short forms of what is written down on the lawn: which fields, how they are asked."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from swardbook.foundation.errors import BadInputError


@dataclass(frozen=True, slots=True)
class Field:
    """One field of a form.

    Parameters
    ----------
    name : str
        As the diary calls it.
    label : str
        What is asked.
    hint : str
        What may be typed.
    choices : tuple of (str, str)
        Values to choose from, each with its word; empty for a field to type in.
    unit : str
        Unit of what is kept.
    needed : bool
        Whether it must be given.
    """

    name: str
    label: str
    hint: str = ""
    choices: tuple[tuple[str, str], ...] = ()
    unit: str = ""
    needed: bool = False

    def say(self, value: Any) -> str:
        """Write a kept value."""
        words = dict(self.choices)
        plain = str(value).casefold() if isinstance(value, bool) else str(value)
        if plain in words or (plain in _BOOLS and _BOOLS[plain] in words):
            return words.get(plain) or words[_BOOLS[plain]]
        return f"{value:g} {self.unit}".strip() if isinstance(value, float) else plain


_BOOLS = {"true": "yes", "false": "no"}
_YES_NO = (("yes", "Yes"), ("no", "No"))
_BOX = (("yes", "Boxed"), ("no", "Left lying"))


@dataclass(frozen=True, slots=True)
class Form:
    """A short form for one kind of entry."""

    kind: str
    title: str
    says: str
    fields: tuple[Field, ...]

    @property
    def path(self) -> str:
        """Its part of the address."""
        return self.kind.replace(" ", "-")


_FORMS = (
    Form("cut", "Cut", "A cut, boxed or left lying.", (
        Field("height_of_cut_mm", "Height of cut", unit="mm"),
        Field("boxed", "Clippings", choices=_BOX),
    )),
    Form("verticut", "Verticut", "A verticut, with its depth and direction.", (
        Field("depth_mm", "Depth below the height of cut", "2, or 1/16 in; bare is mm", unit="mm",
              needed=True),
        Field("line_deg", "Direction against the long side", "20 or -20 degrees", unit="°"),
        Field("boxed", "What it lifted", choices=_BOX),
    )),
    Form("water", "Water", "A watering, by depth, litres or minutes.", (
        Field("depth_mm", "Depth", "4; bare is mm", unit="mm"),
        Field("litres", "or litres", "480, or 5 gal_uk", unit="L"),
        Field("minutes", "or minutes", "40", unit="min"),
        Field("by", "With", choices=(("hose", "Hose"), ("can", "Can"), ("tank", "Tank"),
                                     ("sprinkler", "Sprinkler"))),
    )),
    Form("frost", "Frost", "Frost on the ground, or thawed.", (
        Field("state", "The ground", choices=(("frost", "White frost"),
              ("frozen ground", "Frozen ground"), ("thawed", "Thawed")), needed=True),
    )),
    Form("underfoot", "Underfoot", "How wet it is to walk on.", (
        Field("state", "The ground", choices=(("firm", "Firm"), ("soft", "Soft"),
              ("waterlogged", "Waterlogged")), needed=True),
    )),
    Form("heads", "Heads", "Seed heads of annual meadow-grass seen, or none.", (
        Field("seen", "Heads", choices=(("yes", "Seen"), ("no", "None seen")), needed=True),
    )),
    Form("hold-off", "Hold off", "A job not done, and why: restraint is worth recording.", (
        Field("job", "Job", "verticut, cut, feed ...", needed=True),
        Field("reason", "Why", "dry, no box, heads up and no rake ...", needed=True),
    )),
    Form("note", "Something odd here", "A note in your own words.", (
        Field("text", "What you saw", needed=True),
    )),
)  # fmt: skip
FORMS: Mapping[str, Form] = {form.kind: form for form in _FORMS}
"""The forms by kind, in the order in which they are offered."""


def filled(form: Form, sent: Mapping[str, Any]) -> dict[str, str]:
    """Take the fields of a form from what was sent.

    Raises
    ------
    BadInputError
        If one that is needed is empty, or a choice is none of those offered.
    """
    typed = {}
    for field in form.fields:
        text = str(sent.get(field.name, "")).strip()
        if not text and field.needed:
            allowed = field.hint or "one of those shown"
            raise BadInputError(field.label.casefold(), "nothing", allowed)
        if text and field.choices and text not in dict(field.choices):
            raise BadInputError(
                field.label.casefold(), text, ", ".join(word for _, word in field.choices)
            )
        if text:
            typed[field.name] = text
    return typed
