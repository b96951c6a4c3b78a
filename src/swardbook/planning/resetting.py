"""What clears a zone, turf stripped off or a new seedbed: what came before it counts no more."""

from __future__ import annotations

from collections import defaultdict
from datetime import date
from typing import TypeVar

from swardbook.handbook.parameters import value
from swardbook.husbandry.happenings import Sow, Strip
from swardbook.planning.situation import Happened, Situation

T = TypeVar("T")


def reset_on(sit: Situation) -> date | None:
    """Find the last day on which the zone was stripped, or most of it became a new seedbed.

    Parameters
    ----------
    sit : Situation
        The zone on its day.

    Returns
    -------
    date or None
        The day; None where the book tells of none. Plots of a trial that were sown on one day
        count together.
    """
    sown: dict[date, float] = defaultdict(float)
    for each in sit.happened(Sow):
        if each.what.method == "seedbed":
            area = each.what.area_m2
            sown[each.entry.when.last] += sit.zone.area_m2 if area is None else area
    most = value("reset_share") * sit.zone.area_m2
    days = [day for day, area in sown.items() if area >= most]
    days += [each.entry.when.last for each in sit.happened(Strip)]
    return max(days, default=None)


def since_reset(sit: Situation, kind: type[T], within_days: float | None = None) -> (
    list[Happened[T]]
):  # fmt: skip
    """List what happened of one class after the zone was last cleared, oldest first.

    Parameters
    ----------
    sit : Situation
        The zone on its day.
    kind : type
        The class.
    within_days : float or None
        Only the last so many days. [d]
    """
    found, cleared = sit.happened(kind, within_days), reset_on(sit)
    if cleared is None:
        return found
    return [each for each in found if each.entry.when.first > cleared]
