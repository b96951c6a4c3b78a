"""How likely a draw makes what was counted: plants in frames, points, walks and pulls.

Weed plants stand in clumps, so plants in frames follow a negative binomial and points in a frame
a beta-binomial. A counter misses some plants and has a habit of reading high or low; both are
drawn with the rest, so no count is taken as the truth.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

import numpy as np
from scipy.special import betaln, gammaln

from swardbook.model.chance import Array
from swardbook.observations.counts import Method, PlaceCount

REFERENCE_FRAME_M2 = 0.1
"""The frame that the clumping of plants is stated for."""
_LEAST = 1e-9


@dataclass(frozen=True, slots=True)
class Standing:
    """What each draw has standing on the day of a count.

    Parameters
    ----------
    plants : mapping of str to array
        Rooted plants of each species. [plants m⁻²]
    cover : mapping of str to array
        Share of the ground under each kind; also ``sown`` and ``bare``. [-]
    found : mapping of str to array
        Plants of each species that one whole walking pass would find. [plants m⁻²]
    """

    plants: Mapping[str, Array]
    cover: Mapping[str, Array]
    found: Mapping[str, Array]


@dataclass(frozen=True, slots=True)
class Seeing:
    """How well, and how evenly, plants are seen; one value a draw.

    Parameters
    ----------
    clumping : array
        Exponent k of plants in the reference frame of 0.1 m². [-]
    clumping_power : array
        Power of frame area by which k grows. [-]
    point_clumping : array
        Correlation of two points of one frame. [-]
    found_in_frame : array
        Share of plants found kneeling at a frame. [-]
    pull_spread : float
        Spread of the share pulled from day to day, on the log scale. [-]
    counters : mapping of str to array
        How far each counter reads high, on the log or logit scale. [-]
    """

    clumping: Array
    clumping_power: Array
    point_clumping: Array
    found_in_frame: Array
    pull_spread: float
    counters: Mapping[str, Array] = field(default_factory=dict)

    def k_of(self, area_m2: float) -> Array:
        """Exponent k of plants in a frame of some area [-]."""
        return np.asarray(self.clumping * (area_m2 / REFERENCE_FRAME_M2) ** self.clumping_power)

    def shift_of(self, counter: str) -> Array:
        """How far a counter reads high, on the log or logit scale [-]."""
        return self.counters.get(counter, np.zeros_like(self.clumping))


def log_negative_binomial(found: float, mean: Array, k: Array) -> Array:
    """Logarithm of the chance of a count with a mean and clumping exponent.

    Parameters
    ----------
    found : float
        Plants counted. [-]
    mean : array
        Plants expected. [-]
    k : array
        Exponent; the variance is mean + mean² / k. [-]

    Returns
    -------
    array
        Logarithm of the chance. [-]
    """
    mean = np.maximum(mean, _LEAST)
    log_chance = gammaln(found + k) - gammaln(k) - gammaln(found + 1) - k * np.log1p(mean / k)
    if found:
        log_chance = log_chance + found * (np.log(mean) - np.log(k + mean))
    return np.asarray(log_chance)


def log_beta_binomial(hits: float, points: float, share: Array, correlation: Array) -> Array:
    """Logarithm of the chance of some hits among the points of one frame.

    Parameters
    ----------
    hits, points : float
        Points hit, and points looked at. [-]
    share : array
        Share of the ground expected. [-]
    correlation : array
        Correlation of two points of one frame. [-]

    Returns
    -------
    array
        Logarithm of the chance. [-]
    """
    share = np.clip(share, 1e-6, 1 - 1e-6)
    scale = 1 / np.clip(correlation, 1e-4, 0.99) - 1
    first, second = share * scale, (1 - share) * scale
    ways = gammaln(points + 1) - gammaln(hits + 1) - gammaln(points - hits + 1)
    return np.asarray(ways + betaln(hits + first, points - hits + second) - betaln(first, second))


def log_of_places(
    places: Iterable[PlaceCount], species: str, standing: Standing, seeing: Seeing
) -> Array:
    """Logarithm of the chance of one occasion's counts of one species.

    Places counted by eye are passed over; so is a place where the species was not looked for.
    The order of the places does not matter, to the last bit.

    Parameters
    ----------
    places : iterable of PlaceCount
        What was counted.
    species : str
        Species key.
    standing : Standing
        What each draw has standing.
    seeing : Seeing
        How well it is seen.

    Returns
    -------
    array
        Logarithm of the chance under each draw. [-]
    """
    tally: dict[tuple[str, str, float, float], int] = {}
    for place in places:
        if species in place.found and place.method is not Method.BY_EYE:
            key = (place.method.value, place.counter, place.looked, place.found[species])
            tally[key] = tally.get(key, 0) + 1
    total = np.zeros_like(seeing.clumping)
    for (method, counter, looked, found), times in sorted(tally.items()):
        if method == Method.PLANTS.value:
            mean = read_plants(species, looked, counter, standing, seeing)
            one = log_negative_binomial(found, mean, seeing.k_of(looked))
        else:
            share = read_cover(species, counter, standing, seeing)
            one = log_beta_binomial(found, looked, share, seeing.point_clumping)
        total = total + times * one
    return total


def log_of_walk(area_m2: float, species: str, standing: Standing, seeing: Seeing) -> Array:
    """Logarithm of the chance of walking an area and finding none.

    Parameters
    ----------
    area_m2 : float
        Ground looked at. [m²]
    species : str
        Species key.
    standing : Standing
        What each draw has standing.
    seeing : Seeing
        How well it is seen.

    Returns
    -------
    array
        Logarithm of the chance under each draw. [-]
    """
    mean = standing.found[species] * area_m2
    return log_negative_binomial(0, mean, seeing.k_of(area_m2))


def log_of_pull(
    plants: float, area_m2: float, share: Array, species: str, standing: Standing, seeing: Seeing
) -> Array:
    """Logarithm of the chance of pulling so many plants in one pass over an area.

    The area is gone over, not sampled, so clumping does not come in; what varies is how well that
    day's people looked. A second pass soon after tells plants and looking apart: it is weighed
    against what the first left.

    Parameters
    ----------
    plants : float
        Plants pulled. [-]
    area_m2 : float
        Ground that was to be gone over. [m²]
    share : array
        Part of it that the hours given were enough for. [-]
    species : str
        Species key.
    standing : Standing
        What each draw has standing before the pass.
    seeing : Seeing
        How well it is seen.

    Returns
    -------
    array
        Logarithm of the chance under each draw. [-]
    """
    mean = standing.found[species] * area_m2 * share
    k = np.full_like(mean, 1 / seeing.pull_spread**2)
    return log_negative_binomial(plants, mean, k)


def read_plants(
    species: str, area_m2: float, counter: str, standing: Standing, seeing: Seeing
) -> Array:
    """Plants that a counter is expected to find in a frame [-]."""
    reads = seeing.found_in_frame * np.exp(seeing.shift_of(counter))
    return np.asarray(standing.plants[species] * area_m2 * reads)


def read_cover(species: str, counter: str, standing: Standing, seeing: Seeing) -> Array:
    """Share of points that a counter is expected to hit [-]."""
    return _shifted(standing.cover[species], seeing.shift_of(counter))


def _shifted(share: Array, shift: Array) -> Array:
    odds = np.clip(share, 1e-6, 1 - 1e-6)
    odds = odds / (1 - odds) * np.exp(shift)
    return np.asarray(odds / (1 + odds))
