"""The short forms of what is written down on the lawn: which fields, how they are asked."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from swardbook.foundation.asked_units import asked_in, is_metric, standing, with_unit
from swardbook.foundation.errors import BadInputError
from swardbook.foundation.units import Units
from swardbook.husbandry.happenings import Happening, Reading


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
    is_open : bool
        Whether own words may be typed beside the choices.
    is_number : bool
        Whether a phone shows its keys for numbers.
    is_chosen_unit : bool
        Whether the unit is another than the diary's, and has to be said with the number.
    of_ground : str
        ``lots`` where the choices are those of the ground; else empty.
    """

    name: str
    label: str
    hint: str = ""
    choices: tuple[tuple[str, str], ...] = ()
    unit: str = ""
    needed: bool = False
    is_open: bool = False
    is_number: bool = False
    is_chosen_unit: bool = False
    of_ground: str = ""

    def say(self, value: Any) -> str:
        """Write a kept value."""
        words = dict(self.choices)
        plain = str(value).casefold() if isinstance(value, bool) else str(value)
        if plain in words or (plain in _BOOLS and _BOOLS[plain] in words):
            return words.get(plain) or words[_BOOLS[plain]]
        return f"{value:g} {self.unit}".strip() if isinstance(value, float) else plain


UNIT = "unit."
"""Before the name of a field: the unit of a number alone in it."""
_FIRST = re.compile(r"\d+(?:\.\d+)?")
_BOOLS = {"true": "yes", "false": "no"}
_YES_NO = (("yes", "Yes"), ("no", "No"))
_BOX = (("yes", "Boxed"), ("no", "Left lying"))


def _same(*words: str) -> tuple[tuple[str, str], ...]:
    return tuple((word, word[:1].upper() + word[1:]) for word in words)


@dataclass(frozen=True, slots=True)
class Form:
    """A short form for one kind of entry.

    Parameters
    ----------
    kind : str
        Kind of entry that it makes.
    title, says : str
        Its name, and what it is for.
    fields : tuple of Field
        What is asked.
    key : str
        Its own name, where several forms make one kind; else the kind.
    fixed : mapping of str to str
        Fields that are not asked, with what they hold.
    """

    kind: str
    title: str
    says: str
    fields: tuple[Field, ...]
    key: str = ""
    fixed: tuple[tuple[str, str], ...] = ()

    @property
    def path(self) -> str:
        """Its part of the address."""
        return (self.key or self.kind).replace(" ", "-")


_PLACE = Field("place", "Which ones", "by the gate, or a peg")
_FORMS = (
    Form("cut", "Cut", "A cut, boxed or left lying.", (
        Field("boxed", "Clippings", choices=_BOX),
        Field("height_of_cut_mm", "Height of cut", unit="mm", is_number=True),
        Field("filled_box", "Was the box filled?", choices=_YES_NO),
    )),
    Form("water", "Water", "A watering, by depth, litres or minutes.", (
        Field("minutes", "Minutes", "40", unit="min", is_number=True),
        Field("depth_mm", "or depth", "4", unit="mm", is_number=True),
        Field("litres", "or how much in all", "480, or 5 UK gal", unit="L"),
        Field("by", "With", choices=(("hose", "Hose"), ("can", "Can"), ("tank", "Tank"),
                                     ("sprinkler", "Sprinkler"))),
        Field("place", "What was watered", choices=(("", "The sward"), ("seedbed", "A seedbed"),
                                                    ("refills", "Refills"))),
    )),
    Form("hold-off", "Hold off", "A job not done, and why: restraint is worth recording.", (
        Field("job", "Job", "another job", needed=True, is_open=True,
              choices=_same("verticut", "cut", "feed", "sow", "scarify", "roll", "water")),
        Field("reason", "Why", "in your own words", needed=True, is_open=True, choices=_same(
            "too dry", "heads up and no box", "wet underfoot", "frost", "too hot",
            "seedlings too young", "not growing", "no time")),
    )),
    Form("verticut", "Verticut", "A verticut, with its depth and direction.", (
        Field("depth_mm", "Depth below the height of cut", "2, or 1/16 in", unit="mm",
              needed=True, is_number=True),
        Field("line_deg", "Direction against the long side", "20 or -20 degrees", unit="°"),
        Field("boxed", "What it lifted", choices=_BOX),
    )),
    Form("heads", "Heads", "Seed heads of annual meadow-grass seen, or none.", (
        Field("seen", "Heads", choices=(("yes", "Seen"), ("no", "None seen")), needed=True),
    )),
    Form("tuft check", "Tuft check", "Tufts looked at after a cut: how many still carry heads.", (
        Field("tufts", "Tufts looked at", "20", needed=True, is_number=True),
        Field("with_heads", "of them with heads", "3", needed=True, is_number=True),
    )),
    Form("reading", "Rain", "Rain of a day, from the gauge.", (
        Field("value", "Rain", "12, or 0.5 in", unit="mm", needed=True,
              is_number=True),
    ), "rain", (("quantity", "rain"), ("unit", "mm"))),
    Form("reading", "Soil temperature", "A thermometer in the ground, in the morning.", (
        Field("value", "Soil temperature", "9.5, or 49 F", unit="°C", needed=True,
              is_number=True),
    ), "soil temperature", (("quantity", "soil temperature"), ("unit", "°C"))),
    Form("feed", "Feed", "A feed, with what its label says.", (
        Field("product", "Product", "as on the bag"),
        Field("rate_g_m2", "Rate", "25", unit="g/m²", is_number=True),
        Field("nitrogen_percent", "Nitrogen on the label", "12", unit="%", is_number=True),
        Field("watered_in", "Watered in?", choices=_YES_NO),
    )),
    Form("refill", "Refill", "Holes filled with clean soil and the same seed.", (
        Field("holes", "Holes", "12", is_number=True),
        Field("hole_mm", "Width of a hole", "50", unit="mm", is_number=True),
        Field("lot", "Lot of the seed", "a code from the label", of_ground="lots", is_open=True),
        _PLACE,
    )),
    Form("refill check", "Refills looked at again", "How many have taken.", (
        Field("looked", "Refills looked at", "12", needed=True, is_number=True),
        Field("taken", "of them taken", "9", needed=True, is_number=True),
        _PLACE,
    )),
    Form("dig clumps", "Clumps dug", "Clumps of Yorkshire fog dug out with a margin.", (
        Field("clumps", "Clumps", "4", is_number=True),
        Field("margin_mm", "Margin beyond the last rooted node", "100", unit="mm",
              is_number=True),
        Field("spoil_to", "Where they went", "another way off the site", is_open=True,
              choices=_same("skip", "off site", "green waste")),
        _PLACE,
    )),
    Form("clump check", "Clumps looked at again", "How many have come back.", (
        Field("looked", "Dug clumps looked at", "4", needed=True, is_number=True),
        Field("regrown", "of them come back", "0", needed=True, is_number=True),
        _PLACE,
    )),
    Form("tug test", "Tug test", "A seedling pulled: its leaf tears, or the roots give.", (
        Field("passed", "What gave", needed=True,
              choices=(("yes", "The leaf tore"), ("no", "The roots gave"))),
        Field("species", "Which grass", "the slowest of the mixture"),
    )),
    Form("frost", "Frost", "Frost on the ground, or thawed.", (
        Field("state", "The ground", choices=(("frost", "White frost"),
              ("frozen ground", "Frozen ground"), ("thawed", "Thawed")), needed=True),
    )),
    Form("underfoot", "Underfoot", "How wet it is to walk on.", (
        Field("state", "The ground", choices=(("firm", "Firm"), ("soft", "Soft"),
              ("waterlogged", "Waterlogged")), needed=True),
    )),
    Form("drought sign", "Drought sign", "Footprints that stay, or colour gone off.", (
        Field("seen", "Footprints or off-colour",
              choices=(("yes", "Seen"), ("no", "Looked for, none")), needed=True),
    )),
    Form("brush", "Brush or rake", "Dew, casts, leaves or heads brushed off.", (
        Field("tool", "With", choices=_same("brush", "rake")),
        Field("lifted_heads", "Did it lift heads?", choices=_YES_NO),
    )),
    Form("clean-down", "Cleaned down", "A machine or boots cleaned, so that no seed is carried.", (
        Field("unit", "What was cleaned", "another", is_open=True,
              choices=_same("mower", "verticut unit", "boots")),
        Field("washed", "Washed?", choices=_YES_NO),
        Field("box_emptied", "The box was emptied",
              choices=(("off site", "Off site"), ("on site", "On site"))),
    )),
    Form("note", "Note", "Anything, in your own words.", (
        Field("text", "What you saw", needed=True),
    )),
)  # fmt: skip
FORMS: Mapping[str, Form] = {form.key or form.kind: form for form in _FORMS}
"""The forms by their own name, in the order in which they are offered: the most frequent first."""


def form_of(what: Happening) -> Form | None:
    """Find the form that an entry would have been written with; None if there is none."""
    if isinstance(what, Reading):
        form = FORMS.get(what.quantity)
        return form if form and form.kind == what.kind else None
    return FORMS.get(what.kind)


def with_ground(form: Form, lots: Sequence[str]) -> Form:
    """Give a form with the choices that this ground has."""
    own = tuple((code, code) for code in lots)
    fields = tuple(
        replace(field, choices=own) if field.of_ground == "lots" else field for field in form.fields
    )
    return replace(form, fields=fields)


def in_units_of(form: Form, units: Units) -> Form:
    """Give a form that asks for numbers in the units chosen.

    Parameters
    ----------
    form : Form
        The form, in the diary's units.
    units : Units
        What the person chose.
    """
    is_wet = form.kind in {"water", "reading"}
    return replace(form, fields=tuple(_in_units(each, units, is_wet) for each in form.fields))


def _in_units(field: Field, units: Units, is_wet: bool) -> Field:
    unit = asked_in(field.unit, units)
    if is_metric(units) or unit == field.unit:
        return field
    example = _FIRST.match(field.hint)
    if example is None:
        return replace(field, unit=unit, is_chosen_unit=True)
    own = standing(float(example[0]), field.unit, units, is_wet)
    hint = f"{own}, or {example[0]} {field.unit}"
    return replace(field, unit=unit, hint=hint, is_chosen_unit=True)


def filled(form: Form, sent: Mapping[str, Any]) -> dict[str, str]:
    """Take the fields of a form from what was sent; own words go before a choice beside them.

    Raises
    ------
    BadInputError
        If one that is needed is empty, or a choice is none of those offered.
    """
    typed = dict(form.fixed)
    for field in form.fields:
        own = str(sent.get(f"{field.name}_own", "")).strip() if field.is_open else ""
        text = own or str(sent.get(field.name, "")).strip()
        text = with_unit(text, str(sent.get(f"{UNIT}{field.name}", ""))[:20])
        if not text and field.needed:
            allowed = field.hint or "one of those shown"
            raise BadInputError(field.label.casefold(), "nothing", allowed)
        if text and field.choices and not field.is_open and text not in dict(field.choices):
            raise BadInputError(
                field.label.casefold(), text, ", ".join(word for _, word in field.choices)
            )
        if text:
            typed[field.name] = text
    return typed
