"""Mixtures that were built, held against a zone and kept: found again by their name."""

from __future__ import annotations

import re
from datetime import date

from swardbook.book.worked_out import last_answer
from swardbook.foundation.quantities import read_number
from swardbook.husbandry.ground import Ground
from swardbook.husbandry.worked_out import WorkedOut
from swardbook.seed import OTHERS, LotPart

ABOUT = "mixture"
"""The name of the question in the diary."""
_PLACE = re.compile(r"\d+ ")


def kept_mixture(ground: Ground, name: str) -> tuple[str, tuple[LotPart, ...]] | None:
    """Find the latest kept mixture of a name that is no lot of the book; None if there is none.

    What was kept is its parts by weight: purity and germination are those of the handbook again.

    Parameters
    ----------
    ground : Ground
        The ground with its diary.
    name : str
        The name it was kept under.
    """
    return _kept(ground).get(name.strip().casefold())


def kept_names(ground: Ground) -> list[str]:
    """List the names of kept mixtures that are no lots of the book."""
    return [title for title, _ in _kept(ground).values()]


def mixture_of_zone(
    ground: Ground, zone: str, since: date
) -> tuple[str, tuple[LotPart, ...]] | None:
    """Give the first mixture of the last choice kept for a zone, a lot of the book or not.

    Parameters
    ----------
    ground : Ground
        The ground with its diary.
    zone : str
        The zone.
    since : date
        A choice kept before this day was for an earlier sowing, and is left.

    Returns
    -------
    tuple or None
        Its title, and its components by weight; None where no choice is kept since.
    """
    kept = last_answer(ground, ABOUT, zone)
    if kept is None or kept.day < since:
        return None
    for title, words in kept.answer.named.items():
        if title.startswith("1 ") and (parts := _parts(words)):
            return _PLACE.sub("", title, count=1), parts
    return None


def _kept(ground: Ground) -> dict[str, tuple[str, tuple[LotPart, ...]]]:
    lots = {f"{lot.mixture}, lot {lot.code}".casefold() for lot in ground.lots}
    found: dict[str, tuple[str, tuple[LotPart, ...]]] = {}
    for entry in ground.diary:
        what = entry.what
        if not isinstance(what, WorkedOut) or what.about != ABOUT:
            continue
        for title, words in what.named.items():
            bare = _PLACE.sub("", title, count=1)
            parts = _parts(words)
            if parts and bare.casefold() not in lots:
                found[bare.casefold()] = (bare, parts)
    return found


def _parts(words: str) -> tuple[LotPart, ...]:
    """Read parts as a kept answer tells them, such as ``80 % chewings fescue``; none if not."""
    parts = []
    for each in words.split(", "):
        share, found, species = each.partition(" % ")
        number = read_number(share)
        if not found or number is None or not 0 <= number <= 100:
            return ()
        parts.append(LotPart(species, number / 100))
    rest = 1.0 - sum(part.share_by_weight for part in parts)
    return (*parts, LotPart(OTHERS, rest)) if rest > 1e-6 else tuple(parts)
