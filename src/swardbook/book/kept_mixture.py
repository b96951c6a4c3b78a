"""The mixture that was kept for a zone: what later commands take where nothing else is named."""

from __future__ import annotations

import re
from datetime import date

from swardbook.book.choosing import ABOUT
from swardbook.book.worked_out import last_answer
from swardbook.husbandry.ground import Ground
from swardbook.seed import LotPart

_PART = re.compile(r"([\d.]+) % (.+)")


def kept_mixture(ground: Ground, zone: str, since: date) -> tuple[str, tuple[LotPart, ...]] | None:
    """Give the first mixture of the last choice kept for a zone, lot or not.

    Parameters
    ----------
    ground : Ground
        The book as it stands.
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
    for name, told in sorted(kept.answer.named.items()):
        place, _, title = name.partition(" ")
        parts = [found for each in told.split(", ") if (found := _PART.fullmatch(each))]
        if place == "1" and title and parts:
            return title, tuple(LotPart(each[2], float(each[1]) / 100) for each in parts)
    return None
