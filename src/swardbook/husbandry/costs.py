"""What the work cost, line by line, beside what was planned; to the penny, in the site's money.

Only money that was written down counts. The words of a diary stay in the diary: a line is called
after its kind of work, or as the person called it who planned it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from swardbook.husbandry.clumps import DigClumps
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.happenings import (
    Changed,
    Cut,
    Dress,
    Feed,
    Happening,
    Note,
    Pull,
    Reading,
    Refill,
    Scarify,
    Sow,
    Strip,
    Tine,
    Treatment,
    Verticut,
    Water,
)

OTHER = "Other"
_CALLED: Mapping[type[Happening], str] = {
    Sow: "Seed", Refill: "Seed", Feed: "Feed", Tine: "Tining", Scarify: "Scarifying",
    Verticut: "Verticutting", Dress: "Dressing", Strip: "Turf stripping", Cut: "Mowing",
    Water: "Water", Reading: "Soil tests", Pull: "Weeding by hand", DigClumps: "Weeding by hand",
    Treatment: "Treatments",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class CostLine:
    """One line of the costs.

    Parameters
    ----------
    name : str
        What for.
    planned, spent : Decimal or None
        None where nothing is written down.
    """

    name: str
    planned: Decimal | None
    spent: Decimal | None


@dataclass(frozen=True, slots=True)
class Costs:
    """What was planned and what was spent.

    Parameters
    ----------
    lines : tuple of CostLine
        The largest first, what has no line of its own last.
    """

    lines: tuple[CostLine, ...]

    @property
    def planned(self) -> Decimal | None:
        """All that was planned; None if nothing was."""
        told = [each.planned for each in self.lines if each.planned is not None]
        return sum(told, Decimal(0)) if told else None

    @property
    def spent(self) -> Decimal | None:
        """All that was spent; None if nothing is written down."""
        told = [each.spent for each in self.lines if each.spent is not None]
        return sum(told, Decimal(0)) if told else None

    def shortened(self, most: int) -> Costs:
        """Put the smallest lines together until there are no more than `most`.

        Parameters
        ----------
        most : int
            The most lines, at least 1.
        """
        if len(self.lines) <= most:
            return self
        rest = [each for each in self.lines if each.name == OTHER]
        by_size = sorted((each for each in self.lines if each.name != OTHER), key=_size)
        cut = len(by_size) - most + 1
        rest += by_size[:cut]
        kept = tuple(each for each in self.lines if each not in rest)
        return Costs((*kept, CostLine(OTHER, Costs(tuple(rest)).planned, Costs(tuple(rest)).spent)))


def costs(entries: Iterable[DiaryEntry], planned: Mapping[str, Decimal]) -> Costs:
    """Add up what entries cost, on the lines that were planned and by kind of work.

    Parameters
    ----------
    entries : iterable of DiaryEntry
        Standing entries.
    planned : mapping of str to Decimal
        What was planned, by line; an entry counts to the longest line whose words it begins to say.
    """
    spent: dict[str, Decimal] = {}
    for entry in entries:
        if entry.money is not None:
            name = _line_of(entry.what, planned)
            spent[name] = spent.get(name, Decimal(0)) + entry.money
    names = [*planned, *(name for name in spent if name not in planned)]
    lines = [CostLine(name, planned.get(name), spent.get(name)) for name in names]
    return Costs(
        tuple(sorted(lines, key=lambda each: (each.name == OTHER, -_size(each), each.name)))
    )


def _line_of(what: Happening, planned: Mapping[str, Decimal]) -> str:
    called = _CALLED.get(type(what), OTHER)
    said = _words(f"{'' if called == OTHER else called} {_said(what)}")
    fitting = [
        name for name in planned
        if (asked := _words(name)) and all(any(s.startswith(a) for s in said) for a in asked)
    ]  # fmt: skip
    return max(fitting, key=len, default=called)


def _said(what: Happening) -> str:
    match what:
        case Note(text):
            return text
        case Changed(thing=thing, after=after):
            return f"{thing} {after}"
        case Dress(material=material):
            return material
        case Feed(product=product):
            return product
        case _:
            return ""


def _words(text: str) -> list[str]:
    return [
        each for each in re.findall(r"\w+", text.casefold()) if each not in {"and", "of", "the"}
    ]


def _size(each: CostLine) -> Decimal:
    return max(each.planned or Decimal(0), each.spent or Decimal(0))
