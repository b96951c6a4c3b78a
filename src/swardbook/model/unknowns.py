"""Everything a draw guesses: handbook numbers, counters' habits, and each year's own effects."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from swardbook.foundation.dates import is_southern
from swardbook.handbook.parameters import value
from swardbook.model.chance import Array, Chance
from swardbook.model.draws import Constants, is_drawn
from swardbook.model.members import Members
from swardbook.model.observing import Seeing
from swardbook.model.parameter_sets import Parameters, WeedParameters
from swardbook.model.parameters import SownKinds, build_parameters, parameter_keys
from swardbook.model.start import Start, start_state
from swardbook.model.state import SwardState

SEEING = (
    "count.clumping", "count.clumping_power", "count.point_clumping", "count.found_in_frame",
    "count.place_share", "count.plants_in_clump",
)  # fmt: skip
YEARLY = ("emergence", "survival", "heads", "thinning", "creeping", "deaths", "pressing")
"""What differs from year to year.

How readily seed comes up, seedlings live and plants head; how much wear, drought and mishaps thin
the sward; how fast weed grasses other than annual meadow-grass spread; how readily weed plants die;
how hard annual meadow-grass presses on the sown grass.
"""


@dataclass(frozen=True, slots=True)
class Scored(Chance):
    """Gives scores that are already drawn, by name."""

    known: Mapping[str, Array]

    def normals(self, purpose: str, draws: int, first: int = 0) -> Array:
        """Give the known scores of one guess [-]."""
        return self.known[purpose][first : first + draws]


@dataclass(frozen=True, slots=True)
class Unknowns:
    """The order in which a draw's guesses stand, each as a standard normal score.

    Parameters
    ----------
    kinds : SownKinds
        What is sown in the zone.
    keys : tuple of str
        Handbook numbers that are drawn.
    counters : tuple of str
        People whose counts are read.
    years : tuple of int
        Growth years that have effects of their own.
    apart : tuple of str
        Kinds of which what is called so may lie from what the model calls so.
    visits : tuple of str
        Days of counting, on each of which all is read somewhat high or low.
    """

    kinds: SownKinds
    keys: tuple[str, ...]
    counters: tuple[str, ...]
    years: tuple[int, ...]
    apart: tuple[str, ...] = ()
    visits: tuple[str, ...] = ()

    @classmethod
    def of(
        cls, kinds: SownKinds, counters: tuple[str, ...] = (), years: tuple[int, ...] = (),
        apart: tuple[str, ...] = (), visits: tuple[str, ...] = (),
    ) -> Unknowns:  # fmt: skip
        """List the unknowns of a zone."""
        keys = tuple(key for key in (*parameter_keys(kinds), *SEEING) if is_drawn(key))
        return cls(kinds, keys, counters, years, apart, visits)

    @property
    def names(self) -> tuple[str, ...]:
        """Every guess by name, in the order of the rows."""
        counters = (f"counter {name}" for name in self.counters)
        years = (f"{effect} of {year}" for year in self.years for effect in YEARLY)
        apart = (f"{kind} called so" for kind in self.apart)
        visits = (f"read on {day}" for day in self.visits)
        return (*self.keys, *self.starting, *counters, *years, *visits, *apart)

    @property
    def starting(self) -> tuple[str, ...]:
        """What a zone may start with: bare ground and each weed grass."""
        return ("start.bare", *(f"start.{weed}" for weed in self.kinds.weeds))

    def draw(self, draws: int, chance: Chance) -> Array:
        """Draw every score, each keyed by its own name [-]."""
        return np.stack([chance.normals(name, draws) for name in self.names])

    def start(
        self, start: Start, scores: Array, parameters: Parameters | None = None
    ) -> SwardState:
        """Build each draw's state on the evening before the first day."""
        known = dict(zip(self.names, scores, strict=True))
        built = self.parameters(scores) if parameters is None else parameters
        return start_state(start, built, Scored((), known), names=self.kinds.weeds)

    def rows_of_year(self, scores: Array, year: int) -> Array:
        """Give one year's effects, a row each of `YEARLY` [-]."""
        first = self.names.index(f"{YEARLY[0]} of {year}")
        return scores[first : first + len(YEARLY)]

    def constants(self, scores: Array, before: Constants | None = None) -> Constants:
        """Give the handbook numbers of each draw; those whose scores are as before are kept."""
        known = dict(zip(self.keys, scores[: len(self.keys)], strict=True))
        kept = before.kept(known) if before else {}
        return Constants(known, scores.shape[1], kept, self.kinds.ranges)

    def values(self, scores: Array) -> Mapping[str, Array]:
        """Give each drawn number's values by its key [unit of each]."""
        constants = self.constants(scores)
        return {key: constants[key] for key in self.keys}

    def parameters(self, scores: Array) -> Parameters:
        """Build the constants of each draw in a usual year."""
        return build_parameters(self.kinds, self.constants(scores))

    def seeing(self, scores: Array, known: Constants | None = None) -> Seeing:
        """Say how well each draw's counters see."""
        constants = known or self.constants(scores)
        spread = value("count.counter_spread")
        first = len(self.keys) + len(self.starting)
        habits = {name: spread * scores[first + at] for at, name in enumerate(self.counters)}
        off = value("learning.share_discrepancy")
        last = len(scores) - len(self.apart)
        apart = {kind: off * scores[last + at] for at, kind in enumerate(self.apart)}
        daily, first_visit = value("count.day_spread"), last - len(self.visits)
        visits = {day: daily * scores[first_visit + at] for at, day in enumerate(self.visits)}
        return Seeing(
            constants["count.clumping"],
            constants["count.clumping_power"],
            constants["count.point_clumping"],
            constants["count.found_in_frame"],
            value("count.pull_spread"),
            habits,
            constants["count.place_share"],
            apart,
            off,
            value("count.clump_spread"),
            value("count.tuft_clumping"),
            constants["count.plants_in_clump"],
            visits,
        )


class Latest:
    """Builds a cloud's constants once for as long as its scores stay the same.

    Of other scores only what changed is worked out anew: a move changes a part of the guesses.
    """

    def __init__(self, unknowns: Unknowns) -> None:
        self._unknowns = unknowns
        self._scores: Array | None = None
        self._constants: Constants | None = None
        self._built: dict[int | None, Parameters] = {}
        self._seeing: Seeing | None = None
        self._laid: tuple[Members, Parameters] | None = None

    def usual(self, scores: Array) -> Parameters:
        """Give the constants of each draw in a usual year."""
        if scores is not self._scores:
            self._constants = self._unknowns.constants(scores, self._constants)
            built = build_parameters(self._unknowns.kinds, self._constants)
            self._scores, self._built, self._seeing = scores, {None: built}, None
        return self._built[None]

    def of(self, scores: Array, year: int) -> Parameters:
        """Give the constants of each draw in one year."""
        usual = self.usual(scores)
        if year not in self._built:
            effects = self._unknowns.rows_of_year(scores, year)
            self._built[year] = with_year(usual, effects)
        return self._built[year]

    def start(self, start: Start, scores: Array) -> SwardState:
        """Build each draw's state on the evening before the first day."""
        return self._unknowns.start(start, scores, self.usual(scores))

    def seeing(self, scores: Array) -> Seeing:
        """Say how well each draw's counters see."""
        self.usual(scores)
        if self._seeing is None:
            self._seeing = self._unknowns.seeing(scores, self._constants)
        return self._seeing

    def laid(self, scores: Array, year: int, state: SwardState) -> Members:
        """Lay draws out for the kernel; the same room is used again and again."""
        numbers = self.of(scores, year)
        if self._laid is None or self._laid[0].draws != scores.shape[1]:
            self._laid = Members.of(state, numbers), numbers
        members = self.onto(scores, year)
        members.stand(state)
        return members

    def onto(self, scores: Array, year: int) -> Members:
        """Let the draws that were laid out last stand as they do, with the numbers of a year."""
        assert self._laid is not None
        members, before = self._laid
        self._laid = members, self.of(scores, year)
        members.change(before, self._laid[1])
        return members


def growth_year(day: date, latitude: float) -> int:
    """Give the growth year of a day: from July to June in the north, January on in the south."""
    moved = day if is_southern(latitude) else day - timedelta(days=181)
    return moved.year


def with_year(parameters: Parameters, scores: Array) -> Parameters:
    """Put one year's effects on the weeds of each draw.

    Parameters
    ----------
    parameters : Parameters
        The constants of a usual year.
    scores : array
        Standard normal scores, a row each of `YEARLY`. [-]
    """
    spread = value("learning.year_spread")
    up, lives, heads, _, creeps, dies, _ = np.exp(spread * scores)
    presses = value("learning.year_spread_pressing") * scores[YEARLY.index("pressing")]
    thins = np.exp(value("learning.year_spread_thinning") * scores[YEARLY.index("thinning")])

    def moved(place: int, weed: WeedParameters) -> WeedParameters:
        return weed._replace(
            emergence=weed.emergence * up,
            emergence_buried=weed.emergence_buried * up,
            survival_gap=_on_odds(weed.survival_gap, lives),
            survival_closed=_on_odds(weed.survival_closed, lives),
            heads=weed.heads * heads,
            growth=weed.growth if place == 0 else weed.growth * creeps,
            power=weed.power + presses if place == 0 else weed.power,
            plant_death=np.minimum(weed.plant_death * dies, 0.5),
            drought_death=1 + (weed.drought_death - 1) * thins,
        )

    weeds = tuple(moved(place, weed) for place, weed in enumerate(parameters.weeds))
    zone = parameters.zone._replace(thinning=parameters.zone.thinning * thins)
    sown = (each._replace(drought_loss=each.drought_loss * thins) for each in parameters.sown)
    return parameters._replace(sown=type(parameters.sown)(*sown), weeds=weeds, zone=zone)


def _on_odds(share: Array, times: Array) -> Array:
    odds = np.clip(share, 1e-9, 1 - 1e-9)
    odds = odds / (1 - odds) * times
    return np.asarray(odds / (1 + odds))
