"""Several grounds of a book read at once, in part: by as many questions as for one."""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Collection, Iterable
from datetime import date
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from django.db.models import Q, QuerySet, Value
from django.db.models.functions import StrIndex

from swardbook.foundation.errors import DamagedBookError
from swardbook.husbandry.codec import from_plain, read_entry
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground, Plot, Site, Zone
from swardbook.records.grounds import grounds_in
from swardbook.records.guard import REMEDY, guarded
from swardbook.records.questions import Question
from swardbook.records.standing import standing
from swardbook.seed.lot import SeedLot

if TYPE_CHECKING:
    from swardbook.records.models import Entry, Thing
    from swardbook.records.store import Store

PIECES: dict[str, type] = {"site": Site, "zone": Zone, "plot": Plot, "lot": SeedLot}
"""What is read of each ground besides entries."""
_CORRECTS = '"corrects":"'
_HELD = 1024
"""Grounds that are held as they were read, while their texts stay the same."""


def parts_of_grounds(
    store: Store, kinds: Collection[str], slugs: Collection[str] | None = None,
    until: date | None = None, holding: str = "",
) -> dict[str, Ground]:  # fmt: skip
    """Read grounds in part: site, zones, plots, lots, and the standing entries of some kinds.

    Parameters
    ----------
    store : Store
        Any ground of the book.
    kinds : collection of str
        Kinds of entries.
    slugs : collection of str or None
        The grounds that may be read, by short name; None: all.
    until : date or None
        Entries that began after this day are left out.
    holding : str
        Only grounds that have an entry of these kinds, or a piece, whose text holds this word.

    Returns
    -------
    dict of str to Ground
        By short name, in the order begun; a ground without a site is left out.

    Raises
    ------
    DamagedBookError
        If an entry or a piece cannot be read; names the ground.
    """
    chosen, alias = tuple(sorted(set(kinds))), store._rows.alias
    with guarded(store._where):
        names = {
            key: name.slug for key, name in grounds_in(alias)
            if name.slug and (slugs is None or name.slug in slugs)
        }  # fmt: skip
        if holding:
            having = _having(alias, chosen, holding)
            names = {key: slug for key, slug in names.items() if key in having}
        keys = tuple(names)
        pieces = _by_ground(_things(alias, keys)) if keys else {}
        texts = _by_ground(sorted(_entries(alias, chosen, keys, bool(holding)))) if keys else {}
    found = {
        slug: _ground(slug, pieces.get(key, ()), texts.get(key, ()), frozenset(kinds), until)
        for key, slug in names.items()
    }
    return {slug: ground for slug, ground in found.items() if ground is not None}


def _having(alias: str, kinds: tuple[str, ...], holding: str) -> frozenset[int]:
    """Give the keys of grounds whose lots, or entries of some kinds, hold a word."""
    from swardbook.records.models import Entry, Thing

    word = json.dumps(holding, ensure_ascii=False)[1:-1]  # as it stands in the texts
    lots = Thing.objects.using(alias).filter(kind="lot", text__icontains=word)
    used = Entry.objects.using(alias).filter(kind__in=kinds, text__icontains=word)
    both = (rows.values_list("ground_id", flat=True) for rows in (lots, used))
    return frozenset(key for keys in both for key in keys)


@Question
def _things(keys: tuple[int, ...]) -> QuerySet[Thing, Any]:
    """Ask for the pieces of some grounds, in the order written."""
    from swardbook.records.models import Thing

    rows = Thing.objects.filter(kind__in=list(PIECES), ground__in=keys)
    return rows.values_list("ground_id", "kind", "text")


@Question
def _entries(kinds: tuple[str, ...], keys: tuple[int, ...], only: bool) -> QuerySet[Entry, Any]:
    """Ask for entries of some kinds of some grounds, and for all corrections.

    Unless there are few grounds, straight through the whole table is quicker.
    """
    from swardbook.records.models import Entry

    rows = Entry.objects.annotate(at=StrIndex("text", Value(_CORRECTS)))
    wanted = Q(kind__in=kinds, ground__in=keys) | Q(at__gt=0)
    rows = rows.filter(wanted, ground__in=keys) if only else rows.filter(wanted)
    return rows.order_by().values_list("ground_id", "position", "text")


def _by_ground(rows: Iterable[tuple[Any, ...]]) -> dict[int, tuple[Any, ...]]:
    found: dict[int, list[Any]] = defaultdict(list)
    for key, *rest in rows:
        found[key].append(tuple(rest))
    return {key: tuple(there) for key, there in found.items()}


@lru_cache(maxsize=_HELD)
def _ground(
    slug: str, pieces: tuple[tuple[str, str], ...], texts: tuple[tuple[int, str], ...],
    kinds: frozenset[str], until: date | None,
) -> Ground | None:  # fmt: skip
    """Read a ground from the texts of its pieces and entries; none without a site."""
    there = [_piece(slug, kind, text) for kind, text in pieces]
    sites = [each for each in there if isinstance(each, Site)]
    if not sites:
        return None
    diary = standing([_entry(slug, text) for _, text in texts], until)
    return Ground(
        sites[0],
        zones=tuple(each for each in there if isinstance(each, Zone)),
        plots=tuple(each for each in there if isinstance(each, Plot)),
        lots=tuple(each for each in there if isinstance(each, SeedLot)),
        diary=tuple(each for each in diary if each.what.kind in kinds),
    )


def _piece(slug: str, kind: str, text: str) -> Any:
    try:
        return from_plain(PIECES[kind], json.loads(text), f"a {kind} of {slug}")
    except ValueError as slip:
        raise DamagedBookError(slug, str(slip), REMEDY) from slip


def _entry(slug: str, text: str) -> DiaryEntry:
    try:
        return read_entry(json.loads(text))
    except ValueError as slip:
        raise DamagedBookError(f"An entry of {slug}", f"cannot be read: {slip}", REMEDY) from slip
