"""What a count on a day ahead will find: the state of each draw, seen through frames.

A count is not the truth: plants stand in clumps, points sit together, and a counter misses some.
A forecast of a count has all of that in it, so that it can be held against the count.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.special import betaincinv
from scipy.stats import binom, nbinom

from swardbook.model.chance import Array, Chance
from swardbook.model.observing import Seeing, Standing, read_cover, read_plants
from swardbook.observations.counts import Method, PlaceCount
from swardbook.observations.occasions import place_figures

_LEAST = 1e-9


@dataclass(frozen=True, slots=True)
class Frames:
    """How a count is made: by which method, by whom, and each placement of the frame.

    Parameters
    ----------
    method : Method
        Points or plants.
    counter : str
        Who counts.
    placements : tuple of (str, float)
        The place, and the points in the frame [-] or its area. [m²]
    """

    method: Method
    counter: str
    placements: tuple[tuple[str, float], ...]

    @property
    def places(self) -> tuple[str, ...]:
        """Names of the places, each once."""
        return tuple(dict.fromkeys(place for place, _ in self.placements))

    @classmethod
    def as_last_time(
        cls, counted: Sequence[PlaceCount], kind: str, method: Method
    ) -> Frames | None:
        """Take the frames of a count that was made; None if it has none of that kind and method.

        Where two people counted a place, the one who counted most of the places is taken.
        """
        figures = place_figures(counted, kind, method)
        kept = sorted(
            (each.place, each.placement, each.looked)
            for each in counted
            if each.method is method
            and kind in each.found
            and each.counter == figures[each.place].counter
        )
        if not kept:
            return None
        counters = [figure.counter for figure in figures.values()]
        often = max(sorted(set(counters)), key=counters.count)
        return cls(method, often, tuple((place, looked) for place, _, looked in kept))


def counted_ahead(
    frames: Frames, species: str, standing: Standing, seeing: Seeing, chance: Chance
) -> Array:
    """Give what a count will find in each draw, the mean over its places.

    Parameters
    ----------
    frames : Frames
        How the count is made.
    species : str
        Species key.
    standing : Standing
        What each draw has standing on the day.
    seeing : Seeing
        How well it is seen.
    chance : Chance
        The source, keyed by book, zone and what the count is for.

    Returns
    -------
    array
        Cover by points [%], or plants. [plants m⁻²]
    """
    found: dict[str, Array] = {}
    looked: dict[str, float] = {}
    for number, (place, size) in enumerate(frames.placements):
        seen = _in_a_frame(frames, size, species, standing, seeing, chance.under(f"{number}"))
        found[place] = found.get(place, np.zeros_like(seen)) + seen
        looked[place] = looked.get(place, 0.0) + size
    shares = [found[place] / looked[place] for place in found]
    times = 1.0 if frames.method is Method.PLANTS else 100.0
    return np.asarray(times * np.mean(shares, axis=0))


def _in_a_frame(
    frames: Frames, size: float, species: str, standing: Standing, seeing: Seeing, chance: Chance
) -> Array:
    draws = len(seeing.clumping)
    luck = chance.uniforms("found", draws)
    if frames.method is Method.PLANTS:
        mean = np.maximum(read_plants(species, size, frames.counter, standing, seeing), _LEAST)
        k = seeing.k_of(size)
        return np.asarray(nbinom.ppf(luck, k, k / (k + mean)), dtype=np.float64)
    share = np.clip(read_cover(species, frames.counter, standing, seeing), 1e-6, 1 - 1e-6)
    scale = 1 / np.clip(seeing.point_clumping, 1e-4, 0.99) - 1
    here = betaincinv(share * scale, (1 - share) * scale, chance.uniforms("clumped", draws))
    return np.asarray(binom.ppf(luck, size, np.clip(here, 0.0, 1.0)), dtype=np.float64)
