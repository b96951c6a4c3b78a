"""What clears a zone, turf stripped off or a new seedbed: what came before it counts no more."""

from __future__ import annotations

from datetime import date
from typing import TypeVar

from swardbook.husbandry.clearing import cleared_on
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
    return cleared_on(sit.ground.entries(sit.zone.name), sit.zone.area_m2)


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
