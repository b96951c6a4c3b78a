"""How likely a draw makes what was seen: plants, points, walks, pulls, clumps, tufts with heads.

Weed plants stand in clumps, so plants in frames follow a negative binomial and points in a frame
a beta-binomial. A counter misses some plants and has a habit of reading high or low; both are
drawn with the rest, so no count is taken as the truth. What several visits to the same places say
together stands in `places`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from scipy.special import gammaln

from swardbook.model.chance import Array

REFERENCE_FRAME_M2 = 0.1
"""The frame that the clumping of plants is stated for."""
BARE = "bare"
"""Bare ground, as counts call it."""
_LEAST = 1e-9
_STEPS_MULTIPLIED = 50


@dataclass(frozen=True, slots=True)
class Standing:
    """What each draw has standing on the day of a count.

    Parameters
    ----------
    plants : mapping of str to array
        Rooted plants of each species. [plants m⁻²]
    cover : mapping of str to array
        Share of the ground under each kind, and ``bare``. [-]
    found : mapping of str to array
        Plants of each species that one whole walking pass would find. [plants m⁻²]
    clumps : mapping of str to array
        Clumps of each species that one whole pass would find. [clumps m⁻²]
    heading : mapping of str to array
        Share of the plants of each species that carry heads. [-]
    read : array or float
        How far all is read high on that day, whoever counts, on the log or logit scale. [-]
    """

    plants: Mapping[str, Array]
    cover: Mapping[str, Array]
    found: Mapping[str, Array]
    clumps: Mapping[str, Array] = field(default_factory=dict)
    heading: Mapping[str, Array] = field(default_factory=dict)
    read: Array | float = 0.0


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
    place_share : array or float
        Part of the clumping that stays with a place from visit to visit; 0: places anew. [-]
    apart : mapping of str to array
        How far what is called a kind lies from what the model calls so, on the logit scale. [-]
    day_apart : float
        Spread of the same from day to day, for kinds other than the first weed. [-]
    clump_spread : float
        Spread between clumps as people tell them apart and plants, on the log scale. [-]
    tuft_clumping : float
        Correlation of two tufts of one check. [-]
    plants_in_clump : array or float
        Plants of the model in what people call one clump. [-]
    visits : mapping of str to array
        How far all is read high on a day of counting, on the log or logit scale. [-]
    """

    clumping: Array
    clumping_power: Array
    point_clumping: Array
    found_in_frame: Array
    pull_spread: float
    counters: Mapping[str, Array] = field(default_factory=dict)
    place_share: Array | float = 0.0
    apart: Mapping[str, Array] = field(default_factory=dict)
    day_apart: float = 0.0
    clump_spread: float = 0.5
    tuft_clumping: float = 0.1
    plants_in_clump: Array | float = 1.0
    visits: Mapping[str, Array] = field(default_factory=dict)

    def k_of(self, area_m2: float) -> Array:
        """Exponent k of plants in a frame of some area [-]."""
        return np.asarray(self.clumping * (area_m2 / REFERENCE_FRAME_M2) ** self.clumping_power)

    def shift_of(self, counter: str) -> Array:
        """How far a counter reads high, on the log or logit scale [-]."""
        return self.counters.get(counter, np.zeros_like(self.clumping))

    def apart_of(self, kind: str) -> Array:
        """How far a kind is called more often than the model has it, on the logit scale [-]."""
        return self.apart.get(kind, np.zeros_like(self.clumping))


def log_rising(start: Array, steps: float) -> Array:
    """Logarithm of start (start + 1) ... (start + steps - 1), a ratio of gamma functions.

    Few whole steps are multiplied out in pairs, which is several times quicker.

    Parameters
    ----------
    start : array
        Where it starts, above 0 and up to some thousands. [-]
    steps : float
        How many factors. [-]

    Returns
    -------
    array
        The logarithm. [-]
    """
    if steps > _STEPS_MULTIPLIED or steps != int(steps):
        return np.asarray(gammaln(start + steps) - gammaln(start))
    whole = int(steps)
    if whole == 0:
        return np.zeros_like(start)
    product = np.ones_like(start) if whole % 2 == 0 else start + (whole - 1) / 2
    ends, pair = start * (start + (whole - 1)), np.empty_like(start)
    for inner in range(whole // 2):
        np.add(ends, float(inner * (whole - 1 - inner)), out=pair)
        np.multiply(product, pair, out=product)
    return np.asarray(np.log(product))


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
    log_chance = log_rising(k, found) - gammaln(found + 1) - k * np.log1p(mean / k)
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
    scale = 1 / np.clip(correlation, 1e-4, 0.99) - 1
    return log_of_hits(hits, points, share, scale) - log_rising(scale, points)


def log_of_hits(hits: float, points: float, share: Array, scale: Array) -> Array:
    """The part of `log_beta_binomial` that depends on the hits [-]; `scale` is 1 / r - 1 [-]."""
    share = np.clip(share, 1e-6, 1 - 1e-6)
    ways = gammaln(points + 1) - gammaln(hits + 1) - gammaln(points - hits + 1)
    there = log_rising(share * scale, hits) + log_rising((1 - share) * scale, points - hits)
    return np.asarray(ways + there)


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


def log_of_clumps(
    clumps: float, area_m2: float, share: Array, species: str, standing: Standing, seeing: Seeing
) -> Array:
    """Logarithm of the chance of so many clumps over an area, dug out or counted standing.

    As for a pull the area is gone over, not sampled; on top comes that a clump as people tell it
    apart holds one plant of the model or several.

    Parameters
    ----------
    clumps : float
        Clumps. [-]
    area_m2 : float
        Ground that was gone over. [m²]
    share : array
        Part of it that was gone over. [-]
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
    mean = standing.clumps[species] * area_m2 * share / seeing.plants_in_clump
    k = np.full_like(mean, 1 / (seeing.pull_spread**2 + seeing.clump_spread**2))
    return log_negative_binomial(clumps, mean, k)


def log_of_tufts(
    with_heads: float | None, tufts: float, species: str, standing: Standing, seeing: Seeing
) -> Array:
    """Logarithm of the chance that so many of the tufts looked at carry heads.

    A beta-binomial: tufts of one corner are alike. Weighed against the share of a draw's plants
    that carry heads on the evening of the day, after the day's work.

    Parameters
    ----------
    with_heads, tufts : float
        Tufts that carry heads, None for at least one, and tufts looked at. [-]
    species : str
        Species key.
    standing : Standing
        What each draw has standing on that evening.
    seeing : Seeing
        How well it is seen.

    Returns
    -------
    array
        Logarithm of the chance under each draw. [-]
    """
    alike = np.full_like(seeing.clumping, seeing.tuft_clumping)
    share = standing.heading[species]
    if with_heads is None:
        none = log_beta_binomial(0, tufts, share, alike)
        return np.asarray(np.log(-np.expm1(np.minimum(none, -_LEAST))))
    return log_beta_binomial(with_heads, tufts, share, alike)


def log_of_regrowth(regrown: float, looked: float, kill: Array, seeing: Seeing) -> Array:
    """Logarithm of the chance that so many dug clumps grew again; a beta-binomial as for tufts.

    Parameters
    ----------
    regrown, looked : float
        Clumps grown again, and dug clumps looked at. [-]
    kill : array
        Share of clumps that digging with a margin kills. [-]
    seeing : Seeing
        How alike clumps of one check are.

    Returns
    -------
    array
        Logarithm of the chance under each draw. [-]
    """
    return log_beta_binomial(regrown, looked, 1 - kill, np.full_like(kill, seeing.tuft_clumping))


def read_plants(
    species: str, area_m2: float, counter: str, standing: Standing, seeing: Seeing
) -> Array:
    """Plants that a counter is expected to find in a frame [-]."""
    reads = seeing.found_in_frame * np.exp(seeing.shift_of(counter) + standing.read)
    return np.asarray(standing.plants[species] * area_m2 * reads)


def read_cover(species: str, counter: str, standing: Standing, seeing: Seeing) -> Array:
    """Share of points that a counter is expected to hit, asked for this kind alone [-]."""
    return read_shares((species,), counter, standing, seeing)[species]


def read_shares(
    kinds: Sequence[str], counter: str, standing: Standing, seeing: Seeing
) -> dict[str, Array]:
    """Shares of points that a counter is expected to hit, of several kinds together.

    Each kind is read among what the kinds before it leave, so that the shares never sum above 1.
    A counter's habit is one of telling weed grass from grass; it does not touch bare ground.

    Parameters
    ----------
    kinds : sequence of str
        Kinds looked for, in the order of the model.
    counter : str
        Who counts.
    standing : Standing
        What each draw has standing.
    seeing : Seeing
        How well it is seen.

    Returns
    -------
    dict of str to array
        Share of all points by kind. [-]
    """
    shares: dict[str, Array] = {}
    left, left_read = np.ones_like(seeing.clumping), np.ones_like(seeing.clumping)
    for kind in kinds:
        shift = seeing.apart_of(kind)
        if kind != BARE:
            shift = shift + seeing.shift_of(counter) + standing.read
        part = _shifted(standing.cover[kind] / np.maximum(left, _LEAST), shift)
        left = left - standing.cover[kind]
        shares[kind] = left_read * part
        left_read = left_read - shares[kind]
    return shares


def _shifted(share: Array, shift: Array) -> Array:
    odds = np.clip(share, 1e-6, 1 - 1e-6)
    odds = odds / (1 - odds) * np.exp(shift)
    return np.asarray(odds / (1 + odds))
