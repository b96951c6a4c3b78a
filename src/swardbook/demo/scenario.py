"""The made-up ground and its weather as pure values, as the book of that ground would give them."""

from __future__ import annotations

from functools import cache
from uuid import UUID

from swardbook.demo.counts import strip_count, strip_plots, zone_counts
from swardbook.demo.diary_2010 import ENTRIES_2010
from swardbook.demo.diary_2011 import ENTRIES_2011
from swardbook.demo.ground import LOTS, PEGS, SITE, SQUARES, ZONES
from swardbook.demo.names import TODAY
from swardbook.demo.routine import court_cuts, leaves, other_cuts, watering
from swardbook.demo.trial_records import plots, trial_entries
from swardbook.demo.weather import made_up_weather
from swardbook.demo.writing import numbered
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground

__all__ = ["TODAY", "made_up_entries", "made_up_ground", "made_up_weather"]


@cache
def made_up_entries() -> tuple[DiaryEntry, ...]:
    """Give every entry ever written, corrected ones included, in the order they were written."""
    entries = numbered(
        [
            *zone_counts(),
            *ENTRIES_2010,
            *trial_entries(),
            *court_cuts(),
            *other_cuts(),
            *watering(),
            *leaves(),
            *ENTRIES_2011,
            strip_count(),
        ]
    )
    return tuple(sorted(entries, key=lambda entry: (entry.written_on or entry.day, entry.day)))


@cache
def made_up_ground() -> Ground:
    """Give the made-up ground as it stands on its own today."""
    standing: dict[UUID, DiaryEntry] = {}
    for entry in made_up_entries():
        standing[entry.corrects or entry.id] = entry
    diary = tuple(sorted(standing.values(), key=lambda entry: entry.when.first))
    every_plot = (*plots(), *strip_plots())
    return Ground(SITE, ZONES, PEGS, SQUARES, every_plot, LOTS, diary)
