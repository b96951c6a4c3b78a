"""What clears a zone: turf stripped off, or most of it made a new seedbed."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from datetime import date

from swardbook.handbook.parameters import value
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.happenings import Sow, Strip


def cleared_on(entries: Iterable[DiaryEntry], area_m2: float) -> date | None:
    """Find the last day on which a zone was stripped, or most of it became a new seedbed.

    Parameters
    ----------
    entries : iterable of DiaryEntry
        What stands in the diary for the zone.
    area_m2 : float
        Area of the zone. [m²]

    Returns
    -------
    date or None
        The day; None where the entries tell of none. Plots of a trial that were sown on one day
        count together.
    """
    sown: dict[date, float] = defaultdict(float)
    days = []
    for entry in entries:
        if isinstance(entry.what, Strip):
            days.append(entry.when.last)
        elif isinstance(entry.what, Sow) and entry.what.method == "seedbed":
            area = entry.what.area_m2
            sown[entry.when.last] += area_m2 if area is None else area
    most = value("reset_share") * area_m2
    return max([*days, *(day for day, area in sown.items() if area >= most)], default=None)
