"""All that is known of a zone up to today, in the form that learning reads."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from swardbook.foundation.dates import season_day
from swardbook.handbook.parameters import value
from swardbook.husbandry.ground import Zone
from swardbook.model.inputs import Drivers, Operations
from swardbook.model.parameters import SownKinds
from swardbook.model.remembering import Memory
from swardbook.model.seen import Seen
from swardbook.model.start import Start
from swardbook.model.unknowns import Unknowns, growth_year


@dataclass(frozen=True, slots=True)
class Story:
    """All that is known of a zone up to today.

    Parameters
    ----------
    zone : Zone
        The zone.
    latitude : float
        Latitude, south negative. [°]
    kinds : SownKinds
        What is sown there.
    start : Start
        How it stood on the evening before `first`.
    first, today : date
        The first day of the story, and its last.
    drivers, operations : Drivers, Operations
        One value a day from `first` to `today`.
    seen : tuple of Seen
        What was seen, in order.
    assumed : tuple of str
        What is taken for granted because the book does not tell, in words.
    """

    zone: Zone
    latitude: float
    kinds: SownKinds
    start: Start
    first: date
    today: date
    drivers: Drivers
    operations: Operations
    seen: tuple[Seen, ...]
    assumed: tuple[str, ...] = ()

    @property
    def counters(self) -> tuple[str, ...]:
        """Who counted, by name."""
        return tuple(sorted({place.counter for each in self.seen for place in each.places}))

    @property
    def visits(self) -> tuple[Seen, ...]:
        """The occasions of counting, in order."""
        return tuple(each for each in self.seen if each.places)

    @property
    def memory(self) -> Memory:
        """How what each draw remembers is laid out."""
        return Memory(self.kinds.weeds, len(self.visits))

    @property
    def apart(self) -> tuple[str, ...]:
        """Kinds counted by points of which what is called so may lie from what the model calls so.

        Not annual meadow-grass, which counters are compared on.
        """
        counted = {kind for seen in self.visits for kind in seen.kinds_by_points()}
        return tuple(kind for kind in self.memory.kinds[1:] if kind in counted)

    @property
    def growing_days_to_verticut(self) -> float:
        """Growing days that the youngest sowing still needs before a verticut; 0 for none [d]."""
        work = self.operations
        seed = np.asarray(work.sow_a + work.sow_b + work.sow_c + work.sow_d)
        sown = np.flatnonzero(seed > value("seedling_zone_share") * np.max(seed, initial=0.0))
        if not len(sown):
            return 0.0
        fine = any(kind.kind in {"bent", "fescue", "hard_fescue"} for kind in self.kinds.kinds)
        weeks = value("verticut_growing_weeks_fine" if fine else "verticut_growing_weeks")
        warm = self.drivers.tmean[sown[-1] + 1 :] >= value("growing_week_mean_air")
        return max(7 * weeks - float(np.sum(warm)), 0.0)

    @property
    def last_autumn(self) -> date:
        """The latest autumn horizon up to three weeks after today, or today if it is as near."""
        near = self.today + timedelta(days=21)
        day = near
        while season_day(day, self.latitude) != round(value("look_ahead.autumn_day")):
            day -= timedelta(days=1)
        return min(day, self.today + timedelta(days=1))

    @property
    def years(self) -> tuple[int, ...]:
        """Growth years of the story."""
        first, last = (growth_year(day, self.latitude) for day in (self.first, self.today))
        return tuple(range(first, last + 1))

    @property
    def unknowns(self) -> Unknowns:
        """All that a draw guesses of this zone."""
        days = tuple(dict.fromkeys(seen.day.isoformat() for seen in self.visits))
        return Unknowns.of(self.kinds, self.counters, self.years, self.apart, days)
