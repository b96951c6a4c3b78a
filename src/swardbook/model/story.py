"""All that is known of a zone up to today, in the form that learning reads."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil

import numpy as np

from swardbook.foundation.dates import season_day_until
from swardbook.handbook.parameters import value
from swardbook.husbandry.ground import Zone
from swardbook.model.chance import Array
from swardbook.model.inputs import Drivers, Operations
from swardbook.model.parameters import SownKinds
from swardbook.model.remembering import Memory
from swardbook.model.seen import Seen
from swardbook.model.start import Start
from swardbook.model.unknowns import Unknowns, growth_year
from swardbook.weather.thermal import days_to_growing_weeks, growing_weeks


@dataclass(frozen=True, slots=True)
class YoungSward:
    """What a zone's youngest sowing has to grow through before a verticut.

    Parameters
    ----------
    tmean : array
        Mean air temperature of each day after the sowing, up to today. [°C]
    weeks : float
        Growing weeks that are wanted. [weeks]
    """

    tmean: Array
    weeks: float

    @property
    def weeks_still(self) -> int:
        """Growing weeks still to come before a verticut; 0 where it is old enough [weeks]."""
        return max(ceil(self.weeks) - growing_weeks(self.tmean).grown, 0)

    def days_still(self, ahead: Array) -> int:
        """Days ahead until it is old enough for a verticut, by their weather; all if it never is.

        Parameters
        ----------
        ahead : array
            Mean air temperature of each day ahead, from tomorrow. [°C]

        Returns
        -------
        int
            0 where it is old enough today. [d]
        """
        reached = days_to_growing_weeks(np.concatenate([self.tmean, ahead]), self.weeks)
        return len(ahead) + 1 if reached is None else max(reached - len(self.tmean), 0)


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
    def young(self) -> YoungSward | None:
        """What the youngest sowing has grown through; None where none sets the zone's age."""
        work = self.operations
        seed = np.asarray(work.sow_a + work.sow_b + work.sow_c + work.sow_d)
        sown = np.flatnonzero(seed > value("seedling_zone_share") * np.max(seed, initial=0.0))
        if not len(sown):
            return None
        fine = any(kind.kind in {"bent", "fescue", "hard_fescue"} for kind in self.kinds.kinds)
        weeks = value("verticut_growing_weeks_fine" if fine else "verticut_growing_weeks")
        return YoungSward(self.drivers.tmean[sown[-1] + 1 :], weeks)

    @property
    def last_autumn(self) -> date:
        """The latest autumn horizon up to three weeks after today, or today if it is as near."""
        near = self.today + timedelta(days=21)
        day = season_day_until(near, round(value("look_ahead.autumn_day")), self.latitude)
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
