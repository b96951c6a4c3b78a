"""Each thing seen, put to the draws: how likely it is, and what was expected of it before."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from datetime import date

import numpy as np

from swardbook.handbook.species import model_name_of
from swardbook.husbandry.ground import Zone
from swardbook.model.chance import Array
from swardbook.model.day import work_wanted
from swardbook.model.digging import share_dug
from swardbook.model.expecting import Expected, expected_count
from swardbook.model.observing import (
    Seeing,
    Standing,
    log_of_clumps,
    log_of_pull,
    log_of_regrowth,
    log_of_tufts,
    log_of_walk,
)
from swardbook.model.parameter_sets import Parameters
from swardbook.model.places import Tally, log_of_visits, tally_of
from swardbook.model.processes.hand_weeding import share_searched
from swardbook.model.remembering import Memory, standing_of
from swardbook.model.seen import Seen
from swardbook.model.state import SwardState


@dataclass(frozen=True, slots=True)
class Moment:
    """The draws at the time that something was seen.

    Parameters
    ----------
    state : SwardState
        Their state.
    memory : array
        What they remember, as `Memory` lays it out. [units of the rows]
    parameters : Parameters
        Their constants in that year.
    seeing : Seeing
        How well they see.
    weights : array
        Their weights. [-]
    pull_hours : float
        Hours of pulling on the day. [h m⁻²]
    """

    state: SwardState
    memory: Array
    parameters: Parameters
    seeing: Seeing
    weights: Array
    pull_hours: float


@dataclass
class Weigher:
    """Puts what was seen to the draws.

    Parameters
    ----------
    zone : Zone
        The zone.
    memory : Memory
        How the draws' memory is laid out.
    visits : tuple of Seen
        The occasions of counting, in order.
    luck : array
        Standard normal numbers for the luck of the places. [-]
    met : dict
        What was expected of each count before it, by day and kind; filled as counts are met.
    """

    zone: Zone
    memory: Memory
    visits: tuple[Seen, ...]
    luck: Array
    met: dict[tuple[date, str], Expected] = field(default_factory=dict)
    _tallies: dict[int, Tally] = field(default_factory=dict)

    def log_of(self, seen: Seen, here: Moment) -> Array:
        """Logarithm of the chance of what was seen, under each draw [-]."""
        total = np.zeros_like(here.weights)
        if seen.places:
            total = total + self._log_of_count(seen, here)
        standing = standing_of(here.state, here.parameters, self.memory.weeds)
        for part in _PARTS:
            said = part(self, seen, here, standing)
            total = total if said is None else total + said
        return total

    def _log_of_count(self, seen: Seen, here: Moment) -> Array:
        at = self.visits.index(seen)
        visits = [
            replace(
                self.memory.standing(here.memory, number),
                read=here.seeing.visits.get(self.visits[number].day.isoformat(), 0.0),
            )
            for number in range(at + 1)
        ]
        self._expect(seen, visits[-1], here)
        if at not in self._tallies:
            places = [each.places for each in self.visits[: at + 1]]
            self._tallies[at] = tally_of(places, self.memory.kinds)
        return log_of_visits(visits, self._tallies[at], here.seeing)

    def _expect(self, seen: Seen, standing: Standing, here: Moment) -> None:
        """Keep what was expected; the first to ask are the draws before this count weighs them."""
        for number, kind in enumerate(self.memory.kinds):
            if (seen.day, kind) in self.met:
                continue
            told = expected_count(
                seen.day, seen.places, self.memory.kinds[: number + 1], standing,
                here.seeing, here.weights, self.luck,
            )  # fmt: skip
            if told is not None:
                self.met[seen.day, kind] = told

    def _log_of_walk(self, seen: Seen, here: Moment, standing: Standing) -> Array | None:
        if not seen.walked_m2:
            return None
        return log_of_walk(seen.walked_m2, seen.species, standing, here.seeing)

    def _log_of_pull(self, seen: Seen, here: Moment, standing: Standing) -> Array | None:
        if seen.pulled is None:
            return None
        share = share_searched(here.pull_hours, work_wanted(here.state, here.parameters))
        area = self.zone.area_m2
        return log_of_pull(seen.pulled, area, share, seen.species, standing, here.seeing)

    def _log_of_dug(self, seen: Seen, here: Moment, standing: Standing) -> Array | None:
        if seen.dug is None:
            return None
        area, at = self.zone.area_m2, self.memory.weeds.index(model_name_of(seen.species))
        share = share_dug(here.state, here.parameters, at, seen.hours, area)
        return log_of_clumps(seen.dug, area, share, seen.species, standing, here.seeing)

    def _log_of_clumps(self, seen: Seen, here: Moment, standing: Standing) -> Array | None:
        if seen.clumps is None:
            return None
        whole = np.ones_like(here.weights)
        area = self.zone.area_m2
        return log_of_clumps(seen.clumps, area, whole, seen.species, standing, here.seeing)

    def _log_of_tufts(self, seen: Seen, here: Moment, standing: Standing) -> Array | None:
        if seen.tufts is None:
            return None
        return log_of_tufts(*seen.tufts, seen.species, standing, here.seeing)

    def _log_of_regrowth(self, seen: Seen, here: Moment, _: Standing) -> Array | None:
        if seen.regrown is None:
            return None
        at = self.memory.weeds.index(model_name_of(seen.species))
        return log_of_regrowth(*seen.regrown, here.parameters.weeds[at].kill, here.seeing)


_Part = Callable[[Weigher, Seen, Moment, Standing], Array | None]
_PARTS: Sequence[_Part] = (
    Weigher._log_of_walk,
    Weigher._log_of_pull,
    Weigher._log_of_dug,
    Weigher._log_of_clumps,
    Weigher._log_of_tufts,
    Weigher._log_of_regrowth,
)
