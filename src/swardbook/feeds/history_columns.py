"""Headings of an old spreadsheet of work: which column is what, and in which unit."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from swardbook.foundation.quantities import known_unit

KindOf = Callable[[str], str]
"""Gives the key of what is counted under a heading; empty for another heading."""
FOUND = "found "
"""What a column of counts is called inside, before the kind."""
NAMES: dict[str, frozenset[str]] = {
    "date": frozenset({"date", "day", "when", "date done", "day done"}),
    "zone": frozenset({"zone", "lawn", "court", "green", "where", "part", "area of lawn"}),
    "place": frozenset({"place", "peg", "plot", "quadrat", "square", "spot", "frame no"}),
    "job": frozenset({
        "job", "what", "work", "task", "operation", "done", "activity", "work done", "kind",
        "what done",
    }),
    "seed": frozenset({"seed", "mixture", "mix", "lot", "seed mixture", "seed lot", "seeds"}),
    "product": frozenset({"product", "feed", "fertiliser", "fertilizer", "material", "dressing"}),
    "rate": frozenset({"rate", "seed rate", "sowing rate", "feed rate", "application rate"}),
    "used": frozenset({"used", "weight", "seed used", "total", "total used", "quantity used"}),
    "amount": frozenset({"amount", "quantity", "how much", "figure", "reading", "setting"}),
    "unit": frozenset({"unit", "units"}),
    "area": frozenset({"area", "area sown", "size", "area done"}),
    "height": frozenset({
        "height", "height of cut", "cut height", "mowing height", "cutting height", "cut at",
    }),
    "depth": frozenset({"depth", "blade depth"}),
    "boxed": frozenset({"boxed", "box", "clippings", "box on", "collected"}),
    "hours": frozenset({"hours", "time", "man hours", "time taken"}),
    "money": frozenset({"cost", "money", "price", "paid"}),
    "who": frozenset({"who", "by", "name", "done by", "initials"}),
    "counter": frozenset({"counter", "counted by"}),
    "points": frozenset({"points", "crossings", "points looked at"}),
    "frame": frozenset({"frame", "frame area", "area looked at", "quadrat area", "frame size"}),
    "method": frozenset({"method", "counted how"}),
    "plants": frozenset({"plants", "plants pulled", "pulled", "number pulled"}),
    "note": frozenset({"note", "notes", "remark", "remarks", "comment", "comments", "weather"}),
}  # fmt: skip
MEASURED = {"rate", "used", "amount", "area", "height", "depth", "hours", "frame"}
"""What is measured in a unit that may stand in the heading."""


@dataclass(frozen=True, slots=True)
class OldColumn:
    """One column of an old spreadsheet.

    Parameters
    ----------
    place : int
        Which cell of a row, from 0.
    heading : str
        As it stands in the file.
    meaning : str
        One of `NAMES`, ``found`` and a kind, or empty.
    unit : str
        Unit in the heading; ``%`` for cover; empty if it has none.
    """

    place: int
    heading: str
    meaning: str
    unit: str = ""


def read_headings(cells: Sequence[str], kind_of: KindOf) -> tuple[OldColumn, ...]:
    """Find what each column is; of two that mean the same, the first does.

    Parameters
    ----------
    cells : sequence of str
        The heading line.
    kind_of : callable
        Gives the key of what is counted under a heading.
    """
    found: list[OldColumn] = []
    taken: set[str] = set()
    for place, heading in enumerate(cells):
        column = _read_heading(place, " ".join(heading.split()), kind_of)
        if column.meaning in taken:
            column = OldColumn(place, column.heading, "")
        taken |= {column.meaning} - {""}
        found.append(column)
    return tuple(found)


def is_heading(columns: Sequence[OldColumn]) -> bool:
    """Tell whether a line is a heading: a date and one thing more."""
    meanings = {column.meaning for column in columns if column.meaning}
    return "date" in meanings and len(meanings) > 1


def _read_heading(place: int, heading: str, kind_of: KindOf) -> OldColumn:
    bracket = re.fullmatch(r"(.+?)\s*[(\[](.*)[)\]]\s*", heading)
    ways = [(bracket[1], bracket[2])] if bracket else [(heading, "")]
    words = heading.split()
    ways += [(" ".join(words[:n]).rstrip(","), " ".join(words[n:])) for n in range(1, len(words))]
    for name, unit in ways:
        meaning = _meaning(name)
        if meaning and not unit:
            return OldColumn(place, heading, meaning)
        if meaning in MEASURED and known_unit(unit):
            return OldColumn(place, heading, meaning, known_unit(unit))
    for name, unit in ways:
        kind = kind_of(name.replace("%", " ").strip())
        if kind:
            return OldColumn(place, heading, FOUND + kind, "%" if "%" in heading else unit)
    return OldColumn(place, heading, "")


def _meaning(name: str) -> str:
    plain = re.sub(r"[^a-z ]+", " ", name.casefold())
    plain = " ".join(plain.split())
    return next((meaning for meaning, names in NAMES.items() if plain in names), "")
