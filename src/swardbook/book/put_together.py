"""Two grounds that are one lawn put together as a third; both stay as they are, so it is undone.

Nothing of the two is touched: each keeps its own chain of checksums. The third begins a chain of
its own with the entries of both, and stands in their place where lawns are listed. Parting it again
sets the third aside instead.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from swardbook.book.all_lawns import remember_lawn
from swardbook.book.bring_together import OTHERWISE, Clash
from swardbook.book.guesses import GUESS, OPENED, SETTLED
from swardbook.book.lawns_standing import lawns_that_stand, moved_in, stands_for
from swardbook.book.opening import Book, Clock, at_ground
from swardbook.book.people import writing_as
from swardbook.book.two_grounds import Moved, moved_piece, names_of, plan_moves
from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.husbandry.codec import to_plain
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Plot, Zone
from swardbook.records.lawns import TOGETHER, VISIT, YARD, LawnRow
from swardbook.records.person import ROLES
from swardbook.records.store import Store
from swardbook.seed.lot import SeedLot

NOT_CARRIED = frozenset({GUESS, SETTLED, OPENED, TOGETHER, YARD})
"""Kinds of results that rest on the chain of their own ground, or are about it alone."""


@dataclass(frozen=True, slots=True)
class PutTogether:
    """What came of putting two lawns together.

    Parameters
    ----------
    slug, name : str
        The ground that stands for both.
    of : tuple of str
        Short names of the two, which are set aside.
    entries : int
        Diary entries in it.
    twice : int
        Entries that both had.
    clashes : tuple of Clash
        What the two have differently; both values are kept.
    renamed : tuple of str
        Places of the second that are called otherwise now, for the first has others of that name.
    sealed : int
        Sealed guesses, which stay with the diary they were sealed over.
    let_in : tuple of str
        People who have access to it: those with access to both.
    kept_out : tuple of str
        People with access to one of the two.
    """

    slug: str
    name: str
    of: tuple[str, str]
    entries: int
    twice: int
    clashes: tuple[Clash, ...]
    renamed: tuple[str, ...]
    sealed: int
    let_in: tuple[str, ...]
    kept_out: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Parted:
    """What came of parting lawns again.

    Parameters
    ----------
    slug : str
        The ground that stood for both; it is set aside, with all that it holds.
    of : tuple of str
        The two, which are listed again, as they were.
    since : int
        Entries that were written in it meanwhile, and stay in it.
    brought_to : str
        The one of the two that they were brought to as well; empty for none.
    """

    slug: str
    of: tuple[str, str]
    since: int
    brought_to: str


def put_together(
    book: Book, clock: Clock, first: str, second: str, zones: Mapping[str, str] | None = None
) -> PutTogether:
    """Put two grounds that are the same lawn together, zone by zone.

    Zones of one name are one zone. Where the two have something differently the first's stands,
    and the other value is kept beside it.

    Parameters
    ----------
    book : Book
        Any ground of the book, opened.
    clock : function
        The day.
    first, second : str
        Short names of the two; what the first says stands.
    zones : mapping of str to str or None
        Zones of the second, and what they are called in the first, or from now on.

    Raises
    ------
    BadInputError
        If they are one and the same, are set aside, or have different plots of one name.
    UnknownNameError
        If there is no such ground or zone.
    """
    ours, theirs = (at_ground(book, each, clock, book.today).store for each in (first, second))
    of = (ours.slug(), theirs.slug())
    _require_two(book, of)
    mine, other = ours.ground(), theirs.ground()
    moved = plan_moves(mine, other, zones or {}, of[1])
    name = f"{mine.site.name}, put together"
    with ours.together(), writing_as(""):
        third = ours.beside(name)
        third.save_site(replace(mine.site, name=name))
        _weather(third, ours, theirs)
        clashes = _pieces(third, ours, theirs, moved)
        twice = _entries(third, ours, theirs, moved)
        _results(third, ours, theirs)
        told = {"of": list(of), "on": book.today.isoformat(), "zones": dict(moved.zones),
                "places": dict(moved.places)}  # fmt: skip
        third.keep(TOGETHER, "", told)
        let_in, kept_out = _people(third, ours, theirs)
    remember_lawn(at_ground(book, third.slug(), clock, book.today))
    sealed = sum(len(each.kept(GUESS)) for each in (ours, theirs))
    return PutTogether(
        third.slug(), name, of, len(third.whole_diary()), twice, clashes,
        tuple(sorted(moved.places.values())), sealed, let_in, kept_out,
    )  # fmt: skip


def part(book: Book, clock: Clock, slug: str, bring_to: str = "") -> Parted:
    """Part lawns again that were put together: the two are listed as they were.

    Parameters
    ----------
    book : Book
        Any ground of the book, opened.
    clock : function
        The day.
    slug : str
        The ground that stands for both.
    bring_to : str
        The one of the two that takes what was written meanwhile; empty for none.

    Raises
    ------
    BadInputError
        If it was not put together, was parted before, or what was written since names a zone
        that the one has not.
    """
    third = at_ground(book, slug, clock, book.today).store
    told = _told(book, third.slug())
    of = (str(told["of"][0]), str(told["of"][1]))
    to = bring_to.strip().casefold()
    if to and to not in of:
        raise UnknownNameError("ground that it was put together from", bring_to, of)
    sources = {each: at_ground(book, each, clock, book.today).store for each in of}
    there = {entry.id for each in sources.values() for entry in each.whole_diary()}
    since = [each for each in third.whole_diary() if each.id not in there]
    with third.together(), writing_as(""):
        if to:
            back = moved_in(told).back() if to == of[1] else Moved({}, {})
            _bring(sources[to], since, back)
        third.keep(TOGETHER, "", {**told, "parted": book.today.isoformat()})
    for row in book.store.lawns(book.today):
        if row.slug in of and row.is_written_since:
            remember_lawn(at_ground(book, row.slug, clock, book.today))
    return Parted(third.slug(), of, len(since), to)


def _told(book: Book, slug: str) -> dict[str, Any]:
    rows: dict[str, LawnRow] = {row.slug: row for row in book.store.lawns(book.today)}
    told = rows[slug].told.get(TOGETHER)
    if not told or told.get("parted"):
        raise BadInputError("the ground", slug, "one that was put together and not parted since")
    return dict(told)


def _require_two(book: Book, of: tuple[str, str]) -> None:
    rows = book.store.lawns(book.today)
    stand = {row.slug for row in lawns_that_stand(rows)}
    if of[0] == of[1]:
        raise BadInputError("the second lawn", of[1], "another than the first")
    for each in of:
        if each not in stand:
            raise BadInputError(
                "a lawn", each, "one that no other stands for",
                f"{stands_for(book, each) or 'Another'} stands in its place.",
            )  # fmt: skip


def _weather(third: Store, ours: Store, theirs: Store) -> None:
    source = ours if ours.weather() is not None else theirs
    weather = source.weather()
    if weather is not None:
        third.save_weather(weather, source.weather_name())
    third.save_forecast(ours.forecast() or theirs.forecast())


def _pieces(third: Store, ours: Store, theirs: Store, moved: Moved) -> tuple[Clash, ...]:
    """Write the pieces of both; of two that differ the first's stands and the other is kept."""
    mine, other = ours.ground(), theirs.ground()
    there = names_of(mine)
    for piece in there.values():
        third.settle(piece)
    clashes = []
    for piece in names_of(other).values():
        now = moved_piece(piece, moved)
        [(key, _)] = names_of(now).items()
        same = there.get(key)
        if same is None:
            third.settle(now)
        elif to_plain(same) != to_plain(now):
            thing = " ".join(key)
            if isinstance(now, Plot):
                raise BadInputError(
                    f"{thing} of the second lawn", now.planned, "the plots of one trial, once",
                    "Call the zone otherwise: --zone 'Trial=Other trial'.",
                )  # fmt: skip
            third.keep(OTHERWISE, _otherwise(now), to_plain(now))
            clashes.append(Clash(thing, f"{ours.slug()}'s stands; {theirs.slug()}'s is kept too"))
    third.keep(OTHERWISE, "site ", to_plain(other.site))
    return tuple(clashes)


def _otherwise(piece: Any) -> str:
    if isinstance(piece, SeedLot):
        return f"lot {piece.code}"
    return f"{'zone' if isinstance(piece, Zone) else type(piece).__name__.casefold()} {piece.name}"


def _entries(third: Store, ours: Store, theirs: Store, moved: Moved) -> int:
    """Write the entries of both, each in its order; gives how many both had."""
    mine = ours.whole_diary()
    known = {entry.id for entry in mine}
    other = [moved.entry(each) for each in theirs.whole_diary()]
    third.add([*mine, *other])
    return sum(each.id in known for each in other)


def _results(third: Store, ours: Store, theirs: Store) -> None:
    mine = [each for each in ours.all_kept() if each[0] not in NOT_CARRIED]
    visited = any(kind == VISIT for kind, _, _ in mine)
    other = [
        each for each in theirs.all_kept()
        if each[0] not in NOT_CARRIED and each not in mine and not (visited and each[0] == VISIT)
    ]  # fmt: skip
    for kind, name, payload in (*mine, *other):
        third.keep(kind, name, payload)


def _people(third: Store, ours: Store, theirs: Store) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Let in who has access to both, as the lesser of what they are to the two."""
    at = [{each.name: each for each in store.people().everyone()} for store in (ours, theirs)]
    both = sorted(set(at[0]) & set(at[1]))
    rank = sorted(ROLES, key=("reader", "worker", "owner").index)
    lesser = {name: min((found[name].role for found in at), key=rank.index) for name in both}
    for name in sorted(both, key=lambda each: lesser[each] != "owner"):
        third.people().set_role(at[0][name], lesser[name])
    return tuple(both), tuple(sorted(set(at[0]) ^ set(at[1])))


def _bring(store: Store, entries: Sequence[DiaryEntry], moved: Moved) -> None:
    zones = {each.name.casefold() for each in store.ground().zones}
    sent = [moved.entry(each) for each in entries]
    odd = sorted({each.zone for each in sent if each.zone and each.zone.casefold() not in zones})
    if odd:
        raise BadInputError(
            "zones written in since", ", ".join(odd), f"zones of {store.slug()}",
            "Part them without --bring-to; what was written stays in the third.",
        )  # fmt: skip
    store.add(sent)
