"""Say in words what stands in the diary."""

from __future__ import annotations

from dataclasses import MISSING, fields
from typing import TYPE_CHECKING, Any

from swardbook.cli.chosen import as_typed
from swardbook.foundation.dates import say

if TYPE_CHECKING:
    from swardbook.foundation.dates import When
    from swardbook.husbandry.diary import DiaryEntry
    from swardbook.husbandry.happenings import Happening

_UNITS = (
    ("_g_m2", "g/m²"), ("_per_m2", "a m²"), ("_mm", "mm"), ("_m2", "m²"), ("_m3", "m³"),
    ("_deg", "°"), ("_percent", "%"), ("_g", "g"),
)  # fmt: skip
_WHOLE_LABELS = {"per_m2": "", "p2o5_percent": "P₂O₅", "k2o_percent": "K₂O", "litres": "litres"}
_BARE = {"what", "reason", "state", "method", "job", "product", "product_name", "place"}
"""Fields whose own words say what they are."""
_ONE_DECIMAL = {"mm", "g/m²"}
SHORT = 8


def tell(entry: DiaryEntry) -> str:
    """Say one entry in one line."""
    where = entry.zone or "whole site"
    alike = f"about {entry.number} × " if entry.number > 1 else ""
    told = f"{tell_when(entry.when)}, {where}: {alike}{tell_what(entry.what).rstrip('.')}"
    if entry.hours is not None:
        told += f", {entry.hours:g} h"
    if entry.money is not None:
        told += f", cost {entry.money:,}"
    if entry.who:
        told += f", by {entry.who}"
    return f"{told}."


def tell_when(when: When) -> str:
    """Say a day, or the words and the span of an undated thing."""
    if when.is_dated:
        return say(when.first)
    return f"{when.words or 'undated'} (between {say(when.first)} and {say(when.last)})"


def tell_what(what: Happening) -> str:
    """Say what happened, with every field that was given."""
    if what.kind == "count":
        places = getattr(what, "places", ())
        return f"count of {len(places)} place{'' if len(places) == 1 else 's'}"
    if what.kind == "plot readings":
        read = {each.plot for each in getattr(what, "readings", ()) if each.value is not None}
        return f"{getattr(what, 'trait', '')} of {len(read)} plot{'' if len(read) == 1 else 's'}"
    if what.kind == "plot care":
        plots = getattr(what, "plots", ())
        told = f"{getattr(what, 'job', '')} on {len(plots)} plot{'' if len(plots) == 1 else 's'}"
        return f"{told} only, {as_typed(getattr(what, 'reason', ''))}".removesuffix(", ")
    if what.kind in _BY_HAND:
        return _BY_HAND[what.kind](what)
    if what.kind == "parked":
        return f"parked, not taken in: {as_typed(getattr(what, 'where', ''))}"
    if what.kind == "worked out":
        return f"{getattr(what, 'about', '')}: {getattr(what, 'words', '')}"
    if what.kind == "note":
        return f"note: {as_typed(getattr(what, 'text', ''))}"
    if what.kind == "frost" and getattr(what, "state", "") == "frost":
        return "frost"
    if what.kind == "reading":
        return f"reading: {_reading(what)}"
    given = [_field(entry.name, getattr(what, entry.name)) for entry in fields(what)
             if _is_said(what, entry.name)]  # fmt: skip
    return f"{what.kind}: {', '.join(given)}" if given else what.kind


def short_id(entry: DiaryEntry) -> str:
    """Give the beginning of an id, enough to find it again."""
    return str(entry.id)[:SHORT]


def quantity(number: float, unit: str = "") -> str:
    """Write a number without needless digits: a tenth of a mm is as fine as a mower is set."""
    if unit in _ONE_DECIMAL and 1 <= abs(number) < 1000:
        return f"{number:.1f}".removesuffix(".0")
    return f"{number:,.4g}" if abs(number) < 1000 else f"{number:,.0f}"


def _is_said(what: Happening, name: str) -> bool:
    held = getattr(what, name)
    if held is None or held in ("", ()):
        return False
    default = next(entry.default for entry in fields(what) if entry.name == name)
    is_plain_zero = isinstance(held, float | int) and not isinstance(held, bool) and held == default
    return default is MISSING or not is_plain_zero or name in {"looked", "taken", "tufts"}


def _field(name: str, held: Any) -> str:
    if name == "species":
        return _species(held)
    if name in _BARE and isinstance(held, str):
        return as_typed(held)
    if name == "filled_box":
        return "box filled" if held else "box not filled"
    if isinstance(held, bool):
        label = name.replace("_", " ")
        return label if held else f"not {label}"
    for end, unit in _UNITS:
        if name.endswith(end):
            label = _WHOLE_LABELS.get(name, name.removesuffix(end).replace("_", " "))
            if unit == "g" and held >= 1000:
                return f"{label} {quantity(held / 1000)} kg"
            return f"{label} {quantity(held, unit)} {unit}".strip().replace(" °", "°")
    label = name.replace("_", " ")
    if isinstance(held, float | int):
        return f"{label} {quantity(held)}"
    if hasattr(held, "isoformat"):
        return f"{label} {say(held)}"
    return f"{label} {as_typed(held) if isinstance(held, str) else held}"


def _reading(what: Happening) -> str:
    told = (getattr(what, each, "") for each in ("quantity", "value", "unit"))
    words = (quantity(each) if isinstance(each, float | int) else each for each in told)
    return " ".join(each for each in words if each)


def _photograph(what: Happening) -> str:
    plot, cover = getattr(what, "plot", ""), getattr(what, "cover", None)
    index, faults = getattr(what, "colour_index", None), getattr(what, "faults", ())
    told = f"photograph of plot {plot}" if plot else "photograph"
    if faults:
        return f"{told}, needs a look: {', '.join(faults)}"
    told += "" if cover is None else f", green cover {100 * cover:.0f} %"
    return told if index is None else f"{told}, dark-green index {index:.2f}"


def _changed(what: Happening) -> str:
    """Say what was set: each field that is another now, in words."""
    thing = str(getattr(what, "thing", ""))
    before, after = (_set(str(getattr(what, name, ""))) for name in ("before", "after"))
    said = {name: (_plain(before.get(name)), _plain(after.get(name)))
            for name in dict.fromkeys([*before, *after])}  # fmt: skip
    told = ", ".join(
        f"{name.replace('_', ' ')} {old}, now {new}".strip()
        for name, (old, new) in said.items() if before.get(name) != after.get(name)
    )  # fmt: skip
    reason = str(getattr(what, "reason", "")).rstrip(".")
    return f"changed: {thing}" + (f": {told}" if told else "") + (f". {reason}" if reason else "")


def _set(text: str) -> dict[str, Any]:
    """Read the fields that were set; words that are none stand for themselves."""
    import json

    try:
        read = json.loads(text)
    except ValueError:
        read = None
    return read if isinstance(read, dict) else {"": text} if text else {}


def _plain(held: Any) -> str:
    if held is None or held == "":
        return "not said"
    if isinstance(held, dict | list):
        return "as before it" if not held else "another"
    return quantity(held) if isinstance(held, int | float) and not isinstance(held, bool) else (
        as_typed(str(held))
    )  # fmt: skip


def _attachment(what: Happening) -> str:
    peg, plot = getattr(what, "peg", ""), getattr(what, "plot", "")
    places = [f"peg {peg}" if peg else "", f"plot {plot}" if plot else ""]
    shown = " of ".join([getattr(what, "what", ""), *filter(None, places)])
    of = getattr(what, "of", None)
    return f"{shown}, with entry {str(of)[:SHORT]}" if of else shown


def _species(name: str) -> str:
    from swardbook.foundation.errors import UnknownNameError
    from swardbook.handbook.species import find_species

    try:
        return find_species(name).both_names
    except UnknownNameError:
        return name


_BY_HAND = {"photograph": _photograph, "attachment": _attachment, "changed": _changed}
