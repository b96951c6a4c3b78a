"""The ground of one book: its pieces and its diary, read as they stand."""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING, Any, TypeVar
from uuid import UUID

from swardbook.foundation.errors import BadInputError, DamagedBookError
from swardbook.husbandry.codec import from_plain, read_entry
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground, HonestSquare, Peg, Plot, Site, Zone
from swardbook.records.chain import FIRST, Link
from swardbook.records.for_others import as_told, is_for_others
from swardbook.records.guard import REMEDY, guarded
from swardbook.records.standing import standing
from swardbook.records.weather_store import WeatherStore
from swardbook.seed.lot import SeedLot

if TYPE_CHECKING:
    from swardbook.records.rows import Rows

Thing = Site | Zone | Peg | HonestSquare | Plot | SeedLot
Piece = TypeVar("Piece", Site, Zone, Peg, HonestSquare, Plot, SeedLot)
THINGS: dict[type, str] = {
    Site: "site", Zone: "zone", Peg: "peg", HonestSquare: "square", Plot: "plot", SeedLot: "lot",
}  # fmt: skip
_MOST_GROUNDS = 3
"""States of the ground that are held: with and without what is private, and whole."""
_State = tuple[tuple[tuple[str, str, str], ...], str, date | None, bool]


class GroundStore(WeatherStore):
    """The ground of an opened book; `Store` is one."""

    def __init__(self, rows: Rows, where: str) -> None:
        self._rows = rows
        self._where = where
        self._read: dict[UUID, DiaryEntry] = {}
        self._upto, self._end = 0, FIRST
        """Place and checksum of the last entry that was read."""
        self._grounds: dict[_State, Ground] = {}

    def ground(self, until: date | None = None) -> Ground:
        """Read the ground as it stands.

        Parameters
        ----------
        until : date or None
            Entries that began after this day are left out; None reads all.

        Raises
        ------
        BadInputError
            If the book has no site yet.
        """
        with guarded(self._where):
            things = tuple(self._rows.things())
        diary = self.whole_diary()
        state = (things, self._end, until, is_for_others())
        if state not in self._grounds:
            while len(self._grounds) >= _MOST_GROUNDS:
                self._grounds.pop(next(iter(self._grounds)), None)
            self._grounds[state] = self._ground(things, standing(diary, until))
        return self._grounds[state]

    def _ground(
        self, things: Sequence[tuple[str, str, str]], diary: tuple[DiaryEntry, ...]
    ) -> Ground:
        found: dict[type, list[Any]] = {kind: [] for kind in THINGS}
        kinds = {name: kind for kind, name in THINGS.items()}
        for name, text, _ in things:
            if name not in kinds:
                raise DamagedBookError(self._where, f"{name!r} is no piece of ground", REMEDY)
            found[kinds[name]].append(self._thing(kinds[name], name, text))
        if not found[Site]:
            raise BadInputError(
                "the book", self._where, "a book with a site", "Make one with `swardbook begin`."
            )
        return Ground(
            site=found[Site][0],
            zones=tuple(found[Zone]),
            pegs=tuple(found[Peg]),
            squares=tuple(found[HonestSquare]),
            plots=tuple(found[Plot]),
            lots=tuple(found[SeedLot]),
            diary=diary,
        )

    def whole_diary(self) -> tuple[DiaryEntry, ...]:
        """Read all entries in the order written, with those that were corrected."""
        with guarded(self._where):
            links = self._rows.links(self._upto)
        for link in links:
            entry = self._entry(link)
            self._read[entry.id] = entry
            self._upto, self._end = link.position, link.checksum
        return as_told(tuple(self._read.values()))

    def chain(self) -> tuple[Link, ...]:
        """Read the entries as kept, each with its checksum."""
        with guarded(self._where):
            return tuple(self._rows.links())

    def _entry(self, link: Link) -> DiaryEntry:
        try:
            return read_entry(json.loads(link.text))
        except ValueError as slip:
            raise DamagedBookError(
                f"Entry {link.position} ({link.id})", f"cannot be read: {slip}", REMEDY
            ) from slip

    def _thing(self, kind: type[Piece], name: str, text: str) -> Piece:
        try:
            return from_plain(kind, json.loads(text), f"a {name} of the book")
        except ValueError as slip:
            raise DamagedBookError(self._where, str(slip), REMEDY) from slip
