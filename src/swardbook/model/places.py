"""What visits to the same places say together: points of several kinds, and plants.

The points of a frame fall on the kinds the model holds and on the rest: a Dirichlet-multinomial
(Mosimann, 1962, Biometrika), worked out kind by kind, so that each kind alone is a beta-binomial.
Kinds the model lacks go to the rest; only what was looked for counts. What a counter calls bare or
another weed grass may lie from what the model calls so, all over the zone and otherwise on another
day (`Seeing.day_apart`); those kinds are therefore weighed once a day, all places together.

Part of what makes a place differ from the zone stays with it (`Seeing.place_share`). A visit is
therefore weighed given what the visits before it showed of the place, by the best linear estimate
of its lasting deviation (Hartigan, 1969, J. R. Statist. Soc. B). The first visit is unchanged. With
nothing lasting, visits are as at places chosen anew; where all of it lasts and the zone stays as
it is, the estimate is the exact one: gamma-Poisson for plants, beta-binomial for points.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from swardbook.model.chance import Array
from swardbook.model.observing import (
    Seeing,
    Standing,
    log_beta_binomial,
    log_negative_binomial,
    log_of_hits,
    log_rising,
    read_plants,
    read_shares,
)
from swardbook.observations.counts import Method, PlaceCount

_MOST_K = 1e4
_FURTHEST = 0.1
"""A place's share is never taken below this part of the zone's: a linear estimate may be."""


@dataclass(frozen=True, slots=True, order=True)
class Look:
    """One kind in one placement of a frame.

    Parameters
    ----------
    visit : int
        Which visit, from 0.
    counter : str
        Who counted.
    before : tuple of str
        Kinds that were looked for in the same points and are read before it.
    looked : float
        Points that those kinds left, or area of the frame. [points or m²]
    found : float
        Points hit, or plants. [-]
    """

    visit: int
    counter: str
    before: tuple[str, ...]
    looked: float
    found: float


History = tuple[Look, ...]


@dataclass(frozen=True, slots=True)
class Tally:
    """What the last of several visits found, in an order that is not that of the places.

    Parameters
    ----------
    places : mapping
        How often each method, kind and history of a place came; its last look is weighed.
    days : mapping
        Looks by points for the kinds that are weighed all places together.
    """

    places: Mapping[tuple[Method, str, History], int]
    days: Mapping[str, tuple[Look, ...]]


def log_of_visits(visits: Sequence[Standing], tally: Tally, seeing: Seeing) -> Array:
    """Logarithm of the chance of the last visit, given what the visits before it found.

    Places counted by eye are passed over. The order of the places does not matter, to the last
    bit.

    Parameters
    ----------
    visits : sequence of Visit
        What each draw had standing at each visit, in order; the last is the one weighed.
    tally : Tally
        Of the same visits, from `tally_of`.
    seeing : Seeing
        How well they are seen.

    Returns
    -------
    array
        Logarithm of the chance under each draw. [-]
    """
    sight = _Sight(visits, seeing)
    total = np.zeros_like(seeing.clumping)
    for kind, looks in tally.days.items():
        total = total + sight.log_of_day(kind, looks)
    for (method, kind, history), times in tally.places.items():
        total = total + times * (
            sight.log_of_plants(kind, history)
            if method is Method.PLANTS
            else sight.log_of_points(kind, history)
        )
    return total


def tally_of(visits: Sequence[Sequence[PlaceCount]], kinds: Sequence[str]) -> Tally:
    """Gather the looks of each place, and count alike histories that end at the last visit.

    Parameters
    ----------
    visits : sequence of sequence of PlaceCount
        What was counted at each visit.
    kinds : sequence of str
        Kinds that the model holds, in its order: annual meadow-grass first, ``bare`` last.
    """
    known: dict[tuple[str, Method, str], History] = {}
    tally: dict[tuple[Method, str, History], int] = {}
    days: dict[str, list[Look]] = {}
    for number, places in enumerate(visits):
        for place in sorted(places, key=_in_order):
            for kind, look in _looks(place, number, kinds):
                key = (place.place.casefold(), place.method, kind)
                known[key] = (*known.get(key, ()), look)
                if number < len(visits) - 1:
                    continue
                if place.method is Method.POINTS and kind != kinds[0]:
                    days.setdefault(kind, []).append(look)
                else:
                    told = (place.method, kind, known[key])
                    tally[told] = tally.get(told, 0) + 1
    together = {kind: tuple(sorted(days[kind])) for kind in sorted(days)}
    return Tally(dict(sorted(tally.items())), together)


def _in_order(place: PlaceCount) -> tuple[object, ...]:
    return (
        place.place.casefold(), place.placement, place.counter, place.looked,
        tuple(sorted(place.found.items())),
    )  # fmt: skip


def _looks(place: PlaceCount, visit: int, kinds: Sequence[str]) -> Iterable[tuple[str, Look]]:
    if place.method is Method.BY_EYE:
        return
    before: tuple[str, ...] = ()
    left = place.looked
    for kind in kinds:
        if kind not in place.found:
            continue
        found = place.found[kind]
        yield kind, Look(visit, place.counter, before, left, found)
        if place.method is Method.POINTS:
            before, left = (*before, kind), left - found


class _Sight:
    """What each draw expects to be seen at each visit, worked out once."""

    def __init__(self, visits: Sequence[Standing], seeing: Seeing) -> None:
        self._visits = visits
        self._seeing = seeing
        self._shares: dict[tuple[object, ...], tuple[Array, Array]] = {}
        self._plants: dict[tuple[object, ...], tuple[Array, Array]] = {}
        self._told: dict[tuple[object, ...], tuple[Array, Array]] = {}
        self._alike: dict[tuple[object, ...], tuple[Array, Array, Array]] = {}

    def log_of_day(self, kind: str, looks: Sequence[Look]) -> Array:
        """Weigh all looks for a kind on one day together, by a beta-binomial of alike spread."""
        alike_looks: dict[Look, list[float]] = {}
        for look in looks:
            alike_looks.setdefault(replace(look, looked=0.0, found=0.0), []).append(look.looked)
        points, found = sum(look.looked for look in looks), sum(look.found for look in looks)
        none = np.zeros_like(self._seeing.clumping)
        if points < 1:
            return none
        mean, variance = none, none
        for look, sizes in alike_looks.items():
            share, alike = self._share(kind, look)
            many, pairs = sum(sizes), sum(size * (size - 1) for size in sizes)
            mean = mean + many * share
            variance = variance + share * (1 - share) * (many + pairs * alike)
        share = mean / points
        variance = variance + (points * self._seeing.day_apart * share * (1 - share)) ** 2
        here = (variance / (points * share * (1 - share)) - 1) / max(points - 1, 1)
        return log_beta_binomial(found, points, share, np.maximum(here, 0.0))

    def log_of_points(self, kind: str, history: History) -> Array:
        """Weigh the last look of a place by points, given those before it."""
        *past, now = history
        if now.looked <= 0:
            return np.zeros_like(self._seeing.clumping)
        place, _ = self._share(kind, now)
        unsure, scale, whole = self._sure(kind, history)
        if past:
            share = place
            told = sum((self._points_tell(kind, look)[0] for look in past), np.zeros_like(share))
            place = share + np.sqrt(share * (1 - share)) * unsure * told
            place = np.clip(place, _FURTHEST * share, 1 - _FURTHEST * (1 - share))
        return log_of_hits(now.found, now.looked, place, scale) - whole

    def _sure(self, kind: str, history: History) -> tuple[Array, Array, Array]:
        """What places looked at alike share: how unsure they are, their scale, its product."""
        key = (kind, *(replace(look, found=0.0) for look in history))
        if key not in self._alike:
            *past, now = history
            _, alike = self._share(kind, now)
            lasting = self._seeing.place_share * alike
            sure = sum((self._points_tell(kind, look)[1] for look in past), np.zeros_like(alike))
            unsure = lasting / (1 + lasting * sure)
            here = (unsure + alike - lasting) / (1 - lasting + unsure)
            scale = 1 / np.clip(here, 1e-4, 0.99) - 1
            self._alike[key] = (unsure, scale, log_rising(scale, now.looked))
        return self._alike[key]

    def log_of_plants(self, kind: str, history: History) -> Array:
        """Weigh the last look of a place by plants, given those before it."""
        *past, now = history
        mean, k = self._mean(kind, now)
        stays = self._seeing.place_share
        lasting = stays / k
        passing = (1 - stays) / k / (1 + lasting)
        told, sure = np.zeros_like(mean), np.zeros_like(mean)
        for look in past:
            one, weight = self._plants_tell(kind, look)
            told, sure = told + one, sure + weight
        unsure = lasting / (1 + lasting * sure)
        times = 1 + unsure * told
        here = 1 / ((1 + unsure / times) * (1 + passing) - 1)
        return log_negative_binomial(now.found, mean * times, np.minimum(here, _MOST_K))

    def _points_tell(self, kind: str, look: Look) -> tuple[Array, Array]:
        """Give how far a place read high, weighed, and the weight: one over its variance."""
        if look.looked <= 0:
            none = np.zeros_like(self._seeing.clumping)
            return none, none
        key = (kind, look)
        if key not in self._told:
            share, alike = self._share(kind, look)
            stays = self._seeing.place_share
            weight = 1 / ((1 - stays) * alike + (1 - alike) / look.looked)
            away = (look.found / look.looked - share) / np.sqrt(share * (1 - share))
            self._told[key] = (away * weight, weight)
        return self._told[key]

    def _plants_tell(self, kind: str, look: Look) -> tuple[Array, Array]:
        key = (kind, look)
        if key not in self._told:
            mean, k = self._mean(kind, look)
            spread = 1 + mean * (1 - self._seeing.place_share) / k
            self._told[key] = ((look.found - mean) / spread, mean / spread)
        return self._told[key]

    def _share(self, kind: str, look: Look) -> tuple[Array, Array]:
        """Share of the points left that a kind is expected on, and how alike two of them are."""
        key = (kind, look.visit, look.counter, look.before)
        if key not in self._shares:
            visit = self._visits[look.visit]
            kinds = (*look.before, kind)
            shares = read_shares(kinds, look.counter, visit, self._seeing)
            left = 1 - sum((shares[each] for each in look.before), np.zeros_like(shares[kind]))
            scale = (1 / np.clip(self._seeing.point_clumping, 1e-4, 0.99) - 1) * left
            part = np.clip(shares[kind] / np.maximum(left, 1e-9), 1e-6, 1 - 1e-6)
            self._shares[key] = (part, 1 / (1 + scale))
        return self._shares[key]

    def _mean(self, kind: str, look: Look) -> tuple[Array, Array]:
        key = (kind, look.visit, look.counter, look.looked)
        if key not in self._plants:
            standing = self._visits[look.visit]
            mean = read_plants(kind, look.looked, look.counter, standing, self._seeing)
            self._plants[key] = (np.maximum(mean, 1e-9), self._seeing.k_of(look.looked))
        return self._plants[key]
