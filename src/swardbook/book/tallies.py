"""What is tallied with a thumb on the lawn: a frame of crossings, frames of seedlings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from statistics import fmean
from typing import Any

from swardbook.book.count_sheet import choose_frame, typed_place
from swardbook.book.counts import record_count
from swardbook.book.fields import quantity, yes_or_no
from swardbook.book.opening import Book
from swardbook.foundation.dates import When
from swardbook.foundation.errors import BadInputError
from swardbook.foundation.quantities import read_number, require
from swardbook.handbook.parameters import value
from swardbook.handbook.species import ANNUAL_MEADOW_GRASS, YORKSHIRE_FOG, in_words
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground
from swardbook.husbandry.happenings import Count, Happening, Seedlings
from swardbook.observations.counts import Method

_ALWAYS = ("sown", ANNUAL_MEADOW_GRASS, YORKSHIRE_FOG, "bare")
_LAST = ("moss", "broad-leaved", "other", "cannot tell")


@dataclass(frozen=True, slots=True)
class Tallied:
    """What a frame is counted by in one zone.

    Parameters
    ----------
    zone : str
        Name of the zone.
    places : tuple of str
        Its pegs and honest squares, in the order of their names in the book.
    kinds : tuple of (str, str)
        Kinds that are offered, each by its key and its word; those always met come first.
    crossings : int
        Crossings of the frame.
    pegs, plots : tuple of str
        Those of the places that are pegs, and plots.
    """

    zone: str
    places: tuple[str, ...]
    kinds: tuple[tuple[str, str], ...]
    crossings: int
    pegs: tuple[str, ...] = ()
    plots: tuple[str, ...] = ()


def tallies_of(book: Book) -> tuple[Tallied, ...]:
    """Give what frames are counted by, zone by zone: what is always met, and what was met there."""
    ground = book.ground()
    crossings = round(value("frame_points"))
    return tuple(_tallied(ground, zone.name, crossings) for zone in ground.zones)


def is_tally(made: type[Happening], fields: Mapping[str, str]) -> bool:
    """Tell whether fields are those of a tally, not those that the diary has."""
    return (made is Count and "found" in fields) or (made is Seedlings and "frames" in fields)


def count_of(
    book: Book, fields: Mapping[str, str], when: When, about: Mapping[str, Any]
) -> DiaryEntry:
    """Keep one frame as `count add` does, under the id it was given.

    Parameters
    ----------
    book : Book
        The opened book.
    fields : mapping of str to str
        ``place``, ``found`` as ``sown=15, bare=2``, and ``points``, ``placement``, ``occasion``.
    when : When
        The day of the count.
    about : mapping
        What any entry can carry, and its ``id``.

    Raises
    ------
    BadInputError
        If it cannot be read, or more was counted than there are crossings.
    """
    looked, placement = read_number(fields.get("points", "")), fields.get("placement") or "1"
    frame = choose_frame("points", round(looked) if looked else None, None)
    if not placement.isdigit() or not int(placement):
        raise BadInputError("the placement", placement, "a whole number from 1")
    pairs = [each.strip() for each in fields["found"].split(",") if each.strip()]
    row = typed_place(fields.get("place", ""), frame, pairs, about.get("who", ""), int(placement))
    if row.slip is not None:
        slip = row.slip
        raise BadInputError(slip.column, slip.read, slip.allowed, slip.likely)
    words = when.first.isoformat() if when.is_dated else when.words
    kept = record_count(book, [row], words, fields.get("occasion", ""), about)
    if kept.entry is None:
        raise BadInputError("the frame", fields["found"], "a count of at least one kind")
    return kept.entry


def seedlings_of(fields: Mapping[str, str]) -> tuple[Seedlings, str]:
    """Bring frames of seedlings together as seedlings a square metre.

    Parameters
    ----------
    fields : mapping of str to str
        ``frames`` as ``84, 90, 51``, ``side_mm`` of the frame, and ``species``, ``first_seen``.

    Returns
    -------
    tuple of Seedlings and str
        What is kept, and the frames one by one, in words.

    Raises
    ------
    BadInputError
        If a frame is no whole number.
    OutOfRangeError
        If a frame holds more than a person can count.
    """
    texts = [each.strip() for each in fields["frames"].split(",") if each.strip()]
    if not texts or any(not each.isdigit() for each in texts):
        raise BadInputError("the frames", fields["frames"], "whole numbers such as 84, 90, 51")
    most = value("watch.frame_most")
    counts = [require("seedlings in a frame", float(each), 0, most, "-") for each in texts]
    said = fields.get("side_mm", "")
    side_mm = quantity(said, "mm", "the side") if said else value("watch.frame_mm")
    require("the side of a frame", side_mm, 10, 2000, "mm")
    per_m2 = fmean(counts) / (side_mm / 1000) ** 2
    first = yes_or_no(fields["first_seen"], "first seen") if fields.get("first_seen") else False
    many = f"{len(texts)} frame{'s' if len(texts) > 1 else ''}"
    told = f"{many} of {side_mm:g} mm: {', '.join(texts)}."
    return Seedlings(fields.get("species", ""), first, per_m2), told


def _tallied(ground: Ground, zone: str, crossings: int) -> Tallied:
    pegs = tuple(peg.name for peg in ground.pegs if peg.zone == zone)
    squares = tuple(square.name for square in ground.squares if square.zone == zone)
    plots = tuple(plot.name for plot in ground.plots if plot.zone == zone)
    places = (*pegs, *squares, *plots)
    return Tallied(zone, places, _kinds_in(ground, zone), crossings, pegs, plots)


def _kinds_in(ground: Ground, zone: str) -> tuple[tuple[str, str], ...]:
    met = {
        kind
        for entry in ground.entries(zone, Count.kind)
        if isinstance(entry.what, Count)
        for place in entry.what.places
        if place.method is Method.POINTS
        for kind in place.found
    }
    others = sorted(met - set(_ALWAYS) - set(_LAST))
    last = [kind for kind in _LAST if kind in met or kind in {"other", "cannot tell"}]
    return tuple((kind, in_words(kind)) for kind in (*_ALWAYS, *others, *last))
