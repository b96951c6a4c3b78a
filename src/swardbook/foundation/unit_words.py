"""Sentences and tables put into the units a person chose.

Every sentence here gives its quantities as number and unit, ``8 mm`` or ``12 to 18 g/m²``, and
may go on with bare numbers of the same unit behind one of the words of `_CARRIED`. That makes
the unit of each number known from the text, and one place enough to write it in another.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import replace

from swardbook.foundation.units import METRIC, PARTING_SPACE, System, Units, written

TYPED_FROM, TYPED_TO = "\ue000", "\ue001"
"""Around what a person typed: it is shown as it was typed."""
_SIGNS = str.maketrans("", "", TYPED_FROM + TYPED_TO)

_DIGITS = r"(?:[1-9]\d{0,2}(?:,\d{3})+|\d+)(?:\.\d+)?(?![\d]|[.,]\d)"
_FREE = r"(?<![\w.,/=:\-−])"
_NUMBER = rf"{_FREE}[-−+]?{_DIGITS}"
_ELEMENT = r"\)?,? \(?(?:P₂O₅|K₂O|N|P|K|S|Mg|Fe) "
_BETWEEN = rf"(?: to | or | and |[–-]|, left |{_ELEMENT})"
_ACROSS = r"(?: by | x | × )"
_WORDS: dict[str, str] = {
    # as written in a sentence: the unit in which it is held; the longer ones first
    r"g N(?:/| a | per )m[²2]": "g N/m²", r"g(?:/| a | per )m[²2]": "g/m²",
    r"m²|m2": "m²", r"m³|m3": "m³", r"m/s": "m/s", r"km/h": "km/h", r"mm": "mm", r"cm": "cm",
    r"m": "m", r"(?:L/min|L a minute|litres a minute)": "L/min", r"L|litres?": "L", r"kg": "kg",
    r"g": "g", r"t": "t", r"°C": "°C",
}  # fmt: skip
_ENDS = r"(?![\w²³·]|/[a-zA-Z]| a litre\b| d\b)"
_RATE = r"(?:/h\b| an? (?:hour|day)\b)?"
_UNIT = "|".join(f"(?P<u{n}>{each})" for n, each in enumerate(_WORDS))
_OTHER = (
    r"(?! ?(?:%|°|×|h\b|days?\b|weeks?\b|months?\b|years?\b|hours?\b|min(?:utes)?\b|cores?\b"
    r"|frames?\b|places?\b|cuts?\b|points?\b|passes\b))"
)
_RANGE = rf"{_DIGITS}(?:(?: to |[–-]){_DIGITS})?"
_CARRIED = (
    r"(?:,? likely |(?: of seed)? \((?:about )?|, comfortable |, wants |(?: so far)?;? a year is"
    r" commonly | by [\w ]+, good to about ±[\d.]+ % \(|(?: of [\w-]+)?: two passes across"
    r" each other of | of rain \(usually |, not |, above the zone's )"
)
_AFTER = rf"(?:{_CARRIED}{_RANGE}{_OTHER}\)?|; {_RANGE}(?= is common| so far))"
# What takes long to compile is text, which `re` compiles once, when it is first needed.
_PIECE = rf"(?P<cue>{_CARRIED}|; )(?P<range>{_RANGE})"
_QUANTITY = (
    rf"(?P<numbers>{_NUMBER}(?:{_BETWEEN}[-−+]?{_DIGITS}\)?|{_ACROSS}{_DIGITS}(?= c?m\b))*)"
    rf"(?P<gap>[ \N{{NO-BREAK SPACE}}]?)(?:{_UNIT})(?P<rate>{_RATE}){_ENDS}(?P<after>{_AFTER}*)"
)
_FULL = re.compile(_DIGITS)
_SIGNED = rf"(?<![\w.,])(?:(?<!\d)[-−+])?{_DIGITS}"
_TO_MARK = rf"(?:(?<![\w.,/=:'\-−])|(?<=\d[-–])|(?<=[\s(][-−+])){_DIGITS}"
_ANOTHER = r"\d ?°F|\d in(?= is\b|[;:,.)]|$)|\d (?:oz|lb|ft|yd|mph|(?:UK |US )?gal)\b"
"""A sentence about several units, such as a question which was meant, is left as it is."""
_KEPT = re.compile(
    rf"{TYPED_FROM}[^{TYPED_TO}]*{TYPED_TO}"
    r"|\b(?:swardbook|export|unset) [a-zA-Z](?:[^.;]|[.;](?! |$))*"
)
"""What is to be copied, or was typed."""
_TWICE = rf"({_NUMBER}) m/s \({_DIGITS} km/h\)"
_CHANGE = re.compile(r"(?:right to|within|warmer by|colder by) (?:about )?$")
_WATER = (
    r"(?i)\b(?:rain|water|missing\b|fell\b|falls\b|tins?\b|doses?\b|litres|ET0|loss\b|lose\b|losing\b"
    r"|stress|seedbed|tap\b|sinks in\b|infiltration|\d+ x )|(?<!-)\bwet ground|take \d+ minutes"
)
_SOIL = re.compile(r" (?:in place|as it lay|soil|of (?:dressing|weed-seed|soil|it kept))")
_HEAD = re.compile(r"(?<![\w/²])(mm|m²|°C|litres|kg|g|m)(?![\w/²³]| d\b)")
_COUNTED = re.compile(r"\b(?:a|per) m²")


def typed(text: str) -> str:
    """Mark what a person typed, so that it is shown as it was typed."""
    words = text.rstrip(".")
    return f"{TYPED_FROM}{words}{TYPED_TO}{text[len(words) :]}" if words else text


def without_marks(text: str) -> str:
    """Take the marks of `typed` away, before it is printed."""
    return text.translate(_SIGNS)


def kept_over_lines(lines: Sequence[str]) -> list[str]:
    """Close and open the marks of `typed` where a wrapped line ends inside them."""
    is_open, made = False, []
    for line in lines:
        marked = TYPED_FROM * is_open + line
        is_open = marked.rfind(TYPED_FROM) > marked.rfind(TYPED_TO)
        made.append(marked + TYPED_TO * is_open)
    return made


def in_words(text: str, units: Units) -> str:
    """Put a sentence into the chosen units; doing so again changes nothing.

    Parameters
    ----------
    text : str
        A sentence or a line, in metric with a decimal point.
    units : Units
        What the person chose.

    Returns
    -------
    str
        The sentence. What was typed, and commands to copy, stay as they are.
    """
    if units == METRIC or not any(map(str.isdecimal, text)):
        return text
    is_about_units = bool(re.search(_ANOTHER, text))

    def told(part: str) -> str:
        if units.system is not System.METRIC and not is_about_units:
            part = re.sub(_TWICE, r"\1 m/s", part)
            part = re.sub(_QUANTITY, lambda found: _said(found, units), part)
        return re.sub(_TO_MARK, lambda found: units.marked(found[0]), part)

    return _outside(_KEPT, text, told)


def column(head: str, cells: Sequence[str], units: Units, unit: str = "") -> tuple[str, list[str]]:
    """Put a column of a table into the chosen units.

    Parameters
    ----------
    head : str
        Its head: a unit in it is that of the bare numbers below.
    cells : sequence of str
        What stands below.
    units : Units
        What the person chose.
    unit : str
        The unit where the head does not say it, but a legend does.

    Returns
    -------
    tuple of str and list of str
        Head and cells.
    """
    found = None if unit or _COUNTED.search(head) else _HEAD.search(head)
    metric = unit or ("" if found is None else {"litres": "L"}.get(found[1], found[1]))
    bare = [each for each in cells if _is_bare(each)]
    values = [float(each.replace(",", "")) for cell in bare for each in _FULL.findall(cell)]
    shown = units.unit(metric, *values) if metric and bare else None
    if shown is None:
        return in_words(head, units), [in_words(each, units) for each in cells]
    each_alone = [written([n], shown)[0] for cell in bare for n in _FULL.findall(cell)]
    if any("." in each for each in each_alone) or re.search(_WATER, head):
        shown = replace(shown, in_fractions=False)
    cells = [
        re.sub(_SIGNED, lambda each: units.marked(written([each[0]], shown)[0]), cell)
        if _is_bare(cell) else in_words(cell, units)
        for cell in cells
    ]  # fmt: skip
    if found:
        return f"{head[: found.start()]}{shown.name}{head[found.end() :]}", cells
    return head, cells


def unit_name(metric: str, units: Units) -> str:
    """Give the name of the unit in which a metric one is shown, for a legend."""
    shown = units.unit(metric)
    return metric if shown is None else {"in": "inches"}.get(shown.name, shown.name)


def _said(found: re.Match[str], units: Units) -> str:
    metric = next(held for n, held in enumerate(_WORDS.values()) if found[f"u{n}"])
    if metric == "m³" and found.string[: found.start()].endswith("water "):
        metric = "m³ of water"
    elif metric == "L" and _SOIL.match(found.string, found.end()):
        metric = "L of soil"
    first = re.findall(_SIGNED, found["numbers"])
    values = [float(each.replace(",", "").replace("−", "-")) for each in first]
    unit = units.unit(metric, *values)
    if unit is None:
        return found[0]
    around = found.string[max(0, found.start() - 40) : found.end() + 30]
    is_wet = bool(found["rate"]) or bool(re.search(_WATER, around))
    is_change = unit.offset and _CHANGE.search(found.string[: found.start()])
    if is_change:
        unit = replace(unit, offset=0.0)

    def anew(part: str) -> str:
        numbers = re.findall(_SIGNED, part)
        made = iter(written(numbers, unit, is_wet)) if numbers else iter(())
        return re.sub(_SIGNED, lambda _: next(made).replace(" ", PARTING_SPACE), part)

    after = re.sub(_PIECE, lambda each: each["cue"] + anew(each["range"]), found["after"])
    return f"{anew(found['numbers'])} {unit.name}{found['rate']}{after}"


def _is_bare(cell: str) -> bool:
    return bool(re.fullmatch(r"[-−+\d.,\s()–]+(?:(?:to|or) [\d.,\s()]+)?", cell)) and bool(
        _FULL.search(cell)
    )


def _outside(pattern: re.Pattern[str], text: str, told: Callable[[str], str]) -> str:
    parts, at = [], 0
    for found in pattern.finditer(text):
        parts += [told(text[at : found.start()]), found[0]]
        at = found.end()
    return "".join([*parts, told(text[at:])])
