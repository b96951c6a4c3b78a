"""Several grounds of a book read at once, in part: by as many questions as for one."""

from __future__ import annotations

import json
from collections.abc import Collection
from datetime import date
from typing import TYPE_CHECKING, Any

from swardbook.foundation.errors import DamagedBookError
from swardbook.husbandry.codec import from_plain, read_entry
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground, Plot, Site, Zone
from swardbook.records.guard import REMEDY, guarded
from swardbook.records.standing import standing
from swardbook.seed.lot import SeedLot

if TYPE_CHECKING:
    from django.db.models import Q

    from swardbook.records.store import Store

PIECES: dict[str, type] = {"site": Site, "zone": Zone, "plot": Plot, "lot": SeedLot}
"""What is read of each ground besides entries."""
_CORRECTS = '"corrects":"'


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
    with guarded(store._where):
        names, pieces, texts = _rows(store._rows.alias, kinds, slugs, holding)
    found: dict[str, Ground] = {}
    for key, slug in names.items():
        there = [_piece(slug, kind, text) for kind, text in pieces.get(key, ())]
        sites = [each for each in there if isinstance(each, Site)]
        if not sites:
            continue
        diary = standing([_entry(slug, text) for text in texts.get(key, ())], until)
        found[slug] = Ground(
            sites[0],
            zones=tuple(each for each in there if isinstance(each, Zone)),
            plots=tuple(each for each in there if isinstance(each, Plot)),
            lots=tuple(each for each in there if isinstance(each, SeedLot)),
            diary=tuple(each for each in diary if each.what.kind in kinds),
        )
    return found


def _rows(
    alias: str, kinds: Collection[str], slugs: Collection[str] | None, holding: str
) -> tuple[dict[int, str], dict[int, list[tuple[str, str]]], dict[int, list[str]]]:
    from django.db.models import Q, Value
    from django.db.models.functions import StrIndex

    from swardbook.records.models import Entry, GroundRow, Thing

    grounds = GroundRow.objects.using(alias).exclude(slug="")
    if slugs is not None:
        grounds = grounds.filter(slug__in=list(slugs))
    names = dict(grounds.values_list("id", "slug"))
    of_kind: Q = Q(kind__in=list(kinds))
    entries = Entry.objects.using(alias).filter(ground__in=list(names))
    things = Thing.objects.using(alias).filter(ground__in=list(names))
    if holding:
        holding = json.dumps(holding, ensure_ascii=False)[1:-1]  # as it stands in the texts
        lots = things.filter(kind="lot", text__icontains=holding).values_list("ground_id")
        used = entries.filter(of_kind, text__icontains=holding).values_list("ground_id")
        chosen = {key for (key,) in [*lots.distinct(), *used.distinct()]}
        names = {key: slug for key, slug in names.items() if key in chosen}
        entries, things = entries.filter(ground__in=chosen), things.filter(ground__in=chosen)
    pieces: dict[int, list[tuple[str, str]]] = {}
    for key, kind, text in things.filter(kind__in=list(PIECES)).values_list(
        "ground_id", "kind", "text"
    ):
        pieces.setdefault(key, []).append((kind, text))
    every = entries if holding else Entry.objects.using(alias)  # straight through is quicker
    corrections = every.annotate(at=StrIndex("text", Value(_CORRECTS))).filter(at__gt=0)
    read = ("ground_id", "position", "text")
    rows = {*entries.filter(of_kind).values_list(*read), *corrections.values_list(*read)}
    texts: dict[int, list[str]] = {}
    for key, _, text in sorted(rows):
        if key in names:
            texts.setdefault(key, []).append(text)
    return names, pieces, texts


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
