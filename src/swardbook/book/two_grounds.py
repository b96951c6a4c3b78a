"""What of a second ground is called otherwise once it is one with a first: zones and places."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from swardbook.foundation.errors import BadInputError
from swardbook.husbandry.codec import to_plain
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground, HonestSquare, Peg, Plot, Zone
from swardbook.husbandry.happenings import Changed, Count
from swardbook.seed.lot import SeedLot

Piece = Zone | Peg | HonestSquare | Plot | SeedLot


@dataclass(frozen=True, slots=True)
class Moved:
    """Names of the second ground, as they are in the ground that stands for both.

    Parameters
    ----------
    zones : mapping of str to str
        Zones that are called otherwise, by their old names.
    places : mapping of str to str
        Pegs and squares likewise.
    """

    zones: Mapping[str, str]
    places: Mapping[str, str]

    def zone(self, name: str) -> str:
        """Give what a zone is called."""
        return _called(self.zones, name)

    def place(self, name: str) -> str:
        """Give what a place is called."""
        return _called(self.places, name)

    def entry(self, entry: DiaryEntry) -> DiaryEntry:
        """Give an entry under the names that hold; all else of it stays."""
        what = entry.what
        if isinstance(what, Count):
            places = tuple(replace(each, place=self.place(each.place)) for each in what.places)
            what = replace(what, places=places)
        elif isinstance(what, Changed):
            kind, _, name = what.thing.partition(" ")
            now = {"zone": self.zone, "peg": self.place, "square": self.place}.get(kind, str)(name)
            what = replace(what, thing=f"{kind} {now}".strip())
        return replace(entry, what=what, zone=self.zone(entry.zone))

    def back(self) -> Moved:
        """Give the way back."""
        return Moved(_turned(self.zones), _turned(self.places))


def plan_moves(mine: Ground, other: Ground, zones: Mapping[str, str], slug: str) -> Moved:
    """Find what the zones and places of a second ground are called beside those of a first.

    Zones of one name are one zone, unless it is said otherwise. A peg or square of a name that the
    first has for another place is called after its ground too.

    Parameters
    ----------
    mine, other : Ground
        The first and the second.
    zones : mapping of str to str
        Zones of the second, and what they are to be called.
    slug : str
        Short name of the second.

    Raises
    ------
    UnknownNameError
        If the second has no such zone.
    BadInputError
        If two of its zones would be one.
    """
    there_are = {each.name.casefold(): each.name for each in mine.zones}
    called = {each.name.casefold(): there_are.get(each.name.casefold(), each.name)
              for each in other.zones}  # fmt: skip
    for old, new in zones.items():
        zone = other.zone(old)
        if not new.strip():
            raise BadInputError("a zone", f"{old}=", "the name it has from now on")
        called[zone.name.casefold()] = there_are.get(new.strip().casefold(), new.strip())
    names = [new.casefold() for new in called.values()]
    if len({*names}) < len(names):
        raise BadInputError("zones of the second lawn", ", ".join(names), "each called otherwise")
    zones = {each.name: called[each.name.casefold()] for each in other.zones
             if called[each.name.casefold()] != each.name}  # fmt: skip
    moved = Moved(zones, {})
    own: tuple[Peg | HonestSquare, ...] = (*mine.pegs, *mine.squares)
    there = {each.name.casefold(): each for each in own}
    places: dict[str, str] = {}
    every: tuple[Peg | HonestSquare, ...] = (*other.pegs, *other.squares)
    for each in every:
        same_name = there.get(each.name.casefold())
        now = replace(each, zone=moved.zone(each.zone))
        if same_name is not None and to_plain(same_name) != to_plain(now):
            places[each.name] = f"{each.name} ({slug})"
    return Moved(zones, places)


def moved_piece(piece: Piece, moved: Moved) -> Piece:
    """Give a piece of the second ground under the names that hold."""
    if isinstance(piece, Zone):
        return replace(piece, name=moved.zone(piece.name))
    if isinstance(piece, Peg | HonestSquare):
        return replace(piece, name=moved.place(piece.name), zone=moved.zone(piece.zone))
    if isinstance(piece, Plot):
        return replace(piece, zone=moved.zone(piece.zone))
    return piece


def names_of(held: Ground | Piece) -> dict[tuple[str, str], Piece]:
    """Give pieces by kind and case-folded name; the site is left out."""
    every: tuple[Any, ...] = (held,)
    if isinstance(held, Ground):
        every = (*held.zones, *held.pegs, *held.squares, *held.plots, *held.lots)
    return {(_KINDS[type(each)], _name(each).strip().casefold()): each for each in every}


def _name(piece: Piece) -> str:
    if isinstance(piece, SeedLot):
        return piece.code
    return f"{piece.zone}/{piece.name}" if isinstance(piece, Plot) else piece.name


def _turned(names: Mapping[str, str]) -> dict[str, str]:
    return {new: old for old, new in names.items()}


def _called(names: Mapping[str, str], name: str) -> str:
    wanted = name.casefold()
    return next((new for old, new in names.items() if old.casefold() == wanted), name)


_KINDS: dict[type, str] = {
    Zone: "zone", Peg: "peg", HonestSquare: "square", Plot: "plot", SeedLot: "lot",
}  # fmt: skip
