"""The records of one book: pure values in, pure values out, nothing lost on the way."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import date, datetime
from typing import TYPE_CHECKING, Any, cast
from uuid import UUID, uuid5

from swardbook.foundation.dates import When
from swardbook.husbandry.codec import read_entry, to_plain
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import HonestSquare, Peg, Plot, Site, Zone
from swardbook.husbandry.happenings import Changed
from swardbook.records.chain import Damage, canonical, row_of
from swardbook.records.damaged import damage_in, refuse_writing
from swardbook.records.for_others import marked
from swardbook.records.ground_store import THINGS, GroundStore, Thing
from swardbook.records.grounds import GroundName, chosen_ground, grounds_in
from swardbook.records.guard import guarded
from swardbook.records.lawns import LawnRow, lawn_rows
from swardbook.records.looking import require_writable
from swardbook.records.same_entry import Known
from swardbook.records.setup import drop_connection
from swardbook.records.standing import marked_if_twin
from swardbook.seed.lot import SeedLot

if TYPE_CHECKING:
    from swardbook.records.answered import Answered
    from swardbook.records.people import People
    from swardbook.records.rows import Rows
    from swardbook.records.tokens import Tokens

_OURS = UUID("5c8f0b52-4f0e-4c3a-9d0b-7a1f0c9b6e21")
"""Namespace of the ids made here, so that the same change has the same id."""


class Store(GroundStore):
    """One ground of an opened book; what is another ground's is neither seen nor touched.

    Reads see everything that was written, also by other programs. What `add` gives back is on
    the disk.
    """

    def __init__(self, rows: Rows, where: str, damage: str = "") -> None:
        super().__init__(rows, where)
        self.damage = damage
        """What is damaged in the book; then it can be read, and nothing is written."""
        self._is_writing = False

    # which ground, and those beside it

    def slug(self) -> str:
        """Give the short name of this ground; empty until its site is saved."""
        with guarded(self._where):
            return self._rows.slug()

    def grounds(self) -> tuple[GroundName, ...]:
        """List all grounds of the book, in the order begun."""
        with guarded(self._where):
            return tuple(name for _, name in grounds_in(self._rows.alias))

    def at(self, ground: str) -> Store:
        """Give another ground of the same book, over the same connection.

        Closing either closes the connection of both.

        Raises
        ------
        UnknownNameError
            If there is none of that name.
        """
        from swardbook.records.rows import Rows

        with guarded(self._where):
            key = chosen_ground(grounds_in(self._rows.alias), ground)
        return Store(Rows(self._rows.alias, key), self._where, self.damage)

    def beside(self, name: str) -> Store:
        """Begin a further ground in the same book, over the same connection.

        Write its site inside the same `together`, so that no ground is left without one.
        """
        with self._writing():
            made = Store(self._rows.add_ground(name), self._where)
            made.people().own_as_before()
            return made

    def people(self) -> People:
        """Give the people of this ground: who may log in, and as what."""
        from swardbook.records.people import People

        return People(self._rows.alias, self._rows.ground, self._where)

    def tokens(self) -> Tokens:
        """Give the keys with which other programs ask of this ground."""
        from swardbook.records.tokens import Tokens

        return Tokens(self._rows.alias, self._rows.ground, self._where)

    def answered(self) -> Answered:
        """Give the sendings to this ground that were answered."""
        from swardbook.records.answered import Answered

        return Answered(self._rows.alias, self._rows.ground, self._where)

    # what there is

    def check(self, *, pages: bool = True) -> tuple[Damage, ...]:
        """Recompute all checksums, after going through the pages; names what is damaged."""
        return damage_in(self._rows, self._where, self._broken_weather, pages=pages)

    def stamp(self) -> str:
        """Name the state of the book: what was worked out under one name holds while it stands."""
        with guarded(self._where):
            return marked(self._rows.stamp())

    def site(self) -> Site | None:
        """Read the site alone; None if the book has none yet."""
        with guarded(self._where):
            text = self._rows.site()
        return self._thing(Site, "site", text) if text else None

    def made_up_today(self) -> date | None:
        """Give the today that a made-up book carries; None for a real one."""
        site = self.site()
        return None if site is None else site.made_up_today

    # the diary

    def add(self, entries: Sequence[DiaryEntry]) -> tuple[DiaryEntry, ...]:
        """Write entries, all or none; gives them as they were kept.

        The same entry sent twice is kept once. Another content under an id that is taken is kept
        as a second entry under an id of its own, and marked for a look: nothing is written over.
        """
        with self._writing():
            return self._append(entries)

    def _append(self, entries: Sequence[DiaryEntry]) -> tuple[DiaryEntry, ...]:
        self.whole_diary()
        known = Known(self._read, entries)
        kept, fresh = [], []
        for sent in entries:
            entry = known.known_as(sent)
            if entry.id not in known.there:
                entry = marked_if_twin(entry, known.there)
                known.keep(entry)
                fresh.append(entry)
            kept.append(entry)
        self._rows.append_entries([row_of(entry) for entry in fresh])
        return tuple(kept)

    def restore(self, texts: Sequence[str]) -> None:
        """Write entries from an archive with their texts unchanged, all or none."""
        with self._writing():
            self._rows.append_entries(
                [row_of(read_entry(json.loads(text)), text) for text in texts]
            )

    # the ground

    def save_site(self, site: Site, **about: Any) -> None:
        """Write the site; see `save_zone` for a change."""
        self._save(site, "", about)

    def save_zone(self, zone: Zone, **about: Any) -> None:
        """Write a zone; a change of one that is there is told in the diary with both values.

        Parameters
        ----------
        zone : Zone
            The zone as it is from now on.
        **about
            ``on`` (day of the change), ``who`` and ``reason``.
        """
        self._save(zone, zone.name, about)

    def save_peg(self, peg: Peg, **about: Any) -> None:
        """Write a peg; see `save_zone` for a change."""
        self._save(peg, peg.name, about)

    def save_square(self, square: HonestSquare, **about: Any) -> None:
        """Write an honest square; see `save_zone` for a change."""
        self._save(square, square.name, about)

    def save_plot(self, plot: Plot, **about: Any) -> None:
        """Write a plot; see `save_zone` for a change."""
        self._save(plot, f"{plot.zone}/{plot.name}", about)

    def save_lot(self, lot: SeedLot, **about: Any) -> None:
        """Write a lot; see `save_zone` for a change."""
        self._save(lot, lot.code, about)

    def settle(self, thing: Thing) -> None:
        """Write a piece of the ground as it is from now on, where the diary tells of it already."""
        kind, name = kept_under(thing)
        with self._writing():
            self._rows.put_thing(kind, name, canonical(to_plain(thing)))
            if isinstance(thing, Site):
                self._rows.name_ground(thing.name, thing.made_up_today is not None)

    def _save(self, thing: Thing, name: str, about: Mapping[str, Any]) -> None:
        kind = THINGS[type(thing)]
        now = to_plain(thing)
        with self._writing():
            text = self._rows.put_thing(kind, name.strip().casefold(), canonical(now))
            if isinstance(thing, Site):
                self._rows.name_ground(thing.name, thing.made_up_today is not None)
            if text is None or text == canonical(now):
                return
            there = self._thing(cast("type[Site]", type(thing)), kind, text)
            before = to_plain(there)  # fields it lacked are unsaid
            if before != now:
                self._append([self._change(f"{kind} {name}".strip(), before, now, **about)])

    def _change(
        self, thing: str, before: dict[str, Any], after: dict[str, Any],
        on: date | None = None, who: str = "", reason: str = "",
    ) -> DiaryEntry:  # fmt: skip
        names = [name for name in after if before.get(name) != after[name]]
        what = Changed(
            thing=thing,
            before=canonical({name: before.get(name) for name in names}),
            after=canonical({name: after[name] for name in names}),
            reason=reason,
        )
        day = on or self.made_up_today() or datetime.now().astimezone().date()
        seed = f"{self._rows.last_position()} {thing} {what.before} {what.after}"
        zone = str(after["name"] if thing.startswith("zone ") else after.get("zone", ""))
        return DiaryEntry(
            id=uuid5(_OURS, seed), when=When.on(day), what=what, zone=zone, who=who, written_on=day
        )

    # kept results; the weather is in `WeatherStore`

    def keep(self, kind: str, name: str, payload: Mapping[str, Any]) -> None:
        """Keep a result as it is, such as a sealed guess; it is never changed."""
        with self._writing():
            self._rows.append_kept(kind, name, canonical(dict(payload)))

    def kept(self, kind: str) -> tuple[tuple[str, dict[str, Any]], ...]:
        """Give name and payload of each kept result of a kind, in the order written."""
        with guarded(self._where):
            rows = self._rows.kept(kind)
        return tuple((name, json.loads(text)) for _, name, text in rows)

    def all_kept(self) -> tuple[tuple[str, str, dict[str, Any]], ...]:
        """Give kind, name and payload of all kept results, in the order written."""
        with guarded(self._where):
            rows = self._rows.kept()
        return tuple((kind, name, json.loads(text)) for kind, name, text in rows)

    def lawns(self, today: date) -> tuple[LawnRow, ...]:
        """Read one row for each ground of the book; always by one question."""
        with guarded(self._where):
            return lawn_rows(self._rows.alias, today)

    def writes(self) -> int:
        """Count what was written in this ground so far; for `remember`."""
        with guarded(self._where):
            return self._rows.writes()

    def remember(self, summary: Mapping[str, Any], day: date, writes: int) -> None:
        """Remember what was made out about the whole ground, in place of what was before.

        It is no record: it can be made anew at any time.

        Parameters
        ----------
        summary : mapping
            What was made out.
        day : date
            The day it is for.
        writes : int
            The count of `writes` from before it was made out.
        """
        require_writable()
        refuse_writing(self._where, self.damage)
        with guarded(self._where), self._rows.transaction():
            self._rows.put_summary(day, writes, canonical(dict(summary)))

    def close(self) -> None:
        """Close the book."""
        with guarded(self._where):
            drop_connection(self._rows.alias)

    @contextmanager
    def together(self) -> Iterator[None]:
        """Write several things as one: all of them or none."""
        with self._writing():
            yield

    @contextmanager
    def _writing(self) -> Iterator[None]:
        require_writable()
        refuse_writing(self._where, self.damage)
        known = dict(self._read), self._upto, self._end  # entries read inside may be rolled back
        is_inside, self._is_writing = self._is_writing, True
        try:
            with guarded(self._where), self._rows.transaction():
                if not is_inside:
                    self._rows.lock()
                yield
        except BaseException:
            self._read, self._upto, self._end = known
            raise
        finally:
            self._is_writing = is_inside


def kept_under(thing: Thing) -> tuple[str, str]:
    """Give the kind and the case-folded name that a piece of the ground is kept under."""
    if isinstance(thing, Site):
        name = ""
    elif isinstance(thing, SeedLot):
        name = thing.code
    else:
        name = f"{thing.zone}/{thing.name}" if isinstance(thing, Plot) else thing.name
    return THINGS[type(thing)], name.strip().casefold()
